"""What a sound from outside, such as a coach's own horn, would be taken for: its rhythm and its pitch, measured from its samples."""

import numpy as np
from numpy.typing import NDArray

from courttimer.sound import patterns
from courttimer.sound.mixer import FRAMES_A_MS, RATE, Samples

EDGES = (6, 12, 20)
"""Silence is what lies so many dB under the loudest: a dry beep tells with each, one in a hall or over noise with one of them."""
_WINDOW = 5
"""ms over which the loudness of each ms is measured."""
_BLUR = 8
"""Edges are measured within so many ms, so a length within twice of it; half of that is allowed on top of the tolerance."""
_SHORTEST = 12
"""Sounds and gaps shorter than so many ms are none."""


def taken_for(samples: Samples) -> str:
    """The danger signal that this sound (mono, 48 kHz) may be taken for, in words; nothing if it is harmless."""
    found = (patterns.taken_for(rhythm(samples, under), blur=_BLUR) for under in EDGES)
    return next((name for name in found if name), "") or _low(samples)


def rhythm(samples: Samples, under: float = EDGES[1]) -> tuple[int, ...]:
    """The runs of a sound: ms of sound, of silence, of sound, …, first and last of sound; none for silence.

    `under`: how many dB under the loudest silence begins.
    """
    level = _levels(samples)
    if not len(level) or level.max() == 0:
        return ()
    sounds = level > level.max() * 10 ** (-under / 10)
    for state in (False, True):
        sounds = _without_short(sounds, state)
    edges = np.flatnonzero(np.diff(sounds.astype(np.int8), prepend=0, append=0))
    return tuple(int(ms) for ms in np.diff(edges))


def _levels(samples: Samples) -> NDArray[np.float64]:
    """The power around each ms."""
    whole = len(samples) // FRAMES_A_MS * FRAMES_A_MS
    power = (samples[:whole].astype(np.float64) ** 2).reshape(-1, FRAMES_A_MS).mean(axis=1)
    return np.convolve(power, np.ones(_WINDOW) / _WINDOW, "same") if len(power) >= _WINDOW else power


def _without_short(sounds: NDArray[np.bool_], state: bool) -> NDArray[np.bool_]:
    """Turn what is in this state for less than _SHORTEST ms into the other."""
    edges = np.flatnonzero(np.diff(sounds.astype(np.int8), prepend=int(not state), append=int(not state)))
    whole = sounds.copy()
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        inside = state or (begin > 0 and end < len(sounds))
        if end - begin < _SHORTEST and inside:
            whole[begin:end] = not state
    return whole


def _low(samples: Samples) -> str:
    """By the strongest frequencies of the whole sound."""
    size = 1 << 15
    spectrum = np.zeros(size // 2 + 1)
    for begin in range(0, max(len(samples) - size // 2, 1), size // 2):
        part = samples[begin : begin + size]
        spectrum += np.abs(np.fft.rfft(part * np.hanning(len(part)), size)) ** 2
    spectrum = np.sqrt(spectrum)
    if not spectrum.any():
        return ""
    inner = spectrum[1:-1]
    tops = 1 + np.flatnonzero((inner >= spectrum[:-2]) & (inner > spectrum[2:]) & (inner > 0.02 * inner.max()))
    return patterns.low_alarm(zip((tops * RATE / size).tolist(), spectrum[tops].tolist(), strict=True))
