"""How loud a sound is to the ear (ITU-R BS.1770-4), and how to bring it to the loudness that all cues share.

Everything is mono: a sound that both speakers play counts as one channel here.

Two rules say how loud a cue is. A phrase counts as the standard measures a programme: over all of it, without its pauses
(`integrated`). A tone is too short for that, and its rhythm is half pauses: it counts by its loudest 400 ms (`loudest`), and if it
is shorter than 400 ms by all of it. Both are brought to TARGET.
"""

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

from courttimer.sound.limiter import ATTACK, CEILING, HOLD, held, outline
from courttimer.sound.mixer import FRAMES_A_MS, Samples
from courttimer.sound.peaks import AFTER, stays_below

TARGET = -14.0
"""The loudness of every cue, in LUFS: as high as speech can be with its peaks held down by a few dB."""

_STAGES = (
    ((1.53512485958697, -2.69169618940638, 1.19839281085285), (1.0, -1.69065929318241, 0.73248077421585)),
    ((1.0, -2.0, 1.0), (1.0, -1.99004745483398, 0.99007225036621)),
)
"""The two K-weighting filters at 48 kHz as (b, a): the high shelf, then the high-pass (BS.1770-4, Annex 1, tables 1 and 2)."""
_SETTLED = 9600
"""After 0.2 s the slower filter's ring has fallen by 400 dB: with so many zeros behind, the circle is a line."""
_GRAIN = 1 << 15
"""Spectra have few lengths, all quick to make; single precision is exact to 0.001 LU, and twice as quick."""
BLOCK, _HOP = 19_200, 4_800
"""400 ms, overlapping by three quarters; a sound that is shorter counts by all of itself."""
_SHORT_TERM = 144_000
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
    return _gated(_powers(samples))


def _gated(powers: NDArray[np.float64]) -> float:
    powers = powers[_lufs(powers) > _ABSOLUTE]
    if not len(powers):
        return -np.inf
    return float(_lufs(powers[_lufs(powers) > _lufs(powers.mean()) + _RELATIVE].mean()))


def loudest(samples: Samples) -> float:
    """The loudness of the loudest 400 ms in LUFS, so that no pause in a rhythm makes it count as softer; -inf for silence."""
    return _highest(_powers(samples))


def _highest(powers: NDArray[np.float64]) -> float:
    return float(_lufs(powers.max()))


def momentary(samples: Samples) -> NDArray[np.float64]:
    """The loudness in LUFS of each 400 ms, a new one every 100 ms."""
    return _lufs(_powers(samples))


def short_term(samples: Samples) -> NDArray[np.float64]:
    """The loudness in LUFS of each 3 s, a new one every 100 ms."""
    return _lufs(_powers(samples, _SHORT_TERM))


def level(samples: Samples, measure: Callable[[Samples], float]) -> Samples:
    """The samples at TARGET by `measure`, which is `integrated` or `loudest`; same length. What is silent stays silent.

    Peaks that would come above the limiter's ceiling are held down, and the rest is raised for it.
    """
    rule = _RULES[measure]
    weighted = k_weighted(samples) ** 2
    loudness = rule(_means(weighted))
    if not np.isfinite(loudness):
        return samples
    gain = 10 ** ((TARGET - loudness) / 20)
    raised = (samples * np.float32(gain)).astype(np.float32)
    if stays_below(raised, CEILING):
        return raised
    highest = outline(samples)
    if highest.max() * gain < CEILING:
        return raised
    return held(samples, highest, gain * _made_up(weighted * gain**2, highest[AFTER:] * gain, rule))


def _made_up(weighted: NDArray[np.float64], highest: Samples, rule: Callable[[NDArray[np.float64]], float]) -> float:
    """By how much a sound must be raised to be as loud when it is limited; reckoned in steps of 1 ms, right within 0.2 LU."""
    cells = len(weighted) // FRAMES_A_MS
    energy = weighted[: cells * FRAMES_A_MS].reshape(-1, FRAMES_A_MS).mean(axis=1)
    peak = highest[: cells * FRAMES_A_MS].reshape(-1, FRAMES_A_MS).max(axis=1)
    before, after = HOLD // FRAMES_A_MS, ATTACK // FRAMES_A_MS + 1
    peak = np.maximum(sliding_window_view(np.pad(peak, (before + 2, after - 2)), before + after + 1).max(axis=1), 1e-9)
    low, raised, high = 1.0, 2.0, 12.0  # a word such as the German "Top." wants 17 dB
    for _ in range(11):
        gain = np.minimum(raised, CEILING / peak)
        low, high = (raised, high) if rule(_means(energy * gain**2, FRAMES_A_MS)) < TARGET else (low, raised)
        raised = (low + high) / 2
    return raised


def _powers(samples: Samples, block: int = BLOCK) -> NDArray[np.float64]:
    """The mean weighted power of each whole block; a sound that is shorter than one is a block as long as itself."""
    return _means(k_weighted(samples) ** 2, block=block)


def _means(weighted: NDArray[np.float64], step: int = 1, block: int = BLOCK) -> NDArray[np.float64]:
    """The mean of each whole block, in an array with one value for `step` samples."""
    if not len(weighted):
        return np.zeros(1)
    block = min(block // step, len(weighted))
    summed = np.concatenate([[0.0], np.cumsum(weighted)])
    begins = np.arange(0, len(weighted) - block + 1, _HOP // step)
    means: NDArray[np.float64] = np.maximum(summed[begins + block] - summed[begins], 0.0) / block
    return means


def _lufs(power: NDArray[np.float64] | np.float64) -> NDArray[np.float64]:
    with np.errstate(divide="ignore"):
        return np.asarray(-0.691 + 10 * np.log10(power))


_RULES: dict[Callable[[Samples], float], Callable[[NDArray[np.float64]], float]] = {integrated: _gated, loudest: _highest}
