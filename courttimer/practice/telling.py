"""What has happened and is to be told as soon as the ball is not live: a target, what a station has lost."""

from courttimer.plan.model import Score
from courttimer.practice import events as ev
from courttimer.practice.cue import Saying
from courttimer.practice.lane import altered
from courttimer.practice.state import Said, State

MOST_NUMBERS = 15
"""A score higher than this is not told in numbers."""
LOST_MS = 30_000
"""What a station has lost is told to the half minute."""
SAID_MS = 20_000
"""What was to be said and found no moment for so long is forgotten."""


def told_of(score: Score | None, e: ev.TargetReached) -> Saying | None:
    """What is said of it. Numbers are told as far as they have been prepared, and no leader where only the players know."""
    if e.why == "called":
        return Saying(phrase="reached", n=e.n)
    if e.why == "row":
        return Saying(phrase="in-a-row", what=e.side, n=e.n)
    if score is not None and score.counted == "players":
        return Saying(phrase="wins")
    if e.why == "cap" and score is not None and 0 <= e.m <= e.n <= (score.race or 0) <= MOST_NUMBERS:
        return Saying(phrase="leads", what=e.side, n=e.n, m=e.m) if e.side else Saying(phrase="tie", n=e.n)
    return Saying(phrase="wins", what=e.side) if e.side else None


def lost_of(s: State, e: ev.StationEnded) -> State:
    """With what a station has lost, to be told at the change."""
    lost = round(e.lost / LOST_MS) * LOST_MS
    said = Saying(phrase="held-lost", what=s.plan.segment[s.segment].station[e.lane - 1].name, time=lost)
    return say(s, 0, e.at, f"lost {e.lane}", said) if lost else s


def say(s: State, lane: int, at: int, name: str, what: Saying) -> State:
    """With something to be said as soon as the ball is not live."""
    fresh = tuple(x for x in s.says if x.at > at - SAID_MS)
    return altered(s, says=(*fresh, Said(lane=lane, at=at, name=name, says=what)))
