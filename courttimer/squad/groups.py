"""Those here, in groups of the sizes that roles ask for, at several places; and the smallest change when one comes or goes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """A playing role and how many it takes, least and most."""

    name: str
    least: int = 1
    most: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One basket: who is in each role, and its own line, longest waiting first."""

    sides: tuple[tuple[str, tuple[str, ...]], ...]
    line: tuple[str, ...] = ()

    @property
    def here(self) -> int:
        """How many players are at this place."""
        return len(self.line) + sum(len(players) for _, players in self.sides)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grouping:
    """The places in use. When nothing fits there is no place, everyone waits, and `told` says what would fit."""

    places: tuple[Place, ...] = ()
    waiting: tuple[str, ...] = ()
    told: str = ""


def grouped(here: Sequence[str], sides: Sequence[Side], places: int = 1) -> Grouping:
    """As many places as the least sizes allow, players dealt in order; each place keeps its own line of those too many.

    Lines differ by at most one. Sides grow to their most before anyone waits, the smallest against its most first.
    """
    least = sum(side.least for side in sides)
    used = min(places, len(here) // least) if least else 0
    if not used:
        return Grouping(waiting=tuple(here), told=too_few(len(here), sides))
    told = not_fitting(len(here), sides, places, used)
    return Grouping(places=tuple(_place(here[at::used], sides) for at in range(used)), told=told)


def not_fitting(count: int, sides: Sequence[Side], places: int, used: int) -> str:
    """What does not fit when `count` players use so many places; empty when all does."""
    least = sum(side.least for side in sides)
    fewer = f"{used} of {places} places: {count} are here, each place takes {least}" if used < places else ""
    return too_few(count, sides) or fewer


def too_few(count: int, sides: Sequence[Side]) -> str:
    """What would fit instead when `count` players are too few for one place; empty when they are enough."""
    least = sum(side.least for side in sides)
    if count >= least:
        return ""
    asked = " against ".join(str(side.least) for side in sides)
    said = f"{asked} takes {least}, {count} {'is' if count == 1 else 'are'} here"
    if count < len(sides):
        return f"{said}: choose a drill for {count}" if count else said
    fits = [side.least for side in sides]
    while sum(fits) > count:
        fits[fits.index(max(fits))] -= 1
    return f"{said}: {' against '.join(map(str, fits))} would fit"


def teams_here(teams: Sequence[tuple[str, Sequence[str]]], here: Sequence[str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The bibs as worn by those here; a team keeps its colour all evening, and its subs are inside it.

    Whoever wears no bib joins the smallest team, the first of equals. A team with nobody here is left out.
    """
    worn = {team: [one for one in players if one in here] for team, players in teams}
    dressed = {one for players in worn.values() for one in players}
    for one in here if worn else ():
        if one not in dressed:
            min(worn.values(), key=len).append(one)
    return tuple((team, tuple(players)) for team, players in worn.items() if players)


def without(grouping: Grouping, out: str) -> Grouping:
    """After one player has gone: the first of the same line comes in, else of the longest line, else the side plays one short.

    Nobody else moves. A side with nobody left keeps its place open for the next one who comes.
    """
    places = list(grouping.places)
    at = next((n for n, place in enumerate(places) if out in _all(place)), None)
    if at is None:
        return replace(grouping, waiting=_minus(grouping.waiting, out))
    if out in places[at].line:
        places[at] = replace(places[at], line=_minus(places[at].line, out))
        return replace(grouping, places=tuple(places))
    lender = at if places[at].line else max(range(len(places)), key=lambda n: len(places[n].line))
    comes = places[lender].line[:1]
    places[lender] = replace(places[lender], line=places[lender].line[1:])
    sides = ((name, tuple(p for one in players for p in (comes if one == out else (one,)))) for name, players in places[at].sides)
    places[at] = replace(places[at], sides=tuple(sides))
    return replace(grouping, places=tuple(places))


def with_late(grouping: Grouping, late: str, sides: Sequence[Side]) -> Grouping:
    """After one player has come: into a side that is short of its least, else to the end of the shortest line. Nobody else moves."""
    if not grouping.places:
        return replace(grouping, waiting=(*grouping.waiting, late))
    least = {side.name: side.least for side in sides}
    short = ((n, name) for n, place in enumerate(grouping.places) for name, who in place.sides if len(who) < least.get(name, 0))
    n, role = next(short, (min(range(len(grouping.places)), key=lambda n: len(grouping.places[n].line)), ""))
    place = grouping.places[n]
    filled = tuple((name, (*who, late) if name == role else who) for name, who in place.sides)
    joined = replace(place, sides=filled, line=place.line if role else (*place.line, late))
    return replace(grouping, places=(*grouping.places[:n], joined, *grouping.places[n + 1 :]))


def sizes_for(count: int, sides: Sequence[Side]) -> Mapping[str, int]:
    """How many each side takes of `count` players at one place, no fewer than the least of all together."""
    sizes = {side.name: side.least for side in sides}
    spare = count - sum(sizes.values())
    while spare > 0 and (roomy := [side for side in sides if sizes[side.name] < side.most]):
        grows = min(roomy, key=lambda side: sizes[side.name] - side.least)
        sizes[grows.name] += 1
        spare -= 1
    return sizes


def _place(players: Sequence[str], sides: Sequence[Side]) -> Place:
    rest, filled = list(players), []
    for name, size in sizes_for(len(players), sides).items():
        filled.append((name, tuple(rest[:size])))
        rest = rest[size:]
    return Place(sides=tuple(filled), line=tuple(rest))


def _all(place: Place) -> set[str]:
    return {*place.line, *(one for _, players in place.sides for one in players)}


def _minus(line: tuple[str, ...], out: str) -> tuple[str, ...]:
    return tuple(one for one in line if one != out)
