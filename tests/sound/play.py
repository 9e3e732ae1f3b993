"""The noise of play in a gym, for the tests of sound, and whether a cue is heard over it by the criteria of ISO 7731.

The spectrum is ours: balls and feet below 250 Hz, voices from 500 Hz to 2 kHz, shoes above. It is brought to 85 dB(A).
"""

import numpy as np
from numpy.typing import NDArray

from courttimer.sound.mixer import RATE, Samples

OCTAVES = (63, 125, 250, 500, 1000, 2000, 4000, 8000)
NOISE = (78.0, 80.0, 81.0, 82.0, 80.0, 76.0, 71.0, 64.0)
"""In dB, of each octave, before it is brought to its level."""
PLAY = 85.0
"""dB(A)."""
Levels = NDArray[np.float64]


def a_weight(hz: NDArray[np.float64] | float) -> Levels:
    """In dB: IEC 61672-1:2013, formula E.6, with the pole frequencies of its annex E; 0 at 1 kHz."""
    f = np.asarray(hz, np.float64)
    gain = 12194**2 * f**4 / ((f**2 + 20.6**2) * np.sqrt((f**2 + 107.7**2) * (f**2 + 737.9**2)) * (f**2 + 12194**2))
    return np.asarray(20 * np.log10(np.maximum(gain, 1e-30)) + 2.0)


def total(levels: Levels) -> float:
    return float(10 * np.log10(np.sum(10 ** (levels / 10))))


def noise(level: float = PLAY) -> Levels:
    """Of each octave, in dB, at so many dB(A) in all."""
    shape = np.array(NOISE)
    return np.asarray(shape + level - total(shape + a_weight(np.array(OCTAVES))))


def masked(levels: Levels, fall: float) -> Levels:
    """What a sound in each band must exceed to be heard at all: ISO 7731:2003, annex B (from memory)."""
    threshold = levels.copy()
    for n in range(1, len(threshold)):
        threshold[n] = max(threshold[n], threshold[n - 1] - fall)
    return threshold


def bands(samples: Samples, parts: int) -> Levels:
    """The level in dB of each octave (`parts` 1) or third of one (3), over what sounds of it; a full sine is 0."""
    hz, power = _spectrum(samples)
    centres = [1000 * 2.0 ** (n - 4 + (k - parts // 2) / parts) for n in range(len(OCTAVES)) for k in range(parts)]
    edge = 2 ** (0.5 / parts)
    inside = [power[(hz >= centre / edge) & (hz < centre * edge)].sum() for centre in centres]
    return np.asarray(10 * np.log10(np.maximum(inside, 1e-12)))


def a_level(samples: Samples) -> float:
    """In dB(A), over what sounds of it; a full sine of 1 kHz is 0."""
    hz, power = _spectrum(samples)
    return total(10 * np.log10(np.maximum(power[1:], 1e-30)) + a_weight(hz[1:]))


def _spectrum(samples: Samples) -> tuple[Levels, Levels]:
    sounding = samples[np.convolve(np.abs(samples), np.ones(480) / 480, "same") > 0.01].astype(np.float64)
    power = np.abs(np.fft.rfft(sounding)) ** 2 * 4 / len(sounding) ** 2
    return np.asarray(np.fft.rfftfreq(len(sounding), 1 / RATE), np.float64), power


def needed(samples: Samples) -> float:
    """The level in dB(A) at a player's ear from which a cue is clearly heard over play: ISO 7731:2003, 5.2.2.

    In one octave or more 10 dB above what is masked there; or in a third of one 13 dB (from memory).
    """
    shape = a_level(samples)
    octaves, thirds = noise(), np.repeat(noise() - 10 * np.log10(3), 3)
    by_octave = masked(octaves, 7.5) + 10 - (bands(samples, 1) - shape)
    by_third = masked(thirds, 2.5) + 13 - (bands(samples, 3) - shape)
    return float(min(by_octave.min(), by_third.min()))
