"""Take back, journal and a cut inside drills and at stations: the practice is where it would be, whoever tells its story."""

import json
from random import Random

import pytest

from courttimer.plan.model import Session
from courttimer.practice import events as ev, records
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.rules import decide, lane_of
from courttimer.practice.state import opening
from tests.practice.evenings_inside import call, evening, made, tiny
from tests.practice.oracle import Press
from tests.practice.test_branch import timeless

FEW = range(30)
MANY = [range(first, first + 75) for first in range(30, 255, 75)]
Kept = list[tuple[Press, ev.Event]]


def struck_by_hand(plan: Session, calls: list[Press]) -> list[Press]:
    """The calls that stand after all, found with pencil and rubber: Branch is only asked whether a call is taken."""
    kept: Kept = []
    struck: list[Kept] = []
    for p in calls:
        b = made(plan, [k for k, _ in kept], p.at)[0]
        answer = decide(b, call(p), p.at, p.lead)
        if p.what == "put back":
            kept = struck.pop() if struck else kept
        elif p.what == "take back":
            at = _last_of(kept, lane_of(b.now, call(p)), b)
            if at is not None:
                struck.append(list(kept))
                kept.pop(at)
        elif not isinstance(answer, ev.Refused):
            kept.append((p, answer))
            struck.clear()
    return [k for k, _ in kept]


def _last_of(kept: Kept, lane: int, b: Branch) -> int | None:
    """The last call; at a station its own last one of this segment, if none to the floor has come since."""
    for at in range(len(kept) - 1, -1, -1):
        e = kept[at][1]
        if lane <= 0 or (e.lane == lane and e.at >= b.now.began):
            return at
        if e.lane == -1:
            return None
    return None


def taken_back(seeds: range) -> None:
    for seed in seeds:
        plan, calls, until = evening(seed)
        with tiny():
            twin = made(plan, struck_by_hand(plan, calls), until)[0]
            assert timeless(made(plan, calls, until)[0]) == timeless(twin), f"seed {seed}"


def read_back(seeds: range) -> None:
    for seed in seeds:
        plan, calls, until = evening(seed)
        with tiny():
            b, journal = made(plan, calls, until)
            again = Branch(opening(plan, 0))
            for line in [json.dumps(records.record(e)) for e in journal]:
                again = happen(again, records.event(json.loads(line)))
        assert again.now == b.now, f"seed {seed}"
        assert (again.back is None, again.forward is None, again.call) == (b.back is None, b.forward is None, b.call)


def cut_off(seeds: range) -> None:
    """Six cuts in each evening, each at a random line."""
    for seed in seeds:
        plan, calls, until = evening(seed)
        with tiny():
            journal = made(plan, calls, until)[1]
            for where in Random(seed).sample(range(len(journal) + 1), min(6, len(journal) + 1)):
                lines, b = journal[:where], Branch(opening(plan, 0))
                for e in lines:
                    b = happen(b, e)
                asked = sum(e.source == "call" or isinstance(e, ev.Refused) for e in lines)
                b, brought = catch_up(b, max((e.at for e in lines), default=0))
                then = made(plan, calls[asked:], until, start=b)[1]
                assert [*lines, *brought, *then] == journal, f"seed {seed}, line {where}"


def test_what_was_taken_back_inside_a_drill_or_by_a_station_might_as_well_never_have_been() -> None:
    taken_back(FEW)


def test_the_journal_of_what_happened_inside_read_back_tells_the_same_practice() -> None:
    read_back(FEW)


def test_cut_after_any_line_inside_a_drill_the_practice_goes_on_as_if_nothing_had_been() -> None:
    cut_off(FEW)


@pytest.mark.long
@pytest.mark.parametrize("seeds", MANY)
def test_very_many_evenings_are_taken_back_read_back_and_cut(seeds: range) -> None:
    taken_back(seeds)
    read_back(seeds)
    cut_off(seeds)
