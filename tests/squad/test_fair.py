"""The fair turn, at every attendance: who has played least comes on, and everyone is in each role as often as the others."""

from collections.abc import Sequence
from functools import cache
from itertools import combinations, permutations, product
from random import Random

import pytest
from hypothesis import given, settings, strategies as st
from scipy.optimize import linear_sum_assignment

from courttimer.squad.fair import Past, Sizes, assigned, begun, chosen, counted, joined
from tests.squad.test_turns import NAMES


def spread(past: Past, of: Sequence[str], sizes: Sizes) -> tuple[int, int]:
    """The greatest difference in reps played, and in reps in one role."""
    played = [past.played[one] for one in of]
    roles = [[past.roles.get((one, role), 0) for one in of] for role, _ in sizes]
    return max(played) - min(played), max(max(row) - min(row) for row in roles)


def named(each: Sequence[int], places: int = 1) -> Sizes:
    return tuple((f"role {at}", size * places) for at, size in enumerate(each))


@pytest.mark.parametrize("here", range(2, 25))
def test_at_any_attendance_reps_differ_by_one_and_reps_in_a_role_by_one_or_two(here: int) -> None:
    for each in ((1,), (1, 1), (2, 2), (3, 3), (5, 5), (1, 1, 1), (2, 1), (3, 2), (1, 3), (4, 2)):
        for places in (1, 2, 4):
            sizes, past = named(each, places), begun(NAMES[:here])
            for _ in range(15 if sum(each) * places <= here else 0):
                past = counted(past, chosen(past, NAMES[:here], sizes))
                played, role = spread(past, NAMES[:here], sizes)
                assert played <= 1
                assert role <= (1 if len(set(each)) == 1 else 2), (each, places)


@settings(max_examples=50, deadline=None)
@given(st.integers(4, 24), st.sampled_from([(1, 1), (2, 2), (3, 3), (2, 1), (3, 2)]), st.integers(1, 3), st.randoms())
def test_players_who_come_and_go_leave_it_fair_for_those_who_stay(many: int, each: tuple[int, ...], places: int, luck: Random) -> None:
    sizes = named(each, places)
    loyal = NAMES[: max(2, many // 2)]
    here = list(NAMES[:many])
    past = begun(here)
    for _ in range(25):
        for one in NAMES[len(loyal) : many]:
            if luck.random() < 0.1 and one in here:
                here.remove(one)
            elif luck.random() < 0.1 and one not in here:
                here.append(one)
                past = joined(past, one, here, [role for role, _ in sizes])
        past = counted(past, chosen(past, here, sizes))
        played, role = spread(past, loyal, sizes)
        assert played <= 1
        if sum(each) * places <= len(loyal):
            assert role <= (1 if len(set(each)) == 1 else 2)


@pytest.mark.parametrize(("here", "each"), [(3, (1, 1)), (4, (1, 1)), (4, (2, 1)), (5, (2, 1)), (3, (1,)), (4, (1, 1, 1))])
def test_no_other_way_to_turn_is_fairer(here: int, each: tuple[int, ...]) -> None:
    """Brute force: of all ways to fill each of the first reps none ends with a smaller difference in reps played."""
    sizes, past = named(each), begun(NAMES[:here])
    for reps in range(1, 6):
        past = counted(past, chosen(past, NAMES[:here], sizes))
        assert spread(past, NAMES[:here], sizes)[0] == least_spread(here, sum(each), reps)


@cache
def least_spread(here: int, on: int, reps: int) -> int:
    totals = ([sum(at in one for one in way) for at in range(here)] for way in product(combinations(range(here), on), repeat=reps))
    return min(max(each) - min(each) for each in totals)


@pytest.mark.parametrize("long", range(1, 7))
def test_who_sat_out_last_goes_first_in_the_next_drill_and_never_sits_twice_running(long: int) -> None:
    here, sizes = NAMES[:5], named((2, 2))
    past, sat = begun(here), ""
    for rep in range(40):
        past = begun(here, past) if rep % long == 0 else past
        on = chosen(past, here, sizes)
        out = ({*here} - {one for players in on.values() for one in players}).pop()
        assert out != sat
        past, sat = counted(past, on), out


def test_one_more_player_counts_as_one_who_has_played_least() -> None:
    past = begun(NAMES[:3])
    for _ in range(9):
        past = counted(past, chosen(past, NAMES[:3], named((1, 1))))
    late = joined(past, "Zita", [*NAMES[:3], "Zita"], ["role 0", "role 1"])
    assert late.played["Zita"] == min(past.played.values())


def test_with_too_few_here_the_last_roles_stay_short() -> None:
    assert chosen(begun(NAMES[:2]), NAMES[:2], named((2, 2))) == {"role 0": ("Ada", "Bea"), "role 1": ()}
    assert chosen(begun(()), (), named((1,))) == {"role 0": ()}


@given(st.integers(1, 7), st.integers(0, 3), st.data())
def test_the_assignment_costs_as_little_as_that_of_the_reference_library(rows: int, more: int, data: st.DataObject) -> None:
    # scipy.optimize.linear_sum_assignment, and for three rows also every way there is.
    row = st.lists(st.integers(0, 50), min_size=rows + more, max_size=rows + more)
    costs = data.draw(st.lists(row, min_size=rows, max_size=rows))
    ours = sum(costs[at][to] for at, to in enumerate(assigned(costs)))
    assert len(set(assigned(costs))) == rows
    best_rows, best_columns = linear_sum_assignment(costs)
    assert ours == sum(costs[at][to] for at, to in zip(best_rows, best_columns, strict=True))
    if rows <= 3:
        assert ours == min(sum(costs[at][to] for at, to in enumerate(way)) for way in permutations(range(rows + more), rows))
