"""Keeps the machine awake while a practice runs, by a helper program of the system; and tells what battery and lid can do."""

import ctypes
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from typing import Protocol

_STAY = 0x80000000 | 0x1 | 0x2
"""Windows: ES_CONTINUOUS, ES_SYSTEM_REQUIRED, ES_DISPLAY_REQUIRED (Win32 API, SetThreadExecutionState)."""
SETTLES_S = 0.3
"""A helper that is refused ends within this time; one that still runs holds."""

DO_IT = "Set it to stay awake, and keep the lid open."


class Awake(Protocol):
    """Lives as long as the machine must stay awake."""

    why_not: str
    """In words, when the machine may fall asleep all the same; else empty."""

    def close(self) -> None: ...


class Helper:
    """A program that keeps the machine awake as long as it runs. It ends with us, whatever becomes of us."""

    def __init__(self, command: list[str]) -> None:
        self.why_not = ""
        self._child: subprocess.Popen[bytes] | None = None
        try:
            self._child = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            self._child.wait(SETTLES_S)
            self._refused()
        except subprocess.TimeoutExpired:
            return
        except OSError:
            self._refused()

    def _refused(self) -> None:
        self.why_not = f"The machine may fall asleep: the system refused to keep it awake. {DO_IT}"

    def close(self) -> None:
        """Let the machine sleep again."""
        if self._child is None:
            return
        self._child.terminate()
        self._child.wait()
        if self._child.stdin:
            self._child.stdin.close()


class Told:
    """No helper was found, or the system was told directly."""

    def __init__(self, why_not: str, undo: Callable[[], object] = lambda: None) -> None:
        self.why_not = why_not
        self._undo = undo

    def close(self) -> None:
        """Let the machine sleep again."""
        self._undo()


def stay_awake() -> Awake:
    """Ask this system to stay awake; takes up to `SETTLES_S`, so call it beside the first frame. Never raises."""
    if sys.platform == "win32":
        return _windows()
    command = command_for(sys.platform, os.getpid(), shutil.which)
    if command is None:
        return Told("The machine may fall asleep: nothing here can keep it awake. " + DO_IT)
    return Helper(command)


def command_for(platform: str, pid: int, which: Callable[[str], str | None]) -> list[str] | None:
    """The helper of a platform, or None: `caffeinate` waits for our process, the inhibitor for the end of its input."""
    if platform == "darwin":
        return ["caffeinate", "-dims", "-w", str(pid)] if which("caffeinate") else None
    if which("systemd-inhibit") and which("cat"):
        what = "--what=idle:sleep:handle-lid-switch"
        return ["systemd-inhibit", what, "--who=courttimer", "--why=A practice is running", "--mode=block", "cat"]
    return None


def _windows() -> Awake:
    kernel = getattr(ctypes, "windll").kernel32  # noqa: B009 - the name exists on Windows only, and the type checker runs elsewhere
    if not kernel.SetThreadExecutionState(_STAY):
        return Told("The machine may fall asleep: Windows refused. " + DO_IT)
    return Told("", lambda: kernel.SetThreadExecutionState(0x80000000))


def power(read: Callable[[str], str | None]) -> tuple[str, ...]:
    """What battery and lid mean for this practice, in sentences; nothing for a machine on mains without a lid.

    `read` gives the text of a small file of the Linux kernel, or None: files are not opened in this room. Elsewhere nothing is told.
    """
    told = [_battery(read, name) for name in ("BAT0", "BAT1", "BATT", "battery")]
    lid = any(read(f"/proc/acpi/button/lid/{name}/state") for name in ("LID", "LID0", "LID1"))
    return (*(t for t in told if t), *(("Keep the lid open: closing it may put the machine to sleep.",) if lid else ()))


def _battery(read: Callable[[str], str | None], name: str) -> str:
    place = f"/sys/class/power_supply/{name}/"
    state, charge = (read(place + "status") or "").strip(), (read(place + "capacity") or "").strip()
    if state != "Discharging" or not charge.isdigit():
        return ""
    plug = "Plug it in now" if int(charge) < 50 else "Plug it in if you can"
    return f"The machine runs on its battery ({charge} %). {plug}."
