"""What a coach may write into a file of phrases, and what is wrong with it, in words."""

from collections.abc import Mapping
from string import Formatter
from typing import Any

LONGEST = 200
"""As long as a sentence of the session file may be."""

TABLES = ("phrases", "titles", "sides")
"""What can be changed; times and numbers are grammar."""

Place = tuple[str, str]
"""A table and a name in it; the name is empty for the table itself."""


def fields(said: str) -> frozenset[str]:
    """The names in braces. Raises ValueError for braces that hold anything else, or do not close."""
    parts = list(Formatter().parse(said))
    if any(spec or conversion for _, _, spec, conversion in parts):
        raise ValueError(said)
    return frozenset(name for _, name, _, _ in parts if name is not None)


def mistakes(found: Mapping[str, Any], english: Mapping[str, Any]) -> dict[Place, str]:
    """Everything in the coach's file that cannot be said, by its place, and what to do about it."""
    wrong: dict[Place, str] = {}
    for table, entries in found.items():
        if table not in TABLES:
            wrong[table, ""] = f'"{table}" is nothing that can be changed here; write [phrases], [titles] or [sides]'
        elif not isinstance(entries, dict):
            wrong[table, ""] = f"{table} is a table; write [{table}] on a line of its own, and what is said below it"
        else:
            wrong |= {(table, name): why for name, said in entries.items() if (why := _wrong(name, said, english[table]))}
    return wrong


def _wrong(name: str, said: object, known: Mapping[str, str]) -> str:
    if name not in known:
        return f'there is no phrase "{name}"{_nearest(name, known)}'
    if not isinstance(said, str) or not said.strip() or len(said) > LONGEST:
        return f'{name} is said in 1 to {LONGEST} letters, in quotation marks, such as "{known[name]}"'
    may = fields(known[name])
    try:
        spare = fields(said) - may
    except ValueError:
        return f"{name}: the braces do not close, or hold more than a name{_fields(may)}"
    return f"{name} has no {{{sorted(spare)[0]}}}{_fields(may)}" if spare else ""


def _fields(may: frozenset[str]) -> str:
    return f"; it may hold {', '.join(f'{{{name}}}' for name in sorted(may))}" if may else "; leave the braces out"


def _nearest(name: str, known: Mapping[str, str]) -> str:
    from difflib import get_close_matches

    near = get_close_matches(name.lower(), known, n=1, cutoff=0.5)
    return f"; did you mean {near[0]}?" if near else f"; there are {', '.join(known)}"
