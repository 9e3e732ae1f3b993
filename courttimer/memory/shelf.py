"""The folder of journals: which practice was cut off last."""

from pathlib import Path

from courttimer.memory.places import SUFFIX
from courttimer.memory.recovery import backwards
from courttimer.practice import events


def last(folder: Path) -> Path | None:
    """The journal written last of those whose practice did not end; None when there is none."""
    open_ends = (path for path in sorted(_all(folder), key=_age, reverse=True) if _goes_on(path))
    return next(open_ends, None)


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


def _goes_on(path: Path) -> bool:
    """False when the last thing that was not a mere fact is the practice's end (taken back, the end is not the last thing)."""
    kinds = events.names()
    try:
        for record in backwards(path):
            kind = kinds.get(str(record.get("what")))
            if kind is None or kind.source != "fact":
                return kind is not events.PracticeEnded
    except OSError:
        pass
    return False
