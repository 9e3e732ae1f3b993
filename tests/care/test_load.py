"""Load by its definition, effort times minutes, from what was really played; guesses and the players' own words kept apart."""

import pytest

from courttimer.care.load import ASK_AFTER, ASKED, FOSTER, Load, Loads, Work, guessed, own, summed

MIN = 60_000


def test_the_load_of_a_session_is_effort_times_minutes() -> None:
    # Foster 1998, MSSE 30:1164-1168: the effort of the session times its minutes.
    assert guessed([Work(7, 60 * MIN)]).units == 420
    assert guessed([Work(3, 8 * MIN), Work(8, 10 * MIN), Work(0, 2 * MIN), Work(7, 12 * MIN)]).units == 24 + 80 + 84
    assert guessed([]) == Load()


def test_only_what_was_played_counts_and_parts_of_minutes_do_too() -> None:
    assert guessed([Work(8, 7 * MIN + 30_000)]).units == 60
    assert guessed([Work(9, 10_000)] * 6).units == 9
    assert (Load(29_999).units, Load(30_000).units) == (0, 1)


def test_minutes_whose_effort_nobody_said_are_told_and_not_counted_as_nought() -> None:
    assert guessed([Work(None, 5 * MIN), Work(6, 10 * MIN)]) == Load(6 * 10 * MIN, 5 * MIN)


def test_the_week_is_the_sum_of_its_seven_days_and_a_day_of_rest_is_nought() -> None:
    # Foster 1998: the sum of the week. The figures are our own, worked out by hand: 2190.
    days = [420, 270, 540, 0, 360, 600, 0]
    assert summed(Load(one * MIN) for one in days).units == 2190
    assert summed([Load(60_000, 5), Load(0, 6)]) == Load(60_000, 11)


def test_what_a_player_says_stands_beside_the_guess_and_changes_nothing_of_it() -> None:
    both = Loads(guessed([Work(5, 40 * MIN), Work(8, 20 * MIN)]), own(8, 60 * MIN))
    assert both.own is not None
    assert (both.guess.units, both.own.units) == (360, 480)
    assert Loads(both.guess).own is None


@pytest.mark.parametrize("effort", [-1, 11])
def test_an_effort_that_is_none_is_refused(effort: int) -> None:
    with pytest.raises(ValueError, match="0 to 10"):
        own(effort, MIN)
    assert (own(0, MIN).units, own(10, MIN).units) == (0, 10)


def test_players_are_asked_half_an_hour_later() -> None:
    # Foster 1998, about 30 minutes after the session; from memory.
    assert ASK_AFTER == 30 * MIN
    assert ASKED.memory
    assert not FOSTER.memory
