"""Rest per player, as the turns really put them on the floor: what each has worked, and how long those who come on still rest."""

from courttimer.care.bouts import Bout, carried, still_resting
from courttimer.plan.model import Segment
from courttimer.practice.event import Names
from courttimer.practice.lane import Lane
from courttimer.practice.lineup import on_floor
from courttimer.practice.scoring import members
from courttimer.practice.state import State, play_of, rep_in

NAMELESS = ("",)
"""Without a squad all are as one player."""
Work = tuple[tuple[str, tuple[Bout, ...]], ...]


def resting(s: State, lane: Lane, n: int, at: int, off: int) -> int:
    """The off time from `at` in ms: as written, or with `rest = "auto"` longer, until those who come on have had their rest."""
    play, rep = play_of(s, n), rep_in(s, n)
    if not isinstance(play, Segment) or play.rest != "auto" or rep is None:
        return off
    work = dict(s.work)
    coming = members(lane.units, on_floor(play, lane.standing)) if lane.standing and play.roles else s.here or NAMELESS
    return max(off, still_resting(at, (work.get(one, ()) for one in coming)))


def worked(s: State, n: int, who: Names, start: int, end: int) -> Work:
    """What each player's rest depends on, after so much more work of some of them."""
    effort = s.plan.segment[s.segment].effort
    rep = rep_in(s, n)
    bout = Bout(start, end, effort, paced=rep is not None and rep.starts == "at once")
    known = dict(s.work)
    return tuple((known | {one: carried(known.get(one, ()), bout) for one in who}).items())
