"""The drawings of the report, as SVG to stand in a page: the evening planned and played, bars, and a share on its interval.

Places and widths are in percent of the drawing, heights in px, so that a drawing is as wide as there is room and its letters are not.
A drawing says in words what it shows; what it shows stands in a table as well.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from courttimer.report.page import BAR, EDGE, INK, PALE, PAPER, text

DARK = "#123a36"
"""Stations and spots; paper on it has more than 7 to 1, as on a bar."""
LIGHT = "#9fb6cc"
"""Beside a bar; no text stands on it."""
WASH = "#dbe7f3"
"""Water; ink on it has more than 7 to 1."""
FILLS = {
    "drill": (BAR, PAPER), "scrimmage": (BAR, PAPER), "stations": (DARK, PAPER), "spots": (DARK, PAPER), "warm-up": (PALE, INK),
    "cool-down": (PALE, INK), "water": (WASH, INK), "talk": (PAPER, INK), "rest": (PAPER, INK), "held": (INK, PAPER),
}  # fmt: skip
"""What each kind of time is filled with, and the colour of letters on it."""
_ROW, _GAP = 26, 6
_LABELLED = 3.4
"""A piece narrower than so many percent has no room for its number, on a phone."""


class Piece(NamedTuple):
    """One piece of a strip: a kind of `FILLS`, how long, and its label."""

    kind: str
    ms: int
    label: str = ""


def strip(rows: Sequence[tuple[str, Sequence[Piece]]], said: str) -> str:
    """Rows of pieces over one scale of minutes, each row with its name above it."""
    whole = max((sum(piece.ms for piece in pieces) for _, pieces in rows), default=0)
    if not whole:
        return ""
    out, y = [], 0
    for name, pieces in rows:
        out.append(_words(0, y + 13, name, INK, "start"))
        out.append(_pieces(pieces, y + 18, whole))
        y += 18 + _ROW + _GAP
    out.append(_ticks(whole, y))
    return _svg("".join(out), y + 20, said)


def _pieces(pieces: Iterable[Piece], y: int, whole: int) -> str:
    out, x = [], 0.0
    for piece in pieces:
        wide = 100 * piece.ms / whole
        fill, ink = FILLS[piece.kind]
        out.append(_rect(x, y, wide, _ROW, fill, EDGE if fill in (PALE, PAPER, WASH) else PAPER))
        if piece.label and wide >= _LABELLED:
            out.append(_words(x + wide / 2, y + 18, piece.label, ink, "middle"))
        x += wide
    return "".join(out)


def _ticks(whole: int, y: int) -> str:
    """A line and its minute, at most nine of them."""
    each = next(step for step in (1, 2, 5, 10, 15, 20, 30, 60, 1000) if whole <= 9 * step * 60_000)
    out = []
    for minute in range(0, whole // 60_000 + 1, each):
        x = 100 * minute * 60_000 / whole
        side = "start" if not minute else "end" if x > 96 else "middle"
        out.append(f'<line x1="{x:.2f}%" x2="{x:.2f}%" y1="{y - 4}" y2="{y + 2}" stroke="{EDGE}"/>')
        out.append(_words(x, y + 15, f"{minute} min" if not minute else str(minute), INK, side))
    return "".join(out)


def bar(parts: Sequence[tuple[int, str]], most: int, said: str) -> str:
    """A bar of parts one after the other, each with its fill; `most` would be as long as there is room."""
    out, x = [], 0.0
    for ms, fill in parts:
        wide = 100 * ms / most if most else 0.0
        out.append(_rect(x, 2, wide, 12, fill, EDGE if fill in (PALE, PAPER, LIGHT) else fill) if wide else "")
        x += wide
    return _svg("".join(out), 16, said)


def interval(share: float, low: float, high: float, said: str) -> str:
    """The share as a point on its interval, on a line from 0 to 100 %."""
    line = f'<line x1="0" x2="100%" y1="8" y2="8" stroke="{EDGE}"/>'
    ends = "".join(f'<line x1="{x}" x2="{x}" y1="4" y2="12" stroke="{EDGE}"/>' for x in ("0", "50%", "100%"))
    reach = f'<rect x="{100 * low:.2f}%" width="{100 * (high - low):.2f}%" y="5" height="6" fill="{LIGHT}" stroke="{EDGE}"/>'
    return _svg(f'{line}{ends}{reach}<circle cx="{100 * share:.2f}%" cy="8" r="5" fill="{BAR}"/>', 16, said)


def key(kind: str) -> str:
    """The small square that tells in a legend what a fill means."""
    fill = FILLS[kind][0]
    return f'<svg class="key" width="14" height="14" aria-hidden="true">{_rect(0, 0, 100, 14, fill, EDGE)}</svg>'


def _rect(x: float, y: int, wide: float, high: int, fill: str, edge: str) -> str:
    return f'<rect x="{x:.2f}%" y="{y}" width="{wide:.2f}%" height="{high}" fill="{fill}" stroke="{edge}"/>'


def _words(x: float, y: int, words: str, ink: str, side: str) -> str:
    return f'<text x="{x:.2f}%" y="{y}" fill="{ink}" text-anchor="{side}">{text(words)}</text>'


def _svg(inside: str, high: int, said: str) -> str:
    return f'<svg width="100%" height="{high}" role="img" aria-label="{text(said)}">{inside}</svg>'
