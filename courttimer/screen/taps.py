"""Reads taps in a plain terminal: space or Enter, each with its moment; without a terminal, one a line."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Thread
from typing import TextIO


class Taps:
    """Lives as long as somebody taps. The moments are noted on a thread of its own, where the key arrives."""

    def __init__(self, stream: TextIO, now: Callable[[], int]) -> None:
        """`now` gives a moment in ms; `stream` ends, or is read no more, when the program does."""
        self.moments: list[int] = []
        self.over = Event()
        self._stream, self._now = stream, now
        Thread(target=self._read, name="taps", daemon=True).start()

    def _read(self) -> None:
        for key in iter(lambda: _key(self._stream), ""):
            if key in " \r\n":
                self.moments.append(self._now())
        self.over.set()


def _key(stream: TextIO) -> str:
    if sys.platform == "win32" and stream.isatty():
        import msvcrt

        return msvcrt.getwch()
    return stream.read(1)


@contextmanager
def unbuffered(stream: TextIO) -> Iterator[None]:
    """While it lasts, a terminal gives each key at once and shows none of them; Ctrl+C works as ever."""
    if sys.platform == "win32" or not stream.isatty():
        yield
        return
    import termios
    import tty

    before = termios.tcgetattr(stream)
    tty.setcbreak(stream)
    try:
        yield
    finally:
        termios.tcsetattr(stream, termios.TCSADRAIN, before)
