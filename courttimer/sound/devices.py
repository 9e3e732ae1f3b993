"""Which speakers there are and which one is taken: by name, since numbers change whenever something is plugged in.

PortAudio's list is frozen when it starts, and starting it again ends every stream. So a device that comes back is seen by a child
process (`python -m courttimer.sound.devices`), which starts PortAudio again and again, while ours goes on playing.
"""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from threading import Event, Thread
from typing import TYPE_CHECKING, Any, Protocol

from courttimer.errors import DeviceError

if TYPE_CHECKING:
    from courttimer.sound.line import Line

AGAIN = 0.5
"""Seconds between two looks of the child."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A speaker that can be opened now; `number` is good until PortAudio starts again."""

    number: int
    name: str
    usual: bool = False
    """It is what the machine takes when nothing is chosen."""


class System(Protocol):
    """A way to speakers: PortAudio, or one made in a test."""

    def look(self) -> list[Device]:
        """Start afresh and list the speakers; no line may be open. Raises DeviceError when there is no sound system."""

    def open(self, device: Device, tick: Callable[[], int]) -> "Line":
        """Raises DeviceError when it cannot be opened."""

    def watch(self) -> "Watching":
        """Look out for speakers that come back, while a line is open."""


class Watching(Protocol):
    """Somebody who looks out."""

    @property
    def names(self) -> list[str]:
        """The speakers there are, as last seen; empty before the first look."""

    def close(self) -> None: ...


def ordered(devices: Sequence[Device], wanted: Sequence[str]) -> list[Device]:
    """In the order in which they are tried: those of `wanted`, by a part of the name in any case; the usual one; the others."""
    return sorted(devices, key=lambda device: (rank(device.name, wanted), not device.usual))


def rank(name: str, wanted: Sequence[str]) -> int:
    """The place of a speaker in the order of preference, 0 first; behind all others when nobody asked for it."""
    return next((i for i, wish in enumerate(wanted) if wish.casefold() in name.casefold()), len(wanted))


class PortAudio:
    """Speakers through sounddevice, which is imported here, late: on Linux the import fails when PortAudio is not installed."""

    def __init__(self) -> None:
        self._started = False

    def look(self) -> list[Device]:
        sd = _sounddevice()
        try:
            if self._started:
                sd._terminate()
                sd._initialize()
            self._started = True
            return listed(sd)
        except Exception as fault:
            raise DeviceError(f"the sound system does not answer ({fault})") from fault

    def open(self, device: Device, tick: Callable[[], int]) -> "Line":
        from courttimer.sound.line import Line

        return Line(_sounddevice().OutputStream, device.number, tick)

    def watch(self) -> "Watcher":
        return Watcher()


def listed(sd: Any) -> list[Device]:
    """The speakers that sounddevice knows now."""
    usual = sd.default.device[1]
    if usual < 0:
        with suppress(Exception):
            usual = sd.query_devices(kind="output")["index"]
    return [
        Device(number=d["index"], name=d["name"], usual=d["index"] == usual) for d in sd.query_devices() if d["max_output_channels"] > 0
    ]


def _sounddevice() -> Any:
    try:
        import sounddevice
    except OSError as fault:
        raise DeviceError("PortAudio is not installed (on Debian and Ubuntu: sudo apt install libportaudio2)") from fault
    except ImportError as fault:
        raise DeviceError(f"sounddevice cannot be used ({fault})") from fault
    return sounddevice


class Watcher:
    """A child process that looks; lives until closed."""

    def __init__(self) -> None:
        self.names: list[str] = []
        package = str(Path(__file__).parents[2])
        path = os.pathsep.join(p for p in (package, os.environ.get("PYTHONPATH", "")) if p)
        self._process = subprocess.Popen(
            (sys.executable, "-m", "courttimer.sound.devices"),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=os.environ | {"PYTHONPATH": path},
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
            start_new_session=True,
        )
        Thread(target=self._read, daemon=True, name="device watch").start()

    def _read(self) -> None:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            with suppress(ValueError):
                self.names = json.loads(line)

    def close(self) -> None:
        self._process.kill()
        self._process.wait()


def main() -> None:
    """Print the names of the speakers as a JSON line, again whenever they change, until the input is closed."""
    over, seen, system = Event(), None, PortAudio()
    Thread(target=_until_closed, args=(over,), daemon=True).start()
    while not over.wait(AGAIN if seen is not None else 0):
        names = _names(system)
        if names != seen:
            seen = names
            sys.stdout.write(json.dumps(names) + "\n")
            sys.stdout.flush()


def _until_closed(over: Event) -> None:
    sys.stdin.read()
    over.set()


def _names(system: System) -> list[str]:
    try:
        return [device.name for device in system.look()]
    except DeviceError:
        return []


if __name__ == "__main__":
    main()
