"""Lines of styled text: what every screen is made of before a terminal sees it.

A line is a row of pieces, each a text and the name of a style of `colours.py`. Screens are pure functions from what is
known and a size to lines, so they can be read in a test, and only lines that changed are painted.
"""

from collections.abc import Callable

from rich.cells import cell_len, set_cell_size

Piece = tuple[str, str]
Line = tuple[Piece, ...]


def cells_of(text: str) -> int:
    """How wide a text is, in cells. Most of it is plain letters, which need no table."""
    return len(text) if text.isascii() else cell_len(text)


def line(*pieces: Piece | str) -> Line:
    """A line of pieces; a bare text has the style "plain"."""
    return tuple((p, "plain") if isinstance(p, str) else p for p in pieces)


def width(of: Line) -> int:
    """In cells."""
    return sum(cells_of(text) for text, _ in of)


def text(of: Line) -> str:
    """The line without its styles."""
    return "".join(t for t, _ in of)


def clip(text: str, cells: int) -> str:
    """The text in at most so many cells, cut with an ellipsis."""
    if cells_of(text) <= cells:
        return text
    return set_cell_size(text, max(0, cells - 1)).rstrip() + "…" if cells > 0 else ""


def fill(of: Line, cells: int, style: str = "plain") -> Line:
    """The line in exactly so many cells: cut at the right, or filled up with spaces of a style."""
    kept: list[Piece] = []
    room = cells
    for piece, its in of:
        kept.append((clip(piece, room), its))
        room -= cells_of(kept[-1][0])
    return (*kept, (" " * room, style)) if room else tuple(kept)


def spread(left: Line, right: Line, cells: int, style: str = "plain") -> Line:
    """Something at the left, something at the right; the left gives way."""
    room = cells - width(right)
    if room < 8:
        return fill(left, cells, style)
    return (*fill(left, room - 1, style), (" ", style), *right)


def centre(of: Line, cells: int, style: str = "plain") -> Line:
    """In the middle of so many cells."""
    before = max(0, cells - width(of)) // 2
    return fill(((" " * before, style), *of), cells, style)


def wrap(words: str, cells: int, measure: Callable[[str], int] = cells_of) -> list[str]:
    """The words in lines of at most so many cells; a word that is longer is cut."""
    told: list[str] = []
    for word in words.split():
        if told and measure(f"{told[-1]} {word}") <= cells:
            told[-1] += " " + word
        else:
            told.append(clip(word, cells))
    return told


def fold(parts: list[Line], gap: str, cells: int, rows: int) -> list[Line]:
    """Parts side by side in as many rows as allowed; what finds no room is left out, the last ones first."""
    told: list[Line] = []
    for part in parts:
        if told and width(told[-1]) + len(gap) + width(part) <= cells:
            told[-1] = (*told[-1], (gap, "plain"), *part)
        elif len(told) < rows:
            told.append(part)
    return told


def screen(lines: list[Line], cells: int, rows: int) -> list[Line]:
    """Exactly so many lines of exactly so many cells."""
    return [fill(of, cells) for of in (lines + [()] * rows)[:rows]]
