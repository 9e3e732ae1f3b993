"""The one open stream to a speaker: fills every block from the mixer, and notes what the card says about time."""

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np

from courttimer.errors import DeviceError
from courttimer.sound.awake import LONGEST, hum
from courttimer.sound.mixer import RATE, Mixer, Samples
from courttimer.sound.rates import BEHIND, Rate

BLOCK = 512
BLOCK_NS = BLOCK * 62_500 // 3
LATENCY = 0.1
"""Seconds; the lowest at which two busy cores caused no underflow. Tests measure it again (test_rig.py)."""
SENSE_NS = 5_000_000_000
"""A card that says a frame is heard further ahead than this, or in the past, makes no sense."""
WORDS = {
    -9985: "another program has it, or it is gone",
    -9997: "it takes none of the rates that we can play at",
    -9999: "its driver does not say why",
}
"""By PortAudio's number (portaudio.h, PaErrorCode)."""


class Stream(Protocol):
    """What a line needs of a sounddevice.OutputStream."""

    latency: float
    time: float

    def start(self) -> None: ...
    def abort(self) -> None: ...
    def close(self) -> None: ...


class Playing(Protocol):
    """What a booth needs of a line, whatever it leads through."""

    mixer: Mixer
    stamps: "deque[Stamp]"
    ended: bool
    latency: int

    @property
    def frames(self) -> int:
        """How many frames were taken; they move as long as the speaker is there."""

    def keep_awake(self) -> None:
        """Let the speaker never hear silence; see awake.py. From any thread."""

    def close(self) -> None:
        """Give the device back; never raises."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """What one callback noted: the frame of its first sample, when that is heard (ns), and whether the card ran dry before."""

    frame: int
    heard: int
    now: int
    dry: bool
    sense: bool


class Line:
    """Lives from the opening of a device to its loss. `stamps` are taken by one other thread; the mixer is fed by it."""

    def __init__(self, make: Callable[..., Stream], device: int | None, tick: Callable[[], int], hz: int = RATE) -> None:
        """`make` builds a stream as sounddevice.OutputStream does; `hz` is the device's own rate, for one that refuses ours.

        Raises DeviceError, in words, when the device cannot be opened.
        """
        self.mixer = Mixer()
        self.stamps: deque[Stamp] = deque(maxlen=4096)
        self.ended = False
        self.faults = 0
        """Callbacks that failed, and were filled with silence."""
        self._tick = tick
        self._frame = 0
        self._hum: int | None = None
        self._rate: Rate | None = None
        self._mono: Samples = np.zeros(LONGEST, np.float32)
        self._stream = self._open(make, device, hz)
        self.latency = max(round(self._stream.latency * 1000), 0)
        """In ms, as the card tells it."""

    def _open(self, make: Callable[..., Stream], device: int | None, hz: int) -> Stream:
        fault: Exception = DeviceError("no channels")
        for rate in dict.fromkeys((RATE, hz)):
            self._rate = None if rate == RATE else Rate(rate)
            for channels in (2, 1):
                try:
                    stream = make(
                        device=device, samplerate=rate, channels=channels, dtype="float32",
                        blocksize=self._rate.block if self._rate else BLOCK, latency=LATENCY,
                        callback=self._call, finished_callback=self._finish,
                    )  # fmt: skip
                    self._stream = stream
                    stream.start()
                    return stream
                except Exception as cause:  # a driver may raise anything; the next try, or the coach, gets it
                    fault = cause
        raise DeviceError(in_words(fault)) from fault

    def keep_awake(self) -> None:
        self._hum = self._frame

    def close(self) -> None:
        for end in (self._stream.abort, self._stream.close):
            try:
                end()
            except Exception:
                self.faults += 1

    @property
    def frames(self) -> int:
        return self._frame

    def _finish(self) -> None:
        self.ended = True

    def _call(self, out: Any, frames: int, moments: Any, status: Any) -> None:
        try:
            ahead, now = moments.outputBufferDacTime - self._stream.time, self._tick()
            frame, mono = self._frame, self._mixed(frames)
            out[:] = mono[:, None]
            ns = round(ahead * 1e9)
            sense = moments.outputBufferDacTime > 0 and 0 <= ns < SENSE_NS
            heard = now + (ns if sense else round(self._stream.latency * 1e9))
            first = frame if self._rate is None else frame - BEHIND
            self.stamps.append(Stamp(first, heard, now, bool(status.output_underflow), sense))
        except Exception:
            out.fill(0)
            self.faults += 1
        self._frame += frames if self._rate is None else self._rate.taken

    def _mixed(self, frames: int) -> Samples:
        """The next so many frames of the card's."""
        mono = self._mono[: frames if self._rate is None else self._rate.taken]
        self.mixer.fill(mono, self._frame)
        if self._hum is not None:
            hum(mono, self._frame, self._hum)
        return mono if self._rate is None else self._rate.turn(mono)


def in_words(fault: Exception) -> str:
    """Why a device cannot be opened; PortAudio's own words where ours would say no more."""
    for number, words in WORDS.items():
        if f"{number}]" in str(fault):
            return words
    return str(fault)
