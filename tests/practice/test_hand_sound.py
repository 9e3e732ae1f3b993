"""A window is as long in the sound as on the clock, to the frame, whichever way it opens."""

import wave
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.signal import correlate

from courttimer.rehearsal import Played, write
from courttimer.sound.tones import render
from tests.practice.hand import play

DRILL = """
[[segment]]
kind = "drill"
name = "Windows"
time = "60 s"
grace = "0 s"
rep = {{ live = "30 s", off = "5 s" }}
window = [ {{ name = "first", time = "4 s" }}, {windows} ]
outcome = [ {{ name = "pass"{outcome} }}, {{ name = "touch", closes = "first" }} ]
"""
WAYS = {
    "on call": ('{ name = "drive", time = "3 s", opens = "on call" }', "", "0:00 go\n0:05.123 open", 5_123),
    "on an outcome": ('{ name = "drive", time = "3 s", opens = "on pass" }', "", "0:00 go\n0:05.123 outcome 1", 5_123),
    "by an outcome": ('{ name = "drive", time = "3 s", opens = "on call" }', ', opens = "drive"', "0:00 go\n0:07 outcome 1", 7_000),
    "every": ('{ name = "drive", time = "3 s", opens = "every 11 s" }', "", "0:00 go", 11_000),
    "when another closes": (
        '{ name = "drive", time = "3 s", opens = "when first closes" }', "", "0:00 go\n0:02 outcome 2", 2_000,
    ),
}  # fmt: skip
FRAMES_A_MS = 48


def recorded(practice: Played, folder: Path) -> NDArray[np.float64]:
    write(practice, wav=folder / "practice.wav", cues=None, journal=None)
    with wave.open(str(folder / "practice.wav")) as file:
        return np.frombuffer(file.readframes(file.getnframes()), "<i2") / 32_768


def begins(tone: str, practice: Played, sound: NDArray[np.float64], near: int) -> int:
    """The frame on which a tone begins, found by its likeness to what was recorded within half a second of `near` ms."""
    made = render(practice.recipes[tone])
    first = (near - 500) * FRAMES_A_MS
    return first + int(np.argmax(correlate(sound[first : first + 48_000 + len(made)], made, "valid")))


@pytest.mark.parametrize("way", WAYS)
def test_a_window_of_three_seconds_closes_144_000_frames_after_it_has_opened(way: str, tmp_path: Path) -> None:
    windows, outcome, calls, opens = WAYS[way]
    practice = play(DRILL.format(windows=windows, outcome=outcome), calls)
    sound = recorded(practice, tmp_path)

    opened = begins("open", practice, sound, opens)
    assert opened == opens * FRAMES_A_MS
    assert begins("close", practice, sound, opens + 3_000) - opened == 144_000
    cues = {h.placed.cue.name: h.placed.cue for h in practice.tape.heard() if h.placed.at in (opens, opens + 3_000)}
    assert cues["open"].group == cues["close"].group, "live, both must be placed through one mapping to the card"


def test_a_clock_that_starts_afresh_closes_its_whole_time_after_the_press(tmp_path: Path) -> None:
    """Nothing sounds as it starts; the close does, 144 000 frames after the press."""
    drill = DRILL.format(windows='{ name = "drive", time = "3 s" }', outcome=', resets = "drive"')
    practice = play(drill, "0:00 go\n0:02.345 outcome 1")
    sound = recorded(practice, tmp_path)

    assert begins("close", practice, sound, 5_345) == 2_345 * FRAMES_A_MS + 144_000


def test_windows_that_open_again_and_again_do_not_share_one_mapping_for_minutes() -> None:
    practice = play(DRILL.format(windows='{ name = "drive", time = "3 s", opens = "every 11 s" }', outcome=""), "0:00 go")
    groups = [h.placed.cue.group for h in practice.tape.heard() if h.placed.cue.name == "open"]

    assert len(groups) == len(set(groups)) == 2
