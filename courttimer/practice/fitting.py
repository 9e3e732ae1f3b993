"""How the rest of a practice is made to fit the time that is left: what `plan.fit` gives, as an event; and what is told of it."""

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from courttimer.plan.fit import Change, Running, changes, fit, part_of, told, weightiest
from courttimer.practice.events import Refitted
from courttimer.practice.state import READY_MS, State, left, own, rep_in

WORTH_A_WORD = 15_000
"""Who loses less than this in all hears nothing of it."""


class News(NamedTuple):
    """What is said of the fit: which segment, whether it is left out, and how much all have lost, in ms."""

    segment: int
    left_out: bool
    late: int


def refit(s: State) -> Refitted | None:
    """The new lengths at this moment; None when nothing changes, or no end of the floor time is known."""
    if s.floor_ends is None or s.called_off:
        return None
    hand = dict(s.by_hand)
    parts = [part_of(one, hand.get(s.segment + i)) for i, one in enumerate(s.plan.segment[s.segment :])]
    mine = s.setup_more[1] if s.setup_more[0] == s.segment else 0  # what rounding has left to it keeps the end on its moment
    if mine and len(parts) == 1:
        parts[0] = replace(parts[0], time=parts[0].time + mine, most=parts[0].most + mine)
    played = s.clock.own(s.at) - s.since + _rep_on(s)
    given = fit(parts, s.floor_ends - s.at, Running(played=played, owes=s.owed))
    after = [*s.times[: s.segment], *(-1 if t is None else t for t in given.times)]
    setup, more = (given.setup[0] + s.segment, given.setup[1]) if given.setup else s.setup_more if len(parts) == 1 else (-1, 0)
    if (tuple(after), setup, more, given.short, given.early) == (s.times, *s.setup_more, s.short, s.early):
        return None
    return Refitted(
        at=s.at, times=tuple(after), setup=setup, more=more, short=given.short, early=given.early,
        told=told(_changes(s.times, after), _names(s)),
    )  # fmt: skip


def shown(s: State) -> str:
    """For the board: which lengths from here on are others than when they were last told; empty when none is."""
    return told([one for one in _changes(s.fit_was, s.times) if one.at >= s.segment], _names(s))


def news(s: State) -> News | None:
    """For the ear, at the beginning of a break: the weightiest of what has been lost since the last one, best of what is to come."""
    changed = _changes(s.fit_was, s.fit_seen)
    late = sum(one.was - (one.now or 0) for one in changed if one.now is None or one.now < one.was)
    lost = weightiest([one for one in changed if one.at > s.segment]) or weightiest(changed)
    return None if lost is None or late < WORTH_A_WORD else News(lost.at, lost.now is None, late)


def _changes(before: Sequence[int], after: Sequence[int]) -> tuple[Change, ...]:
    return changes([t if t >= 0 else None for t in before], [t if t >= 0 else None for t in after])


def _names(s: State) -> list[str]:
    return [one.title for one in s.plan.segment]


def _rep_on(s: State) -> int:
    """What the rep that is on, or is about to be played again, still takes: it is finished before the segment ends."""
    lane, rep = s.lanes[0] if s.lanes else None, rep_in(s, 0) if s.lanes else None
    if lane is None or rep is None or rep.live is None:
        return 0
    if lane.again:
        return min(READY_MS + rep.live, left(s, s.at))
    return max((lane.ends or 0) - own(s, lane, s.at), 0) if lane.live else 0
