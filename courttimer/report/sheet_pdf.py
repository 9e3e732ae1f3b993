"""The sheet drawn as a PDF: one page of A4 or letter, in the largest letters that fit, or more pages where they would be too small.

Lengths are millimetres, letters points. What is drawn is a column of blocks; each can say how high it is before it is drawn.
"""

from collections.abc import Callable
from typing import NamedTuple

from courttimer.report.drill_lines import Line
from courttimer.report.pen import BODY, GREY, INK, MARGIN, PAPER, Paper, Pen, written
from courttimer.report.sheet import Part, Sheet

LARGEST, AIRY, SMALLEST, STEP = 1.3, 0.96, 0.82, 0.01
"""Scales of a 9-point text. Below the airy one, 8.6 points, lines stand side by side instead; the smallest still gives 7.4 points."""
SMALL, HEAD, TITLE = 7.6, 11.5, 21.0
TIME, NOTES, FEWER, LABEL, GAP, BETWEEN = 20.0, 38.0, 32.0, 13.0, 2.0, 4.0
ROOM = 10.0
"""So much is left for notes at the end, at the least."""
ABREAST = 3
"""So many teams stand beside one another."""


class Fit(NamedTuple):
    """How a sheet comes on its page: the scale of its letters, and whether a drill's short lines stand side by side."""

    scale: float
    compact: bool


Block = Callable[[Pen, float, bool], float]


def fit(sheet: Sheet, paper: Paper = "a4") -> Fit:
    """The largest letters with which it comes on one page; the smallest when none do."""
    with written(paper) as pen:
        return _fitted(sheet, pen)


def _fitted(sheet: Sheet, pen: Pen) -> Fit:
    """Lines stand side by side only where the letters would be small otherwise."""
    pen.compact = False
    pen.compact = _height(sheet, pen, AIRY) > pen.bottom
    return Fit(_scaled(sheet, pen), pen.compact)


def _scaled(sheet: Sheet, pen: Pen) -> float:
    """From the largest down: a smaller scale may be the higher one, for where a line breaks is luck."""
    scales = (LARGEST - STEP * n for n in range(round((LARGEST - SMALLEST) / STEP)))
    return next((scale for scale in scales if _height(sheet, pen, scale) <= pen.bottom), SMALLEST)


def _height(sheet: Sheet, pen: Pen, step: float) -> float:
    pen.scale = step
    y = MARGIN
    for block in _blocks(sheet):
        y += block(pen, y, False)
    return y + ROOM


def pdf(sheet: Sheet, paper: Paper = "a4") -> bytes:
    """The document."""
    with written(paper) as pen:
        pen.scale, pen.compact = _fitted(sheet, pen)
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
    """Who wears what, and below it what to fetch."""
    high = _strip(pen, y, draw, "Who", sheet.teams)
    high += _strip(pen, y + high, draw, "Fetch", sheet.fetch)
    return high + 1.5 if high else 0.0


def _strip(pen: Pen, y: float, draw: bool, head: str, pairs: tuple[tuple[str, str], ...]) -> float:
    """Pairs side by side, as many in a row as there is room for."""
    left, high = LABEL * pen.scale, 0.0
    columns = min(len(pairs), ABREAST)
    for at in range(0, len(pairs), ABREAST):
        pen.text("" if at else head, MARGIN, y + pen.lower(SMALL, BODY), left, SMALL, colour=GREY, draw=draw)
        cell = (pen.width - left) / columns
        row = enumerate(pairs[at : at + ABREAST])
        high += max(_pair(pen, MARGIN + left + cell * n, y + high, cell - GAP, pair, draw) for n, pair in row)
    return high


def _pair(pen: Pen, x: float, y: float, width: float, pair: tuple[str, str], draw: bool) -> float:
    pen.font(BODY, "B")
    name = min(pen.wide(f"{pair[0]}  "), width * 0.5)
    high = pen.text(pair[0], x, y, name, BODY, style="B", draw=draw)
    return max(high, pen.text(pair[1], x + name, y, width - name, BODY, draw=draw))


def _part(pen: Pen, y: float, draw: bool, part: Part) -> float:
    time, notes, edge = TIME * pen.scale, FEWER if pen.compact else NOTES, 1.1 if pen.compact else 1.5
    top, x, body = y + edge / 2, MARGIN + time, pen.width - notes - time - GAP
    high = max(_when(pen, top, False, part, time), _body(pen, top, False, part, x, body)) + edge
    if draw:
        if part.pause:
            pen.fill(MARGIN, y, pen.width, high)
        _when(pen, top, True, part, time)
        _body(pen, top, True, part, x, body)
        pen.rule(MARGIN, y, MARGIN + pen.width)
        for at in range(1, int(high / 7)):
            pen.rule(MARGIN + pen.width - notes, y + 7 * at, MARGIN + pen.width, thick=0.1)
    return high


def _when(pen: Pen, y: float, draw: bool, part: Part, width: float) -> float:
    """The column of times: when, how long, what to have there."""
    high = pen.text(part.at, MARGIN + 0.8, y, width, HEAD, style="B", draw=draw)
    for text in part.under:
        high += pen.text(text, MARGIN + 0.8, y + high, width - 2, BODY if text == part.under[0] else SMALL, draw=draw)
    return high


def _body(pen: Pen, y: float, draw: bool, part: Part, x: float, width: float) -> float:
    high = pen.text(part.title, x, y, width, HEAD, style="B", draw=draw) + _aside(pen, y, draw, part, x, width)
    for row in _rows(pen, part.lines, width):
        left, tall = 0.0, 0.0
        for line in row:
            tall = max(tall, _line(pen, x + left, y + high, draw, line, width - left, _label(pen, line, bool(left))))
            left += _wide(pen, line, bool(left)) + BETWEEN
        high += tall
    return high


def _rows(pen: Pen, lines: tuple[Line, ...], width: float) -> list[list[Line]]:
    """A row for each line; on a sheet that is full, as many in a row as there is room for."""
    rows, used = list[list[Line]](), 0.0
    for line in lines:
        behind = BETWEEN + _wide(pen, line, behind=True)
        if pen.compact and rows and used + behind <= width:
            rows[-1].append(line)
            used += behind
        else:
            rows.append([line])
            used = _wide(pen, line, behind=False)
    return rows


def _wide(pen: Pen, line: Line, behind: bool) -> float:
    label = _label(pen, line, behind)
    pen.font(BODY, _style(line))
    return label + pen.wide(line.text)


def _label(pen: Pen, line: Line, behind: bool) -> float:
    """Labels at the left have a column, one behind another line takes what it needs."""
    if behind:
        pen.font(SMALL)
        return pen.wide(f"{line.label}  ")
    return LABEL * pen.scale if line.label else 0.0


def _style(line: Line) -> str:
    return "B" if line.strong else "I" if line.label == "say" else ""


def _line(pen: Pen, x: float, y: float, draw: bool, line: Line, width: float, label: float) -> float:
    pen.text(line.label, x, y + pen.lower(SMALL, BODY), max(label, pen.wide(line.label)), SMALL, colour=GREY, draw=draw)
    return pen.text(line.text, x + label, y, width - label, BODY, style=_style(line), draw=draw)


def _aside(pen: Pen, y: float, draw: bool, part: Part, x: float, width: float) -> float:
    """Small words behind the title, or below it where it is too long; gives the height that they need in addition."""
    step = pen.font(HEAD, "B")
    begins = pen.wide(part.title) + 4
    if begins < width * 0.6:
        top = y + pen.lower(SMALL, HEAD)
        return max(pen.text(part.aside, x + begins, top, width - begins, SMALL, colour=GREY, draw=draw) - step, 0)
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
    rows = [sheet.card[at : at + 2] for at in range(0, len(sheet.card), 2)]
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
