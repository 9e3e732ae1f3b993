"""How an event changes the practice: `fold` adds it up, and decides nothing.

Results stand in the event itself, so a better rule next year does not rewrite last year's practice. What happens in one lane is in
`fold_lane.py`.
"""

from dataclasses import replace

from courttimer.practice import events as ev
from courttimer.practice.cue import FLOOR
from courttimer.practice.event import Event, Names
from courttimer.practice.fold_lane import on_lane
from courttimer.practice.fold_rep import happened
from courttimer.practice.lane import Lane, Nested, Opens, altered
from courttimer.practice.lineup import came_late, default_turn
from courttimer.practice.room import BREAKS
from courttimer.practice.scoring import Sheet
from courttimer.practice.squads import since_then
from courttimer.practice.state import Entry, State, following, play_of, with_lane


def fold(s: State, e: Event) -> State:
    """The state after `e`. Facts only move `at` on."""
    s = altered(s, at=max(s.at, e.at))
    if e.source == "call":
        return _called(s, e)
    if isinstance(e, ev.StationChosen):
        return altered(s, chosen=e.station)
    return s if e.source == "fact" else _on_floor(s, e) if e.lane == FLOOR else on_lane(s, e)


def _called(s: State, e: Event) -> State:
    match e:
        case ev.Went():
            return _went(s, e)
        case ev.Held() | ev.Halted():
            return _held(s, e)
        case ev.OutcomeHappened():
            return happened(s, e.lane, e.outcome, e.at, e.starts, counts=e.counts)
        case ev.WindowCalled():
            return with_lane(s, e.lane, to_open=(*s.lanes[e.lane].to_open, Opens(name=e.window, at=e.starts)))
        case ev.TurnCalled():
            return with_lane(s, e.lane, turning=("call", default_turn(play_of(s, e.lane))))
        case ev.LastCalled():
            lane = s.lanes[max(e.lane, 0)]
            return altered(s, last=(lane.rep if lane.live else lane.rep + 1, e.starts))
        case ev.Moved():
            return altered(s, moving=(e.to, e.starts), going=None)
        case ev.Lengthened():
            return _lengthen(s, e.ms)
        case ev.CalledOff():
            return altered(s, called_off=True, going=None, moving=None)
    return _noted(s, e)


def _noted(s: State, e: Event) -> State:
    """Calls that no clock feels."""
    match e:
        case ev.WaterTaken():
            return altered(s, water=e.at if s.held else s.hold_was)
        case ev.VoiceSwitched():
            return altered(s, voice=e.on)
        case ev.Marked():
            return altered(s, marks=s.marks + 1)
        case ev.ScoreCorrected():
            return _corrected(s, e)
        case ev.HereChanged():
            return _here(s, e)
        case ev.HeatChanged():
            return altered(s, heat=e.level, heat_told=e.told, anyway=e.anyway, ask_week=e.ask_week)
        case ev.ThunderHeard():
            return _held(altered(s, thunder=(*s.thunder, e.at)), e)
        case ev.MakesEntered():
            others = tuple(x for x in s.entries if (x.segment, x.spot, x.round) != (e.segment, e.spot, e.round))
            entry = Entry(segment=e.segment, spot=e.spot, round=e.round, makes=e.makes, shots=e.shots)
            return altered(s, entries=(*others, entry))
    return s


def _went(s: State, e: ev.Went) -> State:
    if e.lane != FLOOR:
        return with_lane(s, e.lane, going=e.starts)
    ends = e.floor_ends if s.floor_ends is None else s.floor_ends
    return altered(s, going=e.starts, went=e.starts if s.went is None else s.went, floor_ends=ends)


def _held(s: State, e: ev.Held | ev.Halted | ev.ThunderHeard) -> State:
    if e.lane != FLOOR:
        lane = _unready(altered(s.lanes[e.lane], to_open=(), going=None))
        return with_lane(s, e.lane, clock=lane.clock.stand(s.clock.own(e.at)), stretch=lane.stretch, after=lane.after, ends=lane.ends,
                         to_open=(), going=None)  # fmt: skip
    clock = s.clock if s.held else s.clock.stand(e.at)
    lanes = tuple(_unready(altered(lane, to_open=(), going=None)) for lane in s.lanes)
    halted = not isinstance(e, ev.Held) or s.halted
    return altered(s, clock=clock, going=None, moving=None, halted=halted, lanes=lanes)


def _unready(lane: Lane) -> Lane:
    """Held again before the rep that was held began: "Ready" comes again, whole."""
    return altered(lane, stretch="", after="hold", ends=None) if lane.stretch == "ready" else lane


def _lengthen(s: State, ms: int) -> State:
    times = tuple(t + ms if i == s.segment else t for i, t in enumerate(s.times))
    # What was left over may now hold another rep: the lane decides again.
    lanes = tuple(altered(x, stretch="", after="hold" if x.again else "rep") if x.stretch == "spare" and ms > 0 else x for x in s.lanes)
    by_hand = (*(x for x in s.by_hand if x[0] != s.segment), (s.segment, times[s.segment]))
    known = tuple(t + ms if i == s.segment else t for i, t in enumerate(s.fit_was))  # whoever has asked for it need not be told
    return altered(s, ends=s.ends + ms, times=times, lanes=lanes, by_hand=by_hand, fit_at=s.at, fit_was=known)


def _refitted(s: State, e: ev.Refitted) -> State:
    """New lengths from now on; a break that has just begun tells of them."""
    ends = s.since + e.times[s.segment] if s.on else s.ends
    seen = e.times if _breaks(s, s.segment) and s.began == e.at else s.fit_seen
    return altered(
        s, times=e.times, ends=ends, setup_more=(e.setup, e.more), short=e.short, early=e.early, fit_seen=seen, fit_at=None
    )


def _breaks(s: State, segment: int) -> bool:
    return s.plan.segment[segment].kind in BREAKS


def _corrected(s: State, e: ev.ScoreCorrected) -> State:
    """A score put right; where the players count, a win."""
    score = play_of(s, e.lane).score
    if score is not None and score.counted == "players":
        return altered(s, wins=_plus(s.wins, (e.side,), e.amount))
    sheet = s.lanes[e.lane].sheet
    if score is not None and score.row:
        rows = _plus(sheet.rows, (e.side,), e.amount)
        best = tuple((dict(sheet.best) | {side: max(n, dict(sheet.best).get(side, 0)) for side, n in rows}).items())
        return with_lane(s, e.lane, sheet=replace(sheet, rows=rows, best=best))
    return with_lane(s, e.lane, sheet=replace(sheet, points=_plus(sheet.points, (e.side,), e.amount)))


def _plus(sums: tuple[tuple[str, int], ...], who: Names, more: int) -> tuple[tuple[str, int], ...]:
    known = dict(sums)
    return tuple((known | {one: known.get(one, 0) + more for one in who}).items())


def _here(s: State, e: ev.HereChanged) -> State:
    """Who is out is out at once; who comes late is warm first, unless nothing has begun."""
    if e.who in s.plan.staff.coaches:
        others = tuple(one for one in s.staff_out if one != e.who)
        return altered(s, staff_out=others if e.now == "here" else (*others, e.who))
    here = tuple(one for one in s.here if one != e.who)
    warming = tuple(x for x in s.warming if x[0] != e.who)
    late = tuple(dict.fromkeys((*s.late_ones, e.who))) if e.now == "late" else s.late_ones
    s = altered(s, expected=(*(one for one in s.expected if one != e.who), *((e.who,) if e.now == "late" else ())))
    if e.now == "here" and e.who not in s.here:
        if s.went is None or not e.warm:
            return altered(s, here=came_late(s.plan.squad.players, here, e.who), warming=warming, late_ones=late)
        return altered(s, warming=(*warming, (e.who, e.at + e.warm)), late_ones=tuple(dict.fromkeys((*late, e.who))))
    return altered(s, here=s.here if e.now == "here" else here, warming=warming, late_ones=late)


def _on_floor(s: State, e: Event) -> State:
    match e:
        case ev.HoldEnded():
            cost = 0 if s.halted or s.clock.held is None else e.at - s.clock.held
            return altered(
                s, clock=s.clock.go(e.at), going=None, halted=False, hold_was=e.at, owed=s.owed + cost, fit_at=e.at,
                water=_drunk(s, e.at),
            )  # fmt: skip
        case ev.SegmentBegan():
            return _begin(s, e)
        case ev.SegmentEnded():
            played = (*s.played, (e.segment, s.clock.own(e.at) - s.since))
            to = s.moving[0] if e.why == "moved" and s.moving else following(s, e.segment + 1)
            return altered(
                s, on=False, next=to, played=played, moving=None, going=None, last=None, by_itself=e.why != "moved", lanes=(), chosen=0,
                past=since_then(s), water=e.at if s.plan.segment[e.segment].kind == "water" else s.water,
                fit_was=s.fit_seen if _breaks(s, e.segment) else s.fit_was,
            )  # fmt: skip
        case ev.Refitted():
            return _refitted(s, e)
        case ev.Joined():
            warming = tuple(x for x in s.warming if x[0] != e.who)
            return altered(s, here=came_late(s.plan.squad.players, s.here, e.who), warming=warming)
        case ev.PracticeEnded():
            return altered(s, ended=True, going=None, lanes=())
    return s


def _drunk(s: State, at: int) -> int | None:
    """The last water when a hold is over: its end, if it was called the water."""
    return at if s.clock.held is not None and s.water is not None and s.water >= s.clock.held else s.water


def _begin(s: State, e: ev.SegmentBegan) -> State:
    clock = s.clock.go(e.at)
    own = clock.own(e.at)
    segment = s.plan.segment[e.segment]
    sheet = Sheet(points=segment.game.score) if segment.game else Sheet()
    fresh = Lane(clock=Nested(stood=own), began=e.at, sheet=sheet)
    water = e.at if segment.kind == "water" else _drunk(s, e.at)
    hold_was = e.at if s.held and s.segment >= 0 else s.hold_was
    times = tuple(e.lasts if i == e.segment else t for i, t in enumerate(s.times))
    return altered(
        s, clock=clock, halted=False, going=None, moving=None, last=None, on=True, segment=e.segment, began=e.at, since=own,
        ends=own + e.lasts, lanes=(fresh,), voice=True, water=water, times=times, hold_was=hold_was,
        owed=0, fit_at=e.at, fit_seen=times if _breaks(s, e.segment) else s.fit_seen,
    )  # fmt: skip
