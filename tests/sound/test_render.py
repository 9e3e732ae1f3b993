"""The tape of a rehearsal: every tone in the sound file begins on the frame that its line in the list of cues says."""

import json
import re
import tempfile
import wave
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from courttimer import locations
from courttimer.practice.cue import Placed
from courttimer.rehearsal import write
from courttimer.sound.mixer import FADE
from courttimer.sound.recipes import read
from courttimer.sound.render import Heard, Tape, cues_json, cues_vtt, write_sound
from courttimer.sound.tones import render
from tests.sound import shipped
from tests.sound.gym import Bank
from tests.sound.wishes import placed

Pcm = NDArray[np.int16]
TONES = {name: np.rint(render(recipe) * 32767) for name, recipe in read(locations.sounds() / "tones.toml").items()}


def samples(path: Path) -> Pcm:
    """Of a sound file, without reading all of it."""
    with wave.open(str(path)) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, 48_000)
        frames = file.getnframes()
    assert path.stat().st_size == 44 + 2 * frames
    return np.memmap(path, "<i2", "r", offset=44)


def lag(sound: Pcm, name: str, frame: int) -> int:
    """How many frames after `frame` the tone of that name really begins: where the file is nearest to it, of 200 to either side."""
    tone = TONES[name][:3000]
    here = np.pad(sound[max(frame - 200, 0) : frame + len(tone) + 200].astype(float), (max(200 - frame, 0), 0))
    windows = np.lib.stride_tricks.sliding_window_view(here, len(tone))
    return int(np.argmin(((windows - tone) ** 2).sum(axis=1))) - 200


@pytest.fixture(scope="module")
def evening() -> Iterator[tuple[list[dict[str, Any]], Pcm]]:
    """The shipped practice of 75 minutes of floor time: its cues, and its sound."""
    played = shipped.played(locations.sessions() / "team-practice.toml")
    with tempfile.TemporaryDirectory() as folder:
        wav, cues = Path(folder) / "x.wav", Path(folder) / "x.json"
        write(played, wav=wav, cues=cues, journal=None)
        yield json.loads(cues.read_text(encoding="utf-8")), samples(wav)


def test_every_tone_of_75_minutes_is_0_frames_off(evening: tuple[list[dict[str, Any]], Pcm]) -> None:
    cues, sound = evening
    tones = [c for c in cues if c["sort"] == "tone"]
    assert len(sound) > 65 * 60 * 48_000
    assert len(tones) > 50
    assert {lag(sound, c["name"], c["at_ms"] * 48) for c in tones} == {0}


def test_every_tone_of_75_minutes_is_its_recipe_sample_for_sample_and_no_tone_is_covered(
    evening: tuple[list[dict[str, Any]], Pcm],
) -> None:
    """No words are rendered here, so nothing but tones may be in the file."""
    cues, sound = evening
    tones = [c for c in cues if c["sort"] == "tone"]
    for cue in tones:
        tone = TONES[cue["name"]][: (cue["until_ms"] - cue["at_ms"]) * 48]
        whole = len(tone) if len(tone) == len(TONES[cue["name"]]) else len(tone) - FADE
        assert np.array_equal(sound[cue["at_ms"] * 48 :][:whole], tone[:whole])
    for one, other in pairwise(tones):
        assert one["until_ms"] <= other["at_ms"]
        assert not sound[one["until_ms"] * 48 : other["at_ms"] * 48].any(), "and silence between them"


def test_the_test_sees_a_tone_that_is_one_frame_off() -> None:
    """The twin: the same measure on a file whose tone begins a frame late."""
    sound = np.zeros(20_000, np.int16)
    sound[5001 : 5001 + len(TONES["open"])] = TONES["open"]
    assert lag(sound, "open", 5000) == 1


@pytest.mark.parametrize("name", ["first-practice.toml", "team-practice.toml", "workout-alone.toml"])
def test_in_every_shipped_session_no_words_meet_and_no_tone_is_covered(name: str) -> None:
    heard = shipped.played(locations.sessions() / name).tape.heard()
    words = [h for h in heard if h.placed.cue.sort == "speech"]
    tones = [h for h in heard if h.placed.cue.sort == "tone"]
    assert words
    assert all(a.until <= b.placed.at for a, b in pairwise(words))
    assert all(a.until <= b.placed.at for a, b in pairwise(tones))
    for w in words:
        assert w.placed.cue.at <= w.placed.at
        assert w.until <= w.placed.cue.until
        under = [t for t in tones if t.placed.at < w.until and w.placed.at < t.until]
        assert [a for a, _ in w.placed.duck] == [max(t.placed.at, w.placed.at) for t in under]


# The tape.


def kept(tape: Tape) -> list[tuple[str, int, int]]:
    return [(h.placed.text or h.placed.cue.name, h.placed.at, h.until) for h in tape.heard()]


WORDS = placed("words", 1000, lasts=2000, until=9000, sort="speech", text="Where to go")


def test_what_was_wished_for_when_its_moment_came_was_heard() -> None:
    tape = Tape()
    tape.want((placed("go", 500), placed("end", 2000)), now=0)
    tape.want((placed("end", 2100),), now=1000)
    tape.want((), now=5000)
    assert kept(tape) == [("go", 500, 800), ("end", 2100, 2400)]


def test_a_hold_fades_words_lets_tones_finish_and_brings_nothing_new() -> None:
    tape = Tape()
    tape.want((WORDS, placed("go", 1100), placed("end", 1200)), now=0)
    tape.want((), now=1150, hush="hold")
    tape.want((), now=9000)
    assert kept(tape) == [("Where to go", 1000, 1170), ("go", 1100, 1400)]


def test_a_halt_fades_everything_within_20_ms() -> None:
    tape = Tape()
    tape.want((WORDS, placed("go", 1100)), now=0)
    tape.want((), now=1150, hush="halt")
    tape.want((), now=9000)
    assert kept(tape) == [("Where to go", 1000, 1170), ("go", 1100, 1170)]


def test_words_due_at_the_very_moment_of_a_hold_are_not_begun() -> None:
    tape = Tape()
    tape.want((WORDS, placed("end", 1000)), now=0)
    tape.want((), now=1000, hush="hold")
    assert kept(tape) == [("end", 1000, 1300)]


def test_what_has_begun_is_cut_off_or_ducked_as_the_air_says_later() -> None:
    tape = Tape()
    cut = placed("close", 1000, lasts=394)
    tape.want((cut, WORDS), now=0)
    ducked = placed("words", 1000, lasts=2000, until=9000, sort="speech", text="Where to go", duck=((1200, 1500),))
    tape.want((placed("close", 1000, lasts=200), placed("end", 1200), ducked), now=1100)
    tape.want((), now=9000)
    assert kept(tape) == [("close", 1000, 1200), ("Where to go", 1000, 3000), ("end", 1200, 1500)]
    assert tape.heard()[1].placed.duck == ((1200, 1500),)


# The files.


def heard(*cues: Placed) -> list[Heard]:
    return [Heard(placed=p, until=p.until) for p in cues]


def test_a_tone_that_another_cuts_off_is_silent_when_that_one_begins(tmp_path: Path) -> None:
    write_sound(tmp_path / "x.wav", heard(placed("go", 100, lasts=60)), Bank(), 1000)  # type: ignore[arg-type]  # a bank of the test's
    sound = samples(tmp_path / "x.wav")
    assert sound[100 * 48 : 160 * 48].any()
    assert not sound[160 * 48 :].any()


def test_the_file_lasts_to_the_end_and_tells_no_sound_twice(tmp_path: Path) -> None:
    write_sound(tmp_path / "x.wav", heard(placed("go", 990)), Bank(), 5000)  # type: ignore[arg-type]  # a bank of the test's
    sound = samples(tmp_path / "x.wav")
    assert len(sound) == 5000 * 48
    assert np.flatnonzero(sound)[0] // 48 == 990


def test_the_list_of_cues_has_every_field_of_every_cue() -> None:
    go = placed("go", 990, group="g")
    assert json.loads(cues_json(heard(go, WORDS))) == [
        {
            "id": "0.0.go.0", "group": "g", "lane": 0, "at_ms": 990, "until_ms": 1290, "sort": "tone", "name": "go",
            "also": [], "text": "", "segment": 0, "if_late": "play",
        },
        {
            "id": "0.0.words.0", "group": "0.words.0.1000", "lane": 0, "at_ms": 1000, "until_ms": 3000, "sort": "speech",
            "name": "words", "also": [], "text": "Where to go", "segment": 0, "if_late": "play",
        },
    ]  # fmt: skip


def test_subtitles_are_webvtt() -> None:
    """W3C WebVTT, section 4.1: a header line, then blocks of identifier, timings and text, with & < > escaped (from memory)."""
    say = placed("words", 3_723_004, lasts=1000, sort="speech", text="Blue & red: 2 < 3, 3 > 2 --> go")
    head, *blocks = cues_vtt(heard(placed("go", 990), say)).rstrip("\n").split("\n\n")
    assert head == "WEBVTT"
    assert blocks == [
        "0.0.go.0\n00:00:00.990 --> 00:00:01.290\n[go]",
        "0.0.words.0\n01:02:03.004 --> 01:02:04.004\nBlue &amp; red: 2 &lt; 3, 3 &gt; 2 --&gt; go",
    ]
    timing = r"\d{2,}:[0-5]\d:[0-5]\d\.\d{3} --> \d{2,}:[0-5]\d:[0-5]\d\.\d{3}"
    assert all(re.fullmatch(timing, block.split("\n")[1]) for block in blocks)
