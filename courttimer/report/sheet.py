"""The sheet for the clipboard: a session as an assistant needs it on one page, before anything is drawn."""

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from courttimer.care.words import FIRST_BRIEFLY, briefly
from courttimer.plan.model import Segment, Session
from courttimer.plan.times import spell
from courttimer.practice.room import BREAKS
from courttimer.report.drill_lines import Line, aside, lines_of, things
from courttimer.report.lineups import Lineups

HURT = ("Hurt?", "Or in doubt: key x. Silence, all stands.")
START = "names beside roles: where they begin if everyone is here; the board goes first"


class Part(NamedTuple):
    """One segment: its time of day (or since go), under it its length and what to have there, and what is said of it.

    The most important is said first. A pause of which nothing is said is told by its title alone.
    """

    at: str
    under: tuple[str, ...]
    title: str
    aside: str
    lines: tuple[Line, ...]
    pause: bool


class Sheet(NamedTuple):
    """Everything on the page, in the order of the page. Pairs are a label and a text."""

    title: str
    hours: str
    under: str
    teams: tuple[tuple[str, str], ...]
    fetch: tuple[tuple[str, str], ...]
    parts: tuple[Part, ...]
    ends: str
    card: tuple[tuple[str, str], ...]
    first: str
    cautions: tuple[str, ...]


def sheet(session: Session, begins: int | None = None, lineups: Lineups | None = None) -> Sheet:
    """The sheet of a session that begins at a time of day in ms; None: at the start of its floor time, else times are since go."""
    starts = session.floor[0] if begins is None and session.floor else begins
    at, parts = 0, []
    for number, segment in enumerate(session.segment):
        parts.append(_part(segment, number, session, _moment(starts, at), lineups or {}))
        at += segment.time
    return Sheet(
        title=session.title, hours=_hours(session, starts, at), under=_under(session, START * bool(lineups)),
        teams=tuple(_teams(session)), fetch=tuple(_fetch(session)), parts=tuple(parts), ends=_ends(session, starts, at),
        card=_card(session), first=FIRST_BRIEFLY, cautions=briefly(len(session.squad.players)),
    )  # fmt: skip


def _moment(starts: int | None, at: int) -> str:
    """18:08, or since go 0:08 and 1:02:30; seconds only where there are any."""
    minutes, ms = divmod(at + (starts or 0), 60_000)
    hours, seconds = minutes // 60 % 24, ms // 1000
    if starts is None and not hours:
        return f"{minutes}:{seconds:02d}"
    return f"{hours}:{minutes % 60:02d}" + (f":{seconds:02d}" if seconds else "")


def _hours(session: Session, starts: int | None, length: int) -> str:
    if session.floor and starts is not None:
        closes = session.floor[1] if starts == session.floor[0] else starts + session.floor[1] - session.floor[0]
        return f"{_moment(0, starts)} – {_moment(0, closes)}"
    return f"from {_moment(0, starts)}, {spell(length)}" if starts is not None else spell(length)


def _under(session: Session, start: str) -> str:
    coaches = ", ".join(session.staff.coaches)
    told = (
        coaches and f"With {coaches}", f"{len(session.squad.players)} players" * bool(session.squad.players),
        f"age {session.age}" if session.age else "", session.rules.upper() and f"{session.rules.upper()} counts", start,
    )  # fmt: skip
    return " · ".join(filter(None, told))


def _ends(session: Session, starts: int | None, length: int) -> str:
    said = f"{_moment(starts, length)}  the last segment is over"
    if session.clear:
        said += f"; {spell(session.clear)} to clear: balls in, bibs in, off the floor"
    if session.floor:
        hand = session.floor[1] - session.floor[0] - session.clear - length
        said += f". {spell(hand)} in hand." if hand > 0 else f". {spell(-hand)} too much for the floor time!" if hand < 0 else "."
    return said


def _teams(session: Session) -> Iterator[tuple[str, str]]:
    """The bibs and who wears them, then whoever wears none."""
    dressed: set[str] = set()
    for colour, names in session.squad.teams:
        dressed.update(names)
        yield colour, ", ".join(names)
    rest = [name for name in session.squad.players if name not in dressed]
    if rest:
        yield ("no bib" if dressed else "squad"), ", ".join(rest)


def _gear(segment: Segment) -> Counter[str]:
    """What a segment needs at one time: stations stand side by side."""
    out = Counter(dict(segment.gear))
    for station in segment.station:
        out.update(dict(station.gear))
    return out


def _fetch(session: Session) -> Iterator[tuple[str, str]]:
    """Each thing with the most that is needed at any time, and where; bibs by their colours."""
    needs = [(_gear(segment), segment.title) for segment in session.segment]
    for thing in dict.fromkeys(thing for gear, _ in needs for thing in gear):
        most = max(gear[thing] for gear, _ in needs)
        users = list(dict.fromkeys(title for gear, title in needs if gear[thing] == most))
        yield f"{thing} {most}", _some(users)
    bibs = ", ".join(f"{len(names)} {colour}" for colour, names in session.squad.teams)
    if bibs:
        yield "bibs", bibs


def _some(names: list[str]) -> str:
    return ", ".join(names) if len(names) < 4 else f"{', '.join(names[:2])} and {len(names) - 2} more"


def _card(session: Session) -> tuple[tuple[str, str], ...]:
    gym = session.gym
    return (HURT, *(pair for pair in (("Call", gym.call), ("Come to", gym.address), ("AED", gym.aed)) if pair[1]))


def _part(segment: Segment, number: int, session: Session, at: str, lineups: Lineups) -> Part:
    said = tuple(lines_of(segment, number, lineups))
    pause = segment.kind in BREAKS and not said
    under = (spell(segment.time), things(sorted(_gear(segment).items())))
    return Part(at, () if pause else tuple(filter(None, under)), _named(segment, pause), aside(segment, session.squad), said, pause)


def _named(segment: Segment, pause: bool) -> str:
    return f"{segment.title}, {spell(segment.time)}" if pause else segment.title
