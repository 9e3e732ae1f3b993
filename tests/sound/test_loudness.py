"""Loudness and true peak as the broadcasters measure them: checked against the standard's own signals and a library."""

import numpy as np
import pyloudnorm
import pytest
import scipy.signal
from hypothesis import given, settings, strategies as st

from courttimer.sound.loudness import TARGET, integrated, k_weighted, level, loudest, momentary, short_term
from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.peaks import peaks, stays_below, true_peak

ONE_CHANNEL = 10 * np.log10(2)
"""The standard's signals are in both channels; ours are one."""


def sine(seconds: float, dbfs: float, hz: float = 1000.0) -> Samples:
    time = np.arange(round(seconds * RATE)) / RATE
    return (10 ** (dbfs / 20) * np.sin(2 * np.pi * hz * time)).astype(np.float32)


def row(*parts: tuple[float, float]) -> Samples:
    """Sines of 1 kHz, one after the other: of each its seconds and its dBFS. The phase runs on."""
    gain = np.concatenate([np.full(round(seconds * RATE), 10 ** (dbfs / 20)) for seconds, dbfs in parts])
    return (gain * np.sin(2 * np.pi * 1000 * np.arange(len(gain)) / RATE)).astype(np.float32)


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
    "signal",
    [
        row((20, -23.0)),
        row((10, -36.0), (60, -23.0), (10, -36.0)),
        row((10, -72.0), (10, -36.0), (60, -23.0), (10, -36.0), (10, -72.0)),
        row((20, -26.0), (20.1, -20.0), (20, -26.0)),
    ],
    ids=["1", "3", "4", "5"],
)
def test_the_signals_1_and_3_to_5_of_the_broadcasters_read_23_below(signal: Samples) -> None:
    """EBU Tech 3341, table 1, signals 1, 3, 4, 5: integrated -23.0 LUFS within 0.1 LU."""
    assert integrated(signal) + ONE_CHANNEL == pytest.approx(-23.0, abs=0.1)


@pytest.mark.parametrize(("signal", "lufs"), [(row((20, -23.0)), -23.0), (row((20, -33.0)), -33.0)], ids=["1", "2"])
def test_a_steady_sound_is_as_loud_in_400_ms_as_in_3_s_and_in_all_of_it(signal: Samples, lufs: float) -> None:
    """EBU Tech 3341, table 1, signals 1 and 2: M, S and I within 0.1 LU."""
    assert momentary(signal)[1:] + ONE_CHANNEL == pytest.approx(lufs, abs=0.1)
    assert short_term(signal) + ONE_CHANNEL == pytest.approx(lufs, abs=0.1)
    assert integrated(signal) + ONE_CHANNEL == pytest.approx(lufs, abs=0.1)


def test_there_is_a_new_400_ms_and_a_new_3_s_every_100_ms() -> None:
    """EBU Tech 3341, 2.2: the meter is to be renewed at least ten times a second."""
    assert (len(momentary(sine(1, -20))), len(short_term(sine(4, -20)))) == (7, 11)


def test_signal_9_reads_23_below_in_every_3_s() -> None:
    """EBU Tech 3341, table 1, signal 9: S = -23.0 LUFS, constant after 3 s, within 0.1 LU."""
    signal = row(*[(1.34, -20.0), (1.66, -30.0)] * 5)
    assert short_term(signal) + ONE_CHANNEL == pytest.approx(-23.0, abs=0.1)


def test_signal_12_reads_23_below_in_every_400_ms() -> None:
    """EBU Tech 3341, table 1, signal 12: M = -23.0 LUFS, constant after 1 s, within 0.1 LU."""
    signal = row(*[(0.18, -20.0), (0.22, -30.0)] * 25)
    assert momentary(signal)[6:] + ONE_CHANNEL == pytest.approx(-23.0, abs=0.1)


@pytest.mark.parametrize(
    ("number", "of_rate", "amplitude", "degrees", "dbtp"),
    [(15, 4, 0.5, 0, -6.0), (16, 4, 0.5, 45, -6.0), (17, 6, 0.5, 60, -6.0), (18, 8, 0.5, 67.5, -6.0), (19, 4, 1.41, 45, 3.0)],
)
def test_signals_15_to_19_read_their_true_peak(number: int, of_rate: int, amplitude: float, degrees: float, dbtp: float) -> None:
    """EBU Tech 3341, table 1: a sine of a part of the rate, with that phase; within +0.2 and -0.4 dB. It begins and ends softly."""
    whole = np.arange(RATE)
    soft = np.minimum(1, np.minimum(whole, whole[::-1]) / 2400)
    signal = amplitude * soft * np.sin(2 * np.pi * whole / of_rate + np.radians(degrees))
    assert dbtp - 0.4 <= true_peak(signal.astype(np.float32)) <= dbtp + 0.2, number


def oversampled(samples: Samples, times: int = 16) -> float:
    """The true peak in dBTP by scipy's polyphase filter."""
    filled = np.pad(samples.astype(np.float64), 600)
    return float(20 * np.log10(np.abs(scipy.signal.resample_poly(filled, times, 1, window=("kaiser", 9.0))).max()))


@settings(deadline=None, max_examples=60)
@given(st.integers(0, 1 << 30), st.sampled_from([4_000, 12_000, 18_000]))
def test_the_true_peak_is_that_of_sixteenfold_oversampling(seed: int, highest_hz: int) -> None:
    """Within the tolerance that EBU Tech 3341 gives a meter: +0.2 and -0.4 dB."""
    spectrum = np.fft.rfft(np.random.default_rng(seed).normal(0, 0.3, 4800))
    spectrum[highest_hz // 10 :] = 0
    noise = np.fft.irfft(spectrum).astype(np.float32)
    assert -0.4 <= true_peak(noise) - oversampled(noise) <= 0.2


@settings(deadline=None)
@given(st.integers(0, 1 << 30), st.floats(0.3, 1.2), st.integers(1, 300))
def test_what_plainly_stays_below_does(seed: int, limit: float, smooth: int) -> None:
    """The quick test may say no where it could have said yes, never the other way round."""
    noise = np.convolve(np.random.default_rng(seed).uniform(-1, 1, 2000), np.hanning(smooth + 2)[1:-1] / smooth, "same")
    sound = (noise / np.abs(noise).max()).astype(np.float32)
    assert not stays_below(sound, limit) or peaks(sound).max() < limit


@pytest.mark.parametrize(("of_rate", "degrees"), [(4, 45), (6, 60), (8, 67.5), (3, 90)])
def test_a_sine_that_is_highest_between_its_samples_does_not_plainly_stay_below(of_rate: int, degrees: float) -> None:
    sound = np.sin(2 * np.pi * np.arange(2000) / of_rate + np.radians(degrees)).astype(np.float32)
    assert not stays_below(sound, 0.99 * float(peaks(sound).max()))
    assert stays_below(sound, 2.5)


def test_silence_has_no_peak_and_is_below_everything() -> None:
    assert true_peak(np.zeros(0, np.float32)) == true_peak(np.zeros(100, np.float32)) == -np.inf
    assert stays_below(np.zeros(0, np.float32), 0.1)
    assert stays_below(np.zeros(1, np.float32), 0.1)


@pytest.mark.parametrize("seconds", [0.2, 0.4, 0.6, 1.3, 7])
def test_a_library_reads_the_same(seconds: float) -> None:
    """pyloudnorm, with its filters after De Man; a sound below 400 ms is one block as long as itself, there and here."""
    noise = np.random.default_rng(3).normal(0, 0.1, round(seconds * RATE)).astype(np.float32)
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan", block_size=min(0.4, seconds))
    assert integrated(noise) == pytest.approx(meter.integrated_loudness(noise.astype(np.float64)), abs=0.1)


@pytest.mark.parametrize("measure", [integrated, loudest])
@pytest.mark.parametrize("crest", [1, 10, 20])
def test_levelling_brings_a_sound_to_the_target_and_holds_its_peaks_down(measure: object, crest: int) -> None:
    """Noise of which some moments are up to `crest` times as high as the rest."""
    assert callable(measure)
    noise = np.random.default_rng(4).normal(0, 0.02, RATE)
    noise[::9600] *= crest
    sound = scipy.signal.lfilter(*scipy.signal.butter(2, 4000, fs=RATE), noise).astype(np.float32)
    levelled = level(sound, measure)
    assert (oversampled(sound) - measure(sound) + TARGET > -1) == (crest > 1), "only with crests something must be held down"
    assert measure(levelled) == pytest.approx(TARGET, abs=0.3)
    assert oversampled(levelled) < -1


def test_a_sound_whose_peaks_fit_is_only_made_louder() -> None:
    soft = sine(1, -40)
    levelled = level(soft, loudest)
    assert loudest(levelled) == pytest.approx(TARGET, abs=0.01)
    assert levelled == pytest.approx(soft * (levelled.max() / soft.max()), abs=1e-6)


def test_silence_has_no_loudness_and_stays_silent() -> None:
    silence = np.zeros(RATE, np.float32)
    assert integrated(silence) == loudest(silence) == -np.inf
    assert not level(silence, loudest).any()
    assert integrated(silence[:0]) == -np.inf
