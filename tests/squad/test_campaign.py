"""Fairness over many evenings: every attendance, uneven sides, up to six baskets, players who leave and come when they like."""

from collections.abc import Sequence
from functools import cache
from itertools import permutations
from random import Random

import pytest

from courttimer.squad.fair import Past, Sizes, begun, chosen, counted, joined
from courttimer.squad.turns import Standing, advance, relieved
from tests.squad.test_fair import named, spread
from tests.squad.test_turns import NAMES, after

WAYS = ("basket", "stop", "swap", "winners stay", "one for one", "nothing")
PLAYING = ("attack", "defend")


def drill(luck: Random, here: int) -> Sizes:
    """One to four roles of one to five, equal or not, at one to six places; never more than are here."""
    while True:
        each = [luck.randint(1, 5) for _ in range(luck.randint(1, 4))]
        sizes = named([each[0]] * len(each) if luck.random() < 0.4 else each, luck.randint(1, 6))
        if sum(size for _, size in sizes) <= here:
            return sizes


def in_a_role(sizes: Sizes) -> int:
    """By how much reps in one role may differ."""
    return 1 if len({size for _, size in sizes}) == 1 else 2


@pytest.mark.long
@pytest.mark.parametrize("here", range(2, 25))
def test_of_those_present_all_along_nobody_plays_two_reps_more_than_another(here: int) -> None:
    luck = Random(here)
    for _ in range(8):
        sizes, past = drill(luck, here), begun(NAMES[:here])
        for _ in range(40):
            past = counted(past, chosen(past, NAMES[:here], sizes))
            played, role = spread(past, NAMES[:here], sizes)
            assert played <= 1
            assert role <= in_a_role(sizes), sizes


def restless(luck: Random, sizes: Sizes, many: int, stay: int) -> list[tuple[int, int]]:
    """The differences among those who stay, rep by rep, while the others leave and come; as many stay here as play."""
    on, here, past = sum(size for _, size in sizes), list(NAMES[:many]), begun(NAMES[:many])
    often, seen = luck.choice((0.02, 0.1, 0.4)), []
    for _ in range(40):
        for one in NAMES[stay:many]:
            if one in here and len(here) > on and luck.random() < often:
                here.remove(one)
            elif one not in here and luck.random() < often:
                here.append(one)
                past = joined(past, one, here, [role for role, _ in sizes])
        past = counted(past, chosen(past, here, sizes))
        seen.append(spread(past, NAMES[:stay], sizes))
    return seen


@pytest.mark.long
@pytest.mark.parametrize("many", range(2, 25))
def test_whoever_leaves_and_comes_it_stays_fair_for_those_who_stay(many: int) -> None:
    """Reps in a role too; but of three or four equal roles one may be played twice more, which happens in one evening of fifty."""
    luck = Random(many)
    for _ in range(8):
        sizes = drill(luck, many)
        seen = restless(luck, sizes, many, luck.randint(1, many))
        assert max(played for played, _ in seen) <= 1
        assert max(role for _, role in seen) <= (2 if len(sizes) > 2 else in_a_role(sizes)), sizes


@pytest.mark.parametrize("seed", range(20))
def test_who_sat_out_goes_first_in_the_next_drill_whatever_it_is(seed: int) -> None:
    """With sides of any sizes: nobody sits out the end of one drill and the start of the next as long as there is room."""
    luck = Random(seed)
    here = NAMES[: luck.randint(2, 24)]
    past, sat = begun(here), set[str]()
    for _ in range(12):
        sizes = drill(luck, len(here))
        past = begun(here, past)
        for rep in range(luck.randint(1, 6)):
            on = {one for players in chosen(past, here, sizes).values() for one in players}
            if rep == 0:
                assert len(sat - on) == max(0, len(sat) - sum(size for _, size in sizes))
            past, sat = counted(past, chosen(past, here, sizes)), {*here} - on


@pytest.mark.parametrize("here", range(2, 25))
def test_with_advance_reps_differ_by_at_most_the_playing_roles_at_every_length_of_line(here: int) -> None:
    for each in ((1,), (2,), (5,), (1, 1), (2, 1), (1, 4), (5, 5), (3, 2, 1), (1, 1, 1), (2, 2, 2, 2)):
        sizes, line, played = named(each), NAMES[:here], dict.fromkeys(NAMES[:here], 0)
        for turn in range(120 if sum(each) <= here else 0):
            for one in line[: sum(each)]:
                played[one] += 1
            line = advance(line, sizes, turn)
            assert max(played.values()) - min(played.values()) <= len(each)


@pytest.mark.parametrize("seed", range(40))
def test_with_turns_by_outcome_nobody_waits_more_than_twice_the_longest_line_while_players_leave_and_come(seed: int) -> None:
    luck = Random(seed)
    attack, defend, line = luck.randint(1, 5), luck.randint(1, 5), luck.randint(1, 12)
    names = NAMES[: attack + defend + line]
    standing: Standing = {"attack": names[:attack], "defend": names[attack : attack + defend], "off": names[attack + defend :]}
    waited, longest, gone = dict.fromkeys(names, 0), line, list[str]()
    for _ in range(150):
        if gone and luck.random() < 0.1:
            standing = {**standing, "off": (*standing["off"], gone.pop())}
        elif len(standing["off"]) > 1 and luck.random() < 0.1:
            first, *rest = standing["off"]
            gone, waited[first], standing = [*gone, first], 0, {**standing, "off": tuple(rest)}
        longest = max(longest, len(standing["off"]))
        waited = {one: waited[one] + 1 if one in standing["off"] else 0 for one in names}
        assert max(waited.values()) <= 2 * longest
        standing = relieved(after(luck.choice(WAYS), standing), waited, PLAYING)


# Brute force over small squads

Counts = tuple[tuple[int, int], ...]
"""For each player, reps in the one role and in the other."""


@cache
def reachable(here: int, each: tuple[int, int], reps: int) -> frozenset[Counts]:
    """Everything that so many reps can come to, if each rep is filled in any way."""
    if not reps:
        return frozenset({((0, 0),) * here})
    ways = {(frozenset(way[: each[0]]), frozenset(way[each[0] :])) for way in permutations(range(here), sum(each))}
    return frozenset(
        tuple((a + (at in one), b + (at in other)) for at, (a, b) in enumerate(counts))
        for counts in reachable(here, each, reps - 1) for one, other in ways
    )  # fmt: skip


def unfair(counts: Sequence[tuple[int, int]]) -> tuple[int, int]:
    played, roles = [a + b for a, b in counts], list(zip(*counts, strict=True))
    return max(played) - min(played), max(max(role) - min(role) for role in roles)


def of(past: Past, here: Sequence[str]) -> Counts:
    return tuple((past.roles.get((one, "role 0"), 0), past.roles.get((one, "role 1"), 0)) for one in here)


@pytest.mark.parametrize(("here", "each", "reps"), [(2, (1, 1), 8), (3, (1, 1), 8), (4, (1, 1), 5), (3, (2, 1), 7), (4, (2, 1), 5)])
def test_no_other_way_is_fairer_in_reps_nor_then_by_more_than_one_in_a_role(here: int, each: tuple[int, int], reps: int) -> None:
    past = begun(NAMES[:here])
    for rep in range(1, reps + 1):
        past = counted(past, chosen(past, NAMES[:here], named(each)))
        played, role = unfair(of(past, NAMES[:here]))
        best_played, best_role = min(map(unfair, reachable(here, each, rep)))
        assert played == best_played
        assert role <= best_role + (each[0] != each[1])
