"""When and why things end: the segment, a station's time, a rep, a window."""

from typing import NamedTuple

from courttimer.care.heat import consequence_allowed
from courttimer.practice.lane import Lane, Open
from courttimer.practice.state import State, moment, played_again, rep_in, stands

VOID_MS = 10_000
"""A hold voids windows up to this long; longer ones stand."""


class Cut(NamedTuple):
    """The moment, in practice time, at which something ends, and why."""

    at: int
    why: str


def cut_of(s: State) -> Cut | None:
    """When the running segment ends; None while it stands."""
    if s.called_off:
        return Cut(s.at, "called off")
    cut = None if s.held else Cut(s.clock.outer(s.ends), "time")
    done = None if s.held else done_of(s, s.lanes[0])
    if done is not None and (cut is None or done.at <= cut.at):
        cut = done
    if s.moving is not None and (cut is None or s.moving[1] < cut.at):
        cut = Cut(s.moving[1], "moved")
    return cut


def done_of(s: State, lane: Lane) -> Cut | None:
    """The end of a drill whose last rep is over or whose target is reached: at once, or when its consequence is done."""
    last = s.last is not None and lane.after == "rep" and lane.rep >= s.last[0]
    if lane.live or owed(s, lane) or not (last or lane.over):
        return None
    at = moment(s, lane, lane.ends) if lane.stretch == "consequence" and lane.ends is not None else s.at
    return Cut(at, "last" if last else "target")


def owed(s: State, lane: Lane) -> int:
    """How long a consequence is still to be done: not when it has become too hot, nor when those who pay have all gone."""
    anyone = not lane.payers or any(one in s.here for one in lane.payers)
    return lane.owes if anyone and consequence_allowed(s.heat) else 0


def lane_cut(s: State, n: int, cut: Cut | None) -> Cut | None:
    """When a lane is cut off: with its segment, or a station with the common change."""
    if n == 0:
        return cut
    return rep_end(s, s.lanes[0], 0, cut) or cut


def rep_end(s: State, lane: Lane, n: int, cut: Cut | None) -> Cut | None:
    """When and why the running rep ends."""
    if not lane.live:
        return None
    rep = rep_in(s, n)
    if lane.ending is not None:
        return Cut(s.at, lane.ending[0])
    if lane.over:
        return Cut(s.at, "target")
    standing = stands(s, lane)
    if standing and rep is not None and played_again(rep):
        return Cut(s.at, "held")
    by_time = None if standing or lane.ends is None else moment(s, lane, lane.ends)
    if cut is not None and (by_time is None or cut.at < by_time):
        return cut
    return None if by_time is None else Cut(by_time, "time")


def window_end(s: State, lane: Lane, window: Open, ends: Cut | None) -> Cut | None:
    """When and why an open window closes; `ends` is the end of its rep."""
    why = dict(lane.closing).get(window.name)
    if why is not None:
        return Cut(s.at, why)
    standing = stands(s, lane)
    if standing and window.lasts <= VOID_MS:
        return Cut(s.at, "held")
    by_time = None if standing else moment(s, lane, window.ends)
    if ends is not None and (by_time is None or ends.at < by_time):
        return Cut(ends.at, "rep" if ends.why == "time" else ends.why)
    return None if by_time is None else Cut(by_time, "time")
