"""Keeps C libraries off the terminal: they print on descriptor 2, where the board is drawn; one line of theirs wipes the clock."""

import contextlib
import os
import sys
from collections.abc import Iterator


@contextlib.contextmanager
def guard(log: int) -> Iterator[None]:
    """While it lasts, descriptor 2 and `sys.stderr` go to the open descriptor `log`; the terminal is left to the board alone.

    Enter it before audio is imported. Where there is no terminal, or on Windows, where the board is drawn otherwise, it does nothing.
    """
    if os.name == "nt" or not os.isatty(2):
        yield
        return
    real = os.dup(2)
    sys.stderr.flush()
    os.dup2(log, 2)
    before = sys.__stderr__
    board = os.fdopen(real, "w", encoding="utf-8", errors="replace", closefd=False)
    sys.__stderr__ = board  # type: ignore[misc]  # the library draws on this file, and no argument of it names another
    try:
        yield
    finally:
        sys.__stderr__ = before  # type: ignore[misc]  # as above
        with contextlib.suppress(OSError):  # the terminal may be gone
            board.flush()
        os.dup2(real, 2)
        os.close(real)
