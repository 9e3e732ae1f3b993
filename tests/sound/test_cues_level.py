"""All that the shipped sessions say, in every language they can be said in, as it is heard: at one loudness, with no click."""

from pathlib import Path

import numpy as np
import pyloudnorm
import pytest
import scipy.signal

from courttimer import locations
from courttimer.plan.model import Voice
from courttimer.practice.sayings import sayings
from courttimer.sound.loudness import TARGET, integrated
from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.phrases import read
from courttimer.sound.voice import prepare, rendering
from tests.sound.shipped import SESSIONS, reading

LANGUAGES = tuple(sorted(path.stem for path in locations.sounds().glob("??.toml")))


@pytest.fixture(scope="module", params=LANGUAGES)
def said(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Samples]:
    voice, folder = Voice(language=request.param), tmp_path_factory.mktemp(request.param)
    phrases = read(locations.sounds(), voice.language, Path(folder))
    texts = sorted({phrases.said(saying) for path in SESSIONS for saying in sayings(reading(path).session)})
    report = prepare(texts, voice, folder)
    assert not report.missing, report
    return {text: np.load(rendering(folder, voice, text)) for text in texts}


@pytest.mark.long
def test_every_phrase_is_at_the_target(said: dict[str, Samples]) -> None:
    """Within 0.5 LU, also words shorter than 400 ms, which count by all of themselves; and within 0.1 LU of pyloudnorm.

    That would count a last block that is not whole: it is cut off.
    """
    assert len(said) > 40
    off = {text: abs(integrated(samples) - TARGET) for text, samples in said.items()}
    assert max(off.values()) < 0.5, max(off, key=off.__getitem__)
    for text, samples in said.items():
        whole = samples if len(samples) < 19_200 else samples[: len(samples) // 4800 * 4800]
        meter = pyloudnorm.Meter(RATE, filter_class="DeMan", block_size=min(0.4, len(whole) / RATE - 1e-9))
        assert integrated(whole) == pytest.approx(meter.integrated_loudness(whole.astype(np.float64)), abs=0.1), text


@pytest.mark.long
def test_no_phrase_has_a_true_peak_above_minus_1(said: dict[str, Samples]) -> None:
    """By sixteenfold oversampling; scipy's filter."""
    for text, samples in said.items():
        filled = np.pad(samples, 600)
        assert 20 * np.log10(np.abs(scipy.signal.resample_poly(filled, 16, 1, window=("kaiser", 9.0))).max()) < -1, text


@pytest.mark.long
def test_no_phrase_clicks_or_is_off_centre(said: dict[str, Samples]) -> None:
    """A click is measured as the step from silence into a phrase and back: 40 dB under full scale. Its mean is 60 dB under."""
    for text, samples in said.items():
        assert max(abs(samples[0]), abs(samples[-1])) < 0.01, text
        assert abs(samples.mean()) < 0.001, text
