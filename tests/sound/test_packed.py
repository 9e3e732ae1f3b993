"""Sound files for a phone: FLAC holds the very samples of the WAV, OGG the same moments, and both as long as the practice."""

import struct
from pathlib import Path

import numpy as np
import pytest
import soundfile

from courttimer.sound.render import SUFFIXES, Heard, write_sound
from tests.sound.gym import Bank
from tests.sound.wishes import placed

UNTIL = 61_000
CUES = [placed("go", 990), placed("end", 30_000), placed("words", 40_000, lasts=1_000, until=42_000, sort="speech", text="Water.")]


@pytest.fixture(name="files")
def _files(tmp_path: Path) -> dict[str, Path]:
    made = {}
    for suffix in SUFFIXES:
        made[suffix] = tmp_path / f"x{suffix}"
        heard = [Heard(placed=p, until=p.until) for p in CUES]
        write_sound(made[suffix], heard, Bank(), UNTIL)  # type: ignore[arg-type]  # a bank of the test's
    return made


def test_flac_holds_the_samples_of_the_wav(files: dict[str, Path]) -> None:
    wav, flac = (soundfile.read(files[suffix], dtype="int16") for suffix in (".wav", ".flac"))
    assert flac[1] == 48_000
    assert np.array_equal(wav[0], flac[0])
    assert wav[0].any()


def test_flac_says_what_it_is(files: dict[str, Path]) -> None:
    """RFC 9639, 6 and 8.2: the marker, then STREAMINFO: rate in 20 bits, channels less one in 3, bits less one in 5, samples in 36."""
    data = files[".flac"].read_bytes()
    (bits,) = struct.unpack(">Q", data[18:26])
    assert data[:4] == b"fLaC"
    assert (bits >> 44, (bits >> 41 & 7) + 1, (bits >> 36 & 31) + 1) == (48_000, 1, 16)
    assert bits & (1 << 36) - 1 == UNTIL * 48


def test_ogg_is_as_long_as_the_practice_and_has_every_cue_on_its_moment(files: dict[str, Path]) -> None:
    sound, rate = soundfile.read(files[".ogg"])
    assert (rate, len(sound)) == (48_000, UNTIL * 48)
    loud = np.flatnonzero(np.diff((np.abs(sound) > 0.1).astype(int), prepend=0) == 1)
    begins = [int(at) for at in loud if not np.abs(sound[at - 4_800 : at - 96]).max() > 0.1]
    assert np.array(begins) / 48 == pytest.approx([p.at for p in CUES], abs=1)


def test_the_last_page_of_the_ogg_tells_its_length(files: dict[str, Path]) -> None:
    """RFC 3533, 6: a page begins with OggS and has at byte 6 its granule position, in Vorbis the number of frames so far."""
    data = files[".ogg"].read_bytes()
    last = data.rindex(b"OggS")
    assert data[:4] == b"OggS"
    assert data[last + 5] & 4, "the end of the stream"
    assert struct.unpack("<q", data[last + 6 : last + 14])[0] == UNTIL * 48


def test_the_suffix_may_be_written_large(tmp_path: Path) -> None:
    write_sound(tmp_path / "X.FLAC", [], Bank(), 1_000)  # type: ignore[arg-type]  # a bank of the test's
    assert (tmp_path / "X.FLAC").read_bytes()[:4] == b"fLaC"
