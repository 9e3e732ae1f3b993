"""What a call about safety makes: how hot it is, thunder, how hard it was; and when it is not safe to go."""

from courttimer.care import lightning
from courttimer.care.heat import CONFIRM, NONE_ABOVE, confirmed
from courttimer.plan.hot import answer, ask_week, heard
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call
from courttimer.practice.state import State

Made = ev.Event | str


def unsafe(s: State, at: int) -> str:
    """Why it is not safe to go, in words; empty when nothing is known against it. Guidance, never permission."""
    if s.heat > NONE_ABOVE and not s.anyway:
        return f'too hot to practise; type "heat {CONFIRM}" if a doctor or your heat policy has decided otherwise ({s.heat_told})'
    return lightning.told(s.thunder, at) if s.plan.outdoor else ""


def call_heat(b: Branch, call: Call, at: int, starts: int) -> Made:
    """How hot it is now, in the coach's words."""
    s = b.now
    if confirmed(call.words):
        if s.heat <= NONE_ABOVE:
            return "it is not too hot: there is nothing to confirm"
        return ev.HeatChanged(at=at, by=call.by, said=call.words, level=s.heat, told=s.heat_told, anyway=True)
    try:
        said = heard(call.words)
    except ValueError as fault:
        return str(fault)
    found = answer(said, s.plan.region)
    level, told = (found.level, found.told) if found else (0, "not hot")
    return ev.HeatChanged(at=at, by=call.by, said=call.words, level=level, told=told, ask_week=ask_week(said, level))


def call_thunder(b: Branch, call: Call, at: int, starts: int) -> Made:
    """Thunder or lightning, out of doors."""
    return ev.ThunderHeard(at=at, by=call.by) if b.now.plan.outdoor else "this court has a roof; outdoors, write outdoor = true"


def call_effort(b: Branch, call: Call, at: int, starts: int) -> Made:
    """How hard it was, as a player or the coach says."""
    players = b.now.plan.squad.players
    who = next((one for one in players if one.casefold() == call.who.casefold()), None if call.who else "")
    if who is None:
        return f'nobody here is called "{call.who}"'
    return ev.EffortGiven(at=at, by=call.by, who=who, effort=call.number)
