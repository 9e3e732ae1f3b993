"""Digits and capitals of any size, drawn with half blocks: a cell holds two square dots, one above the other."""

from typing import NamedTuple

HEIGHT = 5
_FONT = {
    "0": "###|#.#|#.#|#.#|###", "1": ".#.|##.|.#.|.#.|###", "2": "###|..#|###|#..|###", "3": "###|..#|.##|..#|###",
    "4": "#.#|#.#|###|..#|..#", "5": "###|#..|###|..#|###", "6": "###|#..|###|#.#|###", "7": "###|..#|..#|..#|..#",
    "8": "###|#.#|###|#.#|###", "9": "###|#.#|###|..#|###", ":": ".|#|.|#|.", "′": "#|#|.|.|.", " ": "..|..|..|..|..",
    "-": "...|...|###|...|...", ",": ".|.|.|#|#", ".": ".|.|.|.|#", "'": "#|#|.|.|.", "/": "..#|..#|.#.|#..|#..",
    "+": "...|.#.|###|.#.|...", "A": ".#.|#.#|###|#.#|#.#", "B": "##.|#.#|##.|#.#|##.",
    "C": "###|#..|#..|#..|###", "D": "##.|#.#|#.#|#.#|##.", "E": "###|#..|##.|#..|###", "F": "###|#..|##.|#..|#..",
    "G": "####|#...|#.##|#..#|####", "H": "#.#|#.#|###|#.#|#.#", "I": "#|#|#|#|#", "J": "..#|..#|..#|#.#|###",
    "K": "#.#|#.#|##.|#.#|#.#", "L": "#..|#..|#..|#..|###", "M": "#...#|##.##|#.#.#|#...#|#...#",
    "N": "#..#|##.#|#.##|#..#|#..#",
    "O": "###|#.#|#.#|#.#|###", "P": "###|#.#|###|#..|#..", "Q": "###.|#.#.|#.#.|#.#.|####", "R": "##.|#.#|##.|#.#|#.#",
    "S": "###|#..|###|..#|###", "T": "###|.#.|.#.|.#.|.#.", "U": "#.#|#.#|#.#|#.#|###", "V": "#.#|#.#|#.#|#.#|.#.",
    "W": "#...#|#...#|#.#.#|##.##|#...#", "X": "#.#|#.#|.#.|#.#|#.#", "Y": "#.#|#.#|.#.|.#.|.#.", "Z": "###|..#|.#.|#..|###",
}  # fmt: skip
_HALVES = {(False, False): " ", (True, True): "█", (True, False): "▀", (False, True): "▄"}


class Scale(NamedTuple):
    """How many dots one point of the font becomes, across and down."""

    x: int
    y: int


def drawable(words: str) -> bool:
    """Every sign has a drawing; else write the words plainly."""
    return all(sign in _FONT for sign in words)


def points(words: str) -> int:
    """How many points of the font the words are wide."""
    return sum(len(_FONT[s].split("|")[0]) + 1 for s in words) - 1 if words else 0


def fit(words: str, cells: int, rows: int) -> Scale | None:
    """The largest scale at which the words fit; None if not even the smallest does. Digits stay between slim and wide."""
    across, down = cells // max(1, points(words)), rows * 2 // HEIGHT
    if across < 1 or down < 1:
        return None
    down = min(down, across * 2)
    return Scale(min(across, max(1, down * 4 // 3)), down)


def cells(words: str, scale: Scale) -> int:
    """How wide they are, in cells."""
    return points(words) * scale.x


def rows(scale: Scale) -> int:
    """How high, in rows of cells."""
    return -(-HEIGHT * scale.y // 2)


def draw(words: str, scale: Scale) -> list[str]:
    """The words as rows of half blocks, `rows(scale)` of them, all `cells(words, scale)` wide."""
    dots = [_dots(words, row // scale.y, scale.x) for row in range(HEIGHT * scale.y)]
    if len(dots) % 2:
        dots.append([False] * len(dots[0]))
    pairs = zip(dots[::2], dots[1::2], strict=True)
    return ["".join(_HALVES[pair] for pair in zip(top, low, strict=True)) for top, low in pairs]


def _dots(words: str, row: int, across: int) -> list[bool]:
    points_of_row = ".".join(_FONT[sign].split("|")[row] for sign in words)
    return [point == "#" for point in points_of_row for _ in range(across)]
