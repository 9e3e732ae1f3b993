"""Who begins where in each drill when everybody is here: the line-ups of the evening as it runs if nobody touches a key."""

from courttimer.plan.model import Session
from courttimer.practice import events as ev
from courttimer.practice.course import course, from_go
from courttimer.practice.event import Place
from courttimer.practice.state import opening

Basket = tuple[tuple[str, str], ...]
"""Each role with who begins in it, in words."""
Lineups = dict[tuple[int, int], tuple[Basket, ...]]
"""By segment and station (from 1; 0 for the segment itself): the baskets. A station's own group is its only basket's only role."""


def lineups(session: Session) -> Lineups:
    """The first line-up of every drill with roles and of every station; nothing for those that have none."""
    segment, found = -1, Lineups()
    for event in course(from_go(opening(session, 0))):
        if isinstance(event, ev.SegmentBegan):
            segment = event.segment
        elif isinstance(event, ev.LinedUp):
            for station, baskets in _told(event, stations=bool(session.segment[segment].station)):
                found.setdefault((segment, station), baskets)
    return found


def _told(event: ev.LinedUp, *, stations: bool) -> list[tuple[int, tuple[Basket, ...]]]:
    who = dict(event.units)
    baskets = tuple(_basket(place, who) for place in event.standing)
    if stations and not event.lane:  # one group at each station
        return [(at, (basket,)) for at, basket in enumerate(baskets, 1)]
    return [(event.lane, baskets)]


def _basket(place: Place, who: dict[str, tuple[str, ...]]) -> Basket:
    return tuple((role, ", ".join(_named(name, who) for name in names)) for role, names in place if names)


def _named(name: str, who: dict[str, tuple[str, ...]]) -> str:
    """A team in bibs by its colour, a group by its players."""
    return ", ".join(who[name]) if name.startswith("group ") and name in who else name
