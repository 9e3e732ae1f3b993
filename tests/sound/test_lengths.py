"""How long things last: tones from their recipes, phrases as measured, else about."""

from pathlib import Path

import pytest

from courttimer import locations
from courttimer.practice.pace import estimate
from courttimer.sound.lengths import Lengths, kept
from courttimer.sound.recipes import read

RECIPES = read(locations.sounds() / "tones.toml")


def test_a_tone_lasts_as_long_as_its_rhythm() -> None:
    """Five sounds of 50 ms, 40 ms apart: sounds/tones.toml."""
    assert Lengths(RECIPES).tone("close") == 5 * 50 + 4 * 40


def test_a_phrase_lasts_what_was_measured_and_says_so() -> None:
    lengths = Lengths(RECIPES, {"One minute.": 812})
    assert (lengths.text("One minute."), lengths.sure("One minute.")) == (812, True)
    assert not lengths.sure("Last one.")
    lengths.learn("Last one.", 700)
    assert (lengths.text("Last one."), lengths.sure("Last one.")) == (700, True)


def test_160_words_take_about_a_minute() -> None:
    """160 words a minute is common practice for reading aloud clearly."""
    assert estimate("word " * 160) == 60_000


@pytest.mark.parametrize(("less", "more"), [("Go left.", "Go left, then right."), ("One", "One. Two."), ("5", "12 450")])
def test_pauses_and_long_numbers_take_longer(less: str, more: str) -> None:
    assert estimate(less) < estimate(more)


def test_no_words_are_shorter_than_a_breath() -> None:
    assert estimate("") == 350


@pytest.mark.parametrize("data", [None, b"{", b"[1]", b"\xff", b'{"a": true, "b": -1, "c": "x", "d": 1.5}'])
def test_damaged_lengths_are_no_lengths(tmp_path: Path, data: bytes | None) -> None:
    path = tmp_path / "lengths.json"
    if data is not None:
        path.write_bytes(data)
    assert kept(path) == {}


def test_lengths_kept_beside_the_speech_are_found(tmp_path: Path) -> None:
    path = tmp_path / "lengths.json"
    path.write_text('{"One minute.": 812}', encoding="utf-8")
    assert kept(path) == {"One minute.": 812}
