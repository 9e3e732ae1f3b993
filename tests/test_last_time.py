"""The board tells what was reached in a drill last time and at best, from the journals that are kept."""

from pathlib import Path

import pytest

from courttimer import locations
from courttimer.entering import entered, keep
from courttimer.plan.reading import read
from courttimer.recalling import before

WORKOUT = b"""
[[segment]]
kind = "spots"
name = "Five spots"
spots = ["left corner", "top"]
shots = 10
within = "20 s"
"""


@pytest.fixture(name="home", autouse=True)
def _home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COURTTIMER_HOME", str(tmp_path))
    locations.journals().mkdir(parents=True)


def workout(*makes: str, at: str) -> None:
    answers = iter(makes)
    found = read("alone.toml", WORKOUT, dict[str, bytes]().__getitem__)
    keep(found, entered(found, lambda question: next(answers), lambda line: None, at=at))


def test_the_first_time_there_is_nothing_to_tell() -> None:
    assert before(frozenset(("Five spots",))) == {}


def test_last_time_and_best_are_sums_of_what_was_entered() -> None:
    workout("9", "8", at="9:00")
    workout("5", "", at="10:00")
    assert before(frozenset(("Five spots",))) == {"Five spots": "last time 5, best 17"}
    assert before(frozenset(("Another",))) == {}


def test_a_workout_of_which_nothing_was_entered_is_unknown_and_not_nought() -> None:
    workout("", "", at="9:00")
    assert before(frozenset(("Five spots",))) == {}


def test_a_history_that_cannot_be_opened_stops_no_practice() -> None:
    (locations.data() / "history.sqlite").mkdir(parents=True)
    assert before(frozenset(("Five spots",))) == {}


def test_more_makes_than_shots_are_asked_again() -> None:
    said: list[str] = []
    answers = iter(("12", "7", "3"))
    found = read("alone.toml", WORKOUT, dict[str, bytes]().__getitem__)
    events = entered(found, lambda question: next(answers), said.append, at="9:00")
    assert said == ["a number up to 10 is wanted, or nothing when it is not known"]
    assert [e.makes for e in events if hasattr(e, "makes") and hasattr(e, "spot")] == [7, 3]
