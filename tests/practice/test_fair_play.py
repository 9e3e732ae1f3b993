"""The promises of turning, kept by the whole engine: at any attendance, with any sizes and places, while players go and come."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from random import Random
from typing import NamedTuple

import pytest

from courttimer.plan.model import Outcome, Rep, Role, Segment, Session, Squad, Turn
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import Call, What
from courttimer.practice.event import Standing, Units
from courttimer.practice.rules import decide
from courttimer.practice.scoring import members
from courttimer.practice.state import State, opening

NAMES = tuple(f"{first}{second}" for second in "ab" for first in ("Ada", "Bea", "Cleo", "Dina", "Edda", "Fern", "Gwen", "Hana", "Inga",
                                                                "Juno", "Kaia", "Lina"))  # fmt: skip
SIZES = ((1,), (2,), (1, 1), (2, 2), (3, 3), (5, 5), (1, 1, 1), (2, 1), (1, 2), (3, 2), (4, 2), (2, 1, 1))
ROLES = ("attack", "defend", "help")
LIVE, OFF = 10_000, 5_000
REPS = 24
DRILLS = (3, pytest.param(9, marks=pytest.mark.long))
"""How many drills each number of players is tried at."""


class Played(NamedTuple):
    """One rep: its segment, who was here, and who stood where as it began."""

    segment: int
    here: frozenset[str]
    standing: Standing
    units: Units = ()

    def on(self, role: str = "") -> list[str]:
        return [one for place in self.standing for at, names in place if at == role or (not role and at != "off") for one in names]

    def players(self) -> set[str]:
        """Everyone on the floor by name, also where groups turn together."""
        return {*members(self.units, self.on())}

    def line(self, who: str) -> int:
        """How long the line is in which somebody waits; 0: they play."""
        return next((len(names) for place in self.standing for at, names in place if at == "off" and who in names), 0)


def drill(sizes: tuple[int, ...], turn: str, places: int = 1, *, reps: int = REPS, outcomes: tuple[Outcome, ...] = ()) -> Segment:
    roles = tuple(Role(name=name, size=(size, size)) for name, size in zip(ROLES, sizes, strict=False))
    return Segment(
        kind="drill", time=reps * LIVE + (reps - 1) * OFF, places=places, roles=(*roles, Role(name="off", plays=False)),
        rep=Rep(live=LIVE, off=OFF, turn=Turn(how=turn)), outcome=outcomes,
    )  # fmt: skip


def play(plan: Session, calls: list[tuple[int, Call]]) -> list[Played]:
    """Every rep of the practice; one that a hold has it played again is one rep."""
    b, out = happen(Branch(opening(plan, 0)), ev.Went(at=0, starts=0)), list[Played]()
    for at, call in [*calls, (10**9, Call(what="mark"))]:
        b, out = told(b, at, out)
        made = decide(b, call, at, 0)
        b = happen(b, made)
    return out


def told(b: Branch, at: int, out: list[Played]) -> tuple[Branch, list[Played]]:
    start = b
    b, brought = catch_up(b, at)
    for e in brought:
        start = happen(start, e)
        if isinstance(e, ev.RepBegan):
            out = [*out, rep(start.now)]
    return b, out


def rep(s: State) -> Played:
    return Played(s.segment, frozenset(s.here), s.lanes[0].standing, s.lanes[0].units)


def squad(count: int) -> Squad:
    return Squad(players=NAMES[:count])


def spread(counts: Counter[str], of: list[str]) -> int:
    return max(counts[one] for one in of) - min(counts[one] for one in of)


def fits(here: int) -> Iterator[tuple[tuple[int, ...], int]]:
    """Every size and number of places that so many can play."""
    yield from ((sizes, places) for sizes in SIZES for places in (1, 2, 3, 4) if sum(sizes) * places <= here)


def is_fair(reps: list[Played], loyal: list[str], sizes: tuple[int, ...]) -> None:
    """Between any two who are here all along, after every rep."""
    played, roles = Counter[str](), {role: Counter[str]() for role in ROLES}
    for one in reps:
        played.update(one.on())
        assert spread(played, loyal) <= 1, one
        for role in ROLES[: len(sizes)]:
            roles[role].update(one.on(role))
            assert spread(roles[role], loyal) <= (1 if len(set(sizes)) == 1 else 2), (role, one)


@pytest.mark.parametrize("many", DRILLS)
@pytest.mark.parametrize("here", range(2, 25))
def test_fair_turns_give_everyone_as_many_reps_and_as_many_in_each_role(here: int, many: int) -> None:
    for sizes, places in Random(here).sample(found := list(fits(here)), min(len(found), many)):
        reps = play(Session(squad=squad(here), segment=(drill(sizes, "fair", places),)), [])
        assert len(reps) == REPS, (sizes, places)
        assert all(sorted(one.on()) == sorted(set(one.on())) for one in reps)
        is_fair(reps, list(NAMES[:here]), sizes)


@pytest.mark.parametrize("many", DRILLS)
@pytest.mark.parametrize("here", range(2, 25))
def test_in_one_line_reps_differ_by_the_number_of_roles_at_most(here: int, many: int) -> None:
    for sizes, places in Random(here).sample(found := list(fits(here)), min(len(found), many)):
        reps = play(Session(squad=squad(here), segment=(drill(sizes, "advance", places),)), [])
        played = Counter[str]()
        for one in reps:
            played.update(one.on())
            for basket in one.standing:
                at_it = [name for _, names in basket for name in names]
                assert spread(played, at_it) <= len(sizes), (sizes, places, one)


RANGES = (((1, 2), (1, 2)), ((2, 4), (2, 3)), ((3, 5), (3, 5)), ((1, 3), (2, 2)))


@pytest.mark.parametrize("ranges", RANGES)
def test_sides_that_may_grow_hold_as_many_as_they_can_and_stay_fair(ranges: tuple[tuple[int, int], ...]) -> None:
    roles = (*(Role(name=name, size=size) for name, size in zip(ROLES, ranges, strict=False)), Role(name="off", plays=False))
    for here in range(sum(least for least, _ in ranges), 25):
        segment = replace(drill((1, 1), "fair"), roles=roles)
        reps = play(Session(squad=squad(here), segment=(segment,)), [])
        played = Counter[str]()
        for one in reps:
            played.update(one.on())
            assert spread(played, list(NAMES[:here])) <= 1, (here, one)
            assert len(one.on()) == min(here, sum(most for _, most in ranges)), (here, one)
            assert all(least <= len(one.on(role)) <= most for role, (least, most) in zip(ROLES, ranges, strict=False))


def comings(luck: Random, moving: tuple[str, ...], until: int) -> list[tuple[int, Call]]:
    """Calls at random moments that send these away and back."""
    calls, away, at = list[tuple[int, Call]](), set[str](), 0
    while (at := at + luck.randint(1_000, 40_000)) < until:
        one = luck.choice(moving)
        what: What = "here" if one in away else luck.choice(("out", "late"))
        calls.append((at, Call(what=what, who=one)))
        away ^= {one}
    return calls


def check_coming_and_going(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("courttimer.practice.people_calls.WARM_UP_MS", 20_000)
    luck = Random(seed)
    here = luck.randint(3, 24)
    sizes, places = luck.choice([*fits(here)])
    loyal = list(NAMES[: max(2, here - luck.randint(1, here // 2))])
    moving = NAMES[len(loyal) : here]
    if not moving:
        return
    plan = Session(squad=squad(here), segment=(drill(sizes, "fair", places, reps=40),))
    reps = play(plan, comings(luck, moving, 560_000))
    for one in reps:
        assert sorted(name for place in one.standing for _, names in place for name in names) == sorted(one.here), seed
    played, roles = Counter[str](), {role: Counter[str]() for role in ROLES}
    for one in reps:
        played.update(one.on())
        assert spread(played, loyal) <= 1, (seed, sizes, places, one)
        for role in ROLES[: len(sizes)]:
            # Who comes on for somebody hurt takes that role, wanted or not: one more than when everyone is here.
            roles[role].update(one.on(role))
            assert sum(sizes) * places > len(loyal) or spread(roles[role], loyal) <= 2, (seed, sizes, places, one)


def test_who_stays_all_along_plays_as_often_as_the_others_while_players_go_and_come(monkeypatch: pytest.MonkeyPatch) -> None:
    for seed in range(30):
        check_coming_and_going(seed, monkeypatch)


@pytest.mark.long
def test_the_same_on_very_many_evenings(monkeypatch: pytest.MonkeyPatch) -> None:
    for seed in range(30, 300):
        check_coming_and_going(seed, monkeypatch)


TABLE = Turn(how="table", moves=(("attack", "off"), ("defend", "attack"), ("off", "defend")))
BY_OUTCOME = (
    Outcome(name="basket", points=1, to="attack", ends="rep", turn=Turn(how="winners stay")),
    Outcome(name="stop", ends="rep", turn=TABLE),
    Outcome(name="foul", ends="rep"),
    Outcome(name="swap", ends="rep", turn=Turn(how="swap")),
)


def check_waits(seed: int) -> None:
    luck = Random(seed)
    here = luck.randint(3, 24)
    sizes, places = luck.choice([(s, p) for s, p in fits(here) if len(s) == 2])
    how = luck.choice(("", "", "swap", "winners stay", "one for one"))
    plan = Session(squad=squad(here), segment=(drill(sizes, how, places, reps=60, outcomes=BY_OUTCOME),))
    keys = [luck.choice((1, 1, 1, 2, 3, 4)) if luck.random() < 0.5 else luck.randint(1, 4) for _ in range(90)]
    reps = play(plan, [(5_000 + 10_000 * n, Call(what="outcome", number=key)) for n, key in enumerate(keys)])
    waits, line = Counter[str](), Counter[str]()
    for one in reps:
        for name in NAMES[:here]:
            long = one.line(name)
            waits[name], line[name] = (waits[name] + 1, max(line[name], long)) if long else (0, 0)
            assert waits[name] <= 2 * line[name], (seed, sizes, places, how, name)


def test_with_turns_by_outcome_nobody_waits_more_than_twice_the_line() -> None:
    for seed in range(15):
        check_waits(seed)


@pytest.mark.long
def test_the_same_on_very_many_drills() -> None:
    for seed in range(15, 250):
        check_waits(seed)


@pytest.mark.parametrize("many", [2, pytest.param(6, marks=pytest.mark.long)])
@pytest.mark.parametrize("then", ["fair", "advance", "winners stay", "one for one", "swap"])
@pytest.mark.parametrize("turn", ["fair", "advance", "winners stay"])
def test_who_sat_out_goes_first_in_the_next_drill_and_never_sits_out_twice_running(turn: str, then: str, many: int) -> None:
    for here in range(2, 25):
        for sizes, places in Random(here).sample(found := list(fits(here)), min(len(found), many)):
            first, second = drill(sizes, turn, places, reps=7), drill(sizes, then, places, reps=2)
            water = Segment(kind="water", time=60_000)
            reps = play(Session(squad=squad(here), segment=(first, water, second)), [])
            last = next(one for one in reversed(reps) if one.segment == 0)
            begins = next(one for one in reps if one.segment == 2)
            sat, room = {*NAMES[:here]} - last.players(), sum(sizes) * places
            assert len(sat & begins.players()) >= min(len(sat), room), (here, sizes, places)


def test_who_comes_late_is_not_kept_on_the_floor_to_catch_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nine of ten have played for twenty reps when she comes; in the twenty after it she plays as often as they do, or one more."""
    monkeypatch.setattr("courttimer.practice.people_calls.WARM_UP_MS", 20_000)
    plan = Session(squad=squad(10), segment=(drill((2, 2), "fair", reps=40),))
    reps = play(plan, [(1_000, Call(what="late", who=NAMES[9])), (280_000, Call(what="here", who=NAMES[9]))])
    after = Counter(name for one in reps if NAMES[9] in one.here for name in one.on())
    first = sum(NAMES[9] in one.here for one in reps[:1])

    assert after[NAMES[9]] - first * (NAMES[9] in reps[0].on()) <= min(after[name] for name in NAMES[:9]) + 2
