"""The sheet drawn as a PDF: one page of A4 or letter, in the largest letters that fit, or more pages where they would be too small.

Lengths are millimetres, letters points. What is drawn is a column of blocks; each can say how high it is before it is drawn.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Literal

from courttimer.report.sheet import Part, Sheet

if TYPE_CHECKING:
    from fpdf import FPDF

Paper = Literal["a4", "letter"]
HEIGHT = {"a4": 297.0, "letter": 279.4}
WIDTH = {"a4": 210.0, "letter": 215.9}
MARGIN = 10.0
LARGEST, SMALLEST, STEP = 1.3, 0.84, 0.02
"""Scales of a 9-point text; the smallest still gives 7.5 points, and 6.4 for what is beside it."""
BODY, SMALL, HEAD, TITLE = 9.0, 7.6, 11.5, 21.0
TIME, NOTES, LABEL, GAP = 19.0, 38.0, 13.0, 2.0
ROOM = 18.0
"""So much is left for notes at the end, at the least."""
PT = 25.4 / 72
LEADING = 1.25
INK, GREY, PALE, LINE, PAPER = (0, 0, 0), (74, 74, 74), (232, 232, 232), (150, 150, 150), (255, 255, 255)
"""Grey on white is 8.9 to 1, black on pale 17 to 1."""

Block = Callable[["Pen", float, bool], float]


class Pen:
    """Lives as long as one document. Writes at a scale; every method gives the height that it took."""

    def __init__(self, paper: Paper) -> None:
        self.pdf = _document(paper)
        self.scale = 1.0
        self.width = WIDTH[paper] - 2 * MARGIN
        self.bottom = HEIGHT[paper] - MARGIN
        self._size, self._style = BODY, ""
        self._widths: dict[tuple[str, str], float] = {}

    def font(self, size: float, style: str = "") -> float:
        """Take this font; gives the height of a line."""
        self._size, self._style = size * self.scale, style
        return size * self.scale * PT * LEADING

    def wide(self, text: str) -> float:
        """The width of a text in the font taken; remembered, for it grows with the size and nothing else."""
        key = (self._style, text)
        if key not in self._widths:
            self.pdf.set_font("sheet", self._style, 100)
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
            self.pdf.set_font("sheet", style, size * self.scale)
            self.pdf.set_text_color(*colour)
            for at, (left, line) in enumerate(zip(lefts, lines, strict=True)):
                self.pdf.text(left, y + at * step + step * 0.78, line)
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
        pdf.add_font("sheet", style, file)
    pdf.set_auto_page_break(False)
    pdf.set_font("sheet", "", BODY)
    return pdf


@contextmanager
def _pen(paper: Paper) -> Iterator[Pen]:
    """A pen whose font files are let go at the end: the library would leave that to chance."""
    pen = Pen(paper)
    try:
        yield pen
    finally:
        for font in pen.pdf.fonts.values():
            getattr(font, "ttfont").close()  # noqa: B009 - only a font added from a file has one, and all of ours are


def unprintable(text: str) -> str:
    """The letters of the text that the font does not have."""
    with _pen("a4") as pen:
        known = getattr(pen.pdf.fonts["sheet"], "cmap")  # noqa: B009 - the same
        return "".join(dict.fromkeys(letter for letter in text if letter.isprintable() and ord(letter) not in known))


def scale(sheet: Sheet, paper: Paper = "a4") -> float:
    """The largest scale at which it fits on one page; the smallest when none does."""
    with _pen(paper) as pen:
        return _scaled(sheet, pen)


def _scaled(sheet: Sheet, pen: Pen) -> float:
    """Halving: what fits at one scale fits at every smaller one."""
    least, most = 0, round((LARGEST - SMALLEST) / STEP)
    while least < most:
        middle = (least + most + 1) // 2
        fits = _height(sheet, pen, SMALLEST + middle * STEP) <= pen.bottom
        least, most = (middle, most) if fits else (least, middle - 1)
    return SMALLEST + least * STEP


def _height(sheet: Sheet, pen: Pen, step: float) -> float:
    pen.scale = step
    y = MARGIN
    for block in _blocks(sheet):
        y += block(pen, y, False)
    return y + ROOM


def pdf(sheet: Sheet, paper: Paper = "a4") -> bytes:
    """The document."""
    with _pen(paper) as pen:
        pen.scale = _scaled(sheet, pen)
        pen.pdf.set_title(sheet.title)
        pen.pdf.set_lang("en")
        _draw(sheet, pen)
        return bytes(pen.pdf.output())


def _draw(sheet: Sheet, pen: Pen) -> None:
    pen.pdf.add_page()
    y = MARGIN
    for block in _blocks(sheet):
        if y + block(pen, y, False) > pen.bottom and y > MARGIN:
            pen.pdf.add_page()
            y = MARGIN + _again(pen, sheet)
        y += block(pen, y, True)
    _notes(pen, y)


def _again(pen: Pen, sheet: Sheet) -> float:
    """The head of a further page."""
    step = pen.text(f"{sheet.title}, {sheet.hours}, page {pen.pdf.page_no()}", MARGIN, MARGIN, pen.width, HEAD, style="B")
    pen.rule(MARGIN, MARGIN + step + 0.6, MARGIN + pen.width, thick=0.8, colour=INK)
    return step + 2


def _blocks(sheet: Sheet) -> list[Block]:
    return [
        lambda pen, y, draw: _head(pen, y, draw, sheet),
        lambda pen, y, draw: _boxes(pen, y, draw, sheet),
        *((lambda pen, y, draw, part=part: _part(pen, y, draw, part)) for part in sheet.parts),
        lambda pen, y, draw: _foot(pen, y, draw, sheet),
    ]


def _head(pen: Pen, y: float, draw: bool, sheet: Sheet) -> float:
    hours = pen.width * 0.36
    high = pen.text(sheet.title, MARGIN, y, pen.width - hours - GAP, TITLE, style="B", draw=draw)
    pen.text(sheet.hours, MARGIN + pen.width - hours, y, hours, TITLE, style="B", draw=draw, right=True)
    high += pen.text(sheet.under, MARGIN, y + high, pen.width, BODY, colour=GREY, draw=draw) + 1
    if draw:
        pen.rule(MARGIN, y + high, MARGIN + pen.width, thick=0.9, colour=INK)
    return high + 1.5


def _boxes(pen: Pen, y: float, draw: bool, sheet: Sheet) -> float:
    """Who wears what, and beside it what to fetch."""
    if not sheet.teams and not sheet.fetch:
        return 0.0
    half = pen.width * 0.55 if sheet.teams else 0.0
    left = _box(pen, MARGIN, y, half - GAP, "Who", sheet.teams, draw)
    right = _box(pen, MARGIN + half, y, pen.width - half, "Fetch", sheet.fetch, draw)
    return max(left, right) + 2


def _box(pen: Pen, x: float, y: float, width: float, head: str, pairs: tuple[tuple[str, str], ...], draw: bool) -> float:
    if not pairs:
        return 0.0
    high = pen.text(head, x, y, width, SMALL, style="B", colour=GREY, draw=draw)
    label = 20 * pen.scale
    for name, text in pairs:
        pen.text(name, x, y + high, label - 1, BODY, style="B", draw=draw)
        high += pen.text(text, x + label, y + high, width - label, BODY, draw=draw)
    return high


def _part(pen: Pen, y: float, draw: bool, part: Part) -> float:
    time, top = TIME * pen.scale, y + 0.9
    x, body = MARGIN + time, pen.width - NOTES - time - GAP
    high = max(_when(pen, top, False, part, time), _body(pen, top, False, part, x, body)) + 1.8
    if draw:
        if part.pause:
            pen.fill(MARGIN, y, pen.width, high)
        _when(pen, top, True, part, time)
        _body(pen, top, True, part, x, body)
        pen.rule(MARGIN, y, MARGIN + pen.width)
        for at in range(1, int(high / 7)):
            pen.rule(MARGIN + pen.width - NOTES, y + 7 * at, MARGIN + pen.width, thick=0.1)
    return high


def _when(pen: Pen, y: float, draw: bool, part: Part, width: float) -> float:
    """The column of times: when, how long, what to have there."""
    high = pen.text(part.at, MARGIN + 0.8, y, width, HEAD, style="B", draw=draw)
    for text in part.under:
        high += pen.text(text, MARGIN + 0.8, y + high, width - 2, BODY if text == part.under[0] else SMALL, draw=draw)
    return high


def _body(pen: Pen, y: float, draw: bool, part: Part, x: float, width: float) -> float:
    high = pen.text(part.title, x, y, width, HEAD, style="B", draw=draw) + _aside(pen, y, draw, part, x, width)
    label = LABEL * pen.scale
    for line in part.lines:
        pen.text(line.label, x, y + high + 0.35 * pen.scale, label, SMALL, colour=GREY, draw=draw)
        style = "B" if line.strong else "I" if line.label == "say" else ""
        left = label if line.label else 0
        high += pen.text(line.text, x + left, y + high, width - left, BODY, style=style, draw=draw)
    return high


def _aside(pen: Pen, y: float, draw: bool, part: Part, x: float, width: float) -> float:
    """Small words behind the title, or below it where it is too long; gives the height that they need in addition."""
    step = pen.font(HEAD, "B")
    begins = pen.wide(part.title) + 4
    if begins < width * 0.6:
        return max(pen.text(part.aside, x + begins, y + 0.9 * pen.scale, width - begins, SMALL, colour=GREY, draw=draw) - step, 0)
    return pen.text(part.aside, x, y + step * len(pen.wrapped(part.title, width)), width, SMALL, colour=GREY, draw=draw)


def _foot(pen: Pen, y: float, draw: bool, sheet: Sheet) -> float:
    if draw:
        pen.rule(MARGIN, y, MARGIN + pen.width, thick=0.9, colour=INK)
    high = 1.5 + pen.text(sheet.ends, MARGIN, y + 1.5, pen.width, BODY, style="B", draw=draw) + 1.5
    high += _card(pen, y + high, draw, sheet)
    high += pen.text(" ".join(sheet.cautions), MARGIN, y + high, pen.width, SMALL, draw=draw)
    high += pen.text(sheet.first, MARGIN, y + high, pen.width, SMALL, colour=GREY, draw=draw)
    return high + 2.5


def _card(pen: Pen, y: float, draw: bool, sheet: Sheet) -> float:
    """The gym's card, reversed, to be found at once: two columns."""
    if not sheet.card:
        return 0.0
    pairs = (("Hurt?", "Key x on the laptop: silence, all stands."), *sheet.card)
    rows = [pairs[at : at + 2] for at in range(0, len(pairs), 2)]
    tall = [max(_call(pen, 0, 0, pen.width / 2, pair, draw=False) for pair in row) for row in rows]
    if draw:
        pen.fill(MARGIN, y, pen.width, sum(tall) + 2.4, INK)
        for at, row in enumerate(rows):
            for n, pair in enumerate(row):
                _call(pen, MARGIN + pen.width / 2 * n, y + 1.2 + sum(tall[:at]), pen.width / 2, pair, draw=True)
    return sum(tall) + 2.4 + 1.8


def _call(pen: Pen, x: float, y: float, width: float, pair: tuple[str, str], *, draw: bool) -> float:
    label = 18 * pen.scale
    pen.text(pair[0], x + 2, y, label, BODY, style="B", colour=PAPER, draw=draw)
    return pen.text(pair[1], x + 2 + label, y, width - label - 4, BODY, style="B", colour=PAPER, draw=draw)


def _notes(pen: Pen, y: float) -> None:
    """Lines to write on, as many as there is room for."""
    pen.text("Notes", MARGIN, y, 30, SMALL, style="B", colour=GREY)
    while (y := y + 8) < pen.bottom:
        pen.rule(MARGIN, y, MARGIN + pen.width, thick=0.15)
