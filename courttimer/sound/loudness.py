"""How loud a sound is to the ear (ITU-R BS.1770-4), and how to bring it to the loudness that all cues share.

Everything is mono: a sound that both speakers play counts as one channel here.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from courttimer.sound.mixer import Samples

TONES = -12.0
"""The loudness of every tone, in LUFS."""
SPEECH = -18.0
"""The loudness of every phrase, in LUFS: speech has higher peaks, and stands below the horns."""
PEAK = 0.7
"""No cue's samples go higher, so that a tone over ducked speech stays under -1 dBFS: 0.7 + 0.7 × 0.25 = 0.875."""

_STAGES = (
    ((1.53512485958697, -2.69169618940638, 1.19839281085285), (1.0, -1.69065929318241, 0.73248077421585)),
    ((1.0, -2.0, 1.0), (1.0, -1.99004745483398, 0.99007225036621)),
)
"""The two K-weighting filters at 48 kHz as (b, a): the high shelf, then the high-pass (BS.1770-4, Annex 1, tables 1 and 2)."""
_SETTLED = 9600
"""After 0.2 s the slower filter's ring has fallen by 400 dB: with so many zeros behind, the circle is a line."""
_GRAIN = 1 << 15
"""Spectra have few lengths, all quick to make; single precision is exact to 0.001 LU, and twice as quick."""
_BLOCK, _HOP = 19_200, 4_800
"""400 ms, overlapping by three quarters."""
_ABSOLUTE, _RELATIVE = -70.0, -10.0


def k_weighted(samples: Samples) -> NDArray[np.float64]:
    """The samples as the ear weighs them; same length."""
    size = -(-(len(samples) + _SETTLED) // _GRAIN) * _GRAIN
    spectrum = np.fft.rfft(samples.astype(np.float32), size) * _response(size)
    return np.fft.irfft(spectrum, size)[: len(samples)].astype(np.float64)


@lru_cache(16)
def _response(size: int) -> NDArray[np.complex64]:
    """What the filters do to each frequency of a circle of so many samples."""
    delay = np.exp(-2j * np.pi * np.arange(size // 2 + 1) / size)
    response = np.ones(len(delay), np.complex128)
    for b, a in _STAGES:
        response *= np.polyval(b[::-1], delay) / np.polyval(a[::-1], delay)
    return response.astype(np.complex64)


def integrated(samples: Samples) -> float:
    """The gated loudness in LUFS; -inf for silence. A sound shorter than 400 ms is one block as long as itself."""
    powers = _powers(samples)
    powers = powers[_lufs(powers) > _ABSOLUTE]
    if not len(powers):
        return -np.inf
    return float(_lufs(powers[_lufs(powers) > _lufs(powers.mean()) + _RELATIVE].mean()))


def loudest(samples: Samples) -> float:
    """The loudness of the loudest 400 ms in LUFS, so that no pause in a rhythm makes it count as softer; -inf for silence."""
    return float(_lufs(_powers(samples).max()))


def level(samples: Samples, loudness: float, target: float) -> Samples:
    """The samples at `target` instead of `loudness` (both LUFS), or as near below it as their highest peak allows."""
    if not np.isfinite(loudness):
        return samples
    gain = min(10 ** ((target - loudness) / 20), PEAK / float(np.abs(samples).max()))
    return (samples * gain).astype(np.float32)


def _powers(samples: Samples) -> NDArray[np.float64]:
    """The mean weighted power of each whole block."""
    if not len(samples):
        return np.zeros(1)
    block = min(_BLOCK, len(samples))
    summed = np.concatenate([[0.0], np.cumsum(k_weighted(samples) ** 2)])
    begins = np.arange(0, len(samples) - block + 1, _HOP)
    powers: NDArray[np.float64] = np.maximum(summed[begins + block] - summed[begins], 0.0) / block
    return powers


def _lufs(power: NDArray[np.float64] | np.float64) -> NDArray[np.float64]:
    with np.errstate(divide="ignore"):
        return np.asarray(-0.691 + 10 * np.log10(power))
