"""Every phrase of ours, in every language, whether a shipped session uses it or not: rendered, and measured with others' meters."""

from pathlib import Path

import numpy as np
import pyloudnorm
import pytest
from scipy.signal import resample_poly

from courttimer.locations import sounds
from courttimer.plan.model import Voice
from courttimer.sound.bank import Bank
from courttimer.sound.loudness import TARGET
from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.phrases import read
from courttimer.sound.voice import prepare
from tests.sound.wishes import placed

BLOCK, STEP = RATE * 2 // 5, RATE // 10
ONSET = RATE // 500
"""A click lasts no longer than 2 ms."""


def loudness(said: Samples) -> float:
    """pyloudnorm, in LUFS; a phrase below 400 ms is one block as long as itself, as loudness.py has it.

    Only whole steps of 100 ms are given to it: it would count the rest as a block that is filled up with silence.
    """
    block = min(BLOCK, len(said))
    whole = said[: block + (len(said) - block) // STEP * STEP].astype(np.float64)
    return float(pyloudnorm.Meter(RATE, filter_class="DeMan", block_size=(block - 0.5) / RATE).integrated_loudness(whole))


def true_peak(said: Samples) -> float:
    """In dBTP, over 8 points a sample, by scipy."""
    return float(20 * np.log10(np.abs(resample_poly(said.astype(np.float64), 8, 1)).max()))


def clicks(said: Samples) -> bool:
    """Whether it begins or ends in mid-air (above −60 dBFS), or its first 2 ms hold a larger step than all the rest of it."""
    steps = np.abs(np.diff(said))
    return bool(max(abs(said[0]), abs(said[-1])) > 0.001 or steps[:ONSET].max() > steps[ONSET:].max())


@pytest.mark.long
@pytest.mark.parametrize("language", ["en", "es", "de"])
def test_every_phrase_is_as_loud_as_the_next_and_clean(language: str, tmp_path: Path) -> None:
    """Within 0.5 LU of the target, below −1 dBTP, no click at either end, no offset above −60 dBFS."""
    phrases = read(sounds(), language)
    texts = dict.fromkeys(phrases.say(name, what="Ada", then="Bea", time=phrases.length(90_000), n=5, m=3) for name in phrases.english)
    voice = Voice(language=language)
    report = prepare(texts, voice, tmp_path)
    assert (report.rendered, report.trouble) == (len(texts), "")
    bank = Bank({}, folder=tmp_path, voice=voice)
    wrong = {}
    for text in texts:
        said = bank.samples(placed("x", 0, sort="speech", text=text))
        assert said is not None
        found = (round(loudness(said) - TARGET, 2), round(true_peak(said), 2), clicks(said), round(float(said.mean()), 4))
        if abs(found[0]) > 0.5 or found[1] > -1 or found[2] or abs(found[3]) >= 0.001:
            wrong[text] = found
    assert not wrong


def test_the_measure_hears_a_click() -> None:
    soft = (0.1 * np.sin(np.arange(RATE) / 40) * np.hanning(RATE)).astype(np.float32)
    assert not clicks(soft)
    for at in (0, 20, len(soft) - 1):
        clicked = soft.copy()
        clicked[at] = 0.05
        assert clicks(clicked)
