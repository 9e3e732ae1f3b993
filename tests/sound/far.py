"""How speech arrives on the far side of a gym at play, for the tests of the voice, and how well it is understood there.

Understanding is told by STOI (Taal et al. 2011) and by its extension for noise that is not steady, ESTOI (Jensen and Taal 2016), as
`pystoi` reckons them: what arrives is compared with the clean phrase. The hall is ours: a reverberation that falls by 60 dB in 2 s,
4 dB stronger than the direct sound, its first 5 ms empty; so is the noise (play.py). Both are drawn with fixed seeds.
"""

from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray
from pystoi import stoi
from scipy.signal import fftconvolve, resample_poly

from courttimer.sound.loudness import integrated
from courttimer.sound.mixer import RATE, Samples
from tests.sound import play

SECONDS = 2.0
REVERBERATION_DB = 4.0
BETWEEN = RATE // 2
"""Half a second between two phrases."""
Sound = NDArray[np.float64]


def understood(clean: Sequence[Samples], heard: Sequence[Samples], noise: float) -> tuple[float, float]:
    """STOI and ESTOI of the phrases `heard`, each as long as its clean one, in play of so many LUFS on their scale."""
    clear, far = _row(clean), _arrives(_row(heard), noise)
    one, other = (resample_poly(sound, 5, 24) for sound in (clear, far))
    return float(stoi(one, other, 10_000)), float(stoi(one, other, 10_000, extended=True))


def _row(phrases: Sequence[Samples]) -> Sound:
    return np.concatenate([np.pad(phrase.astype(np.float64), (0, BETWEEN)) for phrase in phrases])


def _arrives(sound: Sound, noise: float) -> Sound:
    hall = _hall()
    level = 10 ** (noise / 20) * np.sqrt(np.sum(hall**2))
    arrived: Sound = fftconvolve(sound, hall)[: len(sound)] + level * _noise(len(sound))
    return arrived


@cache
def _hall() -> Sound:
    rng, frames = np.random.default_rng(1), round(SECONDS * RATE)
    tail = rng.normal(size=frames) * 10 ** (-3 * np.arange(frames) / frames)
    tail[: RATE // 200] = 0
    tail *= np.sqrt(10 ** (REVERBERATION_DB / 10) / np.sum(tail**2))
    tail[0] = 1
    return tail


def _noise(frames: int) -> Sound:
    """Play at 0 LUFS: its octaves from play.py, level inside each."""
    spectrum = np.fft.rfft(np.random.default_rng(3).normal(size=frames))
    octaves = np.log2(np.maximum(np.fft.rfftfreq(frames, 1 / RATE), 1.0))
    density = np.array(play.NOISE) - 10 * np.log10(np.array(play.OCTAVES))
    noise = np.fft.irfft(spectrum * 10 ** (np.interp(octaves, np.log2(play.OCTAVES), density) / 20), frames)
    return np.asarray(noise / 10 ** (integrated(noise.astype(np.float32) / 1e3) / 20) / 1e3)
