"""Windows, outcomes, scores, turns and stations are right: their whole list of events equals that of counting every millisecond."""

from collections import Counter

import pytest

from courttimer.practice import events as ev, records
from tests.practice.evenings_inside import bare, evening, made, tiny
from tests.practice.oracle_inside import counted

ELSEWHERE = {"SpotsOrdered", "Refitted"}
RARE = (
    "WindowClosed reset", "WindowClosed held", "OutcomeHappened accepted", "OutcomeHappened in the grace", "OutcomeHappened late",
    "TargetReached cap", "TargetReached row", "TargetReached called", "SegmentEnded target", "Turned target", "LinedUp joined",
    "StretchBegan consequence",
)  # fmt: skip


def both(seed: int) -> tuple[list[ev.Event], list[ev.Event]]:
    """The evening as the engine plays it, and as it is counted."""
    with tiny():
        return bare(made(*evening(seed))[1]), counted(*evening(seed))


def test_evenings_inside_drills_are_what_counting_gives() -> None:
    seen: Counter[str] = Counter()
    for seed in range(150):
        journal, count = both(seed)
        assert journal == count, f"seed {seed}"
        seen.update(f"{type(e).__name__} {getattr(e, 'why', '') or getattr(e, 'stretch', '')}" for e in count)
    assert [what for what in RARE if not seen[what]] == []
    brought = {kind.__name__ for kind in records.names().values() if kind.source == "time"}
    assert brought - {what.split()[0] for what in seen} == ELSEWHERE


@pytest.mark.long
@pytest.mark.parametrize("first", range(150, 750, 200))
def test_very_many_evenings_inside_drills_are_what_counting_gives(first: int) -> None:
    for seed in range(first, first + 200):
        journal, count = both(seed)
        assert journal == count, f"seed {seed}"
