"""The practice as lines of words."""

from itertools import pairwise

from courttimer.practice.view import WindowView
from courttimer.screen.plain import lines, troubles
from tests.screen.looks import MIN, before_go, halted, held, look, off, over, waiting


def test_nothing_new_is_no_line() -> None:
    assert lines(look(), look(left=5_000, gone=3_000)) == []


def test_the_start_tells_what_is_to_come() -> None:
    told = lines(None, before_go())
    assert told == ["Tern Street U14, Tuesday. 5 segments, 37 minutes. Go starts it.", "12 of 12 here."]


def test_a_rep_is_told_with_its_length_and_its_window() -> None:
    now = look(left=8_000, windows=(WindowView(name="drive", left=3_000, lasts=3_000),), rep=4)
    assert lines(off(), now) == ["10:02 Rep 4: live, 8 seconds, drive 3 seconds."]
    assert lines(look(), off()) == ["10:02 Off, 15 seconds."]


def test_a_new_segment_is_told_with_its_rule_and_what_comes_after() -> None:
    now = off(word="set-up", left=MIN, segment_left=10 * MIN, then=("Water",), in_hand=-65_000)
    told = lines(look(segment=0, word="warm-up"), now)
    assert told == [
        "10:02 Paint touch, drill, 10 minutes. Touch the paint in three seconds.",
        "10:02 Then Water.",
        "10:02 Late by 65 s.",
        "10:02 Set-up, 1 minute.",
    ]


def test_a_window_that_opens_within_a_rep_and_closes() -> None:
    shut = look(windows=())
    assert lines(shut, look()) == ["10:02 Drive opens, 3 seconds."]
    assert lines(look(), shut) == ["10:02 Drive closed."]


def test_holds_and_halts_are_told_with_what_they_mean() -> None:
    assert lines(look(windows=()), held()) == ["10:02 Hold. This rep is played again."]
    assert lines(look(windows=()), halted())[1:] == [
        "10:02 Address: 12 Ferry Lane, north door.",
        "10:02 Defibrillator: wall left of the office.",
        "10:02 Call: emergency number, then the club phone.",
    ]
    assert lines(held(), look(windows=())) == ["10:02 It goes on."]
    assert lines(off(), over()) == ["10:02 The practice is over."]


def test_every_whole_minute_of_a_segment_is_told_once() -> None:
    left = [off(segment_left=ms) for ms in (3 * MIN + 50, 3 * MIN, 3 * MIN - 50)]
    assert [lines(a, b) for a, b in pairwise(left)] == [["10:02 3 minutes left of Paint touch."], []]


def test_an_answer_is_told_once_and_a_wait_is_no_length() -> None:
    answer = waiting(said="turn was refused: it has just ended")
    assert lines(waiting(), answer) == ["10:02 turn was refused: it has just ended."]
    assert lines(answer, answer) == []
    assert lines(off(), waiting()) == ["10:02 Waiting."]


def test_the_last_rep_is_told() -> None:
    assert lines(look(), look(last=True)) == ["10:02 Rep 3: live, 7 seconds, drive 3 seconds. Last one."]


def test_trouble_is_told_when_it_comes_and_when_it_goes() -> None:
    assert troubles((), ("no speaker",)) == ["Trouble: no speaker."]
    assert troubles(("no speaker",), ("disk full",)) == ["Trouble: disk full.", "No longer: no speaker."]
