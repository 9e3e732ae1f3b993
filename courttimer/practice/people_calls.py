"""What a call about people makes: a turn, a score put right, who is here, which station calls go to."""

from courttimer.practice import events as ev
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call
from courttimer.practice.sides import scored_sides
from courttimer.practice.state import State, play_of

WARM_UP_MS = 300_000
"""Who comes late warms up so long before they are counted in (common practice)."""

Made = ev.Event | str


def call_turn(b: Branch, call: Call, at: int, starts: int) -> Made:
    """Everyone moves on by one."""
    lane = b.now.lanes[call.lane]
    return ev.TurnCalled(at=at, by=call.by, lane=call.lane) if lane.standing else "nobody turns here: no players are named"


def call_score(b: Branch, call: Call, at: int, starts: int) -> Made:
    """A score put right."""
    s = b.now
    if not s.on or call.lane >= len(s.lanes) or (play_of(s, call.lane).score is None and not s.lanes[call.lane].sheet.points):
        return "no score is kept here"
    sides = scored_sides(s, call.lane)
    side = next((one for one in sides if one.casefold() == call.who.casefold()), None)
    if side is None:
        return f'"{call.who}" has no score here' + (f"; there are {', '.join(sides)}" if sides else "")
    return ev.ScoreCorrected(at=at, by=call.by, lane=call.lane, side=side, amount=call.amount)


def call_here(b: Branch, call: Call, at: int, starts: int) -> Made:
    """Somebody is here, late or out."""
    s = b.now
    known = (*s.plan.squad.players, *s.here, *s.plan.staff.coaches)
    who = next((one for one in known if one.casefold() == call.who.casefold()), None)
    if who is None:
        return f'nobody here is called "{call.who}"'
    if call.what == _stands(s, who):
        return f"{who} is {call.what} already"
    warm = WARM_UP_MS if call.what == "here" and s.went is not None else 0
    return ev.HereChanged(at=at, by=call.by, who=who, now=call.what, warm=warm)


def _stands(s: State, who: str) -> str:
    """ "here", "late" or "out"; of the staff nobody is late."""
    if who in s.plan.staff.coaches:
        return "out" if who in s.staff_out else "here"
    known = (*s.here, *(one for one, _ in s.warming))
    return "here" if who in known else "late" if who in s.expected else "out"


def call_station(b: Branch, call: Call, at: int, starts: int) -> Made:
    """The station to which calls go from now on."""
    s = b.now
    count = len(s.running.station) if s.on and s.running else 0
    if not count:
        return "there are no stations here"
    if call.number > count:
        return f"there are only {count} stations"
    return ev.StationChosen(at=at, by=call.by, station=call.number)
