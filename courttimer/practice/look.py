"""What may be seen of a practice at one moment: `look` makes the View."""

from collections.abc import Iterator

from courttimer.care import heat, lightning, water, words
from courttimer.plan.derived import outcomes_of, rep_of
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch
from courttimer.practice.course import by_length, clear_at, in_hand, to_go
from courttimer.practice.fitting import shown
from courttimer.practice.inside import attendance, inside
from courttimer.practice.lane import Lane
from courttimer.practice.named import named
from courttimer.practice.rules import allowed, situation
from courttimer.practice.state import State, left, own, rep_in
from courttimer.practice.toned import CLOCKED
from courttimer.practice.view import Block, Care, Phase, View, When, WindowView

SAID_MS = 6_000
"""An answer to a call stays on the board so long."""
NONE = Lane()


def look(b: Branch, at: int, answer: ev.Event | None = None) -> View:
    """The View of a branch at `at`; `answer` is the last event that a call has made."""
    s = b.now
    where = situation(s)
    lane = s.lanes[0] if s.lanes else NONE
    segment = s.running
    mine = own(s, lane, at)
    going = s.on and segment is not None
    ends = (lane.ends if lane.ends is not None else None) if going else None
    rest = max(left(s, at), 0) if going else 0
    open_end = lane.stretch in ("on", "spare", "waiting") or (lane.live and _never_stops(s))
    return View(
        title=s.plan.title, phase=_phase(s), now=at, since_go=None if s.went is None else max(at - s.went, 0), segment=s.segment,
        name=segment.title if segment else "", kind=segment.kind if segment else "", rule=segment.rule if segment else "",
        word=_word(s, lane), live=lane.live, left=rest if open_end else None if ends is None else max(ends - mine, 0),
        lasts=s.ends - s.since if open_end else None if ends is None else ends - lane.since, gone=max(mine - lane.since, 0),
        segment_left=rest, segment_lasts=s.times[s.segment] if going else 0, rep=lane.rep, again=lane.again,
        windows=tuple(WindowView(name=w.name, left=max(w.ends - mine, 0), lasts=w.lasts) for w in lane.windows),
        outcomes=tuple(_outcomes(s)) if lane.live or where == "stopped" else (),
        then=tuple(_then(s, lane)), strip=tuple(_strip(s)), to_go=to_go(s, at),
        in_hand=in_hand(s, at), by_length=by_length(s, at), floor_left=None if (clear := clear_at(s, at)) is None else clear - at,
        stands=max(at - s.clock.held, 0) if s.clock.held is not None and s.went is not None else 0,
        water_ago=None if s.went is None else at - (s.went if s.water is None else s.water), said=_said(b, answer, at),
        allowed=allowed(b, at), last=s.last is not None and lane.rep >= s.last[0], voice=s.voice, marks=s.marks, gym=s.plan.gym,
        lanes=max(len(s.lanes), 1), inside=inside(s, at), attendance=attendance(s), care=_care(s, at),
        stood=b.call.why if s.held and isinstance(b.call, ev.Held) and b.call.why != "call" else "",
    )  # fmt: skip


def _care(s: State, at: int) -> Care:
    age = s.plan.age
    last = s.went if s.water is None else s.water
    return Care(
        heat=s.heat, heat_told=s.heat_told, heat_asks=heat.rules(s.heat, anyway=s.anyway, ask_week=s.ask_week),
        too_hot=s.heat > heat.NONE_ABOVE and not s.anyway,
        water_card=water.card(age),
        water_in=None if last is None else water.due(last, age, s.heat) - at,
        lightning=lightning.told(s.thunder, at) if s.plan.outdoor else "", aside=s.plan.aside or words.ASIDE,
        cautions=words.IN_A_HALT if s.halted else (), fitted=shown(s), short=s.short, early=s.early,
    )  # fmt: skip


def _phase(s: State) -> Phase:
    if s.ended:
        return "ended"
    if s.segment < 0:
        return "start"
    return ("halted" if s.halted else "held") if s.held else "running"


def _word(s: State, lane: Lane) -> str:
    """What the clock is doing, in one word; a segment without reps is called by its kind."""
    where = situation(s)
    if where == "off" and s.running and s.running.kind in CLOCKED:
        return "change"
    return s.running.kind if where == "on" and s.running else where


def _never_stops(s: State) -> bool:
    rep = rep_in(s, 0)
    return rep is not None and rep.starts == "at once"


def _outcomes(s: State) -> Iterator[tuple[int, str]]:
    yield from enumerate((o.name for o in outcomes_of(s.plan.segment[s.segment])), 1)
    yield 0, "over"


def _then(s: State, lane: Lane) -> Iterator[str]:
    """What comes after, nearest first."""
    segment = s.running
    rep = rep_of(segment) if s.on and segment else None
    if rep and lane.live and rep.off and s.last is None:
        yield "change" if segment and segment.kind in CLOCKED else "off"
    if rep and not lane.live and lane.stretch not in ("spare", ""):
        yield f"rep {lane.rep + 1}"
    first = s.next if not s.on else s.segment + 1
    yield from [one.title for i, one in enumerate(s.plan.segment) if i >= first and s.times[i] >= 0][:2]


def _strip(s: State) -> Iterator[Block]:
    """The practice as a row of blocks: those that are over as long as they really were, the others as they are planned."""
    played = dict(s.played)
    for i, segment in enumerate(s.plan.segment):
        if s.times[i] < 0:
            continue
        done = i < s.segment or (i == s.segment and not s.on)
        when: When = "done" if done or s.ended else "now" if i == s.segment else "ahead"
        yield Block(name=segment.title, kind=segment.kind, time=played.get(i, s.times[i]) if done else s.times[i], when=when)


TOLD = {
    ev.Held: "The clock stands.",
    ev.Halted: "Halt.",
    ev.LastCalled: "Last one.",
    ev.WaterTaken: "This counts as the water.",
    ev.Marked: "Marked.",
    ev.PutBack: "Put back.",
    ev.TurnCalled: "Everyone moves on.",
}


def _outcome_said(e: ev.OutcomeHappened) -> str:
    name = e.outcome.capitalize()
    if e.counts:
        return f"{name}, accepted." if e.why == "accepted" else f"{name}."
    return f"{name} does not count: {e.why}. The same key again accepts it."


def _said(b: Branch, e: ev.Event | None, at: int) -> str:
    if e is None or at - e.at > SAID_MS:
        return ""
    match e:
        case ev.Refused():
            return f"{e.call}: {e.why.removesuffix('.')}."
        case ev.PutBack() if b.call is not None:
            return f"Put back: {named(b.call)}."
        case ev.TakenBack():
            return f"Taken back: {e.call}." if e.call else "Taken back."
        case ev.Lengthened():
            return f"{'Longer' if e.ms > 0 else 'Shorter'} by {abs(e.ms) // 1000} s."
        case ev.VoiceSwitched():
            return "The voice is on." if e.on else "The voice is off until the next segment; horns stay."
        case ev.Held() if e.lane >= 0:
            return f"Station {e.lane} stands." if e.lane else "The game clock stands."
        case ev.Went() if e.lane >= 0:
            return f"Station {e.lane} goes." if e.lane else "The game clock runs."
        case ev.OutcomeHappened():
            return _outcome_said(e)
        case ev.ScoreCorrected():
            return f"{e.side}: {e.amount:+d}."
        case ev.HereChanged():
            return f"{e.who} is {e.now}." if not e.warm else f"{e.who} is here, and warms up first."
        case ev.MakesEntered():
            return f"{e.spot}: {e.makes}{f' of {e.shots}' if e.shots else ''}."
        case ev.StationChosen():
            return f"Calls go to station {e.station}." if e.station else "Calls go to the floor."
        case ev.HeatChanged():
            return f"Heat, level {e.level}: {'practised anyway' if e.anyway else e.told}." if e.level else "Not hot."
        case ev.EffortGiven():
            return f"{e.who or 'Coach'}: effort {e.effort}."
    return TOLD.get(type(e), "")
