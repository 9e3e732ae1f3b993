"""What a call about the play itself makes: an outcome and whether it counts, a window, makes at a spot."""

from courttimer.plan.derived import BROKEN, REACHED, outcomes_of
from courttimer.plan.model import Outcome
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call
from courttimer.practice.fold_rep import grace_of
from courttimer.practice.lane import Lane
from courttimer.practice.state import State, play_of, window_of

JUST_MS = 1_000
"""A press so soon after something ended by itself was meant for what has ended."""
ACCEPT_MS = 3_000
"""The same key again within this accepts an outcome that did not count."""

Made = ev.Event | str


def call_outcome(b: Branch, call: Call, at: int, starts: int) -> Made:
    """An outcome as it was called: it counts, or says why not; or why there is nothing that could happen."""
    s, n = b.now, call.lane
    lane, outcomes = s.lanes[n], outcomes_of(play_of(s, n))
    if call.number > len(outcomes):
        return f"this segment has no outcome {call.number}"
    outcome = outcomes[call.number - 1] if call.number else None
    name = outcome.name if outcome else "over"
    if lane.live and lane.ending is not None:
        return f"rep {lane.rep} is over already"
    counts, why = _judged(s, lane, n, outcome, at)
    if not lane.live and not _aloud(s, n, name) and not (outcome and why and (counts or _just_closed(s, n, outcome, at))):
        return "the rep has just ended" if at - lane.began < JUST_MS else f"that means nothing in {lane.stretch or 'stopped'} time"
    return ev.OutcomeHappened(at=at, by=call.by, lane=n, outcome=name, starts=starts, since=call.since, counts=counts, why=why)


def _just_closed(s: State, n: int, outcome: Outcome, at: int) -> bool:
    """Did its window close so lately that the press may have been meant for it? Not when what it stands for has come instead."""
    closed = dict(s.lanes[n].shut).get(outcome.only_in)
    return closed is not None and at - closed <= ACCEPT_MS and not window_of(play_of(s, n), outcome.only_in).runs_out


def _aloud(s: State, n: int, name: str) -> bool:
    """Is it what the players tell who count for themselves? They tell it when the ball is dead as well."""
    score = play_of(s, n).score
    return score is not None and score.counted == "players" and name in (REACHED.name, BROKEN.name)


def _judged(s: State, lane: Lane, n: int, outcome: Outcome | None, at: int) -> tuple[bool, str]:
    """Does it count, and why (not)? In a rep that is over only what belongs to it still counts: in the grace, or accepted."""
    if outcome is None:
        return True, ""
    if lane.late is not None and lane.late[0] == outcome.name and at - lane.late[1] <= ACCEPT_MS:
        return True, "accepted"
    if outcome.only_after and outcome.only_after not in lane.happened:
        return False, f'no "{outcome.only_after}" before it'
    closed = dict(lane.shut).get(outcome.only_in or outcome.closes)
    in_grace = closed is not None and at - closed < grace_of(play_of(s, n))
    if outcome.only_in and not any(w.name == outcome.only_in for w in lane.windows):
        if not in_grace:
            return False, "late" if closed is not None else f'"{outcome.only_in}" was not open'
        return True, "in the grace"
    return True, "in the grace" if in_grace and outcome.points and not lane.live else ""


def call_window(b: Branch, call: Call, at: int, starts: int) -> Made:
    """The first window that opens on call and is not open."""
    s, n = b.now, call.lane
    lane, names = s.lanes[n], [w.name for w in play_of(s, n).window if w.opens == "on call"]
    busy = {w.name for w in lane.windows} | {one.name for one in lane.to_open}
    free = [name for name in names if name not in busy]
    if not free:
        return "its window is open already" if names else "this segment has no window to open"
    return ev.WindowCalled(at=at, by=call.by, lane=n, window=free[0], starts=starts)


def call_makes(b: Branch, call: Call, at: int, starts: int) -> Made:
    """Makes at a spot: of the round that is being shot, or was shot last."""
    s = b.now
    at_spots = [i for i, one in enumerate(s.plan.segment) if one.kind == "spots" and i <= s.segment]
    if not at_spots:
        return "makes are entered once spots have been shot"
    i = at_spots[-1]
    segment = s.plan.segment[i]
    spot = next((one for one in segment.spots if one.casefold() == call.who.casefold()), None)
    if spot is None:
        return f'there is no spot "{call.who}"; there are {", ".join(segment.spots)}'
    if segment.shots is not None and call.number > segment.shots:
        return f"{segment.shots} shots were taken at each spot (got {call.number})"
    turn = call.amount or round_of(s, i)
    if not 1 <= turn <= segment.rounds:
        return f"a round from 1 to {segment.rounds} is wanted (got {turn})"
    return ev.MakesEntered(at=at, by=call.by, segment=i, spot=spot, round=turn, makes=call.number, shots=segment.shots)


def round_of(s: State, i: int) -> int:
    """The round of a spots segment whose makes are entered now, from 1: the last one that is over, or, spot by spot, that is shot."""
    segment = s.plan.segment[i]
    if i != s.segment or not s.lanes:
        return segment.rounds
    lane, count = s.lanes[0], len(segment.spots)
    done = lane.rep - lane.live
    turn = max(done - 1, 0) // count + 1 if segment.enter == "after the spot" else max(done // count, 1)
    return min(turn, segment.rounds)
