"""What outcomes add up to: who gets the points, which rows go on or break, and whether the target is reached.

Nothing here knows the time. A side is whoever scores: a player, a team or group, or a role where nobody is known by name.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

from courttimer.plan.model import Outcome, Score, Segment, Station
from courttimer.practice.event import Makes, Names, Place, Standing, Sums, Units

Play = Segment | Station

ALL = "all"
"""The side of a drill in which everyone counts together."""
US, RIVAL = "us", "rival"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The score of one lane, in the order in which the sides first counted."""

    points: Sums = ()
    rows: Sums = ()
    """How long each row is now."""
    best: Sums = ()
    """The longest row so far; kept when a new race begins."""
    makes: Makes = ()
    won: str | None = None
    """Who has reached the target, when nothing begins anew; nothing: a tie."""


class Floor(NamedTuple):
    """Who plays in a lane: where they stand, and who belongs to each team or group."""

    standing: Standing
    units: Units


class Added(NamedTuple):
    """What one outcome adds up to."""

    points: Sums
    rows: Sums
    makes: Makes


class Reached(NamedTuple):
    """Who has reached the target, with the score of the winner and of the next best."""

    side: str
    why: str
    n: int
    m: int


def sort_of(play: Play, outcome: Outcome | None) -> str:
    """"make", "miss", or nothing when it is no attempt. Over a rep that ends without points is a miss."""
    of = play.score.of if play.score else ()
    if outcome is not None and (outcome.name in of if of else outcome.points > 0):
        return "make"
    if outcome is None or (outcome.points == 0 and (outcome.breaks or outcome.ends)):
        return "miss"
    return ""


def added(play: Play, floor: Floor, sheet: Sheet, outcome: Outcome | None) -> Added:
    """What an outcome (None: over) adds to the sheet: new points, the new length of each row it touches, makes and attempts."""
    score = play.score
    if score is not None and score.counted == "players":
        return Added((), (), ())
    points = _points(play, floor, outcome)
    if score is None:
        return Added(points, (), ())
    sort = sort_of(play, outcome)
    if score.by == "rival" and score.rival and sort == "miss":
        points = ((RIVAL, score.rival),)
    rows = _rows(play, floor, sheet, outcome, sort) if score.row else ()
    counts = tuple((side, int(sort == "make"), 1) for side in _tried(play, floor, outcome, sort)) if score.tally else ()
    return Added(points, rows, counts)


def _points(play: Play, floor: Floor, outcome: Outcome | None) -> Sums:
    if outcome is None or not outcome.points:
        return ()
    return tuple((side, outcome.points) for side in sides(play, floor, outcome))


def sides(play: Play, floor: Floor, outcome: Outcome) -> Names:
    """Who gets what this outcome gives."""
    if play.score is not None and play.score.by == "rival":
        return (US,)
    if outcome.to and outcome.to not in {role.name for role in play.roles}:
        return (outcome.to,)
    playing = [role.name for role in play.roles if role.plays]
    role = outcome.to or (playing[0] if len(playing) == 1 else "")
    return on_side(play, floor, role)


def on_side(play: Play, floor: Floor, role: str) -> Names:
    """The sides that a role stands for, at the first place: the coach sees one basket."""
    place: Place = floor.standing[0] if floor.standing else ()
    who = dict(place).get(role or ALL, ())
    by = play.score.by if play.score else "group"
    if by == "rival":
        return (US,)
    if not who:
        return (role or ALL,)
    if by == "player" and role:
        return members(floor.units, who)
    if floor.units:
        return who
    return who if len(who) == 1 else (role or ALL,)


def members(units: Units, who: Iterable[str]) -> Names:
    """The players behind names of teams and groups; a player is himself."""
    known = dict(units)
    return tuple(one for name in who for one in (known.get(name) or (name,)))


def _playing(play: Play, floor: Floor) -> Names:
    """Every side that is on the floor now."""
    roles = [role.name for role in play.roles if role.plays]
    return tuple(side for role in roles for side in on_side(play, floor, role)) or on_side(play, floor, "")


def _tried(play: Play, floor: Floor, outcome: Outcome | None, sort: str) -> Names:
    """Whose attempt it was: the side it counts for, else the first role that plays."""
    if not sort or outcome is None:
        return ()
    if outcome.to or (play.score and play.score.by == "rival"):
        return sides(play, floor, outcome)
    role = next((one.name for one in play.roles if one.plays), "")
    return on_side(play, floor, role)


def _rows(play: Play, floor: Floor, sheet: Sheet, outcome: Outcome | None, sort: str) -> Sums:
    """A make lengthens the row of its side. What breaks it ends the rows of all others on the floor, or of all when it has no side.

    `over` and time say nothing about a row. A drill that names no outcome that breaks has every other one that ends the rep break.
    """
    if outcome is None:
        return ()
    known = dict(sheet.rows)
    rows: dict[str, int] = {}
    if sort == "make":
        rows = {side: known.get(side, 0) + 1 for side in sides(play, floor, outcome)}
    named = any(one.breaks for one in play.outcome)
    if outcome.breaks or (not named and sort != "make" and (outcome.ends or outcome.points)):
        spared = set(sides(play, floor, outcome)) if outcome.to else set[str]()
        on = {*_playing(play, floor), ALL, *(known if not floor.standing else ())}
        rows |= {side: 0 for side in sorted(on) if side not in spared and known.get(side)}
    return tuple(rows.items())


def noted(sheet: Sheet, sums: Added) -> Sheet:
    """The sheet with one outcome more on it."""
    points, rows, best = dict(sheet.points), dict(sheet.rows) | dict(sums.rows), dict(sheet.best)
    for side, more in sums.points:
        points[side] = points.get(side, 0) + more
    for side, long in sums.rows:
        best[side] = max(best.get(side, 0), long)
    makes = {side: (made, tried) for side, made, tried in sheet.makes}
    for side, made, tried in sums.makes:
        before = makes.get(side, (0, 0))
        makes[side] = (before[0] + made, before[1] + tried)
    counts = tuple((side, *both) for side, both in makes.items())
    return replace(sheet, points=tuple(points.items()), rows=tuple(rows.items()), best=tuple(best.items()), makes=counts)


def reached(sheet: Sheet, score: Score | None) -> Reached | None:
    """Who has reached the target of a score, or None. A race is won by its lead; a row by its length."""
    if score is None or sheet.won is not None or score.counted == "players":
        return None
    if score.row:
        side, long = _first(sheet.rows)
        return Reached(side, "row", long, 0) if long >= score.row else None
    if not score.race:
        return None
    side, most = _first(sheet.points)
    next_best = max((n for other, n in sheet.points if other != side), default=0)
    return Reached(side, "race", most, next_best) if most >= score.race and most - max(next_best, 0) >= score.win_by else None


def leads(sheet: Sheet) -> Reached:
    """Who leads when the time of a race is over; no side: a tie."""
    side, most = _first(sheet.points)
    next_best = max((n for other, n in sheet.points if other != side), default=0)
    return Reached("" if most == next_best else side, "cap", most, next_best)


def _first(sums: Sums) -> tuple[str, int]:
    return max(sums, key=lambda one: one[1], default=("", 0))


def afresh(sheet: Sheet) -> Sheet:
    """A new race or row: nothing but the best rows and the makes is kept."""
    return replace(sheet, points=(), rows=(), won=None)


def losers(play: Play, floor: Floor, sheet: Sheet, winner: str, pays: str) -> Names:
    """The players who do the consequence. "others": all but the winner; "losers": those of them on the floor; "last": the lowest."""
    if not winner:
        return ()
    everyone = [name for place in floor.standing for _, names in place for name in names]
    on = [name for place in floor.standing for role, names in place if _plays(play, role) for name in names]
    names = on if pays == "losers" else everyone
    if pays == "last" and (units := [name for name, _ in floor.units] or everyone):
        points = dict(sheet.points)
        least = min(points.get(name, 0) for name in units)
        names = [name for name in units if points.get(name, 0) == least]
    won = {*members(floor.units, (winner,)), *on_role(floor, winner)}
    return tuple(dict.fromkeys(one for one in members(floor.units, names) if one not in won))


def on_role(floor: Floor, role: str) -> Names:
    """The players in a role, when a role itself has won."""
    return members(floor.units, (name for place in floor.standing for at, names in place if at == role for name in names))


def _plays(play: Play, role: str) -> bool:
    return all(one.plays for one in play.roles if one.name == role) and bool(play.roles)
