"""The files of a rehearsal: the sound file is the same in blocks of any size, and both lists of cues can be read by others."""

import json
import re
import wave
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from courttimer import locations
from courttimer.plan.reading import read
from courttimer.practice.cue import Placed
from courttimer.rehearsal import Played, rehearse, write
from courttimer.sound import render
from courttimer.sound.bank import Bank
from courttimer.sound.mixer import Mixer, Samples
from courttimer.sound.recipes import read as recipes
from courttimer.sound.render import FADE_MS, Heard, Tape, cues_json, cues_vtt, write_sound
from tests.sound.shipped import played, reading
from tests.sound.wishes import placed

Pcm = NDArray[np.int16]
RECIPES = recipes(locations.sounds() / "tones.toml")
SHORT = """
title = "Short"
[[segment]]
kind = "drill"
name = "Paint <touch> & go"
time = "23 s"
setup = "3 s"
rep = { live = "6 s", off = "4 s" }
window = [ { name = "drive", time = "3 s" }, { name = "late", time = "5800 ms" } ]
[[segment]]
kind = "water"
time = "5 s"
"""


def tape(*looks: tuple[int, str, tuple[Placed, ...]]) -> dict[str, tuple[int, int, bool]]:
    """What was heard by name, from when to when, and whether it faded, of a tape that was given these wishes."""
    made = Tape()
    for now, hush, wishes in looks:
        made.want(wishes, now=now, hush=hush)
    made.want((), now=60_000)
    return {h.placed.cue.name: (h.placed.at, h.until, h.faded) for h in made.heard()}


HORN = placed("end", 1000, lasts=900)
WORDS = placed("where", 1000, lasts=3000, sort="speech", text="Paint touch.")
LATER = placed("go", 5000)
ALL = (HORN, WORDS, LATER)


def test_a_call_that_begins_something_silences_the_words_alone() -> None:
    heard = tape((0, "", ALL), (1500, "speech", ALL))
    assert heard == {"end": (1000, 1900, False), "where": (1000, 1520, True), "go": (5000, 5300, False)}


def test_what_is_no_longer_wished_for_before_its_moment_is_not_heard() -> None:
    assert tape((0, "", ALL), (999, "", (LATER,))) == {"go": (5000, 5300, False)}


def test_what_is_over_when_the_call_comes_is_left_as_it_was() -> None:
    assert tape((0, "", ALL), (1899, "halt", ()))["end"] == (1000, 1900, False)


def short() -> Played:
    return rehearse(read("short.toml", SHORT, dict[str, str]().__getitem__))


def frames(path: Path) -> Pcm:
    with wave.open(str(path)) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, 48_000)
        return np.frombuffer(file.readframes(file.getnframes()), "<i2")


def onset(wav: Pcm, tone: Samples, near: int, sounds: int) -> int:
    """The one frame, at most 5 ms from `near`, from which on the WAV is the tone's own samples, within 16-bit rounding."""
    own = tone[:sounds] * 32767
    found = [at for at in range(near - 240, near + 241) if at >= 0 and np.abs(wav[at : at + sounds] - own).max() <= 0.5001]
    assert len(found) == 1
    return found[0]


def prove(made: Played, folder: Path) -> int:
    """Every tone begins on the frame that --cues says; gives how many there are. No speech is in the cache: it is not heard."""
    write(made, wav=folder / "p.wav", cues=folder / "p.json", journal=None)
    wav, bank, count = frames(folder / "p.wav"), Bank(RECIPES), 0
    silent = np.ones(len(wav), bool)
    for row in json.loads((folder / "p.json").read_text("utf-8")):
        if row["sort"] == "tone":
            tone = bank.samples(placed(row["name"], 0))
            assert tone is not None
            whole = row["until_ms"] - row["at_ms"] == RECIPES[row["name"]].length
            sounds = (row["until_ms"] - row["at_ms"] - (0 if whole else FADE_MS)) * 48
            assert onset(wav, tone, row["at_ms"] * 48, min(sounds, 4800)) == row["at_ms"] * 48
            assert np.abs(wav[row["at_ms"] * 48 :][:sounds] - tone[:sounds] * 32767).max() <= 0.5001
            silent[row["at_ms"] * 48 : row["until_ms"] * 48] = False
            count += 1
    assert not wav[silent].any(), "between the tones there is silence"
    return count


def test_every_tone_in_the_sound_file_begins_on_the_frame_its_line_says(tmp_path: Path) -> None:
    assert prove(short(), tmp_path) == 11


def test_the_proof_sees_a_tone_that_is_one_frame_late(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    late(monkeypatch, lambda frame: frame + 1)
    with pytest.raises(AssertionError):
        prove(short(), tmp_path)


def late(monkeypatch: pytest.MonkeyPatch, moved: Callable[[int], int]) -> None:
    queue = Mixer.queue

    def wrong(
        mixer: Mixer, key: str, frame: int, samples: Samples, duck: Sequence[tuple[int, int]] = (), *, speech: bool = False
    ) -> None:
        queue(mixer, key, moved(frame), samples, duck, speech=speech)

    monkeypatch.setattr(Mixer, "queue", wrong)


def in_blocks(block: int, made: Played, path: Path, monkeypatch: pytest.MonkeyPatch) -> bytes:
    monkeypatch.setattr(render, "BLOCK", block)
    write_sound(path, made.tape.heard(), Bank(RECIPES), 12_000)
    return path.read_bytes()


@pytest.mark.parametrize("block", [997, 4_800, 31_337, 1_000_000])
def test_blocks_of_any_size_write_the_same_sound_file(block: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = short()
    usual = in_blocks(render.BLOCK, made, tmp_path / "usual.wav", monkeypatch)
    assert in_blocks(block, made, tmp_path / "other.wav", monkeypatch) == usual


def test_without_exact_starts_the_blocks_would_show(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The twin: a mixer that begins a sound where its block begins."""
    late(monkeypatch, lambda frame: frame // render.BLOCK * render.BLOCK)
    made = short()
    blocks = (in_blocks(size, made, tmp_path / "b.wav", monkeypatch) for size in (4_800, 31_337))
    assert next(blocks) != next(blocks)


def test_a_faded_sound_falls_silent_in_20_ms_and_not_before(tmp_path: Path) -> None:
    heard = [Heard(placed=placed("end", 100, lasts=900), until=520, faded=True)]
    write_sound(tmp_path / "f.wav", heard, Bank(RECIPES), 2_000)
    wav, tone = frames(tmp_path / "f.wav"), Bank(RECIPES).samples(placed("end", 0))
    assert tone is not None
    assert np.abs(wav[4_800 : 500 * 48] - tone[: 400 * 48] * 32767).max() <= 0.5001
    assert not wav[520 * 48 :].any()


def test_the_json_has_its_documented_fields_for_every_cue() -> None:
    heard = short().tape.heard()
    fields = re.findall(r"\w+", (cues_json.__doc__ or "").partition(":")[2])
    rows = json.loads(cues_json(heard))
    assert len(fields) == 11
    assert all(list(row) == fields for row in rows)
    assert [row["at_ms"] for row in rows] == sorted(h.placed.at for h in heard)
    assert {"name": "go", "also": ["open"]}.items() <= rows[[r["name"] for r in rows].index("go")].items()


STAMP = r"(\d{2,}):([0-5]\d):([0-5]\d)\.(\d{3})"


def read_vtt(text: str) -> list[tuple[str, int, int, str]]:
    """Identifier, start, end in ms and payload of each cue.

    W3C, WebVTT: The Web Video Text Tracks Format (Candidate Recommendation of 4 April 2019), section 4.1, from memory: the
    signature and a blank line; cues apart by blank lines, with an identifier without "-->", timings that rise, and a text
    without "-->" in which "&" and "<" are only written as escapes.
    """
    head, _, rest = text.partition("\n\n")
    assert head == "WEBVTT"
    cues, last = [], 0
    for block in re.split(r"\n{2,}", rest.strip("\n")):
        name, timings, payload = block.split("\n")
        times = re.fullmatch(f"{STAMP} --> {STAMP}", timings)
        assert times is not None
        h, m, s, ms, *end = map(int, times.groups())
        start, until = ((h * 60 + m) * 60 + s) * 1000 + ms, ((end[0] * 60 + end[1]) * 60 + end[2]) * 1000 + end[3]
        assert last <= start < until
        assert "-->" not in name + payload
        assert payload
        assert not re.search(r"<|&(?!amp;|lt;|gt;)", payload)
        cues.append((name, start, until, payload.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")))
        last = start
    return cues


def test_the_cues_are_well_formed_webvtt_and_say_what_was_heard() -> None:
    heard = short().tape.heard()
    cues = read_vtt(cues_vtt(heard))
    assert [(name, at, until) for name, at, until, _ in cues] == [(h.placed.cue.id, h.placed.at, h.until) for h in heard]
    said = [payload for *_, payload in cues]
    assert "[go, open, open]" in said or "[go, open]" in said
    assert "Paint <touch> & go." in said


def test_an_arrow_in_a_name_does_not_break_the_file() -> None:
    words = placed("where", 10, lasts=900, sort="speech", text="Baseline --> wing & <back>.")
    assert read_vtt(cues_vtt([Heard(placed=words, until=910)]))[0][3] == "Baseline --> wing & <back>."


def test_every_shipped_session_is_well_formed_webvtt() -> None:
    for path in sorted(locations.sessions().glob("*.toml")):
        assert reading(path).session.title
        assert len(read_vtt(cues_vtt(played(path).tape.heard()))) > 30
