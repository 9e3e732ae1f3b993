"""What is inside a drill, as lines of words."""

from dataclasses import replace

from courttimer.practice.view import Attendance, ScoreLine
from courttimer.screen.aloud import calls
from courttimer.screen.plain import lines
from tests.screen.looks import (
    BLUE_RED,
    EVERYONE,
    PAINT,
    SPOTS,
    THREE,
    before_go,
    game,
    halted,
    held,
    look,
    off,
    paint,
    shooting,
    stations,
    stay_on,
    waiting,
)


def test_a_drill_is_told_with_its_outcomes_its_places_and_its_score() -> None:
    told = lines(look(segment=0), paint())
    for expected in (
        "10:02 Outcomes: 1 paint, 2 basket, 3 stop, 0 over.",
        "10:02 Basket 1: attack Ada, defend Bea, off Cleo; next in Cleo.",
        "10:02 Basket 2: attack Dina, defend Edda, off Fern and Gwen; next in Fern.",
        "10:02 First to 5: Bea 4, Ada 3, Edda 1, Bea leads.",
    ):
        assert expected in told


def test_only_what_has_changed_is_told_again() -> None:
    more = replace(PAINT, score=(ScoreLine(side="Ada", points=4), *PAINT.score[1:]))
    assert lines(paint(), paint()) == []
    assert lines(paint(), paint(inside=more)) == ["10:02 First to 5: Ada 4, Bea 4, Edda 1."]


def test_one_place_has_no_number_and_a_turn_is_told() -> None:
    swapped = replace(BLUE_RED, roles=(*BLUE_RED.roles[:1], replace(BLUE_RED.roles[1], names=("white",)), *BLUE_RED.roles[2:]))
    assert lines(stay_on(), stay_on(inside=swapped)) == ["10:02 Attack blue, defend white, off white."]


def test_a_win_is_told_when_it_comes() -> None:
    won = replace(BLUE_RED, wins=(("blue", 2), ("Ada", 1)))
    assert "10:02 blue has won." in lines(stay_on(), stay_on(inside=won))


def test_what_does_not_fit_is_told_once() -> None:
    told = replace(PAINT, told="one basket fits")
    assert lines(paint(), paint(inside=told)) == ["10:02 One basket fits."]
    assert lines(paint(inside=told), paint(inside=told)) == []


def test_stations_are_told_with_who_is_there_and_only_the_chosen_ones_clock() -> None:
    told = lines(look(segment=0), stations())
    assert "10:02 Station 1, Closeouts, lead Timo: blue: Ada, Dina." in told
    assert "10:02 Station 2, Form shooting, Mira is out: red: Ada, Dina." in told
    assert "10:02 Calls go to station 1." in told
    assert "10:02 Closeouts: live 2, 14 seconds." in told
    assert not any("Handles: stopped" in line for line in told)
    three = (replace(THREE[0], score=(ScoreLine(side="Ada", points=3),)), *THREE[1:])
    scored = stations(inside=replace(stations().inside, stations=three))
    assert lines(stations(), scored) == ["10:02 Closeouts, score: Ada 3."]


def test_spots_are_told_and_that_makes_can_be_entered() -> None:
    assert "10:02 At left corner." in lines(off(), shooting())
    asked = lines(shooting(), off(name="Alone", inside=replace(SPOTS, enter=True)))
    assert asked[0].startswith("10:02 Makes of 10 at left corner, top can be entered, such as: makes left corner 7.")
    assert "unknown" in asked[0]


def test_a_game_clock_that_stands_is_told() -> None:
    assert lines(game(word="live"), game()) == ["10:02 Rep 3: stopped, 1 minute 14 seconds."]


def test_who_is_here_is_told_before_the_practice_and_who_is_warm_when_it_is_so() -> None:
    some = Attendance(here=("Ada",), away=("Bea", "Cleo"), late=("Cleo",))
    assert "1 of 3 here; late: Cleo; out: Bea." in lines(None, before_go(attendance=some))
    warming = replace(EVERYONE, here=EVERYONE.here[1:], warming=("Ada",))
    assert lines(look(attendance=warming), look()) == ["10:02 Ada is warm and joins."]


def test_a_hold_is_told_once_and_by_its_reason() -> None:
    assert lines(look(windows=()), held(said="The clock stands.")) == ["10:02 Hold. This rep is played again."]
    assert [line for line in lines(look(windows=()), halted(said="Halt.")) if "Halt" in line] == ["10:02 Halt. Everything stands."]
    assert lines(halted(), halted(said="Halt.")) == []
    assert "10:02 Hold: cut off at 9:50 of the practice." in lines(None, held(stood="cut off", again=False))


def test_words_that_are_no_call_are_cut_and_answered_with_what_can_be_typed_now() -> None:
    said = f'{"blah " * 12}: "{"blah " * 60}" is not a call; the calls are: over, go, hold, effort.'
    told = lines(waiting(), waiting(said=said, allowed=frozenset({"go", "mark", "score"})))
    assert len(told) == 1
    assert told[0].endswith("is not a call. Now: go, score NAME +1, mark WORDS.")
    assert len(told[0]) < 120


def test_any_other_answer_is_cut_too() -> None:
    assert len(lines(waiting(), waiting(said="x" * 500))[0]) < 220


def test_only_calls_that_are_allowed_are_listed_with_the_outcomes_by_name() -> None:
    told = calls(paint(allowed=frozenset({"outcome", "hold", "here", "late", "out", "space", "forward"})))
    assert told == "1 paint, 2 basket, 3 stop, 0 over, hold, here (late, out) NAME"
