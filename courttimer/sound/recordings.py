"""From a coach's recording to a phrase, or why it cannot be one."""

from pathlib import Path

import numpy as np
import soundfile

from courttimer.sound.mixer import FRAMES_A_MS, Samples
from courttimer.sound.overheard import taken_for
from courttimer.sound.speech import at_rate, made

LONGEST = 8_000
"""A phrase of ours is no longer either, in ms."""
_SECONDS = 60
"""No more of a file is read."""


def sound_in(file: Path) -> Samples:
    """A WAV, FLAC or OGG file as mono float32 at 48 kHz. Raises ValueError, in words and with a remedy, for what is none."""
    try:
        with soundfile.SoundFile(file) as opened:
            samples, rate = opened.read(_SECONDS * opened.samplerate, "float32", always_2d=True), opened.samplerate
    except (OSError, RuntimeError) as fault:  # soundfile's own errors are RuntimeErrors
        why = str(fault).rpartition(": ")[2].rstrip(".") or type(fault).__name__
        raise ValueError(f"it cannot be read ({why}); save it anew as WAV, FLAC or OGG") from None
    return at_rate(np.asarray(np.nan_to_num(samples).mean(axis=1), np.float32), rate)


def recorded(file: Path) -> Samples:
    """A WAV, FLAC or OGG file as mono float32 at 48 kHz, trimmed, in the band of speech and at the loudness of all phrases.

    Raises ValueError, in words and with a remedy, for what cannot be read, is silent, too long, or may be taken for an alarm.
    """
    sound = sound_in(file)
    said = made(sound, spaces=False)
    if not len(said):
        raise ValueError("nothing is heard in it; record it anew, nearer to the microphone")
    if len(said) > LONGEST * FRAMES_A_MS:
        raise ValueError(f"it is longer than {LONGEST // 1000} s; cut it, or say less")
    if alarm := taken_for(sound):
        raise ValueError(f"it may be taken for {alarm}; record something else")
    return said
