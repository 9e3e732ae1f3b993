"""Reads a session file: the plan, or every mistake at once, each with its file, its line and what to do."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from courttimer.errors import PlanError
from courttimer.plan.checks import check
from courttimer.plan.derived import lasting
from courttimer.plan.drills import STANDIN, Drills, Fetch
from courttimer.plan.kinds import WRONG, Notes, Path
from courttimer.plan.model import Segment, Session
from courttimer.plan.rulebook import SETS
from courttimer.plan.sources import source
from courttimer.plan.tables import TableOf
from courttimer.plan.words import shown

_TOLD = 100


class Reading(NamedTuple):
    """A session; the text of every file that it was read from, by name, itself first; and "file:line" of each path.

    Given these texts again, with `files.__getitem__` as `fetch`, `read` gives the same session.
    """

    session: Session
    files: Mapping[str, str]
    lines: Mapping[Path, str]


def read(name: str, text: str | bytes, fetch: Fetch) -> Reading:
    """Reads the session in `text`, called `name` in messages.

    `fetch` is given the path of a drill file inside the session's folder, with "/" and without "..", and gives its content;
    for one that cannot be had it raises `PlanError`, `OSError` or `LookupError`.
    Raises `PlanError`, its lines sorted by file and line, at most 100 of them. Touches no file itself.
    """
    own = source(name, text)
    rules = own.table.get("rules")
    notes = Notes(rules if isinstance(rules, str) and rules in SETS else "")
    drills = Drills(own, fetch, notes)
    table = own.table | _segments(own.table, drills)
    session = TableOf(Session).read(table, (), notes)
    check(notes)
    if notes.mistakes or drills.refused or session is WRONG:
        raise PlanError(*_told(notes, drills, _as_written(table, own.table)))
    lines = {path: f"{file}:{line}" for path, (file, line) in drills.origin.items()}
    return Reading(replace(session, segment=tuple(map(_timed, session.segment))), drills.files, lines)


def _segments(table: dict[str, Any], drills: Drills) -> dict[str, Any]:
    listed = table.get("segment")
    if not isinstance(listed, list):
        return {}
    brought = [drills.bring(one, ("segment", at)) if isinstance(one, dict) else one for at, one in enumerate(listed[:200])]
    return {"segment": brought + listed[200:]}


def _as_written(table: dict[str, Any], own: dict[str, Any]) -> dict[str, Any]:
    """With the coach's own lines again where a stand-in was read, so that a mistake is told by the segment's own name."""
    if not isinstance(own.get("segment"), list):
        return table
    pairs = zip(table["segment"], own["segment"], strict=True)
    return table | {"segment": [mine if read is STANDIN else read for read, mine in pairs]}


def _timed(segment: Segment) -> Segment:
    return replace(segment, time=segment.time or lasting(segment) or 0)


def _told(notes: Notes, drills: Drills, table: dict[str, Any]) -> list[str]:
    found = list(drills.refused)
    for path, of, what in notes.mistakes:
        file, line = _origin(path, drills)
        where = _where(of, table)
        found.append(f"{file}:{line}: {where + ': ' if where else ''}{what}")
    files = {file: at for at, file in enumerate(drills.files)}
    order = sorted(dict.fromkeys(found), key=lambda line: _place(line, files))
    return order[:_TOLD] + ([f"and {len(order) - _TOLD} more mistakes"] if len(order) > _TOLD else [])


def _origin(path: Path, drills: Drills) -> tuple[str, int]:
    while path not in drills.origin:
        path = path[:-1]
    return drills.origin[path]


def _place(line: str, files: dict[str, int]) -> tuple[int, str, int]:
    found = re.match(r"(.*?):([0-9]+): ", line)
    return (files.get(found[1], len(files)), found[1], int(found[2])) if found else (len(files) + 1, "", 0)


def _where(path: Path, table: Any) -> str:
    """segment "Paint touch", window "drive", time"""
    words: list[str] = []
    for part in path:
        table = _inside(table, part)
        if isinstance(part, int):
            words[-1] += f" {_called(table, part)}"
        else:
            words.append(part if re.fullmatch("[a-z_]{1,40}", part) else shown(part))
    return ", ".join(words)


def _called(table: Any, at: int) -> str:
    if not isinstance(table, dict):
        return str(at + 1)
    name, kind = table.get("name"), table.get("kind")
    if isinstance(name, str) and name.strip():
        return shown(name)
    return f"{at + 1} ({kind})" if isinstance(kind, str) and kind.isprintable() and len(kind) < 20 else str(at + 1)


def _inside(table: Any, part: str | int) -> Any:
    try:
        return table[part]
    except (LookupError, TypeError):
        return None
