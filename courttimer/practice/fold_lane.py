"""How an event changes one lane: its stretch, its rep and who stands where. What happens inside a rep is in `fold_rep.py`."""

from dataclasses import replace

from courttimer.plan.derived import opening, sides_of
from courttimer.plan.model import Segment, Station
from courttimer.practice import events as ev
from courttimer.practice.cue import Saying
from courttimer.practice.event import Event, Names, Standing
from courttimer.practice.fold_rep import closed, happened, opened, reached, scored
from courttimer.practice.lane import Lane, Nested, Opens, altered
from courttimer.practice.lineup import default_turn, on_floor, played
from courttimer.practice.rested import NAMELESS, worked
from courttimer.practice.scoring import Sheet, afresh, members
from courttimer.practice.state import State, outcome_of, own, play_of, rep_in, with_lane
from courttimer.practice.telling import lost_of, say
from courttimer.squad.fair import Past, begun, joined


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
            return opened(s, e, lane)
        case ev.WindowClosed():
            return closed(s, e, lane)
        case ev.OutcomeCame():
            since = next((one.since for one in lane.coming if one.window == e.window), e.at)
            outcome = outcome_of(play_of(s, e.lane), e.outcome)
            ends = lane.live and (outcome is None or bool(outcome.ends))
            coming = tuple(one for one in lane.coming if one.window != e.window)
            s = with_lane(s, e.lane, coming=coming, shortened=e.at - since if ends else lane.shortened)
            return happened(s, e.lane, e.outcome, e.at, None, counts=True)
        case ev.Scored():
            return scored(s, e, lane)
        case ev.TargetReached():
            return reached(s, e, lane)
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
    owing = lane.again or (lane.stretch == "consequence" and lane.owes > 0)  # what came up while others paid is still to be done
    s = with_lane(
        s, e.lane, stretch="live", began=e.at, since=mine, ends=None if e.lasts is None else mine + e.lasts, rep=e.rep, again=False,
        to_open=opens, every=every, tone=None, going=None, shut=(), coming=(), happened=(), late=None, was=lane.standing,
        owes=lane.owes if owing else 0, payers=lane.payers if owing else (), turned=False, won="", past=past, sheet=sheet,
        race_since=mine if lane.race_since is None else lane.race_since, shortened=0,
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
    """With the common clock each station begins: its own clock, its first rep, the score that is left on it."""
    segment, common = s.plan.segment[s.segment], s.lanes[0]
    clock = Nested(stood=s.clock.own(at))
    old = dict(enumerate(s.lanes))
    lanes = [
        Lane(
            clock=clock, began=at, stretch="" if one.rep else "on", sheet=_left_on(one, old[n].sheet) if n in old else Sheet(),
            units=common.units, rep=0,
        )
        for n, one in enumerate(segment.station, 1)
    ]  # fmt: skip
    return altered(s, lanes=(common, *lanes))


def _left_on(station: Station, sheet: Sheet) -> Sheet:
    """What the groups before have left at a station: their scores, to be beaten, unless a target was reached. Of who plays each
    other there nobody comes back, so the next ones begin at nothing."""
    return Sheet() if station.roles else sheet if sheet.won is None else afresh(sheet)


def _rep_ended(s: State, e: ev.RepEnded, lane: Lane) -> State:
    """A rep that was held is played again and keeps its number."""
    again, play = e.why == "held", play_of(s, e.lane)
    s = altered(s, work=worked(s, e.lane, _playing(s, lane, e.lane), lane.work_since, e.at))
    rep = rep_in(s, e.lane)
    s = with_lane(
        s, e.lane, stretch="", after="hold" if again else "rep", ends=None, rep=e.rep - 1 if again else e.rep, again=again,
        windows=(), to_open=(), every=(), closing=(), ending=None, tone=("end", e.starts) if e.starts is not None else None, began=e.at,
        coming=() if again else lane.coming,
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
    return () if isinstance(play, Segment) and play.kind == "stations" else s.here or NAMELESS
