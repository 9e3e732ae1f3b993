"""Take back as a pointer, not as a recount: the present, the moment before the last call, and what was taken back.

After a take back the practice is where it would be now had the last call never been made; time that has passed has passed.
Put back is its mirror. Along the branch `at` rises; in the journal it need not.
"""

from dataclasses import dataclass

from courttimer.practice.cue import FLOOR
from courttimer.practice.due import next_due
from courttimer.practice.events import Event, PutBack, TakenBack
from courttimer.practice.fold import fold
from courttimer.practice.lane import altered
from courttimer.practice.state import State

AT_ONE_MOMENT = 500
"""More events than this at one moment of time are a fault of ours, not a practice."""


@dataclass(frozen=True, slots=True, eq=False)
class Branch:
    """Three pointers; only `now` is ever compared, nothing walks the chain."""

    now: State
    back: "Branch | None" = None
    forward: "Branch | None" = None
    call: Event | None = None
    """The call that led from `back` to here, for the words of a take back."""


def happen(b: Branch, e: Event) -> Branch:
    """The branch after `e`. Raises ValueError for a take back or put back where there is none."""
    if isinstance(e, TakenBack):
        if b.back is None:
            raise ValueError("there is nothing to take back")
        back = b.back if e.lane <= 0 else _struck(b, e.lane)
        return Branch(_still_chosen(back.now, b.now), back.back, b, back.call)
    if isinstance(e, PutBack):
        if b.forward is None:
            raise ValueError("there is nothing to put back")
        put = b.forward
        return Branch(_still_chosen(put.now, b.now), put.back, put.forward, put.call)
    now = fold(b.now, e)
    if e.source == "call":
        return Branch(now, Branch(b.now, b.back, None, b.call), None, e)
    return Branch(now, b.back, b.forward, b.call)


def own_call(b: Branch, lane: int) -> Event | None:
    """A station's own last call in this segment, though others have called since; None when the floor was called after it."""
    began = b.now.began
    while b.back is not None and b.call is not None and b.call.lane not in (lane, FLOOR):
        b = b.back
    return b.call if b.call is not None and b.call.lane == lane and b.call.at >= began else None


def _struck(b: Branch, lane: int) -> Branch:
    """The branch had a station's own last call never been made; the calls of the others stand."""
    later: list[Event] = []
    while b.back is not None and b.call is not None and b.call.lane != lane:
        later.append(b.call)
        b = b.back
    if b.back is None:
        raise ValueError("this station has nothing to take back")
    b = b.back
    for e in reversed(later):
        b = happen(catch_up(b, e.at)[0], e)
    return b


def _still_chosen(s: State, was: State) -> State:
    """To which station calls go is no call: it stays as it is."""
    return altered(s, chosen=was.chosen) if s.segment == was.segment and s.chosen != was.chosen else s


def catch_up(b: Branch, at: int) -> tuple[Branch, list[Event]]:
    """All that time brings up to and with `at`. Raises RuntimeError instead of going round in circles."""
    out: list[Event] = []
    moment, count = -1, 0
    while (e := next_due(b.now)) is not None and e.at <= at:
        moment, count = (moment, count + 1) if e.at == moment else (e.at, 1)
        if count > AT_ONE_MOMENT:
            raise RuntimeError(f"time stands still at {e.at} ms: {e}")
        out.append(e)
        b = happen(b, e)
    return b, out
