"""Whatever the engine wishes to say has been prepared before the practice: else no voice would say it."""

from dataclasses import replace

import pytest

from courttimer.plan.model import Consequence, Segment, Session, Voice
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.cue import Saying
from courttimer.practice.cues import upcoming
from courttimer.practice.rules import decide
from courttimer.practice.sayings import sayings
from courttimer.practice.state import opening
from tests.practice.evenings_inside import call, evening, tiny
from tests.practice.oracle import Press
from tests.practice.test_fair_play import drill, squad


def wished(plan: Session, calls: list[Press], until: int) -> set[object]:
    """Every phrase and text that is wished for at any call and at the end."""
    b, out = Branch(opening(plan, 0)), set[object]()
    for p in [*calls, Press(at=until, what="mark")]:
        b = catch_up(b, p.at)[0]
        b = catch_up(happen(b, decide(b, call(p), p.at, p.lead)), p.at)[0]
        out |= {c.says or c.text for c in upcoming(b.now, p.at, p.at + 200) if c.sort == "speech"}
    return out


@pytest.mark.parametrize("seeds", [range(40), pytest.param(range(40, 240), marks=pytest.mark.long)])
def test_what_is_said_inside_drills_and_at_stations_has_been_prepared(seeds: range) -> None:
    for seed in seeds:
        plan, calls, until = evening(seed)
        plan = replace(plan, voice=Voice(say="all"))
        with tiny():
            assert wished(plan, calls, until) - set(sayings(plan)) == set(), f"seed {seed}"


def test_how_long_is_left_of_somebodys_minute_has_been_prepared() -> None:
    """After 25 s and 25 s ten are left, and no more than ten are said."""
    plan = Session(segment=(Segment(kind="drill", time=60_000, consequence=Consequence(time=25_000)),))
    pays = {one.time for one in sayings(plan) if isinstance(one, Saying) and one.phrase == "pays"}

    assert {25_000, 10_000} <= pays
    assert max(pays) == 25_000


@pytest.mark.parametrize(("turn", "sizes"), [("swap", (2, 2)), ("winners stay", (3, 3)), ("round robin", (1, 1)), ("fair", (2, 2))])
def test_who_comes_on_has_been_prepared_also_where_groups_are_made(turn: str, sizes: tuple[int, ...]) -> None:
    segment = drill(sizes, turn, reps=8)
    plan = Session(squad=squad(13), segment=(replace(segment, teams=3 if turn == "round robin" else ""),))
    calls = [Press(at=0, what="go"), *(Press(at=7_000 + 10_000 * n, what="outcome") for n in range(10))]

    assert wished(plan, calls, 130_000) - set(sayings(plan)) == set()
