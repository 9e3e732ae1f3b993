"""Taps on a plain terminal: each key at its moment, Enter and space alike, and nothing shown."""

import io
import os
from itertools import count

import pytest

from courttimer.screen.taps import Taps, unbuffered


def test_space_and_enter_are_taps_and_other_keys_are_not() -> None:
    moments = count(100, 10)
    taps = Taps(io.StringIO(" x\n \t"), lambda: next(moments))
    taps.over.wait()
    assert taps.moments == [100, 110, 120]


@pytest.mark.rig
def test_a_terminal_gives_each_key_at_once_and_shows_none_and_is_as_before_afterwards() -> None:
    import pty
    import termios

    here, there = pty.openpty()
    with os.fdopen(there, "r") as terminal:
        before = termios.tcgetattr(terminal)
        with unbuffered(terminal):
            lflag = termios.tcgetattr(terminal)[3]
            assert not lflag & (termios.ICANON | termios.ECHO)
            assert lflag & termios.ISIG, "Ctrl+C works"
            os.write(here, b" ")
            assert terminal.read(1) == " "
        assert termios.tcgetattr(terminal) == before
    os.close(here)


def test_without_a_terminal_nothing_is_changed() -> None:
    with unbuffered(io.StringIO("\n")):
        pass
