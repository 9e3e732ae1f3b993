"""What time alone brings next: the one answer from which the clock, the horns, the board and the outlook are all made.

Every single event is a safe place to crash: what follows from an event is not done with it but is due at the same moment, and
is found again from the state. Ties are decided by ORDER, the floor after its lanes, lanes by number; calls come last.
"""

from collections.abc import Iterator

from courttimer.plan.derived import rep_of
from courttimer.practice.cue import FLOOR
from courttimer.practice.events import (
    Event,
    HoldEnded,
    PracticeEnded,
    RepBegan,
    RepEnded,
    SegmentBegan,
    SegmentEnded,
    StretchBegan,
    WindowClosed,
    WindowOpened,
)
from courttimer.practice.state import READY_MS, Lane, State, left, most_reps, played_again, window_of

ORDER: dict[type[Event], int] = {
    WindowClosed: 0,
    RepEnded: 4,
    SegmentEnded: 6,
    PracticeEnded: 6,
    HoldEnded: 7,
    SegmentBegan: 7,
    StretchBegan: 7,
    RepBegan: 7,
    WindowOpened: 8,
}
"""1 score, 2 consequence ends, 3 turn and 5 round ends are kept for what is not played yet."""
VOID_MS = 10_000
"""A hold voids windows up to this long; longer ones stand."""


def next_due(s: State) -> Event | None:
    """The next event that time brings if nobody calls; None while everything waits or stands, and after the end."""
    if s.ended:
        return None
    return min(_candidates(s), key=lambda e: (e.at, ORDER[type(e)], e.lane == FLOOR, e.lane), default=None)


def _candidates(s: State) -> Iterator[Event]:
    if s.called_off and not s.on:
        yield PracticeEnded(at=s.at)
    elif not s.on:
        yield from _between(s)
    else:
        cut, why = _cut(s)
        for n, lane in enumerate(s.lanes):
            yield from _lane(s, lane, n, cut)
        if cut is not None:
            yield SegmentEnded(at=cut, segment=s.segment, why=why)
        if s.going is not None and s.held:
            yield HoldEnded(at=s.going)


def _between(s: State) -> Iterator[Event]:
    """No segment runs: before the first go, or for the instant between two."""
    if s.went is None and s.going is None:
        return
    at = s.at if s.going is None else s.going
    if s.next < len(s.plan.segment):
        yield SegmentBegan(at=at, segment=s.next, lasts=s.times[s.next])
    else:
        yield PracticeEnded(at=s.at)


def _cut(s: State) -> tuple[int | None, str]:
    """When the running segment ends, and why."""
    if s.called_off:
        return s.at, "called off"
    cut, why = (None, "") if s.held else (s.clock.outer(s.ends), "time")
    if not s.held and any(_was_last(s, lane) for lane in s.lanes):
        cut, why = s.at, "last"
    if s.moving is not None and (cut is None or s.moving[1] < cut):
        cut, why = s.moving[1], "moved"
    return cut, why


def _was_last(s: State, lane: Lane) -> bool:
    return s.last is not None and not lane.live and lane.after == "rep" and lane.rep >= s.last[0]


def _lane(s: State, lane: Lane, n: int, cut: int | None) -> Iterator[Event]:
    ends = _rep_end(s, lane, cut)
    for window in lane.windows:
        if (close := _window_end(s, lane, window.name, ends)) is not None:
            yield WindowClosed(at=close[0], lane=n, window=window.name, why=close[1])
    if ends is not None and lane.live:
        yield RepEnded(at=ends[0], lane=n, rep=lane.rep, why=ends[1], starts=lane.ending[1] if lane.ending else None)
    if not s.held:
        yield from _begins(s, lane, n)


def _moment(s: State, lane: Lane, own: int) -> int:
    """The practice time of a moment of the lane's own clock, if nothing stands from now on."""
    return s.clock.outer(lane.clock.outer(own))


def _rep_end(s: State, lane: Lane, cut: int | None) -> tuple[int, str] | None:
    """When and why the running rep ends."""
    if not lane.live:
        return None
    rep = rep_of(s.plan.segment[s.segment])
    if lane.ending is not None:
        return s.at, lane.ending[0]
    if s.held and rep is not None and played_again(rep):
        return s.at, "held"
    by_time = None if s.held or lane.ends is None else _moment(s, lane, lane.ends)
    if cut is not None and (by_time is None or cut < by_time):
        return cut, _cut(s)[1]
    return None if by_time is None else (by_time, "time")


def _window_end(s: State, lane: Lane, name: str, rep_end: tuple[int, str] | None) -> tuple[int, str] | None:
    """When and why an open window closes."""
    why = dict(lane.closing).get(name)
    if why is not None:
        return s.at, why
    window = next(w for w in lane.windows if w.name == name)
    if s.held and window.lasts <= VOID_MS:
        return s.at, "held"
    by_time = None if s.held else _moment(s, lane, window.ends)
    if rep_end is not None and (by_time is None or rep_end[0] < by_time):
        return rep_end[0], "rep" if rep_end[1] == "time" else rep_end[1]
    return None if by_time is None else (by_time, "time")


def _begins(s: State, lane: Lane, n: int) -> Iterator[Event]:
    """The next stretch of a lane, and the windows that open."""
    for name, at in lane.to_open:
        yield WindowOpened(at=at, lane=n, window=name, lasts=window_of(s.plan.segment[s.segment], name).time)
    if _was_last(s, lane):
        return
    if lane.stretch == "":
        yield what_begins(s, lane, n, s.at)
    elif not lane.live and lane.ends is not None:
        yield what_begins(s, lane, n, _moment(s, lane, lane.ends))
    if s.going is not None and lane.stretch in ("set-up", "waiting", "off"):
        yield what_begins(s, lane, n, s.going, called=True)


def what_begins(s: State, lane: Lane, n: int, at: int, *, called: bool = False) -> Event:
    """What a lane does next when its stretch is over at `at`, or is ended by a call."""
    segment = s.plan.segment[s.segment]
    rep = rep_of(segment)
    over = lane.stretch or lane.after
    if over == "segment" and segment.setup:
        return StretchBegan(at=at, lane=n, stretch="set-up", lasts=segment.setup)
    if rep is None:
        return StretchBegan(at=at, lane=n, stretch="on")
    if rep.starts == "at once":
        return RepBegan(at=at, lane=n, rep=lane.rep + 1)
    room = left(s, at) - (rep.off if over == "rep" else READY_MS if over == "hold" else 0)
    if not fits(s, lane, room):
        return StretchBegan(at=at, lane=n, stretch="spare")
    if over == "rep" and rep.off:
        return StretchBegan(at=at, lane=n, stretch="off", lasts=rep.off)
    if over == "hold":
        return StretchBegan(at=at, lane=n, stretch="ready", lasts=READY_MS)
    if rep.starts == "on call" and not called and not lane.again:
        return StretchBegan(at=at, lane=n, stretch="waiting", lasts=room - (rep.live or 1) + 1)
    return RepBegan(at=at, lane=n, rep=lane.rep + 1, lasts=rep.live)


def fits(s: State, lane: Lane, room: int) -> bool:
    """Is there room for one more rep, and is one more to be played?"""
    segment = s.plan.segment[s.segment]
    rep, most = rep_of(segment), most_reps(segment)
    if rep is None or (most is not None and lane.rep >= most):
        return False
    return room >= (rep.live or 1)
