"""Which files were written for the coach, so that `forget` can say where a name may still stand; and how such a file is written."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from courttimer.errors import PlanError, refused
from courttimer.memory.lines import encode
from courttimer.memory.recovery import read
from courttimer.memory.whole import put

NAME = "exports.jsonl"


def write(path: Path, content: bytes, data: Path) -> None:
    """Write a file that the coach asked for, all of it or nothing of it, and remember where it is.

    Raises PlanError when it cannot be written there.
    """
    with written(path):
        put(path, content)
    remember(path, data)


@contextmanager
def written(path: Path) -> Iterator[None]:
    """While a file that the coach asked for is written. Raises PlanError, with what to do, when it cannot be."""
    try:
        yield
    except OSError as fault:
        raise PlanError(f"{path}: it cannot be written ({refused(fault)})") from fault


def remember(path: Path, data: Path) -> None:
    """Keep in mind that this file was written outside the user's folders. A disk that is full forgets it."""
    if path.resolve() in known(data):
        return
    try:
        data.mkdir(parents=True, exist_ok=True)
        with (data / NAME).open("ab") as file:
            file.write(encode({"path": str(path.resolve())}))
    except OSError:
        return


def known(data: Path) -> list[Path]:
    """The files that were written, as far as they are still there."""
    try:
        found = read(data / NAME).records
    except Exception:  # a list that is damaged, or not there: what cannot be known is not claimed
        return []
    return [path for path in dict.fromkeys(Path(str(one.get("path", ""))) for one in found) if path.is_file()]
