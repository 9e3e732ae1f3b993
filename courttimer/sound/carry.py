"""Makes speech that carries across a hall: the band that is understood, its soft parts raised, and time between its parts.

A loudspeaker gives a peak, not a loudness: what counts in noise is how much speech fits under it. And in a hall each word sounds on
under the next ones. So, in this order:

- `spaced`: the pauses between the parts of a sentence are made longer, so that the hall has time to fall silent.
- `carrying`: hum, rumble and hiss are taken away, the voice's fundamental steps back for its consonants, and what is soft is raised.

Then loudness.py holds the peaks down. Judged in noise and reverberation by tests/sound/test_carry.py.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from courttimer.sound.mixer import FRAMES_A_MS, RATE, Samples

BAND = ((60, -60), (120, -6), (200, 3), (350, 2), (600, -3), (1200, -2), (2000, 1), (4000, 2), (8000, -1), (11_000, -24), (14_000, -60))
"""Gains in dB at frequencies in Hz, a straight line of dB over octaves between them."""
RATIO = 1.3
"""Of n dB below the power of all that is heard of the phrase, n / RATIO are left."""
FLOOR = -35.0
"""What is softer than so many dB below it is no speech, and is pushed down instead."""
WINDOW = 10
"""How soft it is, is measured from so many ms before to so many after."""
QUIET = 0.01
"""−40 dB below the highest peak."""
PAUSE = 110 * FRAMES_A_MS
"""A shorter silence belongs to a consonant."""
LONGER = 0.4
"""A pause is made longer by this part of itself."""
_AROUND = np.hanning(2 * WINDOW + 3)[1:-1] / np.hanning(2 * WINDOW + 3).sum()
_GRAIN = 1 << 15
_SETTLED = RATE // 20


def spaced(samples: Samples) -> Samples:
    """The samples, peaks at 1, with longer pauses; shorter silences, and those at both ends, stay as they are."""
    loud = np.flatnonzero(np.abs(samples) > QUIET)
    gaps = np.flatnonzero(np.diff(loud) > PAUSE)
    parts: list[Samples] = []
    done = 0
    for gap in gaps:
        first, last = int(loud[gap]), int(loud[gap + 1])
        middle = (first + last) // 2
        parts += [samples[done:middle], np.zeros(int((last - first) * LONGER), np.float32)]
        done = middle
    return np.concatenate([*parts, samples[done:]])


def carrying(samples: Samples) -> Samples:
    """The samples in their band and compressed, no frame moved; same length, at no particular level. Silence stays silent."""
    inside = _in_band(samples)
    steps = -(-len(inside) // FRAMES_A_MS)
    power = (np.pad(inside, (0, steps * FRAMES_A_MS - len(inside))).reshape(steps, FRAMES_A_MS) ** 2).mean(axis=1)
    if not power.any():
        return samples
    usual = power[power > power.max() * QUIET**2].mean()
    below = 10 * np.log10(np.maximum(np.convolve(power, _AROUND)[WINDOW:][:steps] / usual, 1e-12))
    gain = (1 / RATIO - 1) * np.maximum(below, FLOOR) + np.minimum(below - FLOOR, 0)
    return inside * _glide(10 ** (gain / 20))[: len(inside)]


def _glide(gains: NDArray[np.float64]) -> Samples:
    """From one gain to the next, in straight lines between the middles of their ms; FRAMES_A_MS frames for each."""
    ends = np.pad(gains, 1, mode="edge").astype(np.float32)
    way = ((np.arange(FRAMES_A_MS) + 0.5) / FRAMES_A_MS).astype(np.float32)
    lines = ends[:-1, None] + (ends[1:] - ends[:-1])[:, None] * way
    return lines.reshape(-1)[FRAMES_A_MS // 2 :]


def _in_band(samples: Samples) -> Samples:
    """Without any phase, so that every frame keeps its place."""
    size = -(-(len(samples) + _SETTLED) // _GRAIN) * _GRAIN
    whole = np.fft.irfft(np.fft.rfft(samples.astype(np.float32), size) * _response(size), size)
    return np.asarray(whole[: len(samples)], np.float32)


@lru_cache(16)
def _response(size: int) -> Samples:
    octaves = np.log2(np.maximum(np.fft.rfftfreq(size, 1 / RATE), 1.0))
    at, gains = zip(*BAND, strict=True)
    return np.asarray(10 ** (np.interp(octaves, np.log2(at), gains) / 20), np.float32)
