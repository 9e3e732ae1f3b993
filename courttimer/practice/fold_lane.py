"""How an event changes one lane: its stretch, its rep, its windows, its score and who stands where."""

from dataclasses import replace

from courttimer.plan.derived import BROKEN, REACHED, opening
from courttimer.plan.model import Outcome, Segment, Station
from courttimer.practice import events as ev
from courttimer.practice.cue import Saying
from courttimer.practice.event import Event, Names, Standing
from courttimer.practice.lane import Coming, Lane, Nested, Open, Opens, altered
from courttimer.practice.lineup import default_turn, on_floor, played, sides_of
from courttimer.practice.rested import ALL, worked
from courttimer.practice.scoring import Sheet, Sums3, afresh, members, noted
from courttimer.practice.state import State, outcome_of, own, play_of, rep_in, window_of, with_lane
from courttimer.practice.telling import lost_of, say, told_of
from courttimer.squad.fair import Past, begun, joined

STATION_GRACE_MS = 1_000
"""The grace at a station, which has no line of its own for it."""


def on_lane(s: State, e: Event) -> State:
    """The state after an event that time has brought to a lane."""
    lane = s.lanes[e.lane]
    match e:
        case ev.StretchBegan():
            return _stretch(s, e, lane)
        case ev.RepBegan():
            return _rep_began(s, e, lane)
        case ev.RepEnded():
            return _rep_ended(s, e, lane)
        case ev.HoldEnded():
            return with_lane(s, e.lane, clock=lane.clock.go(s.clock.own(e.at)), going=None)
        case ev.StationEnded():
            ended = with_lane(s, e.lane, ended=True, stretch="change", ends=None)
            return lost_of(ended, e)
    return _within(s, e, lane)


def _within(s: State, e: Event, lane: Lane) -> State:
    """What happens inside a rep, and to those who play it."""
    match e:
        case ev.WindowOpened():
            return _opened(s, e, lane)
        case ev.WindowClosed():
            return _closed(s, e, lane)
        case ev.OutcomeCame():
            since = lane.coming.since if lane.coming else e.at
            outcome = outcome_of(play_of(s, e.lane), e.outcome)
            ends = lane.live and (outcome is None or bool(outcome.ends))
            s = with_lane(s, e.lane, coming=None, shortened=e.at - since if ends else lane.shortened)
            return happened(s, e.lane, e.outcome, e.at, None, counts=True)
        case ev.Scored():
            return _scored(s, e, lane)
        case ev.TargetReached():
            return _reached(s, e, lane)
        case ev.LinedUp():
            return with_lane(
                s, e.lane, standing=e.standing, units=e.units, told=e.told, present=s.here, past=_past(play_of(s, e.lane), lane, e),
                was=e.standing if _plays_on(lane) else lane.was,
            )  # fmt: skip
        case ev.Turned():
            return _turned(s, e, lane)
        case ev.SpotsOrdered():
            return with_lane(s, e.lane, order=e.order)
    return s


def _past(play: Segment | Station, lane: Lane, e: ev.LinedUp) -> Past:
    """The past with those who have just come: they count as one of those who have played least."""
    here, known = _names(e.standing), _names(lane.standing)
    past = lane.past or begun(here)
    for one in here if lane.past is not None else ():
        past = past if one in known else joined(past, one, here, [side.name for side in sides_of(play)])
    return past


def _plays_on(lane: Lane) -> bool:
    """The ball is live, and stays so."""
    return lane.live and lane.ending is None and not lane.over


def _turned(s: State, e: ev.Turned, lane: Lane) -> State:
    """Everyone stands elsewhere; which team comes on is said. Who comes on while play goes on has played from now on."""
    play = play_of(s, e.lane)
    before, now, plays_on = on_floor(play, lane.standing), on_floor(play, e.standing), _plays_on(lane)
    if lane.live:
        s = altered(s, work=worked(s, e.lane, _playing(s, lane, e.lane), lane.work_since, e.at))
    s = with_lane(
        s, e.lane, standing=e.standing, turns=lane.turns + 1, turning=None, turned=lane.turned or e.why not in ("call", "time"),
        was=e.standing if plays_on else lane.was, next_turn=_next_turn(s, lane, e.at, e.lane), work_since=e.at,
        past=played(lane.past, e.standing, play) if plays_on and lane.past is not None else lane.past,
    )  # fmt: skip
    fresh = tuple(one for one in now if one not in before)
    for one in fresh if lane.units and before else ():
        s = say(s, e.lane, e.at, f"on {one}", Saying(phrase="on", what=one))
    return s


def _names(standing: Standing) -> Names:
    return tuple(one for place in standing for _, names in place for one in names)


def _stretch(s: State, e: ev.StretchBegan, lane: Lane) -> State:
    mine = own(s, lane, e.at)
    s = s if e.stretch == "waiting" or e.lane > 0 else altered(s, going=None)
    began = with_lane(s, e.lane, stretch=e.stretch, began=e.at, since=mine, ends=None if e.lasts is None else mine + e.lasts)
    if e.stretch == "consequence":
        work = worked(s, e.lane, lane.payers, e.at, e.at + (e.lasts or 0))
        return with_lane(altered(began, work=work), e.lane, owes=0, going=None)
    return with_lane(
        began, e.lane, shortened=0 if e.stretch == "off" else lane.shortened, going=lane.going if e.stretch == "waiting" else None,
        payers=() if lane.stretch == "consequence" and not lane.owes else lane.payers,
    )  # fmt: skip


def _rep_began(s: State, e: ev.RepBegan, lane: Lane) -> State:
    play, mine = play_of(s, e.lane), own(s, lane, e.at)
    opens = tuple(Opens(name=w.name, at=e.at) for w in play.window if w.opens == "with the rep")
    every = tuple((w.name, mine + opening(w).every) for w in play.window if opening(w).how == "every")
    s = altered(s, going=None) if e.lane == 0 else s
    past = lane.past if lane.past is None or lane.again else played(lane.past, lane.standing, play)
    sheet = _game_again(play, lane, e.rep)
    s = with_lane(
        s, e.lane, stretch="live", began=e.at, since=mine, ends=None if e.lasts is None else mine + e.lasts, rep=e.rep, again=False,
        to_open=opens, every=every, tone=None, going=None, shut=(), coming=None, happened=(), late=None, was=lane.standing,
        payers=() if lane.stretch == "consequence" and not lane.owes else lane.payers,
        turned=False, won="", past=past, sheet=sheet, race_since=mine if lane.race_since is None else lane.race_since, shortened=0,
        next_turn=_next_turn(s, lane, e.at, e.lane), work_since=e.at,
    )  # fmt: skip
    return _stations(s, e.at) if isinstance(play, Segment) and play.kind == "stations" else s


def _game_again(play: Segment | Station, lane: Lane, rep: int) -> Sheet:
    """A situation of a game that is played again begins at its score."""
    if isinstance(play, Station) or play.game is None or rep == 1 or lane.again:
        return lane.sheet
    return replace(afresh(lane.sheet), points=play.game.score)


def _next_turn(s: State, lane: Lane, at: int, n: int) -> int | None:
    rep = rep_in(s, n)
    return None if rep is None or rep.turn_every is None else own(s, lane, at) + rep.turn_every


def _stations(s: State, at: int) -> State:
    """With the common clock each station begins: its own clock, its first rep, the score it had."""
    segment, common = s.plan.segment[s.segment], s.lanes[0]
    clock = Nested(stood=s.clock.own(at))
    old = dict(enumerate(s.lanes))
    lanes = [
        Lane(
            clock=clock, began=at, stretch="" if one.rep else "on", sheet=old[n].sheet if n in old else Sheet(), units=common.units,
            rep=0,
        )
        for n, one in enumerate(segment.station, 1)
    ]  # fmt: skip
    return altered(s, lanes=(common, *lanes))


def _rep_ended(s: State, e: ev.RepEnded, lane: Lane) -> State:
    """A rep that was held is played again and keeps its number."""
    again, play = e.why == "held", play_of(s, e.lane)
    s = altered(s, work=worked(s, e.lane, _playing(s, lane, e.lane), lane.work_since, e.at))
    rep = rep_in(s, e.lane)
    s = with_lane(
        s, e.lane, stretch="", after="hold" if again else "rep", ends=None, rep=e.rep - 1 if again else e.rep, again=again,
        windows=(), to_open=(), every=(), closing=(), ending=None, tone=("end", e.starts) if e.starts is not None else None, began=e.at,
        coming=None if again else lane.coming,
    )  # fmt: skip
    if isinstance(play, Segment) and play.kind == "stations":
        ended = tuple(altered(x, ended=True, stretch="change", ends=None) if n else x for n, x in enumerate(s.lanes))
        s = altered(s, lanes=ended)
        return s if again or not lane.standing else with_lane(s, 0, turning=("change", default_turn(play)))
    if again or lane.turned or lane.turning or rep is None or not rep.turn.how or not lane.standing:
        return s
    return with_lane(s, e.lane, turning=("rep", rep.turn))


def _playing(s: State, lane: Lane, n: int) -> Names:
    """The players who were on the floor in this rep."""
    standing, play = lane.was or lane.standing, play_of(s, n)
    if standing and play.roles:
        return members(lane.units, on_floor(play, standing))
    if n > 0:
        common = s.lanes[0]
        return members(common.units, _names(common.standing[n - 1 : n]))
    return () if isinstance(play, Segment) and play.kind == "stations" else s.here or ALL


def _opened(s: State, e: ev.WindowOpened, lane: Lane) -> State:
    play, mine = play_of(s, e.lane), own(s, lane, e.at)
    names = [w.name for w in play.window]
    window = Open(name=e.window, began=e.at, ends=mine + e.lasts, lasts=e.lasts)
    windows = tuple(sorted((*(w for w in lane.windows if w.name != e.window), window), key=lambda w: names.index(w.name)))
    every = tuple((name, at if name != e.window or at > mine else at + _every(play, name)) for name, at in lane.every)
    to_open = tuple(x for x in lane.to_open if x.name != e.window)
    return with_lane(s, e.lane, windows=windows, to_open=to_open, every=every)


def _closed(s: State, e: ev.WindowClosed, lane: Lane) -> State:
    play = play_of(s, e.lane)
    closing = tuple(x for x in lane.closing if x[0] != e.window)
    windows = tuple(w for w in lane.windows if w.name != e.window)
    outcome = outcome_of(play, e.why)
    onward = e.why == "time" or (outcome is not None and not outcome.ends)
    follow = tuple(Opens(name=w.name, at=e.at) for w in play.window if onward and opening(w)[:2] == ("when window closes", e.window))
    shut = (*(x for x in lane.shut if x[0] != e.window), (e.window, e.at)) if e.why not in ("held", "reset") else lane.shut
    coming = _coming(play, e) or lane.coming
    every = tuple((name, _not_before(at, own(s, lane, e.at), _every(play, name))) for name, at in lane.every)
    return with_lane(
        s, e.lane, windows=windows, closing=closing, shut=shut, to_open=(*lane.to_open, *follow), coming=coming, every=every
    )


def _every(play: Segment | Station, name: str) -> int:
    return opening(window_of(play, name)).every


def _not_before(at: int, now: int, every: int) -> int:
    """The next moment in a steady row; those that passed while the window was open are left out."""
    return at if at >= now else at + -((at - now) // every) * every


def _coming(play: Segment | Station, e: ev.WindowClosed) -> Coming | None:
    """The outcome for which the window stood. A better one that belongs to the window is good for the drill's grace."""
    window = window_of(play, e.window)
    if e.why not in ("time", "rep") or not window.runs_out:
        return None
    waits = any(e.window in (one.only_in, one.closes) for one in play.outcome)
    return Coming(outcome=window.runs_out, window=e.window, at=e.at + (grace_of(play) if waits else 0), since=e.at)


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
    s = with_lane(s, n, late=None, happened=(*lane.happened, name), counting=counting)
    if outcome is None:
        return s
    if outcome.turn.how and lane.standing:
        s = with_lane(s, n, turning=(name, outcome.turn))
    if outcome.say:
        s = say(s, n, s.at, name, Saying(phrase="", what=outcome.say))
    s = with_lane(s, n, coming=None, won=outcome.to or lane.won)
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


def _scored(s: State, e: ev.Scored, lane: Lane) -> State:
    sheet = noted(lane.sheet, Sums3(e.points, e.rows, e.makes))
    called = e.outcome == BROKEN.name and not e.rows
    broken = [side for side, long in e.rows if long == 0 and dict(lane.sheet.rows).get(side, 0) > 1] or [""] * called
    s = with_lane(s, e.lane, sheet=sheet, counting=lane.counting[1:])
    return say(s, e.lane, e.at, "broken", Saying(phrase="broken", what=broken[0])) if broken else s


def _reached(s: State, e: ev.TargetReached, lane: Lane) -> State:
    play = play_of(s, e.lane)
    then = play.score.then if play.score else ""
    won, anew = replace(lane.sheet, won=e.side), then in ("again", "turn")
    s = with_lane(
        s, e.lane, sheet=afresh(won) if anew else won, race_since=own(s, lane, e.at) if anew else lane.race_since,
        over=lane.over or then == "end drill", owes=e.owes or lane.owes, payers=e.pays or lane.payers,
        last_won=(e.side, e.at) if e.side else lane.last_won,
        counting=lane.counting[1:] if e.why == "called" else lane.counting,
        turning=("target", default_turn(play)) if then == "turn" and lane.standing else lane.turning,
    )  # fmt: skip
    wins, paid = dict(s.wins), dict(s.paid)
    wins |= {one: wins.get(one, 0) + 1 for one in e.winners}
    paid |= {one: paid.get(one, 0) + e.owes for one in e.pays}
    s = altered(s, wins=tuple(wins.items()), paid=tuple(paid.items()))
    told = told_of(play.score, e)
    return s if told is None else say(s, e.lane, e.at, "target", told)
