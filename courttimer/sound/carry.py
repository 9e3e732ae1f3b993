"""Makes speech that carries across a hall: the band that is understood, its soft parts raised, and time between its parts.

A loudspeaker gives a peak, not a loudness: what counts in noise is how much speech fits under it. And in a hall each word sounds on
under the next ones. So, in this order:

- `spaced`: the pauses between the parts of a sentence are made longer, so that the hall has time to fall silent.
- `carrying`: hum, rumble and hiss are taken away, the voice's fundamental steps back for its consonants, and what is soft is raised.

Then loudness.py holds the peaks down. Judged in noise and reverberation by tests/sound/test_carry.py.
"""

import numpy as np
from numpy.typing import NDArray

from courttimer.sound.mixer import FRAMES_A_MS, RATE, Samples

BAND = ((60, -60), (120, -6), (200, 3), (350, 2), (600, -3), (1200, -2), (2000, 1), (4000, 2), (8000, -1), (11_000, -24), (14_000, -60))
"""Gains in dB at frequencies in Hz, a straight line of dB over octaves between them."""
RATIO = 1.3
"""Of n dB below the whole phrase's power, n / RATIO are left."""
FLOOR = -35.0
"""What is softer than so many dB below it is no speech, and is pushed down instead."""
WINDOW = 20 * FRAMES_A_MS
QUIET = 0.01
"""−40 dB below the highest peak."""
PAUSE = 110 * FRAMES_A_MS
"""A shorter silence belongs to a consonant."""
LONGER = 0.4
"""A pause is made longer by this part of itself."""
_GRAIN = 1 << 14
_SETTLED = RATE // 20


def spaced(samples: Samples) -> Samples:
    """The samples, peaks at 1, with longer pauses; shorter silences, and those at both ends, stay as they are."""
    loud = np.flatnonzero(np.abs(samples) > QUIET)
    gaps = np.flatnonzero(np.diff(loud) > PAUSE)
    parts, done = [], 0
    for gap in gaps:
        first, last = int(loud[gap]), int(loud[gap + 1])
        middle = (first + last) // 2
        parts += [samples[done:middle], np.zeros(int((last - first) * LONGER), np.float32)]
        done = middle
    whole: Samples = np.concatenate([*parts, samples[done:]])
    return whole


def carrying(samples: Samples) -> Samples:
    """The samples in their band and compressed, no frame moved; same length, at no particular level. Silence stays silent."""
    if not samples.any():
        return samples
    inside = _in_band(samples)
    power = np.mean(inside**2)
    below = 10 * np.log10(np.maximum(_smooth(inside**2) / power, 1e-12))
    gain = (1 / RATIO - 1) * np.maximum(below, FLOOR) + np.minimum(below - FLOOR, 0)
    return (inside * 10 ** (gain / 20)).astype(np.float32)


def _in_band(samples: Samples) -> NDArray[np.float64]:
    """Without any phase, so that every frame keeps its place."""
    size = -(-(len(samples) + 2 * _SETTLED) // _GRAIN) * _GRAIN
    octaves = np.log2(np.maximum(np.fft.rfftfreq(size, 1 / RATE), 1.0))
    at, gains = zip(*BAND, strict=True)
    response = 10 ** (np.interp(octaves, np.log2(at), gains) / 20)
    return np.fft.irfft(np.fft.rfft(samples, size) * response, size)[: len(samples)].astype(np.float64)


def _smooth(power: NDArray[np.float64]) -> NDArray[np.float64]:
    """Two running means, together as long as the window, so that the gain has no corners."""
    half = WINDOW // 2
    for _ in range(2):
        sums = np.cumsum(np.pad(power, (half // 2 + 1, half - half // 2 - 1)))
        sums = np.concatenate([[0.0], sums])
        power = np.maximum(sums[half:] - sums[:-half], 0.0)[: len(power)] / half
    return power
