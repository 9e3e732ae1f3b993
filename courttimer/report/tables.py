"""A table as every output takes it: columns with their meaning, and rows; told as text, CSV, JSON and JSON Schema."""

import csv
import io
from collections.abc import Sequence
from typing import Any, Literal, NamedTuple

Value = str | int | float | None
Sort = Literal["text", "whole", "share", "day", "bar", "time", "time bar"]
"""`share` is from 0 to 1, told in percent to people; `bar` is a whole number drawn as a bar beside itself; `time` is whole ms, told
to people as minutes and seconds."""
TIMES = ("time", "time bar")
BARS = ("bar", "time bar")

_JSON: dict[Sort, list[str]] = {
    "text": ["string", "null"], "day": ["string", "null"], "whole": ["integer", "null"], "bar": ["integer", "null"],
    "share": ["number", "null"], "time": ["integer", "null"], "time bar": ["integer", "null"],
}  # fmt: skip
WIDEST_BAR = 24


class Column(NamedTuple):
    """`name` is the key in JSON and the head in CSV, `head` the head for people; `meaning` documents both."""

    name: str
    head: str
    meaning: str
    sort: Sort = "text"


class Table(NamedTuple):
    """`name` is the view's, `title` a heading; each row has a value for each column."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Value, ...], ...]


def as_json(tables: Sequence[Table]) -> dict[str, list[dict[str, Value]]]:
    """Each table by its name, each row as an object; `json_schema` documents it."""
    return {table.name: [dict(zip((c.name for c in table.columns), row, strict=True)) for row in table.rows] for table in tables}


def json_schema(tables: Sequence[Table]) -> dict[str, Any]:
    """JSON Schema, draft 2020-12, of what `as_json` gives for these tables, whatever their rows."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "type": "object",
        "properties": {table.name: {"type": "array", "description": table.title, "items": _item(table)} for table in tables},
        "required": [table.name for table in tables],
        "additionalProperties": False,
    }


def _item(table: Table) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": {c.name: {"type": _JSON[c.sort], "description": c.meaning} for c in table.columns},
        "required": [c.name for c in table.columns],
        "additionalProperties": False,
    }


def as_csv(table: Table) -> str:
    """RFC 4180: a head line with the names of the columns, lines ended by CR LF; an unknown value is empty.

    Text that a spreadsheet would take for a formula is led by an apostrophe.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(column.name for column in table.columns)
    writer.writerows([_harmless(value) for value in row] for row in table.rows)
    return out.getvalue()


def _harmless(value: Value) -> Value:
    return f"'{value}" if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t", "\r") else value


def as_text(table: Table) -> list[str]:
    """Lines for a terminal, the columns under one another, numbers to the right."""
    if not table.rows:
        return [table.title, "  nothing yet"]
    most = _mosts(table)
    cells = [[c.head for c in table.columns]] + [
        [told(value, c, most[c.name]) for value, c in zip(row, table.columns, strict=True)] for row in table.rows
    ]
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
    return [table.title] + [_line(row, widths, table.columns) for row in cells]


def _mosts(table: Table) -> dict[str, int]:
    numbers = {c.name: [row[at] for row in table.rows] for at, c in enumerate(table.columns) if c.sort in BARS}
    return {c.name: max((v for v in numbers.get(c.name, ()) if isinstance(v, int)), default=0) for c in table.columns}


def _line(cells: list[str], widths: list[int], columns: tuple[Column, ...]) -> str:
    left = ("text", "day", *BARS)
    parts = (c.ljust(w) if column.sort in left else c.rjust(w) for c, w, column in zip(cells, widths, columns, strict=True))
    return ("  " + "  ".join(parts)).rstrip()


def told(value: Value, column: Column, most: int = 0) -> str:
    """A value for people; a bar beside its number when the longest is known."""
    if value is None:
        return "–"
    if column.sort == "share" and isinstance(value, (int, float)):
        return f"{value * 100:.0f} %"
    said = clock(value) if column.sort in TIMES and isinstance(value, int) else str(value)
    if column.sort in BARS and isinstance(value, int) and most:
        widest = len(clock(most) if column.sort in TIMES else str(most))
        return f"{said:>{widest}} {'█' * round(WIDEST_BAR * value / most)}".rstrip()
    return said


def clock(ms: int) -> str:
    """Minutes and seconds, to the nearest second: "12:05"; "-0:30"."""
    seconds = (abs(ms) + 500) // 1000
    return f"{'-' * (ms < 0 and seconds > 0)}{seconds // 60}:{seconds % 60:02d}"
