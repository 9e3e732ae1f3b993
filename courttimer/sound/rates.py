"""Brings our 48 000 frames a second to the rate of a card that takes no other, block by block.

Each output sample is a sum of input samples weighted by a windowed sinc (Kaiser, as J. O. Smith's "Digital Audio Resampling"
describes it). The weights repeat every `RATE / gcd` outputs, so they are made once. A block of `block` outputs takes exactly
`taken` inputs: the frames of the card stay tied to ours, and what is heard is late by a fixed `BEHIND` of our frames.
"""

from math import gcd

import numpy as np
from numpy.typing import NDArray

from courttimer.sound.mixer import RATE, Samples

TAPS = 64
BEHIND = TAPS // 2
"""Of our frames: so much later everything is heard."""
BETA = 8.0
ABOUT = 512
"""A block is about so many frames long."""


class Rate:
    """Lives as long as a line; keeps the end of each block for the next. For one thread."""

    def __init__(self, hz: int) -> None:
        """`hz`: what the card takes."""
        shared = gcd(hz, RATE)
        up, down = hz // shared, RATE // shared
        often = max(1, round(ABOUT / max(up, down)))
        self.block, self.taken = up * often, down * often
        """Frames the card gets at a time, and those of ours that they are made of."""
        self._weights, self._where = _made(up, down, self.block)
        self._inputs: Samples = np.zeros(TAPS + self.taken, np.float32)

    def turn(self, block: Samples) -> Samples:
        """`taken` frames of ours into `block` frames of the card's."""
        self._inputs[:TAPS] = self._inputs[-TAPS:].copy()
        self._inputs[TAPS:] = block
        made: Samples = np.einsum("ij,ij->i", self._inputs[self._where], self._weights)
        return made


def _made(up: int, down: int, block: int) -> tuple[Samples, NDArray[np.int64]]:
    """Of each output: the weights of its inputs, and where these lie."""
    at = np.arange(block, dtype=np.int64) * down
    where = (at // up)[:, None] + np.arange(1, TAPS + 1)
    away = where - BEHIND - (at / up)[:, None]
    cut = min(1.0, up / down)
    window = np.i0(BETA * np.sqrt(np.clip(1 - (away / BEHIND) ** 2, 0, 1))) / np.i0(BETA)
    weights = cut * np.sinc(cut * away) * window
    return (weights / weights.sum(axis=1, keepdims=True)).astype(np.float32), where
