"""Keeps whatever is mixed under -1 dBTP, and moves no frame: it is told what comes AHEAD frames before it has to answer.

The gain of a frame is a fixed function of the sound from PAST frames before it to AHEAD frames after it, so it cannot depend on
how the sound is cut into blocks:

1. What each frame needs: 1, or less where the true peak from there to the next frame is above the ceiling.
2. The least of what is needed from HOLD frames before to ATTACK frames after.
3. Two running means over that, together as long as the attack. So the gain glides, and has arrived where it is needed.

Gains are whole numbers of 2^-30: a running mean of whole numbers does not depend on where it was begun, one of floats does.
"""

import numpy as np
from numpy.typing import NDArray

from courttimer.sound.peaks import AFTER, BEFORE, peaks, stays_below

CEILING = 10 ** (-1.25 / 20)
"""-1.25 dB at four points a sample: between these a wave of 12 kHz may go 0.17 dB higher, and nothing may go above -1 dBTP."""
ATTACK = 232
"""Frames in which the gain glides down to where it is needed."""
HOLD = 960
"""It stays down for 20 ms, so that it does not follow the waves of a low voice."""
AHEAD = ATTACK + AFTER
"""The look-ahead: 240 frames, 5 ms. Who feeds the limiter must know what sounds so long before it is heard."""
PAST = HOLD + ATTACK + 2
_MEAN = ATTACK // 2 + 1
_ONE = 1 << 30

Samples = NDArray[np.float32]


class Limiter:
    """Lives as long as a row of frames without a gap; what came before its first frame was silence."""

    def __init__(self) -> None:
        self._sound: Samples = np.zeros(BEFORE + AFTER, np.float32)
        """From BEFORE + AFTER frames before the next one that goes out, to the last that was told."""
        self._needs = np.full(PAST - AFTER - 1, _ONE, np.int32)

    def through(self, fresh: Samples, out: Samples) -> None:
        """Take the next frames of the mix, and write the next of what is heard: those that lie AHEAD frames before.

        The first call brings AHEAD frames more than it asks for, every later one as many.
        """
        sound = np.concatenate([self._sound, fresh])
        needs = np.concatenate([self._needs, _needs(sound[len(self._sound) - BEFORE - AFTER :])])
        heard, gone = sound[BEFORE + AFTER : BEFORE + AFTER + len(out)], len(out)
        if needs.min(initial=_ONE) == _ONE:
            out[:] = heard
        else:
            np.multiply(heard, _gains(needs), out=out)
        self._sound, self._needs = sound[gone:], needs[gone:]


def limited(samples: Samples) -> Samples:
    """A whole sound, with silence around it; same length."""
    return held(samples, outline(samples))


def outline(samples: Samples) -> Samples:
    """How high a whole sound goes, as `held` wants it: of every frame from AFTER before its first to ATTACK after its last."""
    return peaks(np.pad(samples, (BEFORE + AFTER, AHEAD)))


def held(samples: Samples, outline: Samples, gain: float = 1.0) -> Samples:
    """A whole sound, `gain` times as high, and limited."""
    needs = np.concatenate([np.full(PAST - AFTER - 1, _ONE, np.int32), _needed(outline * np.float32(gain))])
    out: Samples = samples * np.float32(gain) * _gains(needs)
    return out


def _needs(sound: Samples) -> NDArray[np.int32]:
    """The gain that each frame needs by itself; of BEFORE + AFTER frames fewer than are given."""
    if stays_below(sound, CEILING):
        return np.full(len(sound) - BEFORE - AFTER, _ONE, np.int32)
    return _needed(peaks(sound))


def _needed(highest: Samples) -> NDArray[np.int32]:
    needs = np.full(len(highest), _ONE, np.int32)
    above = np.flatnonzero(highest > CEILING)
    needs[above] = np.floor(CEILING / highest[above].astype(np.float64) * _ONE)
    return needs


def _gains(needs: NDArray[np.int32]) -> Samples:
    least = _least(needs, HOLD + ATTACK + 2)
    return (_mean(_mean(least)) / _ONE).astype(np.float32)


def _least(values: NDArray[np.int32], width: int) -> NDArray[np.int32]:
    """The least of every so many in a row."""
    covered = 1
    while covered < width:
        step = min(covered, width - covered)
        values = np.minimum(values[:-step], values[step:])
        covered += step
    return values


def _mean(values: NDArray[np.int32]) -> NDArray[np.int32]:
    """The mean of every _MEAN in a row, rounded down."""
    sums = np.pad(np.cumsum(values, dtype=np.int64), (1, 0))
    return ((sums[_MEAN:] - sums[:-_MEAN]) // _MEAN).astype(np.int32)
