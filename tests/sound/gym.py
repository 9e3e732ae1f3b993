"""A gym made in the test: speakers that can be plugged in and pulled out, streams that are turned by hand, and what was heard."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from threading import Event
from types import SimpleNamespace
from typing import Any

import numpy as np

from courttimer.errors import DeviceError
from courttimer.practice import events as ev
from courttimer.practice.cue import Placed
from courttimer.sound.booth import Booth, Want
from courttimer.sound.devices import Device
from courttimer.sound.line import BLOCK_NS, Line
from courttimer.sound.mixer import Samples

LATENCY_NS = 100_000_000
TONE = np.full(9_600, 0.5, np.float32)
"""200 ms that are easy to find."""


@dataclass
class Moment:
    """A clock wound by hand, with ns; practice time 0 is its beginning. `slept`: ms by which practice time went on in a suspend."""

    ns_now: int = 1_000_000_000
    slept: int = 0

    def now(self) -> int:
        return self.ns_now // 1_000_000 + self.slept

    def tick(self) -> int:
        return self.ns_now

    def ns(self, at: int) -> int:
        return (at - self.slept) * 1_000_000


class Stream:
    """Stands for a sounddevice.OutputStream: the test calls its callback."""

    def __init__(self, gym: "Gym", name: str, **settings: Any) -> None:
        self.latency, self.time = LATENCY_NS / 1e9, 0.0
        self._gym, self.name, self._settings = gym, name, settings
        self.heard: list[tuple[int, Samples]] = []
        """Of each block: when its first frame was heard, in ns."""
        self.open = False
        self.shift = 0

    def start(self) -> None:
        if self._settings["samplerate"] not in self._gym.rates:
            raise OSError("Invalid sample rate [PaErrorCode -9997]")
        self.open = True
        self.hz = self._settings["samplerate"]
        self._gym.streams.append(self)

    def abort(self) -> None:
        self.open = False

    def close(self) -> None:
        self.open = False

    @property
    def block_ns(self) -> int:
        return int(self._settings["blocksize"] * 1_000_000_000 // self.hz)

    def block(self, *, dry: bool = False, sense: bool = True) -> None:
        """The card takes a block more."""
        frames = self._settings["blocksize"]
        out = np.full((frames, self._settings["channels"]), np.nan, np.float32)
        self.time = self._gym.clock.ns_now / 1e9 + 77
        dac = self.time + (LATENCY_NS + self.shift) / 1e9 if sense else 0.0
        self._settings["callback"](out, frames, SimpleNamespace(outputBufferDacTime=dac), SimpleNamespace(output_underflow=dry))
        self.heard.append((self._gym.clock.ns_now + LATENCY_NS + self.shift, out[:, 0].copy()))

    def end(self) -> None:
        """The driver says that the device is gone."""
        self._settings["finished_callback"]()


@dataclass
class Bank:
    """Every tone is TONE; words sound for a second, unless they are not rendered."""

    missing: set[str] = field(default_factory=set)
    rendered: Event = field(default_factory=Event)

    def render_tones(self) -> None:
        self.rendered.set()

    def samples(self, placed: Placed) -> Samples | None:
        if placed.cue.sort == "tone":
            return TONE
        return None if placed.text in self.missing else np.full(48_000, 0.25, np.float32)


@dataclass
class Watch:
    """Sees at once what is plugged in."""

    gym: "Gym"
    closed: bool = False

    @property
    def names(self) -> list[str]:
        return [device.title for device in self.gym.look()]

    @property
    def usual(self) -> str:
        return next(iter(self.names), "")

    def close(self) -> None:
        self.closed = True


class Gym:
    """A booth with everything around it made by hand. `run` lets time pass, block by block."""

    def __init__(self, *plugged: str, wanted: Sequence[str] = (), delays: dict[str, int] | None = None) -> None:
        self.clock = Moment()
        self.plugged = list(plugged)
        self.looks = 0
        """How often the program has asked which speakers there are."""
        self.about: dict[str, dict[str, Any]] = {}
        """What else is known of a speaker, by its name; see Device."""
        self.rates = [48_000]
        self.opened: list[str] = []
        """Each speaker that was tried, in turn."""
        self.fault = ""
        self.streams: list[Stream] = []
        self.bank = Bank()
        self.facts: list[ev.Event] = []
        self.wishes: tuple[Placed, ...] = ()
        self.booth = Booth(system=self, bank=self.bank, clock=self.clock, wanted=wanted, delays=delays)
        self.booth.turn(())

    def look(self) -> list[Device]:
        self.looks += 1
        if self.fault:
            raise DeviceError(self.fault)
        return [Device(number=n, name=name, usual=n == 0, **self.about.get(name, {})) for n, name in enumerate(self.plugged)]

    def open(self, device: Device, tick: Callable[[], int]) -> Line:
        self.opened.append(device.name)
        if device.name.startswith("broken"):
            raise DeviceError("it is taken by another program")
        return Line(lambda **settings: Stream(self, device.name, **settings), device.number, tick, device.hz)

    def watch(self, better: Sequence[str]) -> Watch:
        return Watch(self)

    @property
    def stream(self) -> Stream:
        return self.streams[-1]

    def run(self, ms: int, *, sense: bool = True) -> None:
        """Let time pass; a turn every three blocks, with the wishes of now."""
        until, n = self.clock.ns_now + ms * 1_000_000, -1
        while (now := self.clock.ns_now + (self.stream.block_ns if self.streams else BLOCK_NS)) <= until:
            self.clock.ns_now, n = now, n + 1
            if self.streams and self.stream.open and self.stream.name in self.plugged:
                self.stream.block(sense=sense)
            if n % 3 == 0:
                self.want(self.wishes)

    def want(self, wishes: tuple[Placed, ...], hush: str = "") -> None:
        self.wishes = () if hush else wishes
        self.booth.turn([Want(wishes, self.clock.now(), hush)])
        while self.booth.facts:
            self.facts.append(self.booth.facts.popleft())

    def onsets(self, level: float = 0.01) -> list[float]:
        """When something above `level` was heard after silence, on any speaker, in ms."""
        found, loud = list[float](), False
        for heard, block, hz in sorted(((*b, s.hz) for s in self.streams for b in s.heard), key=lambda b: b[0]):
            for i in np.flatnonzero(np.diff((np.abs(block) > level).astype(int), prepend=int(loud)) == 1):
                found.append(heard / 1e6 + int(i) * 1000 / hz)
            loud = bool(abs(block[-1]) > level)
        return found

    def loud(self, since: float, until: float) -> float:
        """The highest sample heard between two moments, in ms."""
        peaks = [0.0]
        for stream in self.streams:
            for heard, block in stream.heard:
                at = heard / 1e6 + np.arange(len(block)) * 1000 / stream.hz
                peaks.append(float(np.abs(block[(at >= since) & (at < until)]).max(initial=0.0)))
        return max(peaks)

    def told(self, kind: type[ev.Event]) -> list[Any]:
        return [fact for fact in self.facts if isinstance(fact, kind)]
