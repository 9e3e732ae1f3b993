"""From what a voice wrote into a file to a phrase: 48 kHz, at the loudness of all phrases, heard from its very first frame."""

import struct
import wave
from io import BytesIO
from pathlib import Path

import numpy as np
import soxr  # type: ignore[import-untyped]  # it carries no types
from numpy.typing import NDArray

from courttimer.sound.carry import carrying, spaced
from courttimer.sound.loudness import BLOCK, integrated, level
from courttimer.sound.mixer import RATE, Samples

HEARD = 0.01
"""−40 dBFS: the first frame above it is the first frame of the phrase, and is what stands on its second in a countdown."""
RISE = 48
"""Within 1 ms it comes up from nothing, so that it does not click."""
TAIL = 480
"""10 ms are kept behind the last frame that is heard, falling to nothing."""


def phrase(file: Path) -> Samples:
    """What a voice rendered, as `made`. Raises ValueError for what is no sound."""
    return made(at_rate(*read(file)))


def at_rate(samples: Samples, rate: int) -> Samples:
    """The samples, of so many frames a second, at 48 kHz."""
    return samples if rate == RATE else soxr.resample(samples, rate, RATE, quality="HQ").astype(np.float32)


def made(samples: Samples, *, spaces: bool = True) -> Samples:
    """Speech at 48 kHz as it is heard in a hall, at the loudness of all cues; empty when nothing in it is heard.

    With `spaces` its pauses are made longer; those of a coach's own recording are meant.
    """
    said = _at_full(samples - samples.mean() if len(samples) else samples)  # an offset is no silence
    said = _at_full(carrying(spaced(said) if spaces else said))
    said = trimmed(level(said, integrated))
    return level(said, integrated) if len(said) < BLOCK else said  # a short one counts by its length, which has changed


def _at_full(samples: Samples) -> Samples:
    """Trimmed, its highest peak at 1: the silence around it is part of neither its loudness nor its length."""
    peak = float(np.abs(samples).max(initial=0.0))
    return trimmed(samples / peak) if peak else samples[:0]


def trimmed(samples: Samples) -> Samples:
    """From the first frame above −40 dBFS to 10 ms after the last one, without a click at either end."""
    heard = np.flatnonzero(np.abs(samples) > HEARD)
    if not len(heard):
        return samples[:0]
    cut = samples[heard[0] : heard[-1] + TAIL].copy()
    rise, fall = min(RISE, len(cut)), min(TAIL, len(cut))
    cut[:rise] *= np.linspace(0, 1, rise, dtype=np.float32)
    cut[-fall:] *= np.linspace(1, 0, fall, dtype=np.float32)
    return cut


def packed(samples: Samples) -> bytes:
    """As they are kept in a file."""
    out = BytesIO()
    np.save(out, samples)
    return out.getvalue()


def read(file: Path) -> tuple[Samples, int]:
    """Samples from −1 to 1, one channel, and frames a second, of a WAV or an AIFF file, whatever its suffix.

    macOS writes AIFF also when it is asked for WAV. Raises ValueError when it is neither, or cut off.
    """
    with file.open("rb") as opened:
        head = opened.read(12)
    try:
        return _aiff(file.read_bytes()) if head[:4] == b"FORM" else _wav(file)
    except (wave.Error, EOFError, struct.error, KeyError) as fault:
        raise ValueError(f"{file.name} is no sound that can be read: {fault}") from None


def _wav(file: Path) -> tuple[Samples, int]:
    with wave.open(str(file), "rb") as opened:
        width, channels, rate = opened.getsampwidth(), opened.getnchannels(), opened.getframerate()
        data = opened.readframes(opened.getnframes())
    if width != 2:
        raise ValueError(f"{file.name} has {8 * width} bits a sample; 16 are expected")
    return _mono(np.frombuffer(data[: len(data) // 2 * 2], "<i2") / 32768, channels), rate


def _aiff(data: bytes) -> tuple[Samples, int]:
    """Audio Interchange File Format 1.3: chunks of a four-letter name, a big-endian length and an even number of bytes."""
    chunks, at = {}, 12
    while at + 8 <= len(data):
        name, size = struct.unpack(">4sI", data[at : at + 8])
        chunks[name] = data[at + 8 : at + 8 + size]
        at += 8 + size + size % 2
    channels, _, bits, exponent, mantissa = struct.unpack(">hIhHQ", chunks[b"COMM"][:18])
    sort = chunks[b"COMM"][18:22]
    rate = round(mantissa * 2.0 ** (exponent - 16383 - 63))
    sound = chunks[b"SSND"][8 + struct.unpack(">I", chunks[b"SSND"][:4])[0] :]
    if sort.lower() == b"fl32":
        return _mono(np.frombuffer(sound[: len(sound) // 4 * 4], ">f4").astype(np.float64), channels), rate
    if bits != 16:
        raise ValueError(f"{bits} bits a sample; 16 are expected")
    order = "<i2" if sort == b"sowt" else ">i2"
    return _mono(np.frombuffer(sound[: len(sound) // 2 * 2], order) / 32768, channels), rate


def _mono(samples: NDArray[np.float64], channels: int) -> Samples:
    whole = samples[: len(samples) // channels * channels].reshape(-1, channels)
    return np.asarray(whole.mean(axis=1), np.float32)
