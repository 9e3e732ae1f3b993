"""How an event changes the practice: `fold` adds it up, and decides nothing.

Results stand in the event itself, so a better rule next year does not rewrite last year's practice.
"""

from dataclasses import replace

from courttimer.practice import events as ev
from courttimer.practice.cue import FLOOR
from courttimer.practice.events import Event
from courttimer.practice.state import Lane, Nested, Open, State


def fold(s: State, e: Event) -> State:
    """The state after `e`. Facts only move `at` on."""
    s = replace(s, at=max(s.at, e.at))
    if e.source == "call":
        return _called(s, e)
    return s if e.source == "fact" else _on_floor(s, e) if e.lane == FLOOR else _on_lane(s, e)


def _called(s: State, e: Event) -> State:
    match e:
        case ev.Went():
            ends = e.floor_ends if s.floor_ends is None else s.floor_ends
            return replace(s, going=e.starts, went=e.starts if s.went is None else s.went, floor_ends=ends)
        case ev.Held() | ev.Halted():
            return _stand(s, e.at, halted=isinstance(e, ev.Halted))
        case ev.OutcomeHappened():
            return _outcome(s, e)
        case ev.WindowCalled():
            return _lane(s, e.lane, to_open=(*s.lanes[e.lane].to_open, (e.window, e.starts)))
        case ev.LastCalled():
            lane = s.lanes[max(e.lane, 0)]
            return replace(s, last=(lane.rep if lane.live else lane.rep + 1, e.starts))
        case ev.Moved():
            return replace(s, moving=(e.to, e.starts), going=None)
        case ev.Lengthened():
            return _lengthen(s, e.ms)
        case ev.WaterTaken():
            return replace(s, water=e.at)
        case ev.VoiceSwitched():
            return replace(s, voice=e.on)
        case ev.Marked():
            return replace(s, marks=s.marks + 1)
        case ev.CalledOff():
            return replace(s, called_off=True, going=None, moving=None)
    return s


def _stand(s: State, at: int, *, halted: bool) -> State:
    clock = s.clock if s.held else s.clock.stand(at)
    lanes = tuple(_unready(replace(lane, to_open=())) for lane in s.lanes)
    return replace(s, clock=clock, going=None, moving=None, halted=halted or s.halted, lanes=lanes)


def _unready(lane: Lane) -> Lane:
    """Held again before the rep that was held began: "Ready" comes again, whole."""
    return replace(lane, stretch="", after="hold", ends=None) if lane.stretch == "ready" else lane


def _outcome(s: State, e: ev.OutcomeHappened) -> State:
    """What the file lets this outcome do now: end the rep, close a window."""
    segment = s.plan.segment[s.segment]
    outcome = next((o for o in segment.outcome if o.name == e.outcome), None)
    lane = s.lanes[e.lane]
    if outcome is None or outcome.ends == "rep":
        closing = tuple((w.name, e.outcome) for w in lane.windows)
        return _lane(s, e.lane, ending=(e.outcome, e.starts), closing=closing)
    return _lane(s, e.lane, closing=tuple((w.name, e.outcome) for w in lane.windows if w.name == outcome.closes))


def _lengthen(s: State, ms: int) -> State:
    times = tuple(t + ms if i == s.segment else t for i, t in enumerate(s.times))
    # What was left over may now hold another rep: the lane decides again.
    lanes = tuple(replace(x, stretch="", after="hold" if x.again else "rep") if x.stretch == "spare" and ms > 0 else x for x in s.lanes)
    return replace(s, ends=s.ends + ms, times=times, lanes=lanes)


def _on_floor(s: State, e: Event) -> State:
    match e:
        case ev.HoldEnded():
            return replace(s, clock=s.clock.go(e.at), going=None, halted=False, hold_was=e.at)
        case ev.SegmentBegan():
            return _begin(s, e)
        case ev.SegmentEnded():
            played = (*s.played, (e.segment, s.clock.own(e.at) - s.since))
            to = s.moving[0] if e.why == "moved" and s.moving else e.segment + 1
            return replace(
                s, on=False, next=to, played=played, moving=None, going=None, last=None, by_itself=e.why != "moved", lanes=()
            )
        case ev.PracticeEnded():
            return replace(s, ended=True, going=None, lanes=())
    return s


def _begin(s: State, e: ev.SegmentBegan) -> State:
    clock = s.clock.go(e.at)
    own = clock.own(e.at)
    segment = s.plan.segment[e.segment]
    fresh = Lane(clock=Nested(stood=own), began=e.at)
    water = e.at if segment.kind == "water" else s.water
    hold_was = e.at if s.held and s.segment >= 0 else s.hold_was
    times = tuple(e.lasts if i == e.segment else t for i, t in enumerate(s.times))
    return replace(
        s, clock=clock, halted=False, going=None, moving=None, last=None, on=True, segment=e.segment, began=e.at, since=own,
        ends=own + e.lasts, lanes=(fresh,), voice=True, water=water, times=times, hold_was=hold_was,
    )  # fmt: skip


def _on_lane(s: State, e: Event) -> State:
    lane = s.lanes[e.lane]
    own = lane.clock.own(s.clock.own(e.at))
    match e:
        case ev.StretchBegan():
            s = s if e.stretch == "waiting" else replace(s, going=None)
            return _lane(s, e.lane, stretch=e.stretch, began=e.at, since=own, ends=None if e.lasts is None else own + e.lasts)
        case ev.RepBegan():
            opens = tuple((w.name, e.at) for w in s.plan.segment[s.segment].window if w.opens == "with the rep")
            ends = None if e.lasts is None else own + e.lasts
            s = replace(s, going=None)
            return _lane(s, e.lane, stretch="live", began=e.at, since=own, ends=ends, rep=e.rep, again=False, to_open=opens, tone=None)
        case ev.RepEnded():
            return _rep_ended(s, e, lane)
        case ev.WindowOpened():
            window = Open(name=e.window, began=e.at, ends=own + e.lasts, lasts=e.lasts)
            to_open = tuple(x for x in lane.to_open if x[0] != e.window)
            return _lane(s, e.lane, windows=_in_file_order(s, (*lane.windows, window)), to_open=to_open)
        case ev.WindowClosed():
            closing = tuple(x for x in lane.closing if x[0] != e.window)
            return _lane(s, e.lane, windows=tuple(w for w in lane.windows if w.name != e.window), closing=closing)
    return s


def _in_file_order(s: State, windows: tuple[Open, ...]) -> tuple[Open, ...]:
    names = [w.name for w in s.plan.segment[s.segment].window]
    return tuple(sorted(windows, key=lambda w: names.index(w.name)))


def _rep_ended(s: State, e: ev.RepEnded, lane: Lane) -> State:
    """A rep that was held is played again and keeps its number."""
    again = e.why == "held"
    return _lane(
        s, e.lane, stretch="", after="hold" if again else "rep", ends=None, rep=e.rep - 1 if again else e.rep, again=again,
        windows=(), to_open=(), closing=(), ending=None, tone=("end", e.starts) if e.starts is not None else None, began=e.at,
    )  # fmt: skip


def _lane(s: State, n: int, **changes: object) -> State:
    lane = replace(s.lanes[n], **changes)  # type: ignore[arg-type]  # fields of Lane, named by the callers above
    return replace(s, lanes=(*s.lanes[:n], lane, *s.lanes[n + 1 :]))
