"""The clock is right: on random sessions with random calls its whole list of events equals that of counting every millisecond."""

from collections import Counter

import pytest
from hypothesis import HealthCheck, given, note, settings, strategies as st

from courttimer.plan.model import Session
from courttimer.practice import events as ev, records
from tests.practice.evenings import bare, played, presses, sessions, small
from tests.practice.oracle import Press, counted
from tests.practice.seeded import evening

INSIDE = {"OutcomeCame", "Scored", "TargetReached", "LinedUp", "Turned", "Joined", "StationEnded", "SpotsOrdered", "Refitted"}
"""What comes only where somebody plays, counted in `test_oracle_inside.py`, or where the floor time is known."""


def both(plan: Session, calls: list[Press], until: int) -> tuple[list[ev.Event], list[ev.Event]]:
    """The evening as the engine plays it, and as it is counted."""
    with small():
        return bare(played(plan, calls, until)[1]), counted(plan, calls, until)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sessions(), presses(), st.integers(0, 120))
def test_the_journal_is_what_counting_gives(plan: Session, calls: list[Press], rest: int) -> None:
    journal, count = both(plan, calls, (calls[-1].at if calls else 0) + rest)
    note("\n".join(map(str, (*journal, "counted:", *count))))
    assert journal == count


def test_busy_evenings_are_what_counting_gives() -> None:
    seen: Counter[str] = Counter()
    for seed in range(250):
        journal, count = both(*evening(seed))
        assert journal == count, f"seed {seed}"
        seen.update(f"{type(e).__name__} {getattr(e, 'why', '')}" for e in count)
    rare = [f"{what} {why}" for what, why in (("RepEnded", "called off"), ("WindowClosed", "moved"), ("SegmentEnded", "last"))]
    assert all(seen[what] > 1 for what in rare)
    assert {what.split()[0] for what in seen} >= {e.__name__ for e in records.names().values() if e.source == "time"} - INSIDE


@pytest.mark.long
def test_very_many_busy_evenings_are_what_counting_gives() -> None:
    for seed in range(250, 5_000):
        journal, count = both(*evening(seed))
        assert journal == count, f"seed {seed}"
