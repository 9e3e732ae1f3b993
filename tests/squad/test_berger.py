"""The order of games in a small tournament, against the tables as published."""

from itertools import combinations

import pytest

from courttimer.squad.berger import numbered, rounds, slots

# FIDE Handbook C.05 Annex 1, Details of Berger Table, as copied at c.w.fox.tripod.com/chess/berger.html: first-named has white.
BERGER = {
    4: "1-4 2-3, 4-3 1-2, 2-4 3-1",
    6: "1-6 2-5 3-4, 6-4 5-3 1-2, 2-6 3-1 4-5, 6-5 1-4 2-3, 3-6 4-2 5-1",
    8: "1-8 2-7 3-6 4-5, 8-5 6-4 7-3 1-2, 2-8 3-1 4-7 5-6, 8-6 7-5 1-4 2-3, 3-8 4-2 5-1 6-7, 8-7 1-6 2-5 3-4, 4-8 5-3 6-2 7-1",
}


@pytest.mark.parametrize("count", BERGER)
def test_the_games_stand_as_in_the_published_table(count: int) -> None:
    assert ", ".join(" ".join(f"{home}-{away}" for home, away in one) for one in numbered(count)) == BERGER[count]


@pytest.mark.parametrize("count", range(2, 25))
def test_every_team_meets_every_other_once_and_none_twice_in_a_round(count: int) -> None:
    teams = tuple(f"team {at}" for at in range(count))
    played = rounds(teams)
    assert sorted(tuple(sorted(pair)) for one in played for pair in one) == sorted(tuple(sorted(p)) for p in combinations(teams, 2))
    assert all(len({team for pair in one for team in pair}) == 2 * len(one) == count - count % 2 for one in played)


@pytest.mark.parametrize("places", range(1, 5))
@pytest.mark.parametrize("count", range(2, 13))
def test_at_any_number_of_places_nobody_is_in_two_games_at_once_and_all_games_are_played(count: int, places: int) -> None:
    teams = tuple(f"team {n}" for n in range(1, count + 1))
    played = slots(teams, places)

    for now in played:
        assert 1 <= len(now) <= places
        assert len({team for game in now for team in game}) == 2 * len(now)
    assert sorted(game for now in played for game in now) == sorted(game for one in rounds(teams) for game in one)


def test_three_bibs_play_three_rounds_with_one_of_them_free_in_each() -> None:
    assert rounds(("blue", "red", "white")) == ((("red", "white"),), (("blue", "red"),), (("white", "blue"),))
    assert rounds(("blue",)) == rounds(()) == ()
