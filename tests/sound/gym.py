"""A gym made in the test: speakers that can be plugged in and pulled out, streams that are turned by hand, and what was heard."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Any

import numpy as np

from courttimer.errors import DeviceError
from courttimer.practice import events as ev
from courttimer.practice.cue import Placed
from courttimer.sound.booth import Booth, Want
from courttimer.sound.devices import Device
from courttimer.sound.line import BLOCK, BLOCK_NS, Line
from courttimer.sound.mixer import Samples

LATENCY_NS = 100_000_000
TONE = np.full(9_600, 0.5, np.float32)
"""200 ms that are easy to find."""


@dataclass
class Moment:
    """A clock wound by hand, with ns; practice time 0 is its beginning."""

    ns_now: int = 1_000_000_000

    def now(self) -> int:
        return self.ns_now // 1_000_000

    def tick(self) -> int:
        return self.ns_now

    def ns(self, at: int) -> int:
        return at * 1_000_000


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
        self.open = True
        self._gym.streams.append(self)

    def abort(self) -> None:
        self.open = False

    def close(self) -> None:
        self.open = False

    def block(self, *, dry: bool = False, sense: bool = True) -> None:
        """The card takes 512 frames more."""
        out = np.full((BLOCK, self._settings["channels"]), np.nan, np.float32)
        self.time = self._gym.clock.ns_now / 1e9 + 77
        dac = self.time + (LATENCY_NS + self.shift) / 1e9 if sense else 0.0
        self._settings["callback"](out, BLOCK, SimpleNamespace(outputBufferDacTime=dac), SimpleNamespace(output_underflow=dry))
        self.heard.append((self._gym.clock.ns_now + LATENCY_NS + self.shift, out[:, 0].copy()))

    def end(self) -> None:
        """The driver says that the device is gone."""
        self._settings["finished_callback"]()


@dataclass
class Bank:
    """Every tone is TONE; words sound for a second, unless they are not rendered."""

    missing: set[str] = field(default_factory=set)

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
        return list(self.gym.plugged)

    @property
    def usual(self) -> str:
        return self.names[0] if self.gym.plugged else ""

    def close(self) -> None:
        self.closed = True


class Gym:
    """A booth with everything around it made by hand. `run` lets time pass, block by block."""

    def __init__(self, *plugged: str, wanted: Sequence[str] = (), delays: dict[str, int] | None = None) -> None:
        self.clock = Moment()
        self.plugged = list(plugged)
        self.fault = ""
        self.streams: list[Stream] = []
        self.bank = Bank()
        self.facts: list[ev.Event] = []
        self.wishes: tuple[Placed, ...] = ()
        self.booth = Booth(system=self, bank=self.bank, clock=self.clock, wanted=wanted, delays=delays)
        self.booth.turn(())

    def look(self) -> list[Device]:
        if self.fault:
            raise DeviceError(self.fault)
        return [Device(number=n, name=name, usual=n == 0) for n, name in enumerate(self.plugged)]

    def open(self, device: Device, tick: Callable[[], int]) -> Line:
        if device.name.startswith("broken"):
            raise DeviceError("it is taken by another program")
        return Line(lambda **settings: Stream(self, device.name, **settings), device.number, tick)

    def watch(self, better: Sequence[str]) -> Watch:
        return Watch(self)

    @property
    def stream(self) -> Stream:
        return self.streams[-1]

    def run(self, ms: int, *, sense: bool = True) -> None:
        """Let time pass; a turn every three blocks, with the wishes of now."""
        for n in range(ms * 1_000_000 // BLOCK_NS):
            self.clock.ns_now += BLOCK_NS
            if self.streams and self.stream.open and self.stream.name in self.plugged:
                self.stream.block(sense=sense)
            if n % 3 == 0:
                self.want(self.wishes)

    def want(self, wishes: tuple[Placed, ...], hush: str = "") -> None:
        self.wishes = () if hush else wishes
        self.booth.turn([Want(wishes, self.clock.now(), hush)])
        while self.booth.facts:
            self.facts.append(self.booth.facts.popleft())

    def onsets(self) -> list[float]:
        """When something was heard after silence, on any speaker, in ms."""
        found, loud = list[float](), False
        for heard, block in sorted((b for s in self.streams for b in s.heard), key=lambda b: b[0]):
            for i in np.flatnonzero(np.diff((np.abs(block) > 0.01).astype(int), prepend=int(loud)) == 1):
                found.append((heard + int(i) * 62_500 / 3) / 1e6)
            loud = bool(abs(block[-1]) > 0.01)
        return found

    def loud(self, since: float, until: float) -> float:
        """The highest sample heard between two moments, in ms."""
        peaks = [0.0]
        for stream in self.streams:
            for heard, block in stream.heard:
                at = heard / 1e6 + np.arange(BLOCK) / 48
                peaks.append(float(np.abs(block[(at >= since) & (at < until)]).max(initial=0.0)))
        return max(peaks)

    def told(self, kind: type[ev.Event]) -> list[Any]:
        return [fact for fact in self.facts if isinstance(fact, kind)]
