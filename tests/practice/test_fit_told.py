"""What a coach sees and hears of a fit: lengths to the second, what was lost since it was last told, and nothing for ever."""

from dataclasses import replace

import pytest

from courttimer import locations
from courttimer.plan.reading import read
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.cue import Saying
from courttimer.practice.look import look
from courttimer.practice.sayings import sayings
from courttimer.practice.spoken import fit_saying
from courttimer.practice.state import opening
from courttimer.rehearsal import Played, rehearse

EVENING = """
title = "By hand"
floor = "18:00-18:44"
[[segment]]
kind = "drill"
name = "Twos"
time = "10 min"
at_least = "6 min"
[[segment]]
kind = "water"
time = "2 min"
[[segment]]
kind = "drill"
name = "Threes"
time = "10 min"
at_least = "6 min"
[[segment]]
kind = "rest"
time = "2 min"
[[segment]]
kind = "water"
time = "2 min"
[[segment]]
kind = "drill"
name = "Fours"
time = "10 min"
at_least = "6 min"
setup = "30 s"
[[segment]]
kind = "cool-down"
name = "Easy"
time = "8 min"
"""
"""44 minutes of floor, all of it planned."""
FOUND = read("by-hand.toml", EVENING, dict[str, str]().__getitem__)


def played(calls: str) -> Played:
    return rehearse(FOUND, calls, at="18:00")


def fits(practice: Played) -> list[ev.Refitted]:
    return [e for e in practice.events if isinstance(e, ev.Refitted)]


def said(practice: Played) -> list[str]:
    """The sentences about the fit, each with the minute in which it is said."""
    heard = [(h.placed.at // 60_000, h.placed.text) for h in practice.tape.heard() if h.placed.cue.name == "fit"]
    return [f"{minute}: {text}" for minute, text in heard]


def board(practice: Played, at: int) -> str:
    """What the board says was changed, at a moment of practice time."""
    branch = Branch(opening(FOUND.session, 18 * 3_600_000))
    for e in practice.events:
        if e.at > at:
            break
        branch = happen(branch, e)
    return look(catch_up(branch, at)[0], at).care.fitted


HALT = "0:00 go\n2:00 halt\n7:00.964 go"
"""A halt of five minutes and a little: of 30 min of drills each has 499.679 s. 499 s three times; the 2.036 s left go to a set-up."""


def test_lengths_are_told_to_the_second_and_kept_to_the_millisecond() -> None:
    first = fits(played(HALT))[0]
    assert first.times[5] % 1_000 == 36
    assert first.told == "Twos 8 min 19 s instead of 10 min, Threes 8 min 19 s instead of 10 min, Fours 8 min 21 s instead of 10 min"


def test_the_practice_ends_on_its_millisecond_all_the_same() -> None:
    ends = [e.at for e in played(HALT).events if isinstance(e, ev.PracticeEnded)]
    assert ends == [44 * 60_000]


def test_the_next_break_says_all_that_was_lost_since_the_last_one_and_says_it_once() -> None:
    # 5 min of a halt, then 3 s of rounding or so when segments begin: not "thirty seconds".
    assert said(played(HALT)) == ["13: We are five minutes behind: Threes is shorter."]


def test_what_is_lost_in_a_water_is_said_at_the_next_break_and_not_again_at_the_one_after_it() -> None:
    # The water is from 10:00; a hold of a minute in it, of which water pays nothing: Threes and Fours give half a minute each.
    assert said(played("0:00 go\n11:00 hold\n12:00 go")) == ["22: We are one minute behind: Fours is shorter."]


def test_a_few_seconds_are_not_worth_a_sentence() -> None:
    assert said(played("0:00 go\n2:00 hold\n2:09 go")) == []


def test_what_was_lost_and_taken_back_is_not_said() -> None:
    assert said(played("0:00 go\n2:00 halt\n7:00 go\n7:30 take back\n7:31 go\n7:32 take back\n7:33 take back")) == []


@pytest.mark.parametrize(
    ("at", "words"),
    [
        ("7:01", "Twos 8 min 20 s instead of 10 min, Threes 8 min 20 s instead of 10 min, Fours 8 min 20 s instead of 10 min"),
        ("14:00", "Threes 8 min 20 s instead of 10 min, Fours 8 min 20 s instead of 10 min"),
        ("16:00", ""),
        ("40:00", ""),
    ],
)
def test_the_board_shows_what_is_changed_until_the_next_break_has_told_of_it(at: str, words: str) -> None:
    minutes, seconds = map(int, at.split(":"))
    assert board(played("0:00 go\n2:00 halt\n7:00 go"), (minutes * 60 + seconds) * 1_000) == words


def test_what_is_changed_in_a_break_stays_on_the_board_until_the_next_one() -> None:
    lost = played("0:00 go\n11:00 hold\n12:00 go")
    words = "Threes 9 min 30 s instead of 10 min, Fours 9 min 30 s instead of 10 min"
    assert board(lost, 12 * 60_000) == words
    assert board(lost, 14 * 60_000) == words
    assert board(lost, 26 * 60_000) == ""


def test_what_the_coach_has_made_shorter_by_hand_is_no_news() -> None:
    assert said(played("0:00 go\n2:00 shorter\n2:02 shorter")) == []


def test_what_the_coach_has_made_longer_is_paid_by_others_and_that_is_said() -> None:
    assert said(played("0:00 go\n2:00 longer\n2:02 longer")) == ["12: We are two minutes behind: Threes is shorter."]


def test_what_may_have_to_be_said_of_lost_time_is_prepared_before_the_practice() -> None:
    optional = replace(FOUND.session, segment=(replace(FOUND.session.segment[0], optional=True), *FOUND.session.segment[1:]))
    for plan, most in ((FOUND.session, 12), (optional, 18)):  # 4 min of each drill, or all of the first
        ready = set(sayings(plan))
        for late in range(15_000, most * 60_000, 1_000):
            assert fit_saying(plan.segment[2], False, late) in ready
    assert fit_saying(optional.segment[0], True, 10 * 60_000) in set(sayings(optional))
    assert not any(isinstance(one, Saying) and one.what == "Easy" and one.phrase == "fit" for one in sayings(FOUND.session))


def test_there_are_not_too_many_of_them_to_be_prepared() -> None:
    path = locations.find_session("team-practice")
    session = read(path.name, locations.read(path), locations.reader(path.parent)).session
    assert len({one for one in sayings(session) if isinstance(one, Saying) and one.phrase == "fit"}) <= 130


OPTIONAL = EVENING.replace('name = "Threes"\n', 'name = "Threes"\noptional = true\n')
LATE = "0:00 go\n2:00 halt\n18:00 go"
"""Sixteen minutes: even at the least the drills give twelve, so the optional one is left out, and the others have 18 of 20 min."""


def test_a_segment_that_is_left_out_is_not_played_nor_announced_and_the_end_is_on_its_minute() -> None:
    found = read("by-hand.toml", OPTIONAL, dict[str, str]().__getitem__)
    practice = rehearse(found, LATE, at="18:00")
    assert [e.segment for e in practice.events if isinstance(e, ev.SegmentBegan)] == [0, 1, 3, 4, 5, 6]
    assert [e.at for e in practice.events if isinstance(e, ev.PracticeEnded)] == [44 * 60_000]
    spoken = [h.placed.text for h in practice.tape.heard() if h.placed.cue.sort == "speech"]
    assert "Water. Two minutes. Then Rest." in spoken
    assert "We are sixteen minutes behind: Threes is left out." in spoken
    assert not [text for text in spoken if text.startswith("Threes") or "Then Threes" in text]
    assert {h.placed.cue.says for h in practice.tape.heard() if h.placed.cue.says} <= set(sayings(found.session))


def test_the_board_says_what_comes_then_without_what_is_left_out() -> None:
    found = read("by-hand.toml", OPTIONAL, dict[str, str]().__getitem__)
    branch = Branch(opening(found.session, 18 * 3_600_000))
    for e in rehearse(found, LATE, at="18:00").events:
        branch = happen(branch, e) if e.at <= 19 * 60_000 else branch
    view = look(branch, 19 * 60_000)
    assert view.then == ("Water", "Rest")
    assert "Threes" not in [one.name for one in view.strip]
    assert "Threes is left out" in view.care.fitted
