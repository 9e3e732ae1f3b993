"""What of a journal still stands: its events without those that were taken back, each with the practice as it was then."""

from collections.abc import Iterable
from typing import NamedTuple

from courttimer.practice.branch import Branch, happen
from courttimer.practice.events import Event, PutBack, TakenBack
from courttimer.practice.state import State


class Stood(NamedTuple):
    """One event, and the state that it led to; from there to the next one nothing else happened."""

    event: Event
    after: State


class _Trail(NamedTuple):
    stood: Stood
    before: "_Trail | None"


def stands(opening: State, events: Iterable[Event]) -> tuple[Stood, ...]:
    """The events that lead from the opening to the present, in order; facts made meanwhile are among them.

    Raises ValueError, or what `fold` raises, for a row of events that cannot have happened.
    """
    branch = Branch(opening)
    trails: dict[int, _Trail | None] = {id(opening): None}
    kept = [opening]  # a state that is let go would lend its id to another one
    for event in events:
        before = branch.now
        branch = happen(branch, event)
        if not isinstance(event, TakenBack | PutBack):
            trails[id(branch.now)] = _Trail(Stood(event, branch.now), trails[id(before)])
            kept.append(branch.now)
    return _walked(trails[id(branch.now)])


def _walked(trail: _Trail | None) -> tuple[Stood, ...]:
    out = []
    while trail is not None:
        out.append(trail.stood)
        trail = trail.before
    return tuple(reversed(out))
