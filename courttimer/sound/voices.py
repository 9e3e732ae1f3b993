"""One sound on its way out of the mixer: where it begins, where it steps back for a tone, and where it fades.

Every gain is looked up in a table by a whole number of frames, so that it is the same however the sound is cut into blocks.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float32]
Range = tuple[int, int]

FADE = 960
"""A fade takes 20 ms."""
DUCK = 0.25
"""Ducked speech is 12 dB down."""
DUCK_RAMP = 480
"""It steps back within 10 ms, and comes back within 10 ms."""

_FALL: Samples = (0.5 + 0.5 * np.cos(np.pi * np.arange(FADE) / FADE)).astype(np.float32)
_STEP_BACK: Samples = (1 - (1 - DUCK) * (0.5 - 0.5 * np.cos(np.pi * np.arange(DUCK_RAMP + 1) / DUCK_RAMP))).astype(np.float32)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Dip:
    """Speech steps back for a tone that begins at `tone`: it falls from `falls` on, and rises again from `rises` on."""

    tone: int
    falls: int
    rises: int


class Voice:
    """Lives from `queue` to its last frame. What is asked for is fixed by the sound thread, at the next block that it mixes."""

    __slots__ = ("_dips", "_duck_asked", "_fade_asked", "_samples", "_ticket", "begun", "fade_from", "key", "speech", "start")

    def __init__(self, key: str, start: int, samples: Samples, duck: Iterable[Range], speech: bool) -> None:
        self.key, self.start, self.speech = key, start, speech
        self._samples = samples
        self._dips = _dips(duck)
        self._duck_asked: tuple[tuple[Range, ...], int] | None = None
        self._fade_asked: int | None = None
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

    def ask_fade(self, frame: int) -> None:
        if self._fade_asked is None:
            self._fade_asked = frame

    def ask_duck(self, ranges: Sequence[Range], frame: int) -> None:
        self._duck_asked = (tuple(ranges), frame)

    def settle(self, frame: int) -> None:
        """Fix what was asked for, in the first block that is mixed after it, which begins with `frame`."""
        if self._fade_asked is not None and self.fade_from is None:
            self.fade_from = max(self._fade_asked, frame)
        if self._duck_asked is not None:
            (ranges, asked), self._duck_asked = self._duck_asked, None
            fresh = _dips(ranges)
            self._dips = fresh if self.start >= frame else _agreed(self._dips, fresh, max(asked, frame))

    def end(self) -> int:
        full = self.start + len(self._samples)
        return full if self.fade_from is None else min(full, self.fade_from + FADE)

    def add(self, out: Samples, frame: int) -> bool:
        """Add what lies in this block, whose first frame is `frame`. Gives whether anything did."""
        first, last = max(self.start, frame), min(self.end(), frame + len(out))
        if first >= last:
            return False
        part = self._samples[first - self.start : last - self.start]
        for dip in self._dips:
            if dip.falls < last and dip.rises + DUCK_RAMP > first:
                part = part * self._stepped_back(first, last)
                break
        if self.fade_from is not None and self.fade_from < last:
            part = part * _FALL[np.maximum(np.arange(first, last) - self.fade_from, 0)]
        out[first - frame : last - frame] += part
        return True

    def _stepped_back(self, first: int, last: int) -> Samples:
        """The least gain that any dip gives, of each frame."""
        where, deepest = np.arange(first, last), np.zeros(last - first, np.int64)
        for dip in self._dips:
            down = np.clip(where - dip.falls, 0, DUCK_RAMP) - np.clip(where - dip.rises, 0, DUCK_RAMP)
            np.maximum(deepest, down, out=deepest)
        return _STEP_BACK[deepest]


def _dips(ranges: Iterable[Range]) -> tuple[_Dip, ...]:
    return tuple(_Dip(tone=a, falls=a - DUCK_RAMP, rises=b) for a, b in ranges)


def _agreed(dips: tuple[_Dip, ...], wanted: tuple[_Dip, ...], frame: int) -> tuple[_Dip, ...]:
    """What was wanted and what is, when all before `frame` is out: it stays as it was, and nothing jumps there."""
    rises = {dip.tone: dip.rises for dip in wanted}
    agreed = [dip for dip in dips if dip.falls < frame]
    agreed = [d if d.rises < frame else replace(d, rises=max(rises.get(d.tone, frame), frame)) for d in agreed]
    held = {dip.tone: dip.rises for dip in agreed}
    new = (dip for dip in wanted if dip.rises > held.get(dip.tone, frame - 1))
    return (*agreed, *(replace(dip, falls=max(dip.falls, frame)) for dip in new))
