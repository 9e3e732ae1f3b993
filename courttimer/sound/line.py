"""The one open stream to a speaker: fills every block from the mixer, and notes what the card says about time."""

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np

from courttimer.errors import DeviceError
from courttimer.sound.mixer import RATE, Mixer, Samples

BLOCK = 512
BLOCK_NS = BLOCK * 62_500 // 3
LATENCY = 0.1
"""Seconds; the lowest at which two busy cores caused no underflow. Tests measure it again (test_rig.py)."""
SENSE_NS = 5_000_000_000
"""A card that says a frame is heard further ahead than this, or in the past, makes no sense."""


class Stream(Protocol):
    """What a line needs of a sounddevice.OutputStream."""

    latency: float
    time: float

    def start(self) -> None: ...
    def abort(self) -> None: ...
    def close(self) -> None: ...


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

    def __init__(self, make: Callable[..., Stream], device: int | None, tick: Callable[[], int]) -> None:
        """`make` builds a stream as sounddevice.OutputStream does. Raises DeviceError when the device cannot be opened."""
        self.mixer = Mixer()
        self.stamps: deque[Stamp] = deque(maxlen=4096)
        self.ended = False
        self.faults = 0
        """Callbacks that failed, and were filled with silence."""
        self._tick = tick
        self._frame = 0
        self._mono: Samples = np.zeros(16_384, np.float32)
        self._stream = self._open(make, device)
        self.latency = max(round(self._stream.latency * 1000), 0)
        """In ms, as the card tells it."""

    def _open(self, make: Callable[..., Stream], device: int | None) -> Stream:
        fault: Exception = DeviceError("no channels")
        for channels in (2, 1):
            try:
                stream = make(
                    device=device, samplerate=RATE, channels=channels, dtype="float32", blocksize=BLOCK, latency=LATENCY,
                    callback=self._call, finished_callback=self._finish,
                )  # fmt: skip
                self._stream = stream
                stream.start()
                return stream
            except Exception as cause:  # a driver may raise anything; the next try, or the coach, gets it
                fault = cause
        raise DeviceError(str(fault)) from fault

    def close(self) -> None:
        """Give the device back; never raises."""
        for end in (self._stream.abort, self._stream.close):
            try:
                end()
            except Exception:
                self.faults += 1

    @property
    def frames(self) -> int:
        """How many frames the card has taken."""
        return self._frame

    def _finish(self) -> None:
        self.ended = True

    def _call(self, out: Any, frames: int, moments: Any, status: Any) -> None:
        try:
            ahead, now = moments.outputBufferDacTime - self._stream.time, self._tick()
            mono = self._mono[:frames]
            self.mixer.fill(mono, self._frame)
            out[:] = mono[:, None]
            ns = round(ahead * 1e9)
            sense = moments.outputBufferDacTime > 0 and 0 <= ns < SENSE_NS
            heard = now + (ns if sense else round(self._stream.latency * 1e9))
            self.stamps.append(Stamp(self._frame, heard, now, bool(status.output_underflow), sense))
        except Exception:
            out.fill(0)
            self.faults += 1
        self._frame += frames
