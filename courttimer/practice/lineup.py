"""Who stands where: the line-up of a drill or a station, each turn, and the smallest change when somebody goes or comes.

The ways to turn are in `squad/`; here the session says which way, with whom, and at how many baskets.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from courttimer.plan.derived import sides_of, waiting_role
from courttimer.plan.model import Segment, Station, Turn
from courttimer.practice.event import Names, Place, Standing, Units
from courttimer.squad import berger, fair, turns
from courttimer.squad.fair import Past
from courttimer.squad.groups import (
    Grouping,
    Place as Basket,
    Side,
    grouped,
    not_fitting,
    sizes_for,
    teams_here,
    too_few,
    with_late,
    without,
)

Play = Segment | Station
Teams = tuple[tuple[str, Names], ...]
BY_ONE = ("fair", "advance", "one for one")
"""Ways to turn in which players move one by one, so that no groups are made."""


class LineUp(NamedTuple):
    """Who stands where, who belongs to each team or group, and what does not fit, in words."""

    standing: Standing
    units: Units
    told: str


def places_of(play: Play) -> int:
    return play.places if isinstance(play, Segment) else 1


def turning(play: Play) -> bool:
    """Does anybody ever move in it?"""
    return bool(play.rep and play.rep.turn.how) or any(one.turn.how for one in play.outcome)


def lined_up(play: Play, here: Sequence[str], teams: Teams, before: Past | None) -> LineUp:
    """The line-up at the start: who sat out last goes first."""
    past = fair.begun(here, before)
    order = sorted(here, key=lambda one: past.last.get(one, 0))
    sides = sides_of(play)
    if not sides:
        return LineUp((), units_of(play, order, teams), "")
    units = units_of(play, order, teams)
    if units:
        sides = _sides(play, units)
        order = [name for name, _ in units]
    if not order:
        return LineUp((), (), "")
    if _how(play) == "round robin":
        return LineUp(_round(play, sorted(order), 0), units, too_few(len(order), sides))
    if _how(play) == "fair":
        return _fair_first(play, order, units, sides, before)
    made = grouped(order, sides, places_of(play))
    return LineUp(tuple(_standing(place, waiting_role(play)) for place in made.places), units, made.told)


def _sides(play: Play, units: Units) -> tuple[Side, ...]:
    """The roles that take a number; of teams and groups each takes one."""
    return tuple(Side(name=side.name) for side in sides_of(play)) if units else sides_of(play)


def told(play: Play, standing: Standing, units: Units) -> str:
    """What does not fit now, in words, with those who have gone and come."""
    count = len(units) or sum(len(names) for place in standing for _, names in place)
    sides = _sides(play, units)
    if _how(play) == "round robin" or not sides:
        return too_few(count, sides)
    fits = count // sum(side.least for side in sides)
    return not_fitting(count, sides, places_of(play), min(len(standing), fits))


def _fair_first(play: Play, order: Sequence[str], units: Units, sides: tuple[Side, ...], before: Past | None) -> LineUp:
    told = grouped(order, sides, places_of(play)).told
    used = _baskets(play, len(order), sides)
    return LineUp(_fair(play, fair.begun(order, before), [order[at::used] for at in range(used)], sides), units, told)


def _how(play: Play) -> str:
    return play.rep.turn.how if play.rep else ""


def units_of(play: Play, order: Sequence[str], teams: Teams) -> Units:
    """The teams or groups that turn together; nothing when players move one by one."""
    wanted = play.teams if isinstance(play, Segment) else ""
    if wanted == "squad":
        return teams_here(teams, order)
    if isinstance(wanted, int):
        shares = _shares(order, min(wanted, len(order)), len(sides_of(play)) * places_of(play))
        return tuple((f"team {at}", one) for at, one in enumerate(shares, 1))
    sizes = {role.size for role in play.roles if role.plays}
    size = next(iter(sizes))[0] if len(sizes) == 1 else 1
    moved_by = {_how(play), *(one.turn.how for one in play.outcome)}
    if size == 1 or moved_by & {*BY_ONE} or next(iter(sizes))[1] != size or places_of(play) > 1:
        return ()
    count = len(order) // size
    if count < sum(role.plays for role in play.roles):
        return ()
    return tuple((f"group {at}", one) for at, one in enumerate(_shares(order, count, len(sides_of(play))), 1))


def _shares(order: Sequence[str], count: int, on: int) -> list[Names]:
    """Everyone dealt out one by one: those waiting longest over the ones that go `on`, the rest over the others."""
    on = min(on, count)
    first = sum(len(order[at::count]) for at in range(on))
    rest = order[first:]
    return [*(tuple(order[at:first:on]) for at in range(on)), *(tuple(rest[at :: count - on]) for at in range(count - on))]


def _standing(basket: Basket, off: str) -> Place:
    return (*basket.sides, (off, basket.line))


def _basket(place: Place, off: str) -> Basket:
    return Basket(sides=tuple(pair for pair in place if pair[0] != off), line=dict(place).get(off, ()))


def _sizes(sides: Sequence[Side], count: int) -> turns.Sizes:
    return tuple(sizes_for(count, sides).items())


def turned(play: Play, standing: Standing, units: Units, past: Past, turn: Turn, *, won: str = "", number: int = 0) -> Standing:
    """Everyone after one turn; `won` is the role that has won it, `number` counts the turns from 0."""
    here = tuple(one for place in standing for _, names in place for one in names)
    sides = _sides(play, units)
    if turn.how == "fair":
        return _fair(play, past, [[one for _, names in place for one in names] for place in standing], sides)
    if turn.how == "round robin":
        return _round(play, sorted(here), number + 1)
    return tuple(_moved(play, place, sides, turn, won, number) for place in standing)


def _moved(play: Play, place: Place, sides: Sequence[Side], turn: Turn, won: str, number: int) -> Place:
    off, known = waiting_role(play), dict(place)
    playing = [role.name for role in play.roles if role.plays]
    match turn.how:
        case "advance":
            return _advanced(known, sides, off, number)
        case "swap":
            after: Mapping[str, Names] = turns.swap(known, playing)
        case "winners stay":
            after = turns.winners_stay(known, won, playing, off) if won else known
        case "one for one":
            after = turns.one_for_one(known, playing, off)
        case _:
            after = turns.moved(known, turn.moves)
    return tuple((role, after[role]) for role in known)


def _advanced(known: dict[str, Names], sides: Sequence[Side], off: str, number: int) -> Place:
    line = tuple(one for role in [*(side.name for side in reversed(sides)), off] for one in known.get(role, ()))
    sizes = _sizes(sides, len(line))
    after = turns.lined_up(turns.advance(line, sizes, number), sizes, off)
    return tuple((role, after.get(role, ())) for role in known)


def relieved(play: Play, standing: Standing, past: Past) -> Standing:
    """Nobody waits more than twice the line, whatever happens on the floor."""
    off = waiting_role(play)
    playing = [role.name for role in play.roles if role.plays]
    waited = {one: past.rep - past.last.get(one, 0) for one in past.last}
    after = (turns.relieved(dict(place), waited, [r for r in playing if r in dict(place)], off) for place in standing)
    return tuple(tuple((role, new[role]) for role, _ in place) for place, new in zip(standing, after, strict=True))


def _baskets(play: Play, here: int, sides: Sequence[Side]) -> int:
    """How many baskets can be used; at least one."""
    least = sum(side.least for side in sides)
    return max(min(places_of(play), here // least if least else 0), 1)


def _fair(play: Play, past: Past, at_home: Sequence[Sequence[str]], sides: Sequence[Side]) -> Standing:
    """The fair turn, basket by basket as long as all baskets have played as much: so nobody walks. Else dealt out over all of them."""
    here = [one for names in at_home for one in names]
    used = _baskets(play, len(here), sides)
    if len(at_home) == used and len({tuple(sorted(past.played.get(one, 0) for one in names)) for names in at_home}) == 1:
        return tuple(place for names in at_home for place in _dealt(play, past, [names], sides))
    return _dealt(play, past, [*at_home, *[[]] * used][:used] if len(at_home) <= used else [here, *[[]] * (used - 1)], sides)


def _dealt(play: Play, past: Past, at_home: Sequence[Sequence[str]], sides: Sequence[Side]) -> Standing:
    """The fair choice among all these players for so many baskets; who can stays where he is."""
    here, used = [one for names in at_home for one in names], len(at_home)
    least = sum(side.least for side in sides)
    sizes = _sizes(sides, len(here) // used) if len(here) >= least else tuple((side.name, side.least) for side in sides)
    on = fair.chosen(past, here, tuple((role, size * used) for role, size in sizes))
    playing = {one for names in on.values() for one in names}
    waits = [one for one in sorted(here, key=lambda one: past.last.get(one, 0)) if one not in playing]
    shared = {role: _shared(on[role], size, at_home) for role, size in sizes}
    lines = _shared(waits, -(-len(waits) // used), at_home)
    return tuple((*((role, shared[role][at]) for role, _ in sizes), (waiting_role(play), lines[at])) for at in range(used))


def _shared(names: Sequence[str], size: int, at_home: Sequence[Sequence[str]]) -> tuple[Names, ...]:
    """So many at each basket: first those who are there, then whoever is left over."""
    places = [[one for one in names if one in own][:size] for own in at_home]
    rest = [one for one in names if not any(one in place for place in places)]
    for place in places:
        while rest and len(place) < size:
            place.append(rest.pop(0))
    return tuple(map(tuple, places))


def _round(play: Play, teams: Sequence[str], number: int) -> Standing:
    """Everyone against everyone: the games of the Berger tables in their order, as many at once as there are places."""
    slots = berger.slots(tuple(teams), places_of(play))
    roles = [role.name for role in play.roles if role.plays][:2]
    if not slots or len(roles) < 2:
        return ()
    now = slots[number % len(slots)]
    waits = tuple(team for team in teams if not any(team in game for game in now))
    games_on = (tuple(zip(roles, ((home,), (away,)), strict=True)) for home, away in now)
    return tuple((*on, (waiting_role(play), () if at else waits)) for at, on in enumerate(games_on))


def left(play: Play, standing: Standing, units: Units, out: str, past: Past) -> tuple[Standing, Units]:
    """After one player has gone, with the smallest change. A team or group plays on with those it has."""
    if units:
        return standing, tuple((name, tuple(one for one in names if one != out)) for name, names in units)
    off = waiting_role(play)
    baskets = tuple(_basket(place, off) for place in standing)
    baskets = _least_first(baskets, out, past) if _how(play) == "fair" else baskets
    after = without(Grouping(places=baskets), out)
    return tuple(_standing(basket, off) for basket in after.places), units


def _least_first(baskets: Sequence[Basket], out: str, past: Past) -> tuple[Basket, ...]:
    """Who has played least is the first in the line of whoever goes, so that fair turns stay fair; of equals one who was seldom in
    that role, then one who is there."""
    found = [(at, role) for at, one in enumerate(baskets) for role, names in one.sides if out in names]
    waits = [(n, place, one) for n, basket in enumerate(baskets) for place, one in enumerate(basket.line)]
    if not found or not waits:
        return tuple(baskets)
    ((at, role),) = found
    comes = min(waits, key=lambda x: (past.played.get(x[2], 0), past.roles.get((x[2], role), 0), x[0] != at, x[1]))[2]
    lines = [tuple(one for one in basket.line if one != comes) for basket in baskets]
    lines[at] = (comes, *lines[at])
    return tuple(replace(basket, line=line) for basket, line in zip(baskets, lines, strict=True))


def came(play: Play, standing: Standing, units: Units, who: str, teams: Teams) -> tuple[Standing, Units]:
    """After one player has come: into the team of the bib, else the smallest; into a side that is short, else the shortest line."""
    if units:
        bibs = next((team for team, names in teams if who in names), "")
        goes = bibs if bibs in dict(units) else min(units, key=lambda unit: len(unit[1]))[0]
        return standing, tuple((name, (*names, who) if name == goes else names) for name, names in units)
    off = waiting_role(play)
    after = with_late(Grouping(places=tuple(_basket(place, off) for place in standing)), who, sides_of(play))
    return tuple(_standing(basket, off) for basket in after.places), units


def played(past: Past, standing: Standing, play: Play) -> Past:
    """The past after a rep in which these stood so."""
    off = waiting_role(play)
    on: dict[str, Names] = {}
    for place in standing:
        for role, names in place:
            if role != off:
                on[role] = (*on.get(role, ()), *names)
    return fair.counted(past, on)


def to_the_right(groups: Standing) -> Standing:
    """Who is at the stations after the change: each group goes one to the right, the last one to the first station."""
    return (*groups[-1:], *groups[:-1])


def default_turn(play: Play) -> Turn:
    """How everyone moves on by one when it is called: as after a rep, else in line, else the roles change over."""
    if play.rep is not None and play.rep.turn.how:
        return play.rep.turn
    return Turn(how="advance" if any(not role.plays for role in play.roles) else "swap")


def came_late(players: Names, here: Names, who: str) -> Names:
    """Those here with one more, in the order of the squad; who is in no list comes last."""
    return tuple(one for one in players if one in here or one == who) + (() if who in players else (who,))


def on_floor(play: Play, standing: Standing) -> Names:
    """Everyone in a role that plays."""
    playing = {role.name for role in play.roles if role.plays}
    return tuple(one for place in standing for role, names in place if role in playing for one in names)
