"""How long the words at the start of a segment may take; told before the practice, and kept to in it."""

from courttimer.plan.derived import rep_of
from courttimer.plan.model import Segment

ROOM_MS = 15_000
"""What is said at a start is said within this."""
READY_ROOM_MS = 1_500
"""The end of an off time is kept for "Ready"."""
BREAKS = ("water", "rest")


def goes(segment: Segment) -> bool:
    """Does its first rep begin without a call?"""
    rep = rep_of(segment)
    return rep is not None and rep.starts != "on call"


def room(segment: Segment) -> int:
    """How many ms from its start a segment can be announced in; 0: none, for the ball is live at once."""
    if goes(segment):
        return max(segment.setup - READY_ROOM_MS, 0)
    return min(ROOM_MS, segment.time)
