"""How the evening runs if nobody touches a key: the same `next_due` walked to its end."""

from courttimer.practice import events as ev
from courttimer.practice.due import next_due
from courttimer.practice.fold import fold
from courttimer.practice.state import State, left

BINDS_MS = 3_600_000
"""The hours of the floor time bind from so long before it."""
MOST = 20_000
"""More events than this are no evening."""


def course(s: State) -> tuple[ev.Event, ...]:
    """Every event that time alone still brings."""
    out: list[ev.Event] = []
    while len(out) < MOST and (e := next_due(s)) is not None:
        out.append(e)
        s = fold(s, e)
    return tuple(out)


def from_go(s: State) -> State:
    """The same practice as if go were pressed at once."""
    return fold(s, ev.Went(at=s.at, starts=s.at)) if s.went is None else s


def to_go(s: State, at: int) -> int:
    """Planned time still to play at `at`: what is left of this segment and all that come, in ms."""
    if s.ended:
        return 0
    first = s.segment + 1 if s.on else s.next
    return (left(s, at) if s.on else 0) + sum(max(t, 0) for t in s.times[first:])


def floor_ends(s: State, starts: int) -> int | None:
    """When the floor must be cleared. The hours in the file bind when go comes near them, else only their length counts."""
    if s.plan.floor is None:
        return None
    opens, closes = s.plan.floor
    return (closes - s.day_ms if _near(s, starts) else starts + closes - opens) - s.plan.clear


def _near(s: State, starts: int) -> bool:
    opens, closes = s.plan.floor or (0, 0)
    return opens - BINDS_MS <= s.day_ms + starts < closes


def by_length(s: State, at: int) -> bool:
    """Does only the length of the floor time count, because go came, or would come now, at another time of day?"""
    return s.plan.floor is not None and not _near(s, at if s.went is None else s.went)


def clear_at(s: State, at: int) -> int | None:
    """When the floor must be cleared; before go, if go came now."""
    return floor_ends(s, at) if s.went is None else s.floor_ends


def in_hand(s: State, at: int) -> int | None:
    """Time in hand before the floor must be cleared; negative: late by so much; None: no floor time is known."""
    clear = clear_at(s, at)
    return None if clear is None else clear - at - to_go(s, at)
