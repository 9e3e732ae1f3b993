"""How the rest of a practice is made to fit the time that is left: what `plan.fit` gives, as an event."""

from courttimer.plan.fit import Running, changes, fit, part_of, told
from courttimer.practice.events import Refitted
from courttimer.practice.state import READY_MS, State, left, own, rep_in


def refit(s: State) -> Refitted | None:
    """The new lengths at this moment; None when nothing changes, or no end of the floor time is known."""
    if s.floor_ends is None or s.called_off:
        return None
    hand = dict(s.by_hand)
    parts = [part_of(one, hand.get(s.segment + i)) for i, one in enumerate(s.plan.segment[s.segment :])]
    played = s.clock.own(s.at) - s.since + _rep_on(s)
    given = fit(parts, s.floor_ends - s.at, Running(played=played, owes=s.owed))
    after = [*s.times[: s.segment], *(-1 if t is None else t for t in given.times)]
    setup, more = (given.setup[0] + s.segment, given.setup[1]) if given.setup else (-1, 0)
    if (tuple(after), setup, more, given.short, given.early) == (s.times, *s.setup_more, s.short, s.early):
        return None
    names = [one.title for one in s.plan.segment]
    changed = changes([t if t >= 0 else None for t in s.times], [t if t >= 0 else None for t in after])
    return Refitted(
        at=s.at, times=tuple(after), setup=setup, more=more, short=given.short, early=given.early, told=told(changed, names),
    )  # fmt: skip


def _rep_on(s: State) -> int:
    """What the rep that is on, or is about to be played again, still takes: it is finished before the segment ends."""
    lane, rep = s.lanes[0] if s.lanes else None, rep_in(s, 0) if s.lanes else None
    if lane is None or rep is None or rep.live is None:
        return 0
    if lane.again:
        return min(READY_MS + rep.live, left(s, s.at))
    return max((lane.ends or 0) - own(s, lane, s.at), 0) if lane.live else 0
