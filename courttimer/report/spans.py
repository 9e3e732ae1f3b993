"""What the clock did from one event to the next: the one walk through a practice from which all its times are added up."""

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import NamedTuple

from courttimer.practice.event import Event
from courttimer.practice.state import State, stands
from courttimer.report.stands import Stood

STILL = ("water", "talk", "rest")
"""Kinds of segments whose whole time is of their own sort."""
SORTS = ("live", "off", "waiting", "set-up", "consequence", "stopped", "spare", "on", *STILL, "hold", "halt")
"""What a time of a segment is spent with. "on" is play without reps, "stopped" a game clock that stands."""
HELD = ("hold", "halt")


class Step(NamedTuple):
    """One event, the practice before and after it, and for how many ms nothing else happened.

    `sort` is what these ms were spent with; nothing when no segment runs.
    """

    event: Event
    before: State | None
    after: State
    ms: int
    sort: str


def steps(stood: Iterable[Stood], until: int) -> tuple[Step, ...]:
    """What runs at the end runs on to `until` (practice time in ms)."""
    return tuple(_steps(stood, until))


def _steps(stood: Iterable[Stood], until: int) -> Iterator[Step]:
    before: State | None = None
    for one, then in pairwise((*stood, None)):
        assert one is not None, "only the last one is nothing"
        ends = max(until, one.event.at) if then is None else then.event.at
        yield Step(one.event, before, one.after, ends - one.event.at, sort_of(one.after))
        before = one.after


def sort_of(s: State) -> str:
    """What the floor's clock does in this state."""
    if not s.on or s.running is None:
        return ""
    if s.held:
        return "halt" if s.halted else "hold"
    if s.running.kind in STILL:
        return s.running.kind
    lane = s.lanes[0]
    if lane.live and stands(s, lane):
        return "stopped"
    return {"": "off", "ready": "off"}.get(lane.stretch, lane.stretch)


def works(s: State) -> tuple[int, ...]:
    """The lanes in which somebody plays now: a rep is live there, or it is play without reps."""
    if not s.on or s.running is None or s.running.kind in STILL:
        return ()
    stations = s.running.kind == "stations"
    if stations and not s.lanes[0].live:
        return ()
    return tuple(
        n for n, lane in enumerate(s.lanes) if not stands(s, lane) and not (stations and n == 0) and (lane.live or lane.stretch == "on")
    )


def lane_name(s: State, n: int) -> str:
    """The station that a lane is; nothing for the floor and for a drill."""
    return s.running.station[n - 1].name if n > 0 and s.running else ""
