"""Whether the squad is enough for a drill or for stations, and what would fit: told before the practice."""

from collections.abc import Iterator

from courttimer.plan.derived import sides_of
from courttimer.plan.model import Segment, Session, Squad
from courttimer.report.told import Advice, Lines, called, line_of
from courttimer.squad.groups import grouped


def enough(session: Session, lines: Lines) -> Iterator[Advice]:
    """One line for each segment for which the whole squad is too few; nothing is known of a squad without names."""
    for at, segment in enumerate(session.segment) if session.squad.players else ():
        if text := _too_few(segment, session.squad):
            key = "station" if segment.station else "roles"
            yield Advice(line=line_of(("segment", at, key), lines), where=called(segment), text=text)


def _too_few(segment: Segment, squad: Squad) -> str:
    count, stations = len(squad.players), len(segment.station)
    if count < stations:
        return f"{count} in the squad for {stations} stations: some are empty all the time"
    sides = sides_of(segment)
    if not sides:
        return ""
    if segment.teams:
        teams = segment.teams if isinstance(segment.teams, int) else len(squad.teams)
        return f"{len(sides)} roles, but only {teams} {'team' if teams == 1 else 'teams'}" if 0 < teams < len(sides) else ""
    return grouped(squad.players, sides, segment.places).told
