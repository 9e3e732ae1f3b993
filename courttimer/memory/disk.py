"""What we ask of a file and of the disk under it, and how each system promises that something is safe."""

import os
import sys
from pathlib import Path
from typing import Protocol


class Raw(Protocol):
    """An unbuffered file, as `open(path, "r+b", buffering=0)` gives it."""

    def seek(self, offset: int, /) -> int: ...
    def write(self, data: bytes, /) -> int | None: ...
    def truncate(self, size: int, /) -> int: ...
    def fileno(self) -> int: ...
    def close(self) -> None: ...


def sync(raw: Raw) -> None:
    """Ask the disk's promise for all that was written. Raises OSError. May take long."""
    if sys.platform == "darwin":
        import fcntl

        try:  # fsync on macOS stops at the drive's own cache, and only some file systems know better
            fcntl.fcntl(raw.fileno(), fcntl.F_FULLFSYNC)
        except OSError:
            os.fsync(raw.fileno())
    elif sys.platform == "linux":
        os.fdatasync(raw.fileno())
    else:
        os.fsync(raw.fileno())


def sync_folder(folder: Path) -> None:
    """Ask the disk's promise that a new file's name is in its folder. Raises OSError. Windows makes it with the file's own."""
    if sys.platform != "win32":
        entry = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(entry)
        finally:
            os.close(entry)
