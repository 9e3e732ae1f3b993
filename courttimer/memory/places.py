"""Where a journal lies: how its file, its lock and its folder are had, again and again until they can be."""

from itertools import count
from pathlib import Path

from courttimer.memory.disk import Raw, sync, sync_folder
from courttimer.memory.lock import Lock
from courttimer.memory.recovery import Found, cut

SUFFIX = ".jsonl"


def beside(path: Path) -> Path:
    """The lock file of a journal."""
    return path.with_name(path.name + ".lock")


class NewFile:
    """Makes the file of a new journal, when it can be made."""

    def __init__(self, folder: Path, stem: str) -> None:
        self._folder = folder
        self._stem = stem
        self._lock: Lock | None = None
        self._named = False
        self.path = folder / f"{stem}{SUFFIX}"

    def __call__(self) -> Raw:
        self._folder.mkdir(parents=True, exist_ok=True)
        for number in count(1):
            self.path = self._folder / (f"{self._stem}-{number}{SUFFIX}" if number > 1 else f"{self._stem}{SUFFIX}")
            raw = self._try()
            if raw:
                return raw
        raise AssertionError("numbers have no end")

    def _try(self) -> Raw | None:
        try:
            self._lock = Lock(beside(self.path))
        except BlockingIOError:
            return None
        try:
            return self.path.open("xb", buffering=0)
        except OSError as fault:
            self.release()
            if isinstance(fault, FileExistsError):
                return None
            raise

    def sync(self, raw: Raw) -> None:
        sync(raw)
        if not self._named:
            sync_folder(self._folder)
            self._named = True

    def release(self) -> None:
        if self._lock:
            self._lock.release()
        self._lock = None


class FoundFile:
    """Opens a journal that was found, cutting its torn tail off, when that can be done."""

    def __init__(self, path: Path, found: Found, lock: Lock | None) -> None:
        self.path = path
        self._found = found
        self._lock = lock

    def __call__(self) -> Raw:
        self._lock = self._lock or Lock(beside(self.path))
        cut(self.path, self._found)
        return self.path.open("r+b", buffering=0)

    def sync(self, raw: Raw) -> None:
        sync(raw)

    def release(self) -> None:
        if self._lock:
            self._lock.release()
        self._lock = None
