"""The voice is made for a hall: it is better understood in noise and reverberation, and nothing moves but its pauses."""

from pathlib import Path

import numpy as np
import pytest
from scipy.signal import correlate

from courttimer.sound.carry import BAND, FLOOR, RATIO, carrying, spaced
from courttimer.sound.limiter import CEILING
from courttimer.sound.loudness import integrated, level
from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.peaks import true_peak
from tests.sound.far import understood
from tests.sound.said import SAMPLE, clean, rendered

LOUDER = 3.0
"""Play is so many LU louder than the voice as the machine gives it, its highest peak at our ceiling."""


def tone(seconds: float, dbfs: float, hz: float = 1000.0) -> Samples:
    time = np.arange(round(seconds * RATE)) / RATE
    return (10 ** (dbfs / 20) * np.sin(2 * np.pi * hz * time)).astype(np.float32)


def before_and_after(language: str, folder: Path) -> tuple[tuple[float, float], tuple[float, float]]:
    """STOI and ESTOI of the sample of a language: with its peak at the ceiling and nothing else, and as we play it."""
    phrases = [spaced(clean(file)) for file in rendered(SAMPLE[language], folder, language)]
    plain = [(p * CEILING * 10 ** (-true_peak(p) / 20)).astype(np.float32) for p in phrases]
    ours = [level(carrying(p), integrated) for p in phrases]
    noise = float(np.mean([integrated(p) for p in plain])) + LOUDER
    return understood(phrases, plain, noise), understood(phrases, ours, noise)


def test_in_play_and_reverberation_english_is_better_understood_than_as_the_voice_gives_it(tmp_path: Path) -> None:
    """Measured: STOI from 0.556 to 0.594, ESTOI from 0.164 to 0.325; most of it is loudness under the same peak."""
    before, after = before_and_after("en", tmp_path)
    assert after[0] >= before[0] + 0.03
    assert after[1] >= before[1] + 0.12


@pytest.mark.long
@pytest.mark.parametrize("language", ["es", "de"])
def test_so_are_the_other_languages(language: str, tmp_path: Path) -> None:
    """Measured: Spanish from 0.575 to 0.620 and from 0.202 to 0.331, German from 0.542 to 0.562 and from 0.167 to 0.310."""
    before, after = before_and_after(language, tmp_path)
    assert after[0] >= before[0] + 0.015
    assert after[1] >= before[1] + 0.12


def test_the_measure_knows_noise_from_silence(tmp_path: Path) -> None:
    """The twin: without play the same phrases are understood better, and in play of 20 LU more hardly at all."""
    phrases = [clean(file) for file in rendered(SAMPLE["en"][:3], tmp_path)]
    quiet, loud, deafening = (understood(phrases, phrases, noise)[1] for noise in (-60.0, -15.0, 5.0))
    assert quiet > loud + 0.2
    assert loud > deafening + 0.1
    assert deafening < 0.05


@pytest.mark.parametrize(("hz", "gain"), BAND)
def test_each_frequency_is_as_loud_as_the_band_says(hz: float, gain: float) -> None:
    """Beside a tone of 1 kHz that holds the compression still."""
    both = tone(1.0, -12) + tone(1.0, -12, hz)
    spectrum = np.abs(np.fft.rfft(carrying(both) * np.hanning(RATE))) / np.abs(np.fft.rfft(both * np.hanning(RATE)))
    told = 20 * np.log10(spectrum[round(hz)] / spectrum[1000])
    at_1000 = np.interp(np.log2(1000), np.log2([f for f, _ in BAND]), [g for _, g in BAND])
    assert told == pytest.approx(max(gain, -60) - at_1000, abs=0.6 if gain > -50 else 3)


def test_what_is_no_sound_at_all_is_taken_away() -> None:
    """A recording with an offset, and with the hum of the mains (50 Hz); away from its cut ends."""
    voice = tone(1.0, -12)
    dirty = voice + 0.2 + tone(1.0, -12, 50)
    assert np.abs(carrying(dirty) - carrying(voice))[RATE // 5 : -RATE // 5].max() < 0.01


def test_what_is_soft_is_raised_and_what_is_no_speech_is_not() -> None:
    """Steps of 20 dB become 20 / RATIO, which is 15.4; what lies 40 dB under the rest is pushed below that."""
    steps = carrying(np.concatenate([tone(0.5, -6), tone(0.5, -26), tone(0.5, -66)]))
    levels = [20 * np.log10(np.abs(steps[int((at + 0.1) * RATE) : int((at + 0.4) * RATE)]).max()) for at in (0, 0.5, 1.0)]
    assert levels[0] - levels[1] == pytest.approx(15.4, abs=0.1)
    assert levels[0] - levels[2] > 60 - (1 - 1 / RATIO) * -FLOOR


def test_no_frame_moves(tmp_path: Path) -> None:
    said = clean(rendered(["Thirty seconds."], tmp_path)[0])
    carried = carrying(said)
    assert len(carried) == len(said)
    assert int(np.argmax(correlate(carried, said, "full"))) - (len(said) - 1) == 0


def test_pauses_between_sentences_are_longer_and_words_are_not(tmp_path: Path) -> None:
    pause, closure = np.zeros(RATE * 300 // 1000, np.float32), np.zeros(RATE * 80 // 1000, np.float32)
    word = tone(0.2, 0)
    longer = spaced(np.concatenate([word, closure, word, pause, word]))
    silent = np.flatnonzero(np.abs(longer) <= 0.01)
    runs = [len(run) for run in np.split(silent, np.flatnonzero(np.diff(silent) > 1) + 1) if len(run) > RATE // 100]
    assert runs == pytest.approx([len(closure), len(pause) * 1.4], abs=48)


def test_silence_stays_silent() -> None:
    silence = np.zeros(4800, np.float32)
    assert not carrying(silence).any()
    assert len(spaced(silence)) == 4800
