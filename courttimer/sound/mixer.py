"""Adds tones and speech into blocks of any size, each on its own frame.

Two threads use a mixer: one queues, withdraws, fades and ducks; the sound thread only fills. There is no lock between them:

- A voice owns its samples. `fill` slices and adds them; every gain but a fade is multiplied in beforehand.
- Whether a voice begins or is withdrawn is settled by its ticket, a list of one: whoever takes it first has won.
- A frame's value depends on the voices alone, never on where a block begins or ends: float32 sums in the order of queueing.
- What is asked for a frame that is already out (a fade, a duck) happens softly from the next block on: only then blocks show.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float32]

RATE = 48_000
"""Frames a second."""
FRAMES_A_MS = 48
FADE = 960
"""A fade takes 20 ms."""
DUCK = 0.25
"""Ducked speech is 12 dB down."""
DUCK_RAMP = 480
"""It steps back within 10 ms, and comes back within 10 ms."""

_FALL: Samples = (0.5 + 0.5 * np.cos(np.pi * np.arange(FADE) / FADE)).astype(np.float32)


class _Voice:
    """One sound on its way out; lives from `queue` to its last frame."""

    __slots__ = ("_dry", "_ranges", "_ticket", "begun", "fade_asked", "fade_from", "key", "samples", "start")

    def __init__(self, key: str, start: int, samples: Samples) -> None:
        self.key = key
        self.start = start
        self._dry = samples
        self._ranges: dict[int, tuple[int, int]] = {}
        self.samples = samples
        self.fade_asked: int | None = None
        self.fade_from: int | None = None
        self.begun = False
        self._ticket = [True]

    def take_ticket(self) -> bool:
        """Whether this side was first; `list.pop` cannot succeed twice."""
        try:
            return self._ticket.pop()
        except IndexError:
            return False

    def begin(self) -> bool:
        self.begun = self.take_ticket()
        return self.begun

    def duck(self, ranges: Sequence[tuple[int, int]], frame: int) -> None:
        kept = {begin: (falls, end) for begin, (falls, end) in self._ranges.items() if falls < frame}
        new = {begin: (kept[begin][0] if begin in kept else max(begin - DUCK_RAMP, frame), end) for begin, end in ranges}
        self._ranges = kept | new
        self.samples = ducked(self._dry, [(falls - self.start, end - self.start) for falls, end in self._ranges.values()])

    def end(self) -> int:
        full = self.start + len(self.samples)
        return full if self.fade_from is None else min(full, self.fade_from + FADE)

    def settle_fade(self, frame: int) -> None:
        """Fix where the fade begins, at the first block after it was asked for."""
        if self.fade_asked is not None and self.fade_from is None:
            self.fade_from = max(self.fade_asked, frame)

    def add(self, out: Samples, frame: int) -> None:
        first, last = max(self.start, frame), min(self.end(), frame + len(out))
        plain = last if self.fade_from is None else min(last, max(first, self.fade_from))
        if first < plain:
            out[first - frame : plain - frame] += self.samples[first - self.start : plain - self.start]
        if self.fade_from is not None and plain < last:
            fall = _FALL[plain - self.fade_from : last - self.fade_from]
            out[plain - frame : last - frame] += self.samples[plain - self.start : last - self.start] * fall


class Mixer:
    """What sounds and what will; lives as long as a stream or a recording. Frames are counted by whoever calls `fill`."""

    def __init__(self) -> None:
        self._voices: dict[str, _Voice] = {}
        self.head = 0
        """The first frame that no block has held yet."""

    def queue(self, key: str, frame: int, samples: Samples, duck: Sequence[tuple[int, int]] = ()) -> None:
        """Let `samples` (mono float32) begin on `frame`; in each range of `duck` (from frame, to frame) they step back.

        A frame that is already out is the caller's business: the sound would be heard from its middle.
        """
        voice = _Voice(key, frame, samples)
        if duck:
            voice.duck(duck, min(begin for begin, _ in duck) - DUCK_RAMP)
        self._voices[key] = voice

    def withdraw(self, key: str, frame: int) -> bool:
        """Take back what has not begun by `frame`. True: it will not be heard; False: it has begun, has ended or never was."""
        voice = self._voices.get(key)
        if voice is None or voice.start < frame or not voice.take_ticket():
            return False
        self._voices.pop(key, None)
        return True

    def fade(self, key: str, frame: int) -> None:
        """Let what sounds fall silent within 20 ms from `frame`."""
        voice = self._voices.get(key)
        if voice is not None and voice.fade_asked is None:
            voice.fade_asked = frame

    def duck(self, key: str, ranges: Sequence[tuple[int, int]], frame: int) -> None:
        """Give a sound, also one that has begun, other ranges to step back in; what it does before `frame` stays as it was."""
        voice = self._voices.get(key)
        if voice is not None:
            voice.duck(ranges, frame)

    def fill(self, out: Samples, frame: int) -> None:
        """Write every sample of `out` (shape (frames,)), whose first is `frame`, and forget what has ended."""
        out.fill(0.0)
        self.head = end = frame + len(out)
        for voice in tuple(self._voices.values()):
            voice.settle_fade(frame)
            if voice.start < end and (voice.begun or voice.begin()):
                voice.add(out, frame)
            if voice.end() <= end and self._voices.get(voice.key) is voice:
                del self._voices[voice.key]


def ducked(samples: Samples, ranges: Sequence[tuple[int, int]]) -> Samples:
    """A copy that, for each range, falls by 12 dB within 10 ms from the first frame on, and rises again from the second."""
    gain = np.ones(len(samples), np.float32)
    where = np.arange(len(samples))
    for falls, rises in ranges:
        down = np.clip((where - falls) / DUCK_RAMP, 0.0, 1.0) - np.clip((where - rises) / DUCK_RAMP, 0.0, 1.0)
        depth = (1 - DUCK) * (0.5 - 0.5 * np.cos(np.pi * np.maximum(down, 0.0)))
        np.minimum(gain, 1 - depth, out=gain, casting="same_kind")
    return samples * gain
