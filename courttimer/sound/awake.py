"""What keeps a wireless speaker awake: a hum that nobody hears, and that is not silence.

Such speakers switch themselves off, or into a sleep from which they need a second, when nothing has come for a while.

20 Hz at -60 dBFS. At 20 Hz nobody hears less than 78 dB SPL (ISO 226:2023, threshold of hearing, from memory). A speaker that gave
its loudest, 120 dB SPL, as low as that would give 60 dB; those that are carried into a gym give next to nothing there.
"""

import numpy as np

from courttimer.sound.mixer import RATE, Samples

HUM_HZ = 20
HUM_LEVEL = 0.001
"""Its highest sample: 33 steps of 16 bits, so that no converter rounds it away."""
PERIOD = RATE // HUM_HZ

LONGEST = 16_384
"""Frames; no block is longer."""
_HUM: Samples = (HUM_LEVEL * np.sin(2 * np.pi * np.arange(PERIOD + LONGEST) / PERIOD)).astype(np.float32)


def hum(out: Samples, frame: int, since: int) -> None:
    """Add the hum to a block whose first frame is `frame`. It begins at the first whole period after `since`, from zero."""
    begin = max(-(-since // PERIOD) * PERIOD, frame)
    if begin < frame + len(out):
        phase = begin % PERIOD
        out[begin - frame :] += _HUM[phase : phase + frame + len(out) - begin]
