"""The board tells what was reached in a drill last time and at best, from the journals that are kept."""

from dataclasses import replace
from pathlib import Path

import pytest

from courttimer import locations
from courttimer.entering import entered, keep
from courttimer.plan.reading import read
from courttimer.practice import events as ev
from courttimer.recalling import before, week

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


@pytest.mark.parametrize("answer", ["²", "1" * 5_000, "-1", "seven", "٣٤"])
def test_what_is_no_number_of_makes_is_asked_again_and_loses_no_answer(answer: str) -> None:
    """A raised 2 is a digit, but no number; the last is 34 in other figures, which is too many of ten."""
    said: list[str] = []
    answers = iter(("7", answer, "3"))
    found = read("alone.toml", WORKOUT, dict[str, bytes]().__getitem__)
    events = entered(found, lambda question: next(answers), said.append, at="9:00")
    assert len(said) == 1
    assert [e.makes for e in events if isinstance(e, ev.MakesEntered)] == [7, 3]


def test_more_makes_than_shots_are_asked_again() -> None:
    said: list[str] = []
    answers = iter(("12", "7", "3"))
    found = read("alone.toml", WORKOUT, dict[str, bytes]().__getitem__)
    events = entered(found, lambda question: next(answers), said.append, at="9:00")
    assert said == ["a number up to 10 is wanted, or nothing when it is not known"]
    assert [e.makes for e in events if hasattr(e, "makes") and hasattr(e, "spot")] == [7, 3]


SQUAD = b'age = 13\n[squad]\nplayers = ["Ada", "Bea"]\n[[segment]]\nkind = "drill"\ntime = "90 min"\n'
OTHERS = SQUAD.replace(b"Ada", b"Cleo").replace(b"Bea", b"Dina")


def practised(text: bytes, *days: str) -> None:
    for day in days:
        found = read("team.toml", text, dict[str, bytes]().__getitem__)
        events = entered(found, lambda question: "", lambda line: None, at="18:00")
        keep(found, tuple(replace(e, wall=f"{day}T18:00:00.000+00:00") if isinstance(e, ev.Opened) else e for e in events))


def test_a_week_with_too_many_practices_is_told_before_the_next_one() -> None:
    """At 13: three to four practices a week, two days of rest (USA Basketball and NBA youth guidelines, as in care/length.py)."""
    session = read("team.toml", SQUAD, dict[str, bytes]().__getitem__).session
    practised(SQUAD, "2026-11-20", "2026-11-21", "2026-11-23", "2026-11-24")
    practised(SQUAD, "2026-11-10")
    practised(OTHERS, "2026-11-19", "2026-11-22")
    said = week(session, "2026-11-25T18:00:00+00:00")
    assert any("5 practices in seven days" in one for one in said)


def test_practices_of_another_squad_do_not_count() -> None:
    session = read("team.toml", SQUAD, dict[str, bytes]().__getitem__).session
    practised(OTHERS, "2026-11-20", "2026-11-21", "2026-11-22", "2026-11-23", "2026-11-24")
    assert week(session, "2026-11-25T18:00:00+00:00") == ()
