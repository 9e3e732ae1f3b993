"""With rest = "auto" no player goes on the floor before they have had the least rest, by a count from the journal alone."""

from dataclasses import replace
from itertools import pairwise

import pytest

from courttimer.plan.model import Session
from tests.practice.evenings import played
from tests.report.rest_count import Span, gaps, practice, work

TABLE = ((5, 10, 12), (15, 30, 3), (60, 180, 3), (180, 3_600, 1))
"""NSCA, Essentials of Strength Training and Conditioning, 4th ed., Table 3.6: from and to how many seconds, and the least ratio."""


def least(span: Span) -> float:
    """ms of rest after it: twice its length to effort 8 (common practice), by the table above that, in its gaps on a straight line."""
    start, end, effort = span
    if effort is None or effort < 6:
        return 0
    seconds = (end - start) / 1_000
    if effort <= 8:
        return 2_000 * seconds
    if seconds <= TABLE[0][1]:
        return TABLE[0][2] * 1_000 * seconds
    for (_, before, high), (begins, until, low) in pairwise(TABLE):
        if seconds < begins:
            return (high + (low - high) * (seconds - before) / (begins - before)) * 1_000 * seconds
        if seconds <= until:
            return low * 1_000 * seconds
    raise AssertionError(span)


def resting(plan: Session) -> Session:
    return replace(plan, segment=tuple(replace(one, rest="auto") if one.kind == "drill" else one for one in plan.segment))


@pytest.mark.parametrize("evenings", [100, pytest.param(1_000, marks=pytest.mark.long)])
def test_nobodys_bout_is_left_short_of_its_least_rest(evenings: int) -> None:
    bouts = 0
    for seed in range(evenings):
        plan, calls = practice(seed)
        _, journal = played(resting(plan), calls, 3_600_000)
        for name, spans in work(plan, journal).items():
            for span, rest in gaps(spans):
                bouts += 1
                assert rest >= least(span) - 1, (seed, name, span, rest)
    assert bouts > 10 * evenings


def test_without_it_somebody_is_short() -> None:
    """The twin: so it can fail."""
    plan, calls = next((plan, calls) for plan, calls in map(practice, range(1_000)) if all(one.effort == 8 for one in plan.segment))
    _, journal = played(plan, calls, 3_600_000)
    assert any(rest < least(span) for spans in work(plan, journal).values() for span, rest in gaps(spans))
