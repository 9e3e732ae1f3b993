"""What is allowed in which situation, and the one event that a call makes of it.

ALLOWED is the whole rule book of the keys; a call that is not in its row is refused in words, and the refusal is an event too.
Some rows depend on one fact more (is there anything to take back?): those are the functions below. `space`, `forward` and `back`
are turned into the call they mean here before the table is asked. What starts, starts when it is heard (`starts` = press + lead);
what stops or counts, counts from the press.
"""

from collections.abc import Callable
from dataclasses import replace

from courttimer.plan.derived import most_reps, rep_of
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, own_call
from courttimer.practice.calls import Call, What, spoken
from courttimer.practice.course import floor_ends
from courttimer.practice.named import named
from courttimer.practice.people_calls import call_here, call_score, call_station, call_turn
from courttimer.practice.play_calls import call_makes, call_outcome, call_window
from courttimer.practice.safety_calls import call_effort, call_heat, call_thunder, unsafe
from courttimer.practice.sides import scored_sides
from courttimer.practice.state import State, following, left, play_of

ALWAYS: frozenset[What] = frozenset(
    {"take back", "put back", "mark", "space", "forward", "back", "here", "late", "out", "score", "makes", "station", "heat", "effort"}
)
RUNS: frozenset[What] = ALWAYS | {"halt", "thunder", "next", "before", "longer", "shorter", "voice", "end", "water"}
STANDS: frozenset[What] = ALWAYS | {"go", "end", "water", "voice", "thunder"}
REPS: frozenset[What] = frozenset({"last", "turn"})

ALLOWED: dict[str, frozenset[What]] = {
    "start": ALWAYS | {"go", "end", "thunder"},
    "set-up": RUNS | REPS | {"go", "hold"},
    "waiting": RUNS | REPS | {"go", "hold", "outcome"},
    "ready": RUNS | REPS | {"hold"},
    "live": RUNS | REPS | {"hold", "outcome", "open"},
    "off": RUNS | REPS | {"go", "hold", "outcome"},
    "consequence": RUNS | REPS | {"hold", "outcome"},
    "spare": RUNS | {"hold", "outcome"},
    "change": RUNS | {"hold"},
    "stopped": RUNS | REPS | {"go", "hold", "outcome"},
    "on": RUNS | {"hold"},
    "held": STANDS | {"halt", "next", "before", "longer", "shorter"},
    "halted": STANDS,
    "ended": ALWAYS,
}
"""Every situation, and the calls that mean something in it."""

JUST_MS = 1_000
"""A press so soon after something ended by itself was meant for what has ended."""
WATER_MS = 60_000
"""So long after a hold it can still be called the water."""
RESTART_MS = 5_000
"""`before` begins this segment afresh, or, so soon after its start, the one before."""
STEP_MS, SHORT_STEP_MS = 60_000, 30_000
SHORT_STEPS = ("talk", "water", "rest")
LOCAL: frozenset[What] = frozenset({"go", "hold", "outcome", "open", "turn", "score", "space", "forward", "back"})
"""Calls that a chosen station takes for itself; all others are for the floor."""
STANDING: frozenset[What] = frozenset({"go", "hold", "space", "forward", "back", "take back"})
"""While everything stands these are for the floor whatever station is chosen: else nobody could go on."""
GAME = "game clock"

WORDS = {
    "start": "nothing runs yet: go starts the practice",
    "ready": "it is about to start",
    "held": "the clock stands: go first",
    "halted": "halted: go when it is safe",
    "ended": "the practice is over",
}


def situation(s: State, n: int = 0) -> str:
    """The row of ALLOWED that is true now, for the floor's lane or a station."""
    if s.ended:
        return "ended"
    if s.segment < 0:
        return "start"
    if s.held:
        return "halted" if s.halted else "held"
    lane = s.lanes[n] if n < len(s.lanes) else None
    if lane is not None and lane.clock.held is not None and not lane.ended:
        return "stopped"
    return lane.stretch if lane and lane.stretch else "on"


def lane_of(s: State, call: Call) -> int:
    """Where a call goes: to the station that it names or that is chosen, else to the segment."""
    wanted = call.lane if call.lane > 0 else 0 if s.held and call.what in STANDING else s.chosen
    return wanted if 0 < wanted < len(s.lanes) else 0


def decide(b: Branch, call: Call, at: int, lead: int) -> ev.Event:
    """The event that `call` makes at `at`; never raises, changes nothing."""
    n = lane_of(b.now, call)
    meant = _meant(b.now, call, at, n)
    if not isinstance(meant, Call):
        return ev.Refused(at=at, by=call.by, call=spoken(call), why=meant)
    where = situation(b.now, n if meant.what in LOCAL else 0)
    if meant.what not in ALLOWED[where]:
        why = WORDS.get(where, f"that means nothing in {b.now.running.kind if where == 'on' and b.now.running else where} time")
        return ev.Refused(at=at, by=call.by, call=spoken(meant), why=why)
    made = MAKE[meant.what](b, replace(meant, lane=n), at, at + lead)
    return ev.Refused(at=at, by=call.by, call=spoken(meant), why=made) if isinstance(made, str) else made


def _meant(s: State, call: Call, at: int, n: int) -> Call | str:
    """`space`, `forward` and `back` as the call they mean here, or why they mean none."""
    where = situation(s, n)
    match call.what:
        case "space":
            return _space(s, where, call, at)
        case "forward":
            return _forward(s, where, call, at, n)
        case "back":
            number = _clicker(s, "back", n) if where == "live" else None
            return _as(call, "take back") if number is None else _as(call, "outcome", number)
    return call


def _space(s: State, where: str, call: Call, at: int) -> Call | str:
    if where == "spare":
        return _spare(s, call, at)
    return _as(call, "go" if where in ("start", "set-up", "waiting", "held", "halted", "stopped") else "hold")


def _forward(s: State, where: str, call: Call, at: int, n: int) -> Call | str:
    if where in ("live", "stopped") and _stops(s, n):
        return replace(_as(call, "hold" if where == "live" else "go"), words=GAME)
    if where == "live" and n == 0 and len(s.lanes) > 1:
        return "every station has its own clock: choose one with s and its number; 0 ends the time of all"
    if where == "live":
        return _as(call, "outcome", _clicker(s, "forward", n) or 0)
    if where == "spare":
        return _spare(s, call, at)
    if where == "off" and at - s.lanes[n].began < JUST_MS:
        return "the rep has just ended"
    if where in ("start", "set-up", "waiting", "off", "held", "stopped"):
        return _as(call, "go")
    return WORDS.get(where, "nothing waits here")


def _stops(s: State, n: int) -> bool:
    """Is there a game clock here that is stopped and started?"""
    return n == 0 and s.running is not None and s.running.game is not None and s.running.game.stops


def _spare(s: State, call: Call, at: int) -> Call | str:
    """No rep fits any more: the press means the next segment, unless it was still meant for a rep."""
    just = at - s.lanes[0].began < JUST_MS
    return "no rep fits any more; once more for the next segment" if just else _as(call, "next")


def _as(call: Call, what: What, number: int = 0) -> Call:
    return Call(what=what, by=call.by, lane=call.lane, number=number, since=call.since)


def _clicker(s: State, button: str, n: int) -> int | None:
    outcomes = play_of(s, n).outcome if s.on else ()
    return next((at for at, o in enumerate(outcomes, 1) if o.clicker == button), None)


Made = ev.Event | str
"""An event, or why not."""


def _go(b: Branch, call: Call, at: int, starts: int) -> Made:
    s = b.now
    if call.lane > 0 or (s.lanes and s.lanes[0].clock.held is not None and not s.held):
        return "it is starting already" if s.lanes[call.lane].going is not None else _went(call, at, starts)
    if s.going is not None:
        return "it is starting already"
    if (why := unsafe(s, at)):
        return why
    return ev.Went(at=at, by=call.by, starts=starts, floor_ends=floor_ends(s, starts) if s.went is None else None)


def _went(call: Call, at: int, starts: int) -> ev.Went:
    """A station goes, or the game clock: that one makes no sound, so it does not wait for any."""
    return ev.Went(at=at, by=call.by, lane=call.lane, starts=starts if call.lane else at)


def _hold(b: Branch, call: Call, at: int, starts: int) -> Made:
    if call.lane > 0 or call.words == GAME:
        stands = b.now.lanes[call.lane].clock.held is not None
        return "it stands already" if stands else ev.Held(at=at, by=call.by, lane=call.lane, since=call.since)
    return ev.Held(at=at, by=call.by, since=call.since)


def _halt(b: Branch, call: Call, at: int, starts: int) -> Made:
    return ev.Halted(at=at, by=call.by, since=call.since)


def _last(b: Branch, call: Call, at: int, starts: int) -> Made:
    s = b.now
    if rep_of(s.plan.segment[s.segment]) is None or most_reps(s.plan.segment[s.segment]) is not None:
        return "there are no reps here: next ends it"
    if s.last is not None:
        return "the last one was called already"
    return ev.LastCalled(at=at, by=call.by, lane=0, starts=starts)


def _next(b: Branch, call: Call, at: int, starts: int) -> Made:
    s = b.now
    if s.by_itself and at - s.began < JUST_MS:
        return "it has just ended by itself"
    if s.moving is not None:
        return "it is moving on already"
    return ev.Moved(at=at, by=call.by, to=following(s, s.segment + 1), starts=starts)


def _before(b: Branch, call: Call, at: int, starts: int) -> Made:
    s = b.now
    if s.moving is not None:
        return "it is moving on already"
    early = s.clock.own(at) - s.since <= RESTART_MS
    return ev.Moved(at=at, by=call.by, to=max(s.segment - 1, 0) if early else s.segment, starts=starts)


def _step(b: Branch) -> int:
    return SHORT_STEP_MS if b.now.plan.segment[b.now.segment].kind in SHORT_STEPS else STEP_MS


def _longer(b: Branch, call: Call, at: int, starts: int) -> Made:
    return ev.Lengthened(at=at, by=call.by, ms=_step(b))


def _shorter(b: Branch, call: Call, at: int, starts: int) -> Made:
    if left(b.now, at) <= _step(b):
        return f"less than {_step(b) // 1000} s are left: next ends it"
    return ev.Lengthened(at=at, by=call.by, ms=-_step(b))


def _water(b: Branch, call: Call, at: int, starts: int) -> Made:
    s = b.now
    if not s.held and (s.hold_was is None or at - s.hold_was > WATER_MS):
        return "only a hold can be called the water"
    return ev.WaterTaken(at=at, by=call.by)


def _voice(b: Branch, call: Call, at: int, starts: int) -> Made:
    return ev.VoiceSwitched(at=at, by=call.by, on=not b.now.voice)


def _mark(b: Branch, call: Call, at: int, starts: int) -> Made:
    return ev.Marked(at=at, by=call.by, words=call.words)


def _end(b: Branch, call: Call, at: int, starts: int) -> Made:
    return ev.CalledOff(at=at, by=call.by)


def _take_back(b: Branch, call: Call, at: int, starts: int) -> Made:
    if call.lane > 0:
        mine = own_call(b, call.lane)
        told = named(mine)
        return "this station has nothing to take back" if mine is None else ev.TakenBack(at=at, by=call.by, lane=call.lane, call=told)
    if b.back is None:
        return "there is nothing to take back"
    if isinstance(b.call, ev.Held) and b.call.why != "call":
        return "the practice was cut off here: that cannot be taken back"
    return ev.TakenBack(at=at, by=call.by, call=named(b.call))


def _put_back(b: Branch, call: Call, at: int, starts: int) -> Made:
    return "there is nothing to put back" if b.forward is None else ev.PutBack(at=at, by=call.by)


MAKE: dict[What, Callable[[Branch, Call, int, int], Made]] = {
    "go": _go, "hold": _hold, "halt": _halt, "last": _last, "next": _next, "before": _before,
    "longer": _longer, "shorter": _shorter, "water": _water, "voice": _voice, "mark": _mark, "end": _end,
    "take back": _take_back, "put back": _put_back, "turn": call_turn, "score": call_score, "here": call_here, "late": call_here,
    "out": call_here, "makes": call_makes, "station": call_station, "outcome": call_outcome, "open": call_window, "heat": call_heat,
    "thunder": call_thunder, "effort": call_effort,
}  # fmt: skip


def allowed(b: Branch, at: int) -> frozenset[What]:
    """The calls that would be taken at this moment, those that need a name with one that fits."""
    s = b.now
    whats: tuple[What, ...] = (*MAKE, "space", "forward", "back")
    shot = any(one.kind == "spots" and i <= s.segment for i, one in enumerate(s.plan.segment))
    named = {"here": True, "late": True, "out": True, "makes": shot}
    sides = scored_sides(s, lane_of(s, Call(what="score"))) if s.on and s.lanes else ()
    calls = (Call(what=what, who=sides[0] if sides and what == "score" else "") for what in whats)
    return frozenset(call.what for call in calls if named.get(call.what) or not isinstance(decide(b, call, at, 0), ev.Refused))


def table() -> str:
    """ALLOWED as a Markdown table, for DEVELOPERS.md."""
    rows = [f"| {where} | {', '.join(sorted(calls))} |" for where, calls in ALLOWED.items()]
    return "\n".join(["| situation | calls that mean something |", "|---|---|", *rows])
