"""The clock is right: on random sessions with random calls its whole list of events equals that of counting every millisecond."""

import pytest
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st

from courttimer.plan.model import Session
from tests.practice.evenings import bare, played, presses, sessions, small
from tests.practice.oracle import Press, counted


def same(plan: Session, calls: list[Press], rest: int) -> None:
    until = (calls[-1].at if calls else 0) + rest
    with small():
        journal = bare(played(plan, calls, until)[1])
    expected = counted(plan, calls, until)
    for e in journal:
        note(f"engine {e}")
    for e in expected:
        note(f"count  {e}")
    assert journal == expected


@settings(max_examples=700, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sessions(), presses(), st.integers(0, 120))
def test_the_journal_is_what_counting_gives(plan: Session, calls: list[Press], rest: int) -> None:
    same(plan, calls, rest)


@pytest.mark.long
@settings(max_examples=50_000, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sessions(), presses(30), st.integers(0, 200))
def test_the_journal_of_very_many_evenings_is_what_counting_gives(plan: Session, calls: list[Press], rest: int) -> None:
    same(plan, calls, rest)
