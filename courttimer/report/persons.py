"""What each player did: reps by role, minutes played and standing, consequences, points, wins and load, from the turns as they were.

A team that subs inside itself counts as one: who of it was on the floor is not known, so each of its players has all its reps and
minutes; `subs` names the drills in which that was so.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from courttimer.care.load import Work, guessed, own
from courttimer.plan.model import Session
from courttimer.practice import events as ev
from courttimer.practice.event import Names
from courttimer.practice.scoring import members
from courttimer.practice.state import State, play_of
from courttimer.report.entries import InRole, Person
from courttimer.report.spans import HELD, Step, lane_name, works


class Group(NamedTuple):
    """Those in one role at one moment; `plays` is false for those who wait."""

    role: str
    names: Names
    plays: bool


class _Place(NamedTuple):
    """Where somebody is counted."""

    player: str
    segment: int
    station: str
    role: str
    plays: bool


class People:
    """The counts of one practice, added up step by step."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._players = dict.fromkeys(session.squad.players)
        self._here: Counter[tuple[str, int]] = Counter()
        self._times: Counter[_Place] = Counter()
        self._reps: Counter[_Place] = Counter()
        self._paid: Counter[str] = Counter()
        self._payers: dict[int, Names] = {}
        self._goes: dict[int, list[_Place]] = {}
        self._fresh: dict[int, list[_Place]] = {}
        self._now: dict[int, dict[str, str]] = {}

    def count(self, steps: Iterable[Step]) -> "People":
        for step in steps:
            self._event(step)
            if step.ms:
                self._time(step)
        return self

    def _event(self, step: Step) -> None:
        e, s = step.event, step.after
        match e:
            case ev.RepBegan():
                self._goes[e.lane], self._fresh[e.lane] = list(_places(s, e.lane)), []
                self._now[e.lane] = {one.player: one.role for one in self._goes[e.lane]}
            case ev.Turned() | ev.LinedUp() if s.lanes[e.lane].live:
                self._fresh[e.lane] = [one for one in _places(s, e.lane) if self._now.get(e.lane, {}).get(one.player) != one.role]
            case ev.RepEnded():
                done = self._goes.pop(e.lane, [])
                self._reps.update(done if e.why != "held" else ())
            case ev.StretchBegan() if e.stretch == "consequence" and step.before is not None:
                self._payers[e.lane] = step.before.lanes[e.lane].payers

    def _time(self, step: Step) -> None:
        s = step.after
        if not s.on or step.sort in HELD:
            return
        for player in s.here:
            self._players.setdefault(player)
            self._here[player, s.segment] += step.ms
        for n in works(s):
            self._goes.setdefault(n, []).extend(self._fresh.get(n, ()))
            self._now.setdefault(n, {}).update({one.player: one.role for one in self._fresh.pop(n, ())})
            self._times.update(dict.fromkeys(_places(s, n), step.ms))
        for n, lane in enumerate(s.lanes):
            if lane.stretch == "consequence":
                self._paid.update(dict.fromkeys(self._payers.get(n, ()), step.ms))

    def in_roles(self) -> Iterator[InRole]:
        """A line for each player, drill and role."""
        titles = [segment.title for segment in self._session.segment]
        order = {player: at for at, player in enumerate(self._players)}
        places = {*self._times, *self._reps}
        for one in sorted(places, key=lambda one: (order.get(one.player, -1), one.segment, one.station, not one.plays, one.role)):
            yield InRole(one.player, one.segment + 1, titles[one.segment], one.station, one.role, self._reps[one], self._times[one])

    def persons(self, points: Counter[str], wins: Counter[str], efforts: dict[str, int]) -> Iterator[Person]:
        """A line for each player of the squad, and for whoever came as well; who never was here has noughts."""
        for player in self._players:
            here = sum(ms for (who, _), ms in self._here.items() if who == player)
            effort = efforts.get(player)
            yield Person(
                player=player, here=here, reps=_sum(self._reps, player, plays=True), played=_sum(self._times, player, plays=True),
                standing=_sum(self._times, player, plays=False), paid=self._paid[player], points=points[player], wins=wins[player],
                load=self._load(player), effort=effort, own_load=None if effort is None else own(effort, here).units,
            )  # fmt: skip

    def _load(self, player: str) -> int:
        segments = self._session.segment
        return guessed(Work(segments[at].effort, ms) for (who, at), ms in self._here.items() if who == player).units


def _sum(counts: Counter[_Place], player: str, *, plays: bool) -> int:
    return sum(n for place, n in counts.items() if place.player == player and place.plays == plays)


def groups(s: State, n: int) -> tuple[Group, ...]:
    """Who does what in a lane now; without roles everyone there plays."""
    play, lane = play_of(s, n), s.lanes[n]
    standing = lane.was or lane.standing if lane.live else lane.standing
    if not standing or not play.roles:
        return (Group("", _there(s, n), True),)
    plays = {role.name: role.plays for role in play.roles}
    found: dict[str, list[str]] = {}
    for place in standing:
        for role, names in place:
            found.setdefault(role, []).extend(one for one in members(lane.units, names) if one in s.here)
    return tuple(Group(role, tuple(dict.fromkeys(names)), plays.get(role, False)) for role, names in found.items())


def _there(s: State, n: int) -> Names:
    """Everyone on the floor, or the group that is at the station."""
    if n == 0:
        return s.here
    common = s.lanes[0]
    names = [name for place in common.standing[n - 1 : n] for _, of in place for name in of]
    return tuple(one for one in members(common.units, names) if one in s.here)


def _places(s: State, n: int) -> Iterator[_Place]:
    if n == 0 and s.running is not None and s.running.kind == "stations":
        return
    for role, names, plays in groups(s, n):
        yield from (_Place(name, s.segment, lane_name(s, n), role, plays) for name in names)


def subs(steps: Iterable[Step]) -> tuple[int, ...]:
    """The segments, numbered from 0, in which a team or group on the floor had more players than its role takes."""
    found = {}
    for step in steps:
        if isinstance(step.event, ev.RepBegan):
            for n in works(step.after):
                if _subs(step.after, n):
                    found[step.after.segment] = True
    return tuple(found)


def _subs(s: State, n: int) -> bool:
    most = {role.name: role.size[1] for role in play_of(s, n).roles if role.plays}
    units = dict(s.lanes[n].units)
    sides = ((role, name) for place in s.lanes[n].standing for role, names in place if role in most for name in names)
    return any(len(units.get(name, ())) > most[role] for role, name in sides)
