"""What follows from what has just happened, at the same moment: the line-up, points, a target, a turn."""

from collections.abc import Iterator
from random import Random

from courttimer.care.heat import consequence_allowed
from courttimer.plan.derived import REACHED, sides_of
from courttimer.plan.model import Segment, Station, Turn
from courttimer.practice import lineup
from courttimer.practice.event import Event, Names, Standing
from courttimer.practice.events import LinedUp, Scored, SpotsOrdered, TargetReached, Turned
from courttimer.practice.lane import Lane
from courttimer.practice.rested import NAMELESS
from courttimer.practice.scoring import ALL, US, Reached, added, leads, losers, members, on_role, reached
from courttimer.practice.sides import floor_of
from courttimer.practice.state import State, moment, outcome_of, play_of, stands
from courttimer.squad import fair
from courttimer.squad.groups import teams_here

PAY_MS = 60_000
"""No player does more than this of consequences in one evening."""
LEAST_PAY_MS = 5_000


def follows(s: State, lane: Lane, n: int) -> Iterator[Event]:
    """What is due in a lane because of what it has become."""
    play = play_of(s, n)
    if s.here and lane.present is None and _lines_up(play):
        yield _line_up(s, play, n)
    elif lane.present is not None and lane.present != s.here and (n == 0 or s.lanes[0].present == s.here):
        yield from _changed(s, play, lane, n)
    if isinstance(play, Segment) and play.shuffled is not None and not lane.order:
        yield SpotsOrdered(at=s.at, lane=n, order=shuffled(play.spots, play.rounds, play.shuffled))
    if lane.counting:
        yield _counted(s, play, lane, n, lane.counting[0])
    elif (target := _target(s, play, lane)) is not None:
        yield _reached(s, play, lane, n, *target)
    if lane.turning is not None:
        yield Turned(at=s.at, lane=n, standing=_turned(s, play, lane, *lane.turning), why=lane.turning[0])
    elif lane.next_turn is not None and lane.live and not stands(s, lane) and lane.standing and play.rep is not None:
        at = moment(s, lane, lane.next_turn)
        yield Turned(at=at, lane=n, standing=_turned(s, play, lane, "time", play.rep.turn), why="time")
    elif _may_relieve(s, play, lane) and (after := lineup.relieved(play, lane.standing, lane.past or fair.begun(()))) != lane.standing:
        yield Turned(at=s.at, lane=n, standing=after, why="relief")


def _lines_up(play: Segment | Station) -> bool:
    stations = isinstance(play, Segment) and play.kind == "stations"
    return stations or bool(play.roles) or (isinstance(play, Segment) and bool(play.teams))


def _line_up(s: State, play: Segment | Station, n: int) -> LinedUp:
    teams = s.plan.squad.teams
    if isinstance(play, Segment) and play.kind == "stations":
        standing, units = _groups(play, s.here, teams)
        return LinedUp(at=s.at, lane=n, standing=standing, units=units)
    made = lineup.lined_up(play, _at(s, n), teams, s.past)
    return LinedUp(at=s.at, lane=n, standing=made.standing, units=made.units, told=made.told)


def _at(s: State, n: int) -> Names:
    """The players of a lane: everyone, or the group that is at the station."""
    if n == 0:
        return s.here
    common = s.lanes[0]
    if n > len(common.standing):
        return ()
    return members(common.units, dict(common.standing[n - 1]).get(GROUP, ()))


GROUP = "group"
"""What a group does at the stations: it is at one of them."""


def _groups(play: Segment, here: Names, teams: lineup.Teams) -> tuple[Standing, tuple[tuple[str, Names], ...]]:
    """One group for each station: the teams, when there are as many, else equal ones in the order of the squad.

    With fewer players than stations some stations begin empty: everyone comes to all of them.
    """
    count = len(play.station)
    worn = teams_here(teams, here)
    alike = tuple((f"group {at + 1}", tuple(here[at::count])) for at in range(min(count, len(here))))
    units = worn if len(worn) == count else alike
    empty = (((GROUP, ()),),) * (count - len(units)) if units else ()
    return (*(((GROUP, (name,)),) for name, _ in units), *empty), units


def _changed(s: State, play: Segment | Station, lane: Lane, n: int) -> Iterator[Event]:
    """Who has gone or come since, one after the other: the smallest change. Where they were too few to line up, all do it now."""
    if not lane.standing and sides_of(play):
        yield _line_up(s, play, n)
        return
    names = [name for name, _ in lane.units] or [one for place in lane.standing for _, who in place for one in who]
    now = members(lane.units, names)
    wanted = _at(s, n) if n else s.here
    standing, units, why = lane.standing, lane.units, "out"
    for one in now:
        if one not in wanted and one not in dict(units):
            standing, units = lineup.left(play, standing, units, one, lane.past or fair.begun(()))
    for one in wanted:
        if one not in now and (standing or units):
            (standing, units), why = lineup.came(play, standing, units, one, s.plan.squad.teams), "joined"
    yield LinedUp(at=s.at, lane=n, standing=standing, units=units, why=why, told=lineup.told(play, standing, units))


def _target(s: State, play: Segment | Station, lane: Lane) -> tuple[int, Reached] | None:
    """The target that is reached now, or the moment at which the time of the race is over."""
    if play.score is None or lane.sheet.won is not None:
        return None
    if (now := reached(lane.sheet, play.score)) is not None:
        return s.at, now
    if play.score.cap is None or lane.race_since is None or stands(s, lane):
        return None
    return max(moment(s, lane, lane.race_since + play.score.cap), s.at), leads(lane.sheet)


def _counted(s: State, play: Segment | Station, lane: Lane, n: int, name: str) -> Event:
    """What an outcome adds up to. Where the players count, they say when a target is reached, and know by whom."""
    if name == REACHED.name and play.score and play.score.counted == "players":
        return _reached(s, play, lane, n, s.at, Reached("", "called", play.score.race or play.score.row or 0, 0))
    sums = added(play, floor_of(s, n), lane.sheet, outcome_of(play, name))
    return Scored(at=s.at, lane=n, outcome=name, points=sums.points, rows=sums.rows, makes=sums.makes)


def _reached(s: State, play: Segment | Station, lane: Lane, n: int, at: int, now: Reached) -> TargetReached:
    known = {*s.plan.squad.players, *(name for name, _ in lane.units)}
    winners = tuple(one for one in (now.side, *members(lane.units, (now.side,)), *on_role(floor_of(s, n), now.side)) if one in known)
    winners = winners if {one for one in winners if one in s.here} != {*s.here} else ()  # all together: nobody has won against anybody
    pays, owes = _pays(s, play, n, now.side, now.why)
    return TargetReached(
        at=at, lane=n, side=now.side, why=now.why, n=now.n, m=now.m, winners=tuple(dict.fromkeys(winners)), pays=pays, owes=owes,
    )  # fmt: skip


def _pays(s: State, play: Segment | Station, n: int, winner: str, why: str) -> tuple[Names, int]:
    """Who does the consequence and for how long: not those who came late, and nobody over the cap of an evening.

    Where only the players know who has lost, it may be anyone, so nobody's cap must be passed. All together lose to nobody.
    """
    consequence = play.consequence if isinstance(play, Segment) else None
    nobody = winner in (ALL, US) or (why == "cap" and not winner)
    if consequence is None or nobody or not consequence_allowed(s.heat):
        return (), 0
    lane, paid = s.lanes[n], dict(s.paid)
    if not lane.standing or not winner:
        left = min(PAY_MS - paid.get(one, 0) for one in s.here or NAMELESS)
        return (), min(consequence.time, left) if left >= LEAST_PAY_MS else 0
    who = [one for one in losers(play, floor_of(s, n), lane.sheet, winner, consequence.pays) if one not in s.late_ones]
    fit = tuple(one for one in who if one in s.here and PAY_MS - paid.get(one, 0) >= LEAST_PAY_MS)
    return fit, min([consequence.time, *(PAY_MS - paid.get(one, 0) for one in fit)]) if fit else 0


def _turned(s: State, play: Segment | Station, lane: Lane, why: str, turn: Turn) -> Standing:
    if why == "change":
        return lineup.to_the_right(lane.standing)
    # What an outcome moves, it moves from where the rep was played, even if another turn has come since.
    base = lane.was if why not in ("call", "time", "target") and lane.turned and _same(lane.was, lane.standing) else lane.standing
    past = lane.past or fair.begun(())
    won = lane.won or next((role.name for role in play.roles if role.plays), "")
    after = lineup.turned(play, base, lane.units, past, turn, won=won if why != "rep" else lane.won, number=lane.turns)
    return after if turn.how in ("fair", "advance", "round robin") else lineup.relieved(play, after, past)


def _same(one: Standing, other: Standing) -> bool:
    return {x for p in one for _, names in p for x in names} == {x for p in other for _, names in p for x in names}


def _may_relieve(s: State, play: Segment | Station, lane: Lane) -> bool:
    """At the end of a rep without a turn, in a drill where outcomes move people."""
    over = lane.stretch == "" and lane.after == "rep" and lane.began == s.at
    return over and bool(lane.standing) and not lane.turned and lineup.turning(play) and not (play.rep and play.rep.turn.how)


def shuffled(spots: Names, rounds: int, seed: int) -> Names:
    """The spots of all rounds, each round shuffled anew with this seed."""
    dice = Random(seed)
    return tuple(one for _ in range(rounds) for one in dice.sample(spots, len(spots)))
