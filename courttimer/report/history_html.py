"""The history as one HTML page: a table for each view, with bars, and with the interval of each shooting percentage drawn."""

from collections.abc import Sequence

from courttimer.report.page import BAR, EDGE, INK, PALE, around, page, tag, text
from courttimer.report.tables import Column, Table, Value, told

_STYLE = f"""
h1 {{ font-size: 1.7em; border-bottom: 3px solid {INK}; }}
h2 {{ font-size: 1.2em; margin: 1.2em 0 .3em; }}
.wide {{ overflow-x: auto; }}
table {{ border-collapse: collapse; }}
th, td {{ text-align: left; padding: .15em .8em .15em .3em; border-bottom: 1px solid {PALE}; white-space: nowrap; }}
th {{ background: {PALE}; }}
.number, .value {{ text-align: right; font-variant-numeric: tabular-nums; }}
.value {{ display: inline-block; min-width: 3em; padding-right: .5em; }}
svg {{ width: 9em; height: .9em; vertical-align: middle; overflow: visible; }}
tr {{ break-inside: avoid; }}
@media (max-width: 40rem) {{
  body {{ padding: .6rem; }}
  th, td {{ padding: .15em .45em .15em .1em; font-size: .8em; }}
  td.words {{ white-space: normal; }} .value {{ min-width: 2.2em; }}
  svg {{ width: 6em; }}
  .desk {{ display: none; }}
}}
"""
_DESK = ("at", "days", "planned", "from", "to", "times")
"""Heads of the columns that are left out on a phone; there is also the day of a last shot."""
_WIDE = 100.0


def html(title: str, tables: Sequence[Table], notes: Sequence[str] = ()) -> str:
    """The page; `notes` stand below its title. The row of practices, which grows and grows, comes last."""
    order = sorted(tables, key=lambda table: table.name == "sessions")
    body = (tag("h1", title), *(tag("p", note, of="soft") for note in notes), *map(_section, order))
    return page(title, _STYLE, "\n".join(body))


def _section(table: Table) -> str:
    if not table.rows:
        return around("section", tag("h2", table.title) + tag("p", "nothing yet", of="soft"))
    drawn = [c.name for c in table.columns][4:7] == ["share", "low", "high"]
    head = "".join(_head(c) for c in table.columns) + (tag("th", "0 to 100 %") if drawn else "")
    rows = "".join(around("tr", _row(table, row) + (_interval(row[4:7]) if drawn else "")) for row in table.rows)
    whole = around("table", around("thead", around("tr", head)) + around("tbody", rows))
    return around("section", tag("h2", table.title) + around("div", whole, of="wide"))


def _head(column: Column) -> str:
    return f'<th scope="col" title="{text(column.meaning)}"{_sort(column)}>{text(column.head)}</th>'


def _sort(column: Column) -> str:
    sort = "number" if column.sort in ("whole", "share") else "day" if column.sort == "day" else "words"
    desk = column.head in _DESK or (column.name, sort) == ("last", "day")
    return f' class="{sort}{" desk" * desk}"'


def _row(table: Table, row: tuple[Value, ...]) -> str:
    most = {c.name: max((v for r in table.rows if isinstance(v := r[at], int)), default=0) for at, c in enumerate(table.columns)}
    return "".join(_cell(value, c, most[c.name]) for value, c in zip(row, table.columns, strict=True))


def _cell(value: Value, column: Column, most: int) -> str:
    if column.sort == "bar" and isinstance(value, int) and most:
        bar = _svg(f'<rect width="{_WIDE * value / most:.1f}" height="10" fill="{BAR}"/>')
        return around("td", tag("span", told(value, column), of="value") + bar)
    return f"<td{_sort(column)}>{text(told(value, column))}</td>"


def _interval(of: tuple[Value, ...]) -> str:
    """The share as a point on its interval, along a line from 0 to 100 %."""
    share, low, high = (_WIDE * value if isinstance(value, (int, float)) else None for value in of)
    if share is None or low is None or high is None:
        return tag("td", "")
    line = f'<rect y="4.7" width="100" height=".6" fill="{EDGE}"/>'
    reach = f'<rect x="{low:.1f}" y="3" width="{high - low:.1f}" height="4" fill="{BAR}" fill-opacity=".45"/>'
    return around("td", _svg(f'{line}{reach}<circle cx="{share:.1f}" cy="5" r="3.2" fill="{BAR}"/>'))


def _svg(inside: str) -> str:
    return f'<svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">{inside}</svg>'
