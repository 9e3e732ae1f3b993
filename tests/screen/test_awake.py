"""The machine is kept awake, or the coach is told that it is not."""

import os
import sys
from collections.abc import Callable

import pytest

from courttimer.screen.awake import Helper, command_for, power


def having(*names: str) -> Callable[[str], str | None]:
    return lambda name: f"/usr/bin/{name}" if name in names else None


def test_each_system_has_its_helper() -> None:
    """The options are those of the manual pages systemd-inhibit(1) and caffeinate(8)."""
    linux = command_for("linux", 7, having("systemd-inhibit", "cat"))
    assert linux is not None
    assert linux[0] == "systemd-inhibit"
    assert "--what=idle:sleep:handle-lid-switch" in linux
    assert command_for("darwin", 7, having("caffeinate")) == ["caffeinate", "-dims", "-w", "7"]
    assert command_for("linux", 7, having()) is None


def test_a_helper_that_runs_holds_and_ends_with_us() -> None:
    helper = Helper([sys.executable, "-c", "input()"])
    assert helper.why_not == ""
    assert helper._child is not None
    helper.close()
    assert helper._child.returncode is not None


@pytest.mark.parametrize("command", [["false"], ["no-such-program-here"]])
def test_a_helper_that_is_refused_is_told(command: list[str]) -> None:
    helper = Helper(command)
    assert "may fall asleep" in helper.why_not
    assert command[0] not in helper.why_not  # the name of a helper program means nothing to a coach
    helper.close()


def test_the_inhibitor_ends_when_our_end_of_its_input_is_gone() -> None:
    """Whatever becomes of us, the kernel closes it."""
    helper = Helper(["cat"])
    assert helper._child is not None
    assert helper._child.stdin is not None
    os.close(os.dup(helper._child.stdin.fileno()))
    helper._child.stdin.close()
    assert helper._child.wait(5) == 0


def files(**known: str) -> Callable[[str], str | None]:
    return lambda path: next((text for end, text in known.items() if path.endswith(end.replace("__", "/"))), None)


def test_battery_and_lid_are_told_in_words() -> None:
    """Names and values are those of the kernel's sysfs-class-power."""
    low = power(files(BAT0__status="Discharging\n", BAT0__capacity="31\n"))
    assert low == ("The machine runs on its battery (31 %). Plug it in now.",)
    assert power(files(BAT0__status="Charging\n", BAT0__capacity="31\n")) == ()
    assert power(files(LID0__state="open")) == ("Keep the lid open: closing it may put the machine to sleep.",)
    assert power(lambda path: None) == ()
