"""Loudness as the broadcasters measure it: checked against the standard's own signals and a library."""

import numpy as np
import pyloudnorm
import pytest

from courttimer.sound.loudness import PEAK, integrated, k_weighted, level, loudest
from courttimer.sound.mixer import DUCK, RATE, Samples

ONE_CHANNEL = 10 * np.log10(2)
"""The standard's signals are in both channels; ours are one."""


def sine(seconds: float, dbfs: float, hz: float = 1000.0) -> Samples:
    time = np.arange(round(seconds * RATE)) / RATE
    return (10 ** (dbfs / 20) * np.sin(2 * np.pi * hz * time)).astype(np.float32)


def test_a_full_sine_of_997_hz_in_one_channel_is_3_01_below_zero() -> None:
    """ITU-R BS.1770-4, Annex 1."""
    assert integrated(sine(5, 0, 997)) == pytest.approx(-3.01, abs=0.01)


@pytest.mark.parametrize(("hz", "db"), [(31.5, -7.79), (100, -1.13), (500, 0.04), (1000, 0.698), (2000, 3.07), (8000, 4.04)])
def test_the_ear_is_weighed_as_the_filters_of_bs_1770_do(hz: float, db: float) -> None:
    """Gains computed from the coefficients of ITU-R BS.1770-4, tables 1 and 2, by another way: on the unit circle."""
    tone = sine(2, 0, hz)
    middle = slice(RATE // 2, 3 * RATE // 2)
    gain = 10 * np.log10((k_weighted(tone)[middle] ** 2).mean() / (tone[middle].astype(np.float64) ** 2).mean())
    assert gain == pytest.approx(db, abs=0.02)


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        ([(20, -23.0)], -23.0),
        ([(20, -33.0)], -33.0),
        ([(10, -36.0), (60, -23.0), (10, -36.0)], -23.0),
        ([(10, -72.0), (10, -36.0), (60, -23.0), (10, -36.0), (10, -72.0)], -23.0),
        ([(20, -26.0), (20.1, -20.0), (20, -26.0)], -23.0),
    ],
)
def test_the_signals_1_to_5_of_the_broadcasters_read_what_they_must(parts: list[tuple[float, float]], expected: float) -> None:
    """EBU Tech 3341, table 1, signals 1 to 5: within 0.1 LU."""
    signal = np.concatenate([sine(seconds, dbfs) for seconds, dbfs in parts])
    assert integrated(signal) + ONE_CHANNEL == pytest.approx(expected, abs=0.1)


def test_pulses_of_signal_12_read_23_below_in_every_400_ms() -> None:
    """EBU Tech 3341, table 1, signal 12: momentary loudness -23.0 within 0.1 LU."""
    signal = np.concatenate([np.concatenate([sine(0.18, -20), sine(0.22, -30)]) for _ in range(25)])
    assert loudest(signal) + ONE_CHANNEL == pytest.approx(-23.0, abs=0.1)


@pytest.mark.parametrize("seconds", [0.2, 0.4, 0.6, 1.3, 7])
def test_a_library_reads_the_same(seconds: float) -> None:
    """pyloudnorm, with its filters after De Man; a sound below 400 ms is one block as long as itself, there and here."""
    noise = np.random.default_rng(3).normal(0, 0.1, round(seconds * RATE)).astype(np.float32)
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan", block_size=min(0.4, seconds))
    assert integrated(noise) == pytest.approx(meter.integrated_loudness(noise.astype(np.float64)), abs=0.1)


def test_levelling_brings_a_sound_to_its_loudness_unless_its_peak_forbids() -> None:
    soft = sine(1, -40)
    assert loudest(level(soft, loudest(soft), -20.0)) == pytest.approx(-20.0, abs=0.01)
    click = soft.copy()
    click[100] = 0.5
    assert np.abs(level(click, loudest(click), -3.0)).max() == pytest.approx(PEAK)


def test_silence_has_no_loudness_and_stays_silent() -> None:
    silence = np.zeros(RATE, np.float32)
    assert integrated(silence) == loudest(silence) == -np.inf
    assert not level(silence, loudest(silence), -12.0).any()
    assert integrated(silence[:0]) == -np.inf


def test_a_tone_over_ducked_speech_stays_under_minus_1_dbfs() -> None:
    assert 20 * np.log10(PEAK + PEAK * DUCK) < -1
