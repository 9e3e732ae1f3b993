"""Time in any steps gives the same practice; and the test that says so can fail."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from courttimer.clock import HandClock
from courttimer.conductor import Conductor, Unheard
from courttimer.plan.model import Rep, Segment, Session, Window
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call
from courttimer.practice.state import opening

PLAN = Session(
    segment=(
        Segment(kind="warm-up", time=20_000),
        Segment(
            kind="drill", time=90_000, setup=10_000, rep=Rep(live=8_000, off=6_000), window=(Window(name="drive", time=3_000),)
        ),
        Segment(kind="water", time=60_000),
        Segment(kind="scrimmage", time=40_000),
    )
)
CALLS: tuple[tuple[int, Call], ...] = (
    (0, Call(what="go")),
    (33_333, Call(what="outcome")),
    (45_001, Call(what="hold")),
    (52_010, Call(what="go")),
    (60_000, Call(what="last")),
    (61_500, Call(what="take back")),
)
ENDS = 240_000
Stamp = Callable[[ev.Event, int], ev.Event]


def played(beats: set[int], stamp: Stamp = lambda e, now: e) -> list[ev.Event]:
    """The events of the practice, looked at in these beats; `stamp` may spoil what is written."""
    clock = HandClock(datetime(2026, 1, 6, 18, tzinfo=UTC))
    out: list[ev.Event] = []
    conductor = Conductor(Branch(opening(PLAN, 0)), clock, lambda e: out.append(stamp(e, clock.now())), Unheard())
    calls = dict(CALLS)
    for moment in sorted({*beats, *calls, ENDS}):
        clock.wind(moment - clock.now())
        conductor.beat()
        if moment in calls:
            conductor.call(calls[moment])
    return [e for e in out if e.source != "fact"]


ONCE = played(set())


@settings(max_examples=30, deadline=None)
@given(st.sets(st.integers(0, ENDS), max_size=60))
def test_time_in_any_steps_brings_the_same_events(beats: set[int]) -> None:
    assert played(beats) == ONCE


def test_a_beat_every_millisecond_changes_nothing() -> None:
    assert played(set(range(35_000, 37_000))) == ONCE


def test_the_practice_reaches_its_end() -> None:
    assert isinstance(ONCE[-1], ev.PracticeEnded)


def test_without_the_safeguard_the_steps_would_show() -> None:
    """The twin: events stamped with the beat that found them, not with the moment at which they were due."""

    def spoiled(e: ev.Event, now: int) -> ev.Event:
        return replace(e, at=now)

    assert played({1_000, 21_000}, spoiled) != played(set(), spoiled)
