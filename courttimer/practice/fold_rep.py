"""How what happens inside a rep changes its lane: windows, outcomes, points and targets."""

from dataclasses import replace

from courttimer.plan.derived import BROKEN, REACHED, opening
from courttimer.plan.model import Outcome, Segment, Station
from courttimer.practice import events as ev
from courttimer.practice.cue import Saying
from courttimer.practice.lane import Coming, Lane, Open, Opens, altered
from courttimer.practice.lineup import default_turn
from courttimer.practice.rested import NAMELESS
from courttimer.practice.scoring import Added, afresh, noted
from courttimer.practice.state import State, outcome_of, own, play_of, window_of, with_lane
from courttimer.practice.telling import say, told_of

STATION_GRACE_MS = 1_000
"""The grace at a station, which has no line of its own for it."""


def opened(s: State, e: ev.WindowOpened, lane: Lane) -> State:
    """The state with a window open."""
    play, mine = play_of(s, e.lane), own(s, lane, e.at)
    names = [w.name for w in play.window]
    window = Open(name=e.window, began=e.at, ends=mine + e.lasts, lasts=e.lasts)
    windows = tuple(sorted((*(w for w in lane.windows if w.name != e.window), window), key=lambda w: names.index(w.name)))
    every = tuple((name, at if name != e.window or at > mine else at + _every(play, name)) for name, at in lane.every)
    to_open = tuple(x for x in lane.to_open if x.name != e.window)
    return with_lane(s, e.lane, windows=windows, to_open=to_open, every=every)


def closed(s: State, e: ev.WindowClosed, lane: Lane) -> State:
    """The state with a window closed, and what follows from it."""
    play = play_of(s, e.lane)
    closing = tuple(x for x in lane.closing if x[0] != e.window)
    windows = tuple(w for w in lane.windows if w.name != e.window)
    outcome = outcome_of(play, e.why)
    onward = e.why == "time" or (outcome is not None and not outcome.ends)
    follow = tuple(Opens(name=w.name, at=e.at) for w in play.window if onward and opening(w)[:2] == ("when window closes", e.window))
    shut = (*(x for x in lane.shut if x[0] != e.window), (e.window, e.at)) if e.why not in ("held", "reset") else lane.shut
    fresh = _coming(play, e)
    coming = (*(one for one in lane.coming if not fresh or one.window != e.window), *fresh)
    every = tuple((name, _not_before(at, own(s, lane, e.at), _every(play, name))) for name, at in lane.every)
    return with_lane(
        s, e.lane, windows=windows, closing=closing, shut=shut, to_open=(*lane.to_open, *follow), coming=coming, every=every
    )


def _every(play: Segment | Station, name: str) -> int:
    return opening(window_of(play, name)).every


def _not_before(at: int, now: int, every: int) -> int:
    """The next moment in a steady row; those that passed while the window was open are left out."""
    return at if at >= now else at + -((at - now) // every) * every


def _coming(play: Segment | Station, e: ev.WindowClosed) -> tuple[Coming, ...]:
    """The outcome for which the window stood, if any. A better one that belongs to the window is good for the drill's grace."""
    window = window_of(play, e.window)
    if e.why not in ("time", "rep") or not window.runs_out:
        return ()
    waits = any(e.window in (one.only_in, one.closes) for one in play.outcome)
    return (Coming(outcome=window.runs_out, window=e.window, at=e.at + (grace_of(play) if waits else 0), since=e.at),)


def _settles(name: str, outcome: Outcome | None, coming: Coming) -> bool:
    """Does it come instead of what a window stood for? Only what is the same, belongs to that window or ends the rep."""
    if outcome is None:
        return name == coming.outcome
    own = (outcome.only_in, outcome.closes, outcome.resets, outcome.opens)
    return bool(outcome.ends) or name == coming.outcome or coming.window in own


def grace_of(play: Segment | Station) -> int:
    """How long after its window an outcome is still good, in ms. A station takes the common value."""
    return play.grace if isinstance(play, Segment) else STATION_GRACE_MS


def happened(s: State, n: int, name: str, at: int, starts: int | None, *, counts: bool) -> State:
    """What the file lets an outcome do now: add up, move the turn, open and close windows, end the rep."""
    lane, play = s.lanes[n], play_of(s, n)
    outcome = outcome_of(play, name)
    heard = at if starts is None else starts
    s = _counts(s, n, name, outcome, heard) if counts else with_lane(s, n, late=(name, at))
    if lane.live and (outcome is None or outcome.ends):
        closing = tuple((w.name, name) for w in lane.windows)
        drill_over = lane.over or (outcome is not None and outcome.ends == "segment")
        return with_lane(s, n, ending=(name, starts), closing=closing, over=drill_over, to_open=())
    return s


def _counts(s: State, n: int, name: str, outcome: Outcome | None, starts: int) -> State:
    lane, play = s.lanes[n], play_of(s, n)
    counting = (*lane.counting, name) if _adds(play, name, outcome) else lane.counting
    coming = tuple(one for one in lane.coming if not _settles(name, outcome, one))
    s = with_lane(s, n, late=None, happened=(*lane.happened, name), counting=counting, coming=coming)
    if outcome is None:
        return s
    if outcome.turn.how and lane.standing:
        s = with_lane(s, n, turning=(name, outcome.turn))
    if outcome.say:
        s = say(s, n, s.at, name, Saying(phrase="", what=outcome.say))
    s = with_lane(s, n, won=outcome.to or lane.won)
    return _moves_windows(s, n, outcome, starts) if lane.live else s


def _adds(play: Segment | Station, name: str, outcome: Outcome | None) -> bool:
    """Is anything to be added up for it?"""
    if play.score is not None and play.score.counted == "players":
        return name in (REACHED.name, BROKEN.name)
    return play.score is not None or (outcome is not None and outcome.points != 0)


def _moves_windows(s: State, n: int, outcome: Outcome, starts: int) -> State:
    lane, play = s.lanes[n], play_of(s, n)
    names = {w.name for w in lane.windows}
    closing = [(outcome.closes, outcome.name)] if outcome.closes in names else []
    opens = [w.name for w in play.window if opening(w)[:2] == ("on outcome", outcome.name)]
    opens += [outcome.opens] if outcome.opens and outcome.opens not in opens else []
    to_open = [Opens(name=name, at=starts) for name in opens if name not in names]
    if outcome.resets:
        closing += [(outcome.resets, "reset")] if outcome.resets in names else []
        to_open.append(Opens(name=outcome.resets, at=s.at, quiet=True))
    return with_lane(s, n, closing=(*lane.closing, *closing), to_open=(*lane.to_open, *to_open))


def scored(s: State, e: ev.Scored, lane: Lane) -> State:
    """The state with an outcome added up."""
    sheet = noted(lane.sheet, Added(e.points, e.rows, e.makes))
    called = e.outcome == BROKEN.name and not e.rows
    broken = [side for side, long in e.rows if long == 0 and dict(lane.sheet.rows).get(side, 0) > 1] or [""] * called
    s = with_lane(s, e.lane, sheet=sheet, counting=lane.counting[1:])
    return say(s, e.lane, e.at, "broken", Saying(phrase="broken", what=broken[0])) if broken else s


def _owing(lane: Lane, e: ev.TargetReached) -> dict[str, object]:
    """What is to be done after the rep, and by whom; after two targets both losers, no longer than either may."""
    if not (lane.owes and e.owes):
        return {"owes": e.owes or lane.owes, "payers": e.pays or lane.payers}
    return {"owes": min(lane.owes, e.owes), "payers": tuple(dict.fromkeys((*lane.payers, *e.pays)))}


def reached(s: State, e: ev.TargetReached, lane: Lane) -> State:
    """The state with a target reached: what begins anew, who has won, who pays."""
    play = play_of(s, e.lane)
    then = play.score.then if play.score else ""
    won, anew = replace(lane.sheet, won=e.side), then in ("again", "turn")
    s = with_lane(
        s, e.lane, sheet=afresh(won) if anew else won, race_since=own(s, lane, e.at) if anew else lane.race_since,
        over=lane.over or then == "end drill", **_owing(lane, e),
        last_won=(e.side, e.at) if e.side else lane.last_won,
        counting=lane.counting[1:] if e.why == "called" else lane.counting,
        turning=("target", default_turn(play)) if then == "turn" and lane.standing else lane.turning,
    )  # fmt: skip
    wins, paid = dict(s.wins), dict(s.paid)
    wins |= {one: wins.get(one, 0) + 1 for one in e.winners}
    paid |= {one: paid.get(one, 0) + e.owes for one in e.pays or (s.here or NAMELESS if e.owes else ())}
    s = altered(s, wins=tuple(wins.items()), paid=tuple(paid.items()))
    told = told_of(play.score, e)
    return s if told is None else say(s, e.lane, e.at, "target", told)
