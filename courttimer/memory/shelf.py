"""The folder of journals: which practice was cut off last."""

import json
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from courttimer.errors import JournalError
from courttimer.memory.journal import tell
from courttimer.memory.places import SUFFIX
from courttimer.memory.recovery import backwards
from courttimer.practice import events, records


def cut_off(folder: Path) -> Iterator[Path]:
    """The journals whose practice did not end, the one written last first."""
    yield from (path for path in sorted(_all(folder), key=_age, reverse=True) if _goes_on(path))


def last(folder: Path) -> Path | None:
    """The journal written last of those whose practice did not end; None when there is none."""
    return next(cut_off(folder), None)


def latest(folder: Path, most: int) -> list[tuple[str, Path]]:
    """The practices written last, the newest first, one for each title; at most so many. What cannot be read is left out."""
    found: dict[str, Path] = {}
    for path in sorted(_all(folder), key=_age, reverse=True):
        if len(found) == most:
            break
        with suppress(JournalError, OSError):
            found.setdefault(tell(path).header.title, path)
    return list(found.items())


def _all(folder: Path) -> list[Path]:
    try:
        return [path for path in folder.iterdir() if path.suffix == SUFFIX]
    except OSError:
        return []


def _age(path: Path) -> tuple[int, str]:
    try:
        return path.stat().st_mtime_ns, path.name
    except OSError:
        return 0, path.name


def finished(folder: Path) -> list[Path]:
    """The journals whose practice ended, the one that was begun last first."""
    return sorted((path for path in _all(folder) if not _goes_on(path)), key=_begun, reverse=True)


def _begun(path: Path) -> tuple[str, str]:
    """Day and time of the first line; nothing for what cannot be read."""
    try:
        with path.open("rb") as file:
            head = json.loads(file.readline())
        return str(head["wall"]), path.name
    except (OSError, ValueError, KeyError, TypeError):
        return "", path.name


def _goes_on(path: Path) -> bool:
    """False when the last thing that time has brought, and that stands, is the practice's end.

    What is called afterwards (an effort, makes, who was here) does not begin it anew. A call that was taken back has brought
    nothing, neither has the time between a take back and its put back.
    """
    kinds = records.names()
    struck = put_back = seen = 0
    try:
        for line in backwards(path):
            kind = kinds.get(str(line.get("what")))
            if kind is events.PutBack:
                put_back += 1
            elif kind is events.TakenBack and put_back:
                put_back -= 1
            elif kind is events.TakenBack:
                struck, seen = struck + (int(line.get("lane", 0)) <= 0), 1
            elif kind is not None and kind.source == "call":
                struck -= bool(struck)
            elif (kind is None or kind.source == "time") and not (struck or put_back):
                return kind is not events.PracticeEnded
    except (OSError, ValueError, TypeError):
        pass
    return bool(seen)
