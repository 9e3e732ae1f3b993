"""Our frames at a card's own rate: nothing but the rate changes, and by how much it is late is known."""

import numpy as np
import pytest
from scipy.signal import resample_poly

from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.rates import BEHIND, Rate

RATES = [16_000, 22_050, 32_000, 44_100, 88_200, 96_000, 192_000]


def turned(rate: Rate, sound: Samples) -> Samples:
    blocks = len(sound) // rate.taken
    return np.concatenate([rate.turn(sound[n * rate.taken : (n + 1) * rate.taken]) for n in range(blocks)])


def chord(hz: tuple[float, ...], rate: int, seconds: float = 1.0, late: float = 0.0) -> Samples:
    time = np.arange(round(seconds * rate)) / rate - late
    return np.asarray(sum(0.3 * np.sin(2 * np.pi * f * time) for f in hz), np.float32)


@pytest.mark.parametrize("hz", RATES)
def test_a_block_of_the_cards_is_a_whole_number_of_our_frames(hz: int) -> None:
    rate = Rate(hz)
    assert rate.block * RATE == rate.taken * hz
    assert 100 <= rate.block <= 1_024


@pytest.mark.parametrize("hz", RATES)
def test_a_chord_below_half_the_cards_rate_is_the_same_chord_a_known_moment_later(hz: int) -> None:
    tones = (523.0, 1_046.0, 2_503.0)
    made = turned(Rate(hz), chord(tones, RATE))
    wanted = chord(tones, hz, late=BEHIND / RATE)
    middle = slice(hz // 10, len(made) - hz // 10)
    assert np.abs(made[middle] - wanted[: len(made)][middle]).max() < 2e-4


def test_it_agrees_with_scipy() -> None:
    """scipy.signal.resample_poly, whose own low-pass has no delay, on noise without what the card cannot play."""
    noise = np.random.default_rng(1).normal(0, 0.1, RATE).astype(np.float32)
    low = resample_poly(resample_poly(noise, 1, 4), 4, 1).astype(np.float32)
    made = turned(Rate(96_000), low)[2 * BEHIND :]
    other = resample_poly(low, 2, 1)[: len(made)]
    assert np.abs(made[1_000:-1_000] - other[1_000:-1_000]).max() < 2e-3


@pytest.mark.parametrize("hz", [16_000, 32_000])
def test_what_the_card_cannot_play_is_left_out_and_not_folded_down(hz: int) -> None:
    made = turned(Rate(hz), chord((hz * 0.7,), RATE))
    assert np.abs(made[hz // 10 :]).max() < 1e-3
