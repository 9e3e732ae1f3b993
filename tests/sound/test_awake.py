"""The hum that keeps a wireless speaker awake: nobody hears it, and it is never silence."""

import numpy as np
import pytest

from courttimer.sound.awake import HUM_HZ, HUM_LEVEL, PERIOD, hum
from courttimer.sound.mixer import RATE, Samples


def hummed(frames: int, block: int, since: int) -> Samples:
    out = np.zeros(frames, np.float32)
    for frame in range(0, frames, block):
        hum(out[frame : frame + block], frame, since)
    return out


def test_nobody_hears_it() -> None:
    """Threshold of hearing at 20 Hz: 78.1 dB SPL (ISO 226:2023, table of the threshold, from memory), with 15 dB to spare.

    Even from a speaker that gives 120 dB SPL at full scale down to 20 Hz, which none that is carried does.
    """
    assert HUM_HZ == 20
    assert 120 + 20 * np.log10(HUM_LEVEL) < 78.1 - 15


def test_it_is_not_silence_after_any_converter_of_16_bits() -> None:
    steps = np.rint(hummed(2 * RATE, 512, 0) * 32_767)
    assert steps.max() == 33
    longest = max(len(run) for run in "".join("x" if step else " " for step in steps).split("x"))
    assert longest < RATE // 100


@pytest.mark.parametrize(("block", "since"), [(512, 0), (480, 700), (4_096, 5_000), (16_384, 12)])
def test_it_begins_from_zero_and_goes_on_without_a_step_whatever_the_blocks_are(block: int, since: int) -> None:
    out = hummed(3 * RATE, block, since)
    begin = int(np.flatnonzero(out)[0])
    assert since <= begin <= since + PERIOD + 1
    assert np.abs(np.diff(out)).max() <= 2 * np.pi * HUM_HZ / RATE * HUM_LEVEL * 1.01
    assert np.abs(out[begin:]).max() == pytest.approx(HUM_LEVEL, rel=1e-3)


def test_it_is_added_to_what_sounds() -> None:
    out = np.full(PERIOD, 0.5, np.float32)
    hum(out, 0, 0)
    assert out.mean() == pytest.approx(0.5, abs=1e-6)
    assert out.max() == pytest.approx(0.501, abs=1e-4)
