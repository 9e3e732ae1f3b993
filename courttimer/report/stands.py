"""What of a journal still stands: its events without those that were taken back, each with the practice as it was then."""

from collections.abc import Iterable
from typing import NamedTuple

from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.events import Event, PutBack, TakenBack
from courttimer.practice.fold import fold
from courttimer.practice.state import State


class Stood(NamedTuple):
    """One event, and the state that it led to; from there to the next one nothing else happened."""

    event: Event
    after: State


class _Trail(NamedTuple):
    stood: Stood
    before: "_Trail | None"


class _Known(NamedTuple):
    """How each state was reached, by the state's identity; the states are kept, for one that is let go would lend its id."""

    trails: dict[int, _Trail | None]
    kept: list[State]

    def learn(self, state: State, trail: _Trail | None) -> None:
        if id(state) not in self.trails:
            self.trails[id(state)] = trail
            self.kept.append(state)

    def of(self, b: Branch) -> _Trail | None:
        return self.trails[id(b.now)]


def stands(opening: State, events: Iterable[Event]) -> tuple[Stood, ...]:
    """The events that lead from the opening to the present, in order.

    Facts are left out: they change nothing, most lines of a journal are facts, and what was heard was heard, taken back or not.
    Raises ValueError, or what `fold` raises, for a row of events that cannot have happened.
    """
    branch = Branch(opening)
    known = _Known({}, [])
    known.learn(opening, None)
    for event in events:
        if event.source == "fact":
            continue
        before = branch
        branch = happen(branch, event)
        if isinstance(event, TakenBack):
            _struck(before, branch, event.lane, known)
        elif isinstance(event, PutBack):
            assert before.forward is not None, "what could not be put back was refused by happen"
            known.learn(branch.now, known.of(before.forward))
        else:
            known.learn(branch.now, _Trail(Stood(event, branch.now), known.of(before)))
    return _walked(known.of(branch))


def _struck(before: Branch, after: Branch, lane: int, known: _Known) -> None:
    """After a take back. A station's own last call is struck from under the later calls of others: those are lived through again."""
    later: list[Event] = []
    b = before
    while lane > 0 and b.back is not None and b.call is not None and b.call.lane != lane:
        later.append(b.call)
        b = b.back
    assert b.back is not None, "what could not be taken back was refused by happen"
    state, trail = b.back.now, known.of(b.back)
    befores = []
    for call in reversed(later):
        _, brought = catch_up(Branch(state), call.at)
        for e in brought:
            state, trail = _on(state, trail, e)
        befores.append(trail)
        state, trail = _on(state, trail, call)
    known.learn(after.now, trail)
    for one in reversed(befores):
        assert after.back is not None, "each later call has its own moment before it"
        after = after.back
        known.learn(after.now, one)


def _on(state: State, trail: _Trail | None, e: Event) -> tuple[State, _Trail]:
    state = fold(state, e)
    return state, _Trail(Stood(e, state), trail)


def _walked(trail: _Trail | None) -> tuple[Stood, ...]:
    out = []
    while trail is not None:
        out.append(trail.stood)
        trail = trail.before
    return tuple(reversed(out))
