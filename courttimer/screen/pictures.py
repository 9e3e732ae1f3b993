"""Pictures of screens as SVG, made from the same lines that a terminal shows; blocks are drawn as shapes, so no font is asked."""

from html import escape
from itertools import groupby

from rich.cells import cell_len

from courttimer.practice.view import View
from courttimer.screen import far, here, pages
from courttimer.screen.board import board
from courttimer.screen.colours import STYLES, Theme, pairs
from courttimer.screen.given import Over, Start
from courttimer.screen.ink import Line

WIDE, HIGH, SIZE = 10, 20, 16
"""A cell and its letters, in units of the picture."""
_BLOCKS = {"█": (0.0, 1.0, 1.0), "▀": (0.0, 0.5, 1.0), "▄": (0.5, 0.5, 1.0), "░": (0.0, 1.0, 0.3), "▒": (0.0, 1.0, 0.6)}
"""Where a block begins, how high it is, in parts of a cell, and how solid."""


def svg(lines: list[Line], theme: Theme = "dark") -> str:
    """The lines as the text of an SVG file."""
    wide = max(sum(cell_len(text) for text, _ in of) for of in lines) * WIDE
    high = len(lines) * HIGH
    colours = pairs(theme)
    body = "\n".join(_row(of, y * HIGH, colours) for y, of in enumerate(lines))
    box = f'viewBox="0 0 {wide} {high}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {box} shape-rendering="crispEdges" font-family="monospace" font-size="{SIZE}">'
    return f'{head}\n<rect width="{wide}" height="{high}" fill="{colours["plain"][1]}"/>\n{body}\n</svg>\n'


def _row(of: Line, y: int, colours: dict[str, tuple[str, str]]) -> str:
    drawn, x = [], 0
    for text, style in of:
        ink, ground = colours[style]
        drawn.append(f'<rect x="{x}" y="{y}" width="{cell_len(text) * WIDE}" height="{HIGH}" fill="{ground}"/>')
        for sign, run in groupby(text, lambda s: s if s in _BLOCKS or s in " ▌" else ""):
            part = "".join(run)
            drawn.append(_part(sign, part, x, y, f'fill="{ink}"' + (' font-weight="bold"' if STYLES[style][2] else "")))
            x += cell_len(part) * WIDE
    return "".join(drawn)


def _part(sign: str, part: str, x: int, y: int, ink: str) -> str:
    wide = cell_len(part) * WIDE
    if sign == " ":
        return ""
    if sign == "▌":
        return f'<rect x="{x}" y="{y}" width="{WIDE // 2}" height="{HIGH}" {ink}/>'
    if sign in _BLOCKS:
        top, tall, solid = _BLOCKS[sign]
        return f'<rect x="{x}" y="{y + top * HIGH}" width="{wide}" height="{tall * HIGH}" opacity="{solid}" {ink}/>'
    return f'<text x="{x}" y="{y + SIZE - 1}" textLength="{wide}" {ink}>{escape(part)}</text>'


def pictures(view: View, start: Start, over: Over, *, cells: int = 100, rows: int = 30, theme: Theme = "dark") -> dict[str, str]:
    """Every screen by its name, as SVG, made from one view of a running practice."""
    people = here.everyone(view.attendance, start.squad)
    told = {
        "board": board(view, cells, rows),
        "stations": board(view, cells, rows),
        "here": pages.page(view, "who is here: i closes", here.page(people, cells, rows - 2, 0), cells, rows),
        "far": far.far(view, cells, rows),
        "halt": far.halt(view, cells, rows),
        "start": pages.start(view, start, cells, rows),
        "over": pages.over(view, over, cells, rows),
        "help": pages.page(view, "help", pages.help_lines(cells), cells, rows),
    }
    return {name: svg(lines, theme) for name, lines in told.items()}
