"""A pen for PDF pages: writes wrapped text at a scale, and says how high it would be before it is written.

Lengths are millimetres, letters points.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from fpdf import FPDF

Paper = Literal["a4", "letter"]
HEIGHT = {"a4": 297.0, "letter": 279.4}
WIDTH = {"a4": 210.0, "letter": 215.9}
MARGIN = 8.0
PT = 25.4 / 72
LEADING, TIGHT, BASE = 1.25, 1.2, 0.78
"""The height of a line to its letters, on a sheet that is full too, and where in it they stand."""
INK, GREY, PALE, LINE, PAPER = (0, 0, 0), (74, 74, 74), (232, 232, 232), (150, 150, 150), (255, 255, 255)
"""Grey on white is 8.9 to 1, black on pale 17 to 1."""
FAMILY = "sheet"
BODY, LEAST = 9.0, 8.5
"""Nothing is printed smaller than the least, unless the text itself must be: then nothing is smaller than the text."""


class Pen:
    """Lives as long as one document. Writes at a scale; every method gives the height that it took."""

    def __init__(self, paper: Paper) -> None:
        self.pdf = _document(paper)
        self.scale, self.compact = 1.0, False
        self.width = WIDTH[paper] - 2 * MARGIN
        self.bottom = HEIGHT[paper] - MARGIN
        self._size, self._style = 9.0, ""
        self._widths: dict[tuple[str, str], float] = {}

    def font(self, size: float, style: str = "") -> float:
        """Take this font; gives the height of a line."""
        self._size, self._style = max(size * self.scale, min(BODY * self.scale, LEAST)), style
        return self._size * PT * (TIGHT if self.compact else LEADING)

    def lower(self, size: float, other: float) -> float:
        """So much lower begins a text of this size beside one of the other, for both to stand on one line."""
        small, large = self.font(size), self.font(other)
        return BASE * (large - small)

    def wide(self, text: str) -> float:
        """The width of a text in the font taken; remembered, for it grows with the size and nothing else."""
        key = (self._style, text)
        if key not in self._widths:
            self.pdf.set_font(FAMILY, self._style, 100)
            self._widths[key] = self.pdf.get_string_width(text) / 100
        return self._widths[key] * self._size

    def wrapped(self, text: str, width: float) -> list[str]:
        """The lines of a text in the font taken; a word wider than the line is cut."""
        lines, line, used, space = list[str](), "", 0.0, self.wide(" ")
        for whole in filter(None, text.split(" ")):
            for word in self._cut(whole, width):
                needs = self.wide(word)
                if line and used + space + needs > width:
                    lines.append(line)
                    line, used = "", 0.0
                line, used = (f"{line} {word}", used + space + needs) if line else (word, needs)
        return [*lines, line] if line else lines

    def _cut(self, word: str, width: float) -> list[str]:
        pieces = []
        while self.wide(word) > width and len(word) > 1:
            fits = max((n for n in range(1, len(word)) if self.wide(word[:n]) <= width), default=1)
            pieces.append(word[:fits])
            word = word[fits:]
        return [*pieces, word]

    def text(self, words: str, x: float, y: float, width: float, size: float, *, style: str = "", colour: tuple[int, int, int] = INK,
             draw: bool = True, right: bool = False) -> float:  # fmt: skip
        """Wrapped text, its top at `y`."""
        step = self.font(size, style)
        lines = self.wrapped(words, width)
        lefts = [x + (width - self.wide(line) if right else 0) for line in lines]
        if draw:
            self.pdf.set_font(FAMILY, style, self._size)
            self.pdf.set_text_color(*colour)
            for at, (left, line) in enumerate(zip(lefts, lines, strict=True)):
                self.pdf.text(left, y + at * step + step * BASE, line)
        return step * len(lines)

    def rule(self, x: float, y: float, to: float, *, thick: float = 0.2, colour: tuple[int, int, int] = LINE) -> None:
        self.pdf.set_line_width(thick)
        self.pdf.set_draw_color(*colour)
        self.pdf.line(x, y, to, y)

    def fill(self, x: float, y: float, width: float, height: float, colour: tuple[int, int, int] = PALE) -> None:
        self.pdf.set_fill_color(*colour)
        self.pdf.rect(x, y, width, height, style="F")


def _document(paper: Paper) -> "FPDF":
    from font_roboto import Roboto, RobotoBold, RobotoItalic  # no name of a player is lost to an old code page
    from fpdf import FPDF

    pdf = FPDF(format=paper, unit="mm")
    for style, file in (("", Roboto), ("B", RobotoBold), ("I", RobotoItalic)):
        pdf.add_font(FAMILY, style, file)
    pdf.set_auto_page_break(False)
    pdf.set_font(FAMILY)
    return pdf


@contextmanager
def written(paper: Paper) -> Iterator[Pen]:
    """A pen whose font files are let go at the end: the library would leave that to chance."""
    pen = Pen(paper)
    try:
        yield pen
    finally:
        for font in pen.pdf.fonts.values():
            getattr(font, "ttfont").close()  # noqa: B009 - only a font added from a file has one, and all of ours are


def unprintable(text: str) -> str:
    """The letters of the text that the font does not have."""
    with written("a4") as pen:
        known = getattr(pen.pdf.fonts[FAMILY], "cmap")  # noqa: B009 - the same
        return "".join(dict.fromkeys(letter for letter in text if letter.isprintable() and ord(letter) not in known))
