"""What time alone brings next: the one answer from which the clock, the horns, the board and the outlook are all made.

Every single event is a safe place to crash: what follows from an event is not done with it but is due at the same moment, and
is found again from the state. Ties are decided by ORDER, stations before their common clock, the floor after its lanes, lanes by
number; calls come last.
"""

from collections.abc import Iterator

from courttimer.practice.begins import begins, reps_end
from courttimer.practice.cue import FLOOR
from courttimer.practice.ends import Cut, cut_of, done_of, lane_cut, rep_end, window_end
from courttimer.practice.event import Event
from courttimer.practice.events import (
    HoldEnded,
    Joined,
    LinedUp,
    OutcomeCame,
    PracticeEnded,
    Refitted,
    RepBegan,
    RepEnded,
    Scored,
    SegmentBegan,
    SegmentEnded,
    SpotsOrdered,
    StationEnded,
    StretchBegan,
    TargetReached,
    Turned,
    WindowClosed,
    WindowOpened,
)
from courttimer.practice.fitting import refit
from courttimer.practice.follows import follows
from courttimer.practice.lane import Lane
from courttimer.practice.state import State, own, stands

ORDER: dict[type[Event], int] = {
    WindowClosed: 0,
    OutcomeCame: 1,
    Scored: 1,
    TargetReached: 1,
    Refitted: 2,
    LinedUp: 3,
    SpotsOrdered: 3,
    Turned: 3,
    RepEnded: 4,
    StationEnded: 5,
    SegmentEnded: 6,
    PracticeEnded: 6,
    HoldEnded: 7,
    Joined: 7,
    SegmentBegan: 7,
    StretchBegan: 7,
    RepBegan: 7,
    WindowOpened: 8,
}
"""A consequence is a stretch: it ends with what begins after it. The time at the stations ends after them, as 5."""


def next_due(s: State) -> Event | None:
    """The next event that time brings if nobody calls; None while everything waits or stands, and after the end."""
    if s.ended:
        return None
    return min(_candidates(s), key=lambda e: _turn(s, e), default=None)


def _turn(s: State, e: Event) -> tuple[int, int, int, int]:
    common = e.lane == 0 and len(s.lanes) > 1
    order = 5 if common and isinstance(e, RepEnded) else ORDER[type(e)]
    return e.at, order, 2 if e.lane == FLOOR else int(common), e.lane


def _candidates(s: State) -> Iterator[Event]:
    if s.called_off and not s.on:
        yield PracticeEnded(at=s.at)
    elif not s.on:
        yield from _between(s)
    else:
        yield from _running(s)
    if s.went is not None and not s.called_off:
        yield from (Joined(at=max(at, s.at), who=who) for who, at in s.warming)


def _between(s: State) -> Iterator[Event]:
    """No segment runs: before the first go, or for the instant between two."""
    if s.went is None and s.going is None:
        return
    at = s.at if s.going is None else s.going
    if s.next < len(s.plan.segment):
        lasts = s.times[s.next]
        yield SegmentBegan(at=at, segment=s.next, lasts=lasts if lasts >= 0 else s.plan.segment[s.next].time)
    else:
        yield PracticeEnded(at=s.at)


def _running(s: State) -> Iterator[Event]:
    if s.fit_at == s.at and (fitted := refit(s)) is not None:
        yield fitted
    cut = cut_of(s)
    for n, lane in enumerate(s.lanes):
        if not lane.ended:
            yield from _lane(s, lane, n, lane_cut(s, n, cut))
    if cut is not None:
        yield SegmentEnded(at=cut.at, segment=s.segment, why=cut.why)
    if s.going is not None and s.held:
        yield HoldEnded(at=s.going)


def _lane(s: State, lane: Lane, n: int, cut: Cut | None) -> Iterator[Event]:
    ends = rep_end(s, lane, n, cut)
    after = () if stands(s, lane) else tuple(begins(s, lane, n, last=n == 0 and done_of(s, lane) is not None))
    for coming in lane.coming:
        moments = [coming.at, *(e.at for e in after if isinstance(e, RepBegan)), *reps_end(cut)]
        yield OutcomeCame(at=max(min(moments), s.at), lane=n, outcome=coming.outcome, window=coming.window)
    yield from follows(s, lane, n)
    for window in lane.windows:
        if (close := window_end(s, lane, window, ends)) is not None:
            yield WindowClosed(at=close.at, lane=n, window=window.name, why=close.why)
    if ends is not None and lane.live:
        yield RepEnded(at=ends.at, lane=n, rep=lane.rep, why=ends.why, starts=lane.ending[1] if lane.ending else None)
    if n > 0 and cut is not None and (lost := own(s, s.lanes[0], cut.at) - s.lanes[0].since - own(s, lane, cut.at)) > 0:
        yield StationEnded(at=cut.at, lane=n, lost=lost)
    if lane.going is not None and lane.clock.held is not None and not s.held:
        yield HoldEnded(at=max(lane.going, s.at), lane=n)  # it may have been called while the floor stood too
    yield from after
