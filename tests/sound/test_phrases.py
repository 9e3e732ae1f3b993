"""What is said comes from data, in words, and a language that lacks a phrase falls back to English."""

from pathlib import Path

import pytest

from courttimer.errors import PlanError
from courttimer.locations import sounds
from courttimer.practice.cue import Saying
from courttimer.practice.spoken import sayings
from courttimer.sound.phrases import Phrases, read

ENGLISH = read(sounds())


@pytest.fixture
def little(tmp_path: Path) -> Phrases:
    """A language made up for the test, with one phrase and one unit."""
    (tmp_path / "en.toml").write_bytes((sounds() / "en.toml").read_bytes())
    (tmp_path / "xx.toml").write_text('[phrases]\nready = "Redi."\n[time]\nminutes = "mins"\n', encoding="utf-8")
    return read(tmp_path, "xx-yy")


def test_a_phrase_is_said_by_its_name_with_times_in_words() -> None:
    said = ENGLISH.say("break-then", what="Water", time=ENGLISH.time(180_000), then="Stay on")
    assert said == "Water. three minutes. Then Stay on."


@pytest.mark.parametrize(
    ("ms", "said"),
    [
        (60_000, "one minute"),
        (90_000, "one minute thirty seconds"),
        (45_499, "forty-five seconds"),
        (1_000, "one second"),
        (0, "zero seconds"),
        (6_000_000, "100 minutes"),
    ],
)
def test_times_are_said_to_the_second(ms: int, said: str) -> None:
    assert ENGLISH.time(ms) == said


@pytest.mark.parametrize(("n", "said"), [(0, "zero"), (13, "thirteen"), (20, "twenty"), (41, "forty-one"), (99, "ninety-nine")])
def test_numbers_are_said_in_words(n: int, said: str) -> None:
    assert ENGLISH.number(n) == said


def test_every_fixed_text_of_a_practice_is_a_phrase_that_can_be_translated() -> None:
    assert all(ENGLISH.said(saying) for saying in sayings(()))


def test_another_language_says_its_own_and_the_rest_in_english(little: Phrases) -> None:
    assert [little.say("ready"), little.say("last-one"), little.time(120_000)] == ["Redi.", "Last one.", "two mins"]


def test_an_english_phrase_is_translated_and_the_coachs_own_words_stay(little: Phrases) -> None:
    assert [little.said(Saying(phrase="ready")), little.said("Low hips.")] == ["Redi.", "Low hips."]


def test_a_language_without_a_file_is_english() -> None:
    assert read(sounds(), "zz").say("ready") == "Ready."


def test_a_damaged_file_is_told_with_its_remedy(tmp_path: Path) -> None:
    (tmp_path / "en.toml").write_text("[phrases", encoding="utf-8")
    with pytest.raises(PlanError, match=r"^en\.toml: cannot be read \(.*\); put back the file that came with the program$"):
        read(tmp_path)
