"""Whether the tones are told apart by their rhythm alone where it is loud and rings: by loudness over time, deaf to pitch."""

import numpy as np
import pytest
import scipy.signal
from numpy.typing import NDArray

from courttimer import locations
from courttimer.sound.mixer import RATE
from courttimer.sound.recipes import Recipe, read
from courttimer.sound.tones import render
from tests.sound.play import NOISE, OCTAVES, PLAY, a_level, a_weight

RECIPES = read(locations.sounds() / "tones.toml")
LEVEL = 90.0
"""dB(A) of each tone at the ear, 5 dB above play."""
RINGS, FAR = 2.0, 2.0
"""Seconds until the hall's ringing has fallen by 60 dB; and how many times as much energy comes from the hall as from the speaker."""
STEP, LASTS = RATE // 100, 230
"""Loudness is looked at every 10 ms; every tone and its ringing for so many of these."""
Sound = NDArray[np.float64]


def hall(chance: np.random.Generator) -> Sound:
    time = np.arange(round(RINGS * RATE)) / RATE
    rings = chance.normal(0, 1, len(time)) * 10 ** (-3 * time / RINGS)
    rings *= np.sqrt(FAR / np.sum(rings**2))
    rings[0] += 1
    return np.asarray(rings / np.sqrt(1 + FAR))


def play(frames: int, chance: np.random.Generator) -> Sound:
    """The noise of tests/sound/play.py as a sound."""
    hz = np.asarray(np.fft.rfftfreq(frames, 1 / RATE), np.float64)
    shape = np.interp(np.log2(np.maximum(hz, 20)), np.log2(OCTAVES), np.array(NOISE) - 10 * np.log10(OCTAVES))
    spectrum = np.fft.rfft(chance.normal(0, 1, frames)) * 10 ** (shape / 20)
    power = np.abs(spectrum[1:]) ** 2 * 4 / frames**2 * 10 ** (a_weight(hz[1:]) / 10)
    return np.asarray(np.fft.irfft(spectrum, frames) * 10 ** ((PLAY - 10 * np.log10(power.sum())) / 20))


def loudness(sound: Sound) -> Sound:
    """The power of every 10 ms, from 600 Hz to 3 kHz."""
    band = scipy.signal.sosfilt(scipy.signal.butter(4, [600, 3000], "band", fs=RATE, output="sos"), sound)
    return np.asarray((band[: len(band) // STEP * STEP].reshape(-1, STEP) ** 2).mean(axis=1))


def expected(recipe: Recipe) -> Sound:
    """The same, worked out from the rhythm and the hall's two numbers."""
    on = np.concatenate([np.full(ms, n % 2 == 0) for n, ms in enumerate(recipe.runs)])
    steps = np.pad(on, (0, 10 * LASTS - len(on))).reshape(LASTS, 10).mean(axis=1)
    rings = 10 ** (-6 * np.arange(LASTS) * STEP / RATE / RINGS)
    rings *= FAR / rings.sum()
    rings[0] += 1
    return np.convolve(steps, rings)[:LASTS]


def guess(heard: Sound) -> str:
    """Whose expected loudness goes best with what is heard, wherever it begins."""
    fits = {name: max(float(np.corrcoef(heard[at : at + LASTS], e)[0, 1]) for at in range(50)) for name, e in EXPECTED.items()}
    return max(fits, key=fits.__getitem__)


EXPECTED = {name: expected(recipe) for name, recipe in RECIPES.items()}


@pytest.mark.long
def test_most_tones_are_known_by_their_rhythm_alone_over_play_in_a_hall_that_rings_for_2_s() -> None:
    """Seven of eight, of 64; by chance it would be one of eight. Players have the pitch and the drill to go by as well."""
    chance, right = np.random.default_rng(0), 0
    for name in [*RECIPES] * 8:
        tone = render(RECIPES[name])
        loud = tone.astype(np.float64) * 10 ** ((LEVEL - a_level(tone)) / 20)
        dry = np.pad(loud, (int(chance.integers(4_800, 20_000)), 3 * RATE))
        wet = scipy.signal.fftconvolve(dry, hall(chance))[: len(dry)]
        right += guess(loudness(wet + play(len(wet), chance))) == name
    assert right >= 56
