"""Reads small files whole, and writes them whole or not at all."""

import os
from contextlib import suppress
from pathlib import Path

from courttimer.memory.disk import sync, sync_folder

HALF = ".half"
"""How the name of a file ends that is not whole yet."""


def content(path: Path) -> bytes:
    """The bytes of a file; none when it has gone."""
    with suppress(FileNotFoundError):
        return path.read_bytes()
    return b""


def words(path: Path) -> bytes:
    """What is in a file of text; nothing for sound and other numbers, in which any three letters stand somewhere by chance."""
    found = content(path)
    return b"" if b"\0" in found else found


def half(path: Path) -> Path:
    """Where what will be `path` is written first."""
    return path.with_name(f"{os.getpid()}{HALF}")


def put(path: Path, new: bytes) -> None:
    """All of it or nothing of it, safe on the disk, with the time of change of what was there. Raises OSError.

    A link stays one: what it leads to is written. What is no file, such as a device or a pipe, is written into and stays what it is.
    """
    if path.exists() and not path.is_file() and not path.is_dir():
        path.write_bytes(new)
        return
    path = path.resolve() if path.is_symlink() else path
    try:
        _put(path, new)
    except OSError:
        with suppress(OSError):
            half(path).unlink()
        raise


def _put(path: Path, new: bytes) -> None:
    there = half(path)
    with there.open("wb", buffering=0) as file:
        left = memoryview(new)
        while left:  # a disk that has room for a part takes that part without a word, and refuses the next
            left = left[file.write(left) :]
        sync(file)
    with suppress(FileNotFoundError):
        state = path.stat()
        os.utime(there, ns=(state.st_atime_ns, state.st_mtime_ns))
    there.replace(path)
    sync_folder(path.parent)
