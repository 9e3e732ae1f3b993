"""Groups of the sizes that roles ask for, from any number of players; and the smallest change when one comes late or goes."""

from hypothesis import given, strategies as st

from courttimer.squad.groups import Grouping, Side, grouped, teams_here, too_few, with_late, without
from tests.squad.test_turns import NAMES

ONE_ON_ONE = (Side(name="attack"), Side(name="defend"))
THREE_ON_TWO = (Side(name="attack", least=3, most=3), Side(name="defend", least=2, most=2))
BIBS = (("blue", ("Ada", "Dina", "Gwen")), ("red", ("Bea", "Edda", "Hana")), ("white", ("Cleo", "Fern", "Inga")))


def everyone(grouping: Grouping) -> list[str]:
    at_places = [one for place in grouping.places for one in (*place.line, *(p for _, players in place.sides for p in players))]
    return sorted((*at_places, *grouping.waiting))


def moved(before: Grouping, after: Grouping) -> set[str]:
    """Who stands in another place or role than before."""
    spot = [
        {one: (at, role) for at, place in enumerate(g.places) for role, who in (*place.sides, ("", place.line)) for one in who}
        for g in (before, after)
    ]
    return {one for one in spot[0].keys() & spot[1].keys() if spot[0][one] != spot[1][one]}


def test_eleven_at_four_baskets_are_three_threes_and_a_pair() -> None:
    made = grouped(NAMES[:11], ONE_ON_ONE, 4)
    assert [place.here for place in made.places] == [3, 3, 3, 2]
    assert made.told == ""


def test_seven_at_four_baskets_use_three_of_them_and_it_is_told() -> None:
    made = grouped(NAMES[:7], ONE_ON_ONE, 4)
    assert [place.here for place in made.places] == [3, 2, 2]
    assert made.told == "3 of 4 places: 7 are here, each place takes 2"


def test_three_against_two_keeps_the_other_two_in_line() -> None:
    (place,) = grouped(NAMES[:7], THREE_ON_TWO).places
    assert place.sides == (("attack", ("Ada", "Bea", "Cleo")), ("defend", ("Dina", "Edda")))
    assert place.line == ("Fern", "Gwen")


def test_a_range_of_sizes_grows_evenly_before_anyone_waits() -> None:
    ranges = (Side(name="attack", least=2, most=4), Side(name="defend", least=2, most=3))
    (place,) = grouped(NAMES[:8], ranges).places
    assert [len(players) for _, players in place.sides] == [4, 3]
    assert place.line == ("Hana",)


def test_too_few_players_are_told_with_what_would_fit() -> None:
    assert too_few(4, THREE_ON_TWO) == "3 against 2 takes 5, 4 are here: 2 against 2 would fit"
    assert too_few(1, ONE_ON_ONE) == "1 against 1 takes 2, 1 is here: choose a drill for 1"
    assert too_few(5, THREE_ON_TWO) == ""
    none = grouped(NAMES[:4], THREE_ON_TWO, 2)
    assert (none.places, none.waiting, none.told) == ((), NAMES[:4], too_few(4, THREE_ON_TWO))


def test_teams_keep_their_bibs_and_whoever_wears_none_joins_the_smallest() -> None:
    here = ("Ada", "Dina", "Bea", "Edda", "Hana", "Cleo", "Fern", "Zita")
    assert teams_here(BIBS, here) == (("blue", ("Ada", "Dina", "Zita")), ("red", ("Bea", "Edda", "Hana")), ("white", ("Cleo", "Fern")))
    assert teams_here(BIBS, ("Ada", "Bea")) == (("blue", ("Ada",)), ("red", ("Bea",)))
    assert teams_here((), ("Ada",)) == ()


def test_for_one_who_goes_the_first_of_the_same_line_comes_in() -> None:
    (place,) = without(grouped(NAMES[:7], THREE_ON_TWO), "Bea").places
    assert place.sides[0] == ("attack", ("Ada", "Fern", "Cleo"))
    assert place.line == ("Gwen",)


def test_a_place_without_a_line_borrows_from_the_longest_and_else_plays_one_short_until_the_next_comes() -> None:
    made = without(grouped(NAMES[:5], ONE_ON_ONE, 2), "Bea")
    assert [place.here for place in made.places] == [2, 2]
    short = without(made, "Dina")
    assert sorted(place.here for place in short.places) == [1, 2]
    assert [place.here for place in with_late(short, "Zita", ONE_ON_ONE).places] == [2, 2]


@given(st.integers(0, 24), st.integers(1, 6), st.tuples(st.integers(1, 5), st.integers(1, 5)), st.integers(0, 2))
def test_at_any_attendance_nobody_is_lost_and_places_differ_by_at_most_one(
    here: int, places: int, least: tuple[int, int], more: int
) -> None:
    sides = tuple(Side(name=name, least=size, most=size + more) for name, size in zip(("attack", "defend"), least, strict=True))
    made = grouped(NAMES[:here], sides, places)
    assert everyone(made) == sorted(NAMES[:here])
    assert len(made.places) == min(places, here // sum(least))
    assert max((p.here for p in made.places), default=0) - min((p.here for p in made.places), default=0) <= 1
    for place in made.places:
        for side, (_, players) in zip(sides, place.sides, strict=True):
            assert side.least <= len(players) <= side.most
            assert not place.line or len(players) == side.most


@given(st.integers(2, 20), st.integers(1, 4), st.lists(st.tuples(st.booleans(), st.integers(0, 23)), max_size=30))
def test_whoever_comes_or_goes_at_most_one_other_player_moves(here: int, places: int, steps: list[tuple[bool, int]]) -> None:
    made, present = grouped(NAMES[:here], ONE_ON_ONE, places), set(NAMES[:here])
    for comes, at in steps:
        one = NAMES[at]
        if comes == (one in present):
            continue
        before = made
        made = with_late(made, one, ONE_ON_ONE) if comes else without(made, one)
        present = present | {one} if comes else present - {one}
        assert everyone(made) == sorted(present)
        assert len(moved(before, made)) <= (0 if comes else 1)
