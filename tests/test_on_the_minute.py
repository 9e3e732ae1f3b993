"""The practice of 75 minutes leaves the floor on its minute, whatever went before, and the journal says which segments gave."""

from functools import cache

import pytest

from courttimer import locations
from courttimer.plan.fit import PAUSES
from courttimer.plan.reading import Reading, read
from courttimer.practice import events as ev
from courttimer.rehearsal import rehearse

MIN = 60_000
CLEARED = 72 * MIN
"""It is opened at 18:00; the gym is ours until 19:15, of which 3 minutes are for clearing."""
LOST = """
2:00 go
12:00 halt
17:00 go
25:00 hold
25:40 go
36:00 hold
36:50 go
50:00 hold
51:00 go
"""
"""A start two minutes late, a halt of five minutes, three holds of 40, 50 and 60 seconds: 9.5 minutes of which 4 were in hand."""


@cache
def evening(calls: str) -> tuple[Reading, list[ev.Event]]:
    path = locations.find_session("team-practice")
    found = read(path.name, locations.read(path), locations.reader(path.parent))
    return found, rehearse(found, calls, at="18:00").events


def ended(events: list[ev.Event]) -> int:
    return next(e.at for e in events if isinstance(e, ev.PracticeEnded))


def lengths(events: list[ev.Event]) -> list[int]:
    """How long each segment was on, holds and halts included, from its beginning and the next one's."""
    begins = [e.at for e in events if isinstance(e, ev.SegmentBegan)]
    return [then - one for one, then in zip(begins, [*begins[1:], ended(events)], strict=True)]


def test_a_late_start_a_halt_and_three_holds_leave_the_end_on_its_minute() -> None:
    found, events = evening(LOST)
    assert abs(ended(events) - CLEARED) <= 1_000
    assert len(lengths(events)) == len(found.session.segment)


def test_waters_keep_their_length_and_nothing_goes_below_its_least() -> None:
    found, events = evening(LOST)
    stood = {2: 40_000, 4: 50_000, 7: 60_000, 1: 5 * MIN}
    for at, (segment, lasted) in enumerate(zip(found.session.segment, lengths(events), strict=True)):
        least = segment.time if segment.kind in PAUSES or segment.at_least is None else segment.at_least
        assert least <= lasted - stood.get(at, 0) <= segment.time


def test_the_journal_says_what_gave() -> None:
    found, events = evening(LOST)
    told = [e for e in events if isinstance(e, ev.Refitted)]
    final = dict(enumerate(told[-1].times))
    gave = {found.session.segment[at].title for at, time in final.items() if time < found.session.segment[at].time}
    assert gave == {"Paint touch", "Help and home", "Run and get back", "Tired free throws", "Stay on", "Four on four"}
    said = " ".join(e.told for e in told)
    assert all(f"{title} " in said for title in gave)
    assert not any(e.short for e in told)


def test_started_on_time_and_left_alone_it_ends_early_by_what_is_in_hand() -> None:
    _, events = evening("0:00 go")
    assert ended(events) == CLEARED - 4 * MIN


@pytest.mark.parametrize("minutes", [18, 20, *(pytest.param(n, marks=pytest.mark.long) for n in (10, 40))])
def test_when_nothing_fits_the_journal_says_by_how_much_and_rest_stays(minutes: int) -> None:
    found, events = evening(f"0:00 go\n12:00 halt\n{12 + minutes}:00 go")
    last = [e for e in events if isinstance(e, ev.Refitted)][-1]
    over = ended(events) - CLEARED
    assert abs(over - last.short) <= 1_000
    # By hand: at their least the segments take 54 of the 72 minutes, so 18 can be made up for.
    assert last.short == max(0, minutes - 18) * MIN
    waters = [at for at, segment in enumerate(found.session.segment) if segment.kind in PAUSES]
    assert [lengths(events)[at] for at in waters] == [found.session.segment[at].time for at in waters]
