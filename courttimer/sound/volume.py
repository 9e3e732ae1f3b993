"""One volume that can be turned while it sounds: the gain glides to where it was put, and no click is heard."""

import numpy as np
from numpy.typing import NDArray

LOWEST, HIGHEST = -60.0, 12.0
"""In dB. What is this low is silent; what is higher would be limited all the time."""
GLIDE = 2400
"""50 ms, in frames."""
_ONE = 1 << 24
"""Gains are whole numbers of 2^-24, so that they are the same wherever a block begins."""


class Fader:
    """Lives as long as a mixer. One thread asks; the sound thread, which takes the gains block after block, begins the glide."""

    def __init__(self) -> None:
        self._asked = self._from = self._to = _ONE
        self._since = -GLIDE

    def ask(self, db: float) -> None:
        """Put it to so many dB."""
        self._asked = 0 if db <= LOWEST else round(_ONE * 10 ** (min(db, HIGHEST) / 20))

    def gain(self, frame: int, end: int) -> NDArray[np.float32] | np.float32:
        """What the frames from `frame` to before `end` are multiplied by."""
        asked = self._asked
        if asked != self._to:
            self._from, self._to, self._since = self._at(frame), asked, frame
        if frame >= self._since + GLIDE:
            return np.float32(self._to / _ONE)
        way = np.minimum(np.arange(frame, end) - self._since, GLIDE)
        return ((self._from + (self._to - self._from) * way // GLIDE) / _ONE).astype(np.float32)

    def _at(self, frame: int) -> int:
        return self._from + (self._to - self._from) * min(frame - self._since, GLIDE) // GLIDE
