"""Several baskets on one clock: as many players at each, and not the same two at one basket while it can be avoided."""

from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from courttimer.squad.fair import begun, chosen, counted
from courttimer.squad.places import met_again, shared
from tests.squad.test_turns import NAMES


@given(st.integers(1, 6), st.lists(st.integers(1, 3), min_size=1, max_size=3), st.integers(0, 2))
def test_each_place_has_as_many_of_each_role_and_nobody_is_lost(places: int, each: list[int], more: int) -> None:
    names, on = list(NAMES * 3), {}
    for at, size in enumerate(each):
        on[f"role {at}"] = tuple(f"{names.pop()} {at}" for _ in range(size * places + more))
    dealt = shared(on, places)
    assert len(dealt) == places
    for role, players in on.items():
        assert sorted(one for place in dealt for one in place[role]) == sorted(players)
        sizes = [len(place[role]) for place in dealt]
        assert max(sizes) - min(sizes) <= 1
        assert sizes == sorted(sizes, reverse=True)


def test_with_nothing_behind_them_players_are_dealt_in_order() -> None:
    assert shared({"attack": ("Ada", "Bea"), "defend": ("Cleo", "Dina")}, 2) == (
        {"attack": ("Ada",), "defend": ("Cleo",)},
        {"attack": ("Bea",), "defend": ("Dina",)},
    )


def test_two_who_have_just_met_go_to_different_baskets() -> None:
    on = {"attack": ("Ada", "Bea"), "defend": ("Cleo", "Dina")}
    met = met_again({}, shared(on, 2))
    assert met == {("Ada", "Cleo"): 1, ("Bea", "Dina"): 1}
    assert [place["defend"] for place in shared(on, 2, met)] == [("Dina",), ("Cleo",)]


@given(st.integers(2, 4), st.data())
def test_one_against_one_no_other_way_repeats_fewer_meetings(places: int, data: st.DataObject) -> None:
    """Brute force over all ways to put the defenders to the attackers."""
    attack, defend = NAMES[:places], NAMES[places : 2 * places]
    met = {(a, d): data.draw(st.integers(0, 3)) for a in attack for d in defend}
    dealt = shared({"attack": attack, "defend": defend}, places, met)
    repeats = sum(met[place["attack"][0], place["defend"][0]] for place in dealt)
    assert repeats == min(sum(met[a, d] for a, d in zip(attack, way, strict=True)) for way in permutations(defend))


def test_twelve_one_on_one_at_six_baskets_never_have_the_same_opponent_twice_running() -> None:
    here, past, last = NAMES[:12], begun(NAMES[:12]), set[tuple[str, ...]]()
    met: dict[tuple[str, str], int] = {}
    for _ in range(40):
        on = chosen(past, here, (("attack", 6), ("defend", 6)))
        dealt = shared(on, 6, met)
        pairs = {tuple(sorted((place["attack"][0], place["defend"][0]))) for place in dealt}
        assert not pairs & last
        past, met, last = counted(past, on), met_again(met, dealt), pairs
