"""The player alone at the spots: which one it is, which comes, and when a round is over."""

from courttimer.practice.event import Names
from courttimer.practice.state import State


def order_of(s: State) -> Names:
    """The spots in the order of this evening, all rounds after one another; nothing elsewhere."""
    segment = s.running
    if segment is None or segment.kind != "spots":
        return ()
    return (s.lanes[0].order if s.lanes else ()) or segment.spots * segment.rounds


def spot_now(s: State) -> str:
    """Where is shot from now, or was last; nothing before the first."""
    order, rep = order_of(s), s.lanes[0].rep if s.lanes else 0
    return order[rep - 1] if 0 < rep <= len(order) else ""


def next_spot(s: State) -> str:
    """Where is shot from next; nothing after the last."""
    order, rep = order_of(s), s.lanes[0].rep if s.lanes else 0
    return order[rep] if rep < len(order) else ""


def round_over(s: State) -> bool:
    """Are makes to be entered now, as the session wants them? After a round also while the first spot of the next one is shot."""
    segment = s.running
    if segment is None or segment.kind != "spots" or not s.lanes:
        return False
    done = s.lanes[0].rep - s.lanes[0].live
    if segment.enter == "at the end":
        return done >= len(segment.spots) * segment.rounds
    return done > 0 and (segment.enter == "after the spot" or done % len(segment.spots) == 0)
