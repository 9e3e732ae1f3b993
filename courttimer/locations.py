"""Every folder that the program may touch, how a session is found by its name, and how its drill files are read.

The user's own folders come from platformdirs, which knows the manners of each system. It is imported only when one of them is
asked for: its import costs two thirds of a bare Python start, which `--help`, and `check` of a file, need not pay.
"""

import errno
import os
from collections.abc import Callable
from pathlib import Path

from courttimer.errors import PlanError

APP = "courttimer"
HOME = "COURTTIMER_HOME"
"""Set in the environment, this folder holds all of the user's folders: for tests, and for a practice kept on a stick."""

LARGEST = 1_000_000
"""A session or drill file is read up to this many bytes and one more, so that the reader can tell that it is too large."""


def sessions() -> Path:
    """The sessions that come with the program."""
    return _shipped("sessions")


def sounds() -> Path:
    """The tone recipes and phrases that come with the program."""
    return _shipped("sounds")


def _shipped(name: str) -> Path:
    # A wheel carries its data inside the package; in a checkout, also one installed as editable, it lies beside the package.
    package = Path(__file__).parent
    inside = package / name
    return inside if inside.is_dir() else package.parent / name


def data() -> Path:
    """What the user would miss: journals, kept sessions, own recordings. It need not exist yet."""
    home = os.environ.get(HOME)
    if home:
        return Path(home) / "data"
    import platformdirs

    return platformdirs.user_data_path(APP, appauthor=False)


def cache() -> Path:
    """What can be made again: rendered speech. It need not exist yet."""
    home = os.environ.get(HOME)
    if home:
        return Path(home) / "cache"
    import platformdirs

    return platformdirs.user_cache_path(APP, appauthor=False)


def journals() -> Path:
    """The journals of the practices that were run."""
    return data() / "journals"


def kept() -> Path:
    """The sessions that the coach keeps to be run by their names."""
    return data() / "sessions"


def own_sounds() -> Path:
    """What the coach puts in place of our phrases: texts, recordings, and how names are said. It need not exist."""
    return data() / "sounds"


def find_session(word: str) -> Path:
    """The session file that `word` means: a path, or the name of a kept or shipped session, with or without ".toml".

    Raises PlanError when there is none, with the nearest names, or when it is a folder.
    """
    path = _path_of(word)
    if path is not None:
        return path
    found = {name: place for folder in (sessions(), kept()) for name, place in _names(folder).items()}
    name = word.removesuffix(".toml")
    if name not in found:
        shown = word[:100] if word.isprintable() else ascii(word[:100])
        raise PlanError(f"{shown}: there is no such file, and no session of that name{_nearest(name, sorted(found))}")
    return found[name]


def _path_of(word: str) -> Path | None:
    """The path that `word` is, None when nothing is there. Raises PlanError for a folder."""
    path = Path(word)
    try:
        if not word or not path.exists():
            return None
    except OSError:
        return None
    if path.is_dir():
        raise PlanError(f"{word}: this is a folder; name one session file in it")
    return path


def _names(folder: Path) -> dict[str, Path]:
    try:
        return {path.stem: path for path in folder.iterdir() if path.suffix == ".toml" and path.is_file()}
    except OSError:
        return {}


def _nearest(name: str, known: list[str]) -> str:
    from difflib import get_close_matches

    near = get_close_matches(name.lower(), known, cutoff=0.7) or known[:5]
    return f"; did you mean {' or '.join(near)}?" if near else ""


def read(path: Path) -> bytes:
    """The bytes of a session file, LARGEST and one more at most. Raises PlanError, in words, when it cannot be read."""
    try:
        return _start_of(path)
    except FileNotFoundError:
        raise PlanError(f"{path}: there is no such file") from None
    except IsADirectoryError:
        raise PlanError(f"{path}: this is a folder; name one session file in it") from None
    except (OSError, ValueError) as fault:
        raise PlanError(f"{path}: it cannot be read ({getattr(fault, 'strerror', None) or fault})") from None


def reader(folder: Path) -> Callable[[str], bytes]:
    """What reads the drill files that a session in `folder` uses.

    It takes the path as the session writes it, relative to `folder`, and gives the bytes, LARGEST and one more at most.
    It raises OSError, or ValueError, for what cannot be read, and for a path that leaves the folder, also through a link.
    """
    home = folder.resolve()

    def fetch(name: str) -> bytes:
        try:
            path = (home / name).resolve()
        except RuntimeError:  # so Python before 3.13 tells of a link that leads to itself
            raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), name) from None
        if not path.is_relative_to(home):
            raise PermissionError(errno.EPERM, "it leads out of the session's folder", name)
        return _start_of(path)

    return fetch


def _start_of(path: Path) -> bytes:
    if path.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))  # Windows would say that it may not be read
    with path.open("rb") as file:
        return file.read(LARGEST + 1)
