"""Which speakers there are and which one is taken: by name, since numbers change whenever something is plugged in.

On Linux PortAudio sees one door to a sound server with any number of speakers behind it; the server is asked for their names, and the
door is opened to the one that is wanted. Where PortAudio is missing, a program that plays is fed instead (pipe.py).
"""

import os
import sys
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from threading import Thread
from typing import TYPE_CHECKING, Any, Protocol

from courttimer.errors import DeviceError
from courttimer.sound.behind import Sink, sinks

if TYPE_CHECKING:
    from courttimer.sound.line import Playing

DOOR = "pulse"
"""ALSA's name for the door to a sound server that lets us say which of its speakers."""
CHOICE = "PULSE_SINK"
"""Set in the environment while that door is opened, it says so."""
DOORS = (DOOR, "default", "pipewire")
RADIO = ("bluetooth", "bluez", "wireless", "airpods", "hands-free")
"""What is in the names of wireless speakers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A speaker that can be opened now; `number` is good until PortAudio starts again."""

    number: int
    name: str
    usual: bool = False
    """It is what the machine takes when nothing is chosen."""
    hz: int = 48_000
    """Its own rate, for one that takes no other."""
    sink: str = ""
    """The sound server's own name for it."""
    behind: str = ""
    """The speaker to which the sound server leads, for the one that means whatever the machine takes."""
    radio: bool = False
    """The sound server says that it is wireless."""

    @property
    def title(self) -> str:
        """What people call it."""
        return self.behind or ("the machine's own speaker" if self.name in DOORS else self.name)

    @property
    def wireless(self) -> bool:
        return self.radio or any(word in self.title.casefold() for word in RADIO)


class System(Protocol):
    """A way to speakers: PortAudio, programs that are fed, or one made in a test."""

    def look(self) -> list[Device]:
        """Start afresh and list the speakers; no line may be open. Raises DeviceError when there is no sound system."""

    def open(self, device: Device, tick: Callable[[], int]) -> "Playing":
        """Raises DeviceError when it cannot be opened."""

    def watch(self, better: Sequence[str]) -> "Watching":
        """Look out, while a line is open, for what comes and goes; those whose names hold one of `better` must be free, too."""


class Watching(Protocol):
    """Somebody who looks out."""

    @property
    def names(self) -> list[str]:
        """The titles of the speakers there are, as last seen; empty before the first look."""

    @property
    def usual(self) -> str:
        """The title of the one that the machine takes."""

    def close(self) -> None: ...


def ordered(devices: Sequence[Device], wanted: Sequence[str]) -> list[Device]:
    """In the order in which they are tried: those of `wanted`, by a part of the name in any case; the usual one; the others."""
    return sorted(devices, key=lambda device: (rank(device.name, wanted), not device.usual))


def rank(name: str, wanted: Sequence[str]) -> int:
    """The place of a speaker in the order of preference, 0 first; behind all others when nobody asked for it."""
    return next((i for i, wish in enumerate(wanted) if wish.casefold() in name.casefold()), len(wanted))


class Asking:
    """The sound server is asked while other things are done: importing PortAudio, and starting it, take as long."""

    def __init__(self) -> None:
        self._found: tuple[Sink, ...] | None = None
        self._thread = Thread(target=self._ask, name="sinks", daemon=True)
        self._thread.start()

    def _ask(self) -> None:
        self._found = sinks()

    def answer(self) -> tuple[Sink, ...] | None:
        self._thread.join()
        return self._found


class PortAudio:
    """Speakers through sounddevice, which is imported here, late: on Linux the import fails when PortAudio is not installed."""

    def __init__(self) -> None:
        self._started = False
        self._asking: Asking | None = Asking()

    def look(self) -> list[Device]:
        asking, self._asking = self._asking or Asking(), None
        sd = _sounddevice()
        try:
            if self._started:
                sd._terminate()
                sd._initialize()
            self._started = True
            found = listed(sd)
        except Exception as fault:
            raise DeviceError(f"the sound system does not answer ({fault})") from fault
        return seen_through(found, asking.answer())

    def open(self, device: Device, tick: Callable[[], int]) -> "Playing":
        from courttimer.sound.line import Line

        with _chosen(device.sink):
            return Line(_sounddevice().OutputStream, device.number, tick, device.hz)

    def can_open(self, device: Device) -> bool:
        """Whether it can be opened now, as far as may be known without playing anything."""
        try:
            with _chosen(device.sink):
                _sounddevice().check_output_settings(device.number, samplerate=device.hz)
        except Exception:  # a driver may raise anything
            return False
        return True

    def watch(self, better: Sequence[str]) -> "Watching":
        from courttimer.sound.watch import Watcher

        return Watcher(better)


@contextmanager
def _chosen(sink: str) -> Iterator[None]:
    before = os.environ.get(CHOICE)
    if sink:
        os.environ[CHOICE] = sink
    try:
        yield
    finally:
        if sink and before is None:
            del os.environ[CHOICE]
        elif sink and before is not None:
            os.environ[CHOICE] = before


def listed(sd: Any) -> list[Device]:
    """The speakers that sounddevice knows now."""
    usual = sd.default.device[1]
    if usual < 0:
        with suppress(Exception):
            usual = sd.query_devices(kind="output")["index"]
    return [
        Device(number=d["index"], name=d["name"], usual=d["index"] == usual, hz=round(d["default_samplerate"]) or 48_000)
        for d in sd.query_devices()
        if d["max_output_channels"] > 0
    ]


def seen_through(found: Sequence[Device], behind: Sequence[Sink] | None) -> list[Device]:
    """The doors replaced by what the sound server has behind them; a door with nothing behind it leads nowhere."""
    if behind is None:
        return list(found)
    if not behind:
        return [d for d in found if d.name not in DOORS]
    words, usual = named(behind), next((s for s in behind if s.usual), behind[0])
    first = [
        Device(number=d.number, name=d.name, usual=d.usual, hz=d.hz, behind=words[usual.name], radio=usual.wireless)
        for d in found
        if d.usual and d.name in DOORS
    ]
    door = next((d for d in found if d.name == DOOR), None)
    if door is None:
        return [*first, *(d for d in found if d.name not in DOORS)]
    chosen = [Device(number=door.number, name=words[s.name], hz=door.hz, sink=s.name, radio=s.wireless) for s in behind]
    return [*first, *chosen, *(d for d in found if d.name not in DOORS)]


def named(behind: Sequence[Sink]) -> dict[str, str]:
    """What to call each speaker of a server, by the server's own name: the people's word for it, told apart where it is shared."""
    shared = Counter(s.words for s in behind)
    return {s.name: s.words if shared[s.words] == 1 else f"{s.words} ({s.name})" for s in behind}


def _sounddevice() -> Any:
    try:
        import sounddevice
    except OSError as fault:
        raise DeviceError("PortAudio is not installed (on Debian and Ubuntu: sudo apt install libportaudio2)") from fault
    except ImportError as fault:
        raise DeviceError(f"sounddevice cannot be used ({fault})") from fault
    return sounddevice


class Either:
    """PortAudio; on Linux, where that is not installed, the programs that play."""

    def __init__(self) -> None:
        self._way: System = PortAudio()

    def look(self) -> list[Device]:
        try:
            return self._way.look()
        except DeviceError as fault:
            if not isinstance(fault.__cause__, OSError | ImportError) or not sys.platform.startswith("linux"):
                raise
            from courttimer.sound.pipe import Programs

            programs = Programs()
            found = programs.look()
            if not found:
                raise
            self._way = programs
            return found

    def open(self, device: Device, tick: Callable[[], int]) -> "Playing":
        return self._way.open(device, tick)

    def watch(self, better: Sequence[str]) -> "Watching":
        return self._way.watch(better)
