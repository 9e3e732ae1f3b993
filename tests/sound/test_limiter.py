"""The limiter: whatever is mixed stays under -1 dBTP, on its own frames, however it is cut into blocks."""

from collections.abc import Sequence

import numpy as np
import pytest
import scipy.signal
from hypothesis import given, settings, strategies as st
from numpy.typing import NDArray

from courttimer.sound import limiter
from courttimer.sound.limiter import AHEAD, ATTACK, CEILING, HOLD, PAST, Limiter, limited
from courttimer.sound.mixer import RATE, Mixer, Samples
from tests.sound.test_mixer import block_sizes, cut, play

TIME = np.arange(RATE // 2) / RATE


def oversampled(samples: Samples) -> float:
    """The true peak in dBTP by sixteenfold oversampling; scipy's polyphase filter, sharp up to 21 kHz."""
    filled = np.pad(samples.astype(np.float64), 600)
    return float(20 * np.log10(np.abs(scipy.signal.resample_poly(filled, 16, 1, window=("kaiser", 9.0))).max()))


def band(seed: int, hz: int, height: float) -> Samples:
    """Noise of all frequencies up to this one."""
    spectrum = np.fft.rfft(np.random.default_rng(seed).normal(0, height, len(TIME)))
    spectrum[hz // 2 :] = 0
    return np.fft.irfft(spectrum).astype(np.float32)


def wave(hz: float, height: float, phase: float = 0.0) -> NDArray[np.float64]:
    return height * np.sin(2 * np.pi * hz * TIME + phase)


WORST = {
    "noise to 20 kHz, 15 dB too loud": band(1, 20_000, 1.5),
    "noise to 8 kHz": band(2, 8_000, 2.0),
    "peaks between the samples": wave(12_000, 1.41, np.pi / 4),
    "a rectangle": 1.5 * np.sign(wave(523, 1)),
    "clicks out of silence": np.where(np.arange(len(TIME)) % 5000 == 4000, 3.0, 0.0),
    "a horn that begins at once": np.where(TIME > 0.2, wave(1000, 1.4), 0.0),
    "a low voice": np.maximum(wave(90, 2), 0) * wave(700, 1),
}


@pytest.mark.parametrize("sound", WORST.values(), ids=WORST.keys())
def test_whatever_is_mixed_its_true_peak_stays_under_minus_1(sound: NDArray[np.float64]) -> None:
    """ITU-R BS.1770-4, Annex 2; EBU R 128: -1 dBTP."""
    loud = sound.astype(np.float32)
    assert oversampled(loud) > 0
    assert -4 < oversampled(limited(loud)) < -1


def test_cues_over_one_another_at_full_volume_stay_under_minus_1() -> None:
    mixer = Mixer()
    mixer.volume(12, 12)
    for n in range(6):
        mixer.queue(str(n), 3000 * n, band(n, 6000, 0.3), speech=n % 2 == 0)
    assert oversampled(play(mixer, cut([512], 40_000))) < -1


def test_without_the_limiter_they_would_not(monkeypatch: pytest.MonkeyPatch) -> None:
    def open_wide(self: Limiter, fresh: Samples, out: Samples) -> None:
        out[:] = fresh[: len(out)]

    monkeypatch.setattr(Limiter, "through", open_wide)
    with pytest.raises(AssertionError):
        test_cues_over_one_another_at_full_volume_stay_under_minus_1()


def test_what_is_low_enough_is_not_touched() -> None:
    soft = (band(3, 20_000, 1.0) * 0.2).astype(np.float32)
    assert oversampled(soft) < -1.5
    assert np.array_equal(limited(soft), soft)


def test_no_frame_moves_and_none_changes_its_sign() -> None:
    loud = band(4, 20_000, 1.5)
    low = limited(loud)
    gain = low[loud != 0] / loud[loud != 0]
    assert gain.min() > 0.1
    assert gain.max() <= 1


def test_the_gain_glides_down_5_ms_before_a_peak_and_comes_back_within_30() -> None:
    """Checked on a sound that is nearly nothing but one peak: what is heard of the rest is the gain."""
    sound = np.full(9000, 1e-3, np.float32)
    sound[4000] = 2.0
    gain = limited(sound) / sound
    lower = np.flatnonzero(gain < 1 - 1e-6)
    assert 4000 - ATTACK - 2 <= lower[0] <= 4000 - ATTACK + 20
    assert lower[-1] <= 4000 + HOLD + ATTACK + 8
    assert gain[4000] == pytest.approx(CEILING / 2, rel=1e-3)
    assert np.abs(np.diff(gain)).max() <= 2 * (1 - CEILING / 2) / ATTACK * 1.1


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 99), block_sizes)
def test_any_block_sizes_give_the_same_samples(seed: int, sizes: list[int]) -> None:
    sound = band(seed, 20_000, 1.0)[:6000]
    assert np.array_equal(in_blocks(sound, cut(sizes, 6000)), limited(sound))


def in_blocks(sound: Samples, blocks: Sequence[int]) -> Samples:
    rest, heard, told, gone = Limiter(), [], 0, 0
    sound = np.pad(sound, (0, AHEAD))
    for size in blocks:
        gone += size
        heard.append(np.zeros(size, np.float32))
        rest.through(sound[told : gone + AHEAD], heard[-1])
        told = gone + AHEAD
    return np.concatenate(heard)


def test_the_slice_test_sees_a_limiter_that_forgets_between_blocks(monkeypatch: pytest.MonkeyPatch) -> None:
    class Forgetful(Limiter):
        def through(self, fresh: Samples, out: Samples) -> None:
            super().through(fresh, out)
            self._needs = np.full_like(self._needs, 1 << 30)

    sound = band(5, 20_000, 1.0)[:6000]
    monkeypatch.setattr("tests.sound.test_limiter.Limiter", Forgetful)
    assert not np.array_equal(in_blocks(sound, cut([512], 6000)), limited(sound))


@pytest.mark.parametrize("gap", [200, 700, PAST - 300, PAST + 300])
def test_the_gain_comes_back_the_same_way_through_a_silence_that_is_whole_blocks(gap: int) -> None:
    """A mixer does nothing where nothing sounds; but a sound soon after a loud one is still under its gain."""

    def two() -> Mixer:
        mixer = Mixer()
        mixer.queue("loud", 0, np.full(100, 2.0, np.float32))
        mixer.queue("soft", 100 + gap, band(8, 20_000, 0.1)[:2000])
        return mixer

    assert np.array_equal(play(two(), cut([50], 4000)), play(two(), [4000]))


@pytest.mark.parametrize("change", [PAST + 1, AHEAD + 1])
def test_a_frame_knows_only_what_lies_near_it(change: int) -> None:
    """So a player may leave out what is silent, and a block may begin anywhere."""
    sound = band(6, 20_000, 1.0)[:8000]
    other = sound.copy()
    at = 4000 - change if change > AHEAD + 1 else 4000 + change
    other[at] += 3
    assert limited(other)[4000] == limited(sound)[4000]


def test_the_quick_way_through_quiet_blocks_gives_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    sound = band(7, 20_000, 0.5) * np.linspace(0, 2, len(TIME)).astype(np.float32)
    quick = limited(sound)
    monkeypatch.setattr(limiter, "stays_below", lambda samples, limit: False)
    assert np.array_equal(limited(sound), quick)
