"""The parts that the page of the report is put together from: sections, tables and their cells, as HTML."""

from collections.abc import Sequence

from courttimer.report import charts
from courttimer.report.page import around, tag
from courttimer.report.tables import TIMES, Column, Table, told


def section(title: str, *inside: str) -> str:
    """A part of the page under its heading; nothing when there is nothing in it."""
    body = "".join(inside)
    return around("section", tag("h2", title) + body) if body else ""


def folded(said: str, inside: str) -> str:
    """What is long and seldom read: shown when its line is pressed, and left out in print."""
    return around("details", tag("summary", said) + inside)


def grid(head: str, rows: Sequence[str]) -> str:
    """A table, its head and its rows given as cells; it scrolls by itself where it is too wide."""
    body = "".join(around("tr", row) for row in rows)
    return around("div", around("table", around("thead", around("tr", head)) + around("tbody", body)), of="wide")


def heading(name: str, *, number: bool = False, desk: bool = False) -> str:
    """A cell of the head; `desk`: it is left out on a phone."""
    of = " ".join(["number"] * number + ["desk"] * desk)
    return tag("th" if name else "td", name, of=of)  # a head without words is none


def number(words: str, *, desk: bool = False) -> str:
    """A cell with a number, set to the right."""
    return tag("td", words, of="number desk" if desk else "number")


def drawn(drawing: str) -> str:
    """A cell with a drawing."""
    return around("td", drawing, of="drawn")


def or_not(n: int | None) -> str:
    """A number, or a dash for what is not known."""
    return "–" if n is None else str(n)


def interval(share: float | None, low: float | None, high: float | None) -> str:
    """The drawing of a share on its interval; nothing when it is not known."""
    if share is None or low is None or high is None:
        return ""
    return charts.interval(share, low, high, f"{100 * share:.0f} %, from {100 * low:.0f} to {100 * high:.0f} %")


def plain_grid(table: Table) -> str:
    """A table as it is, with the heads for people."""
    head = "".join(heading(c.head, number=_right(c)) for c in table.columns)
    lines = (zip(row, table.columns, strict=True) for row in table.rows)
    return grid(head, ["".join(tag("td", told(value, c), of="number" * _right(c)) for value, c in line) for line in lines])


def _right(column: Column) -> bool:
    return column.sort in ("whole", "share", *TIMES)
