"""How long each player really plays in a drill with roles, and what would change it most.

Told in `check` of drills that are mostly standing, on the start screen of every drill with roles.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from courttimer.care.rest import off_needed
from courttimer.care.sources import COMMON
from courttimer.plan.model import Role, Segment, Session, Squad
from courttimer.plan.times import spell
from courttimer.report.told import Advice, Lines, called, line_of
from courttimer.squad.groups import teams_here

STANDS = 2 / 3
"""Worth saying when a player stands in more than this share of the reps: off times, which are rest, are not counted as standing."""


class Play(NamedTuple):
    """What decides how long each plays: all in ms, but the reps of one player among `players`."""

    live: int
    off: int
    room: int
    on: int
    players: int

    @property
    def all_reps(self) -> int:
        """ms of live time that the floor has: reps begin as long as a whole one still has room."""
        return (self.room + self.off) // (self.live + self.off) * self.live

    @property
    def each(self) -> int:
        """ms of live time that one player has."""
        return round(self.all_reps * self.on / self.players)


def standing_advice(session: Session, lines: Lines) -> Iterator[Advice]:
    """One line for each drill in which the squad stands for most of the reps."""
    for at, segment in enumerate(session.segment):
        if text := standing(segment, session.squad):
            yield Advice(line=line_of(("segment", at, "roles"), lines), where=called(segment), text=text, source=str(COMMON))


def standing(segment: Segment, squad: Squad) -> str:
    """The advice for one drill with roles, or nothing when nobody stands for long, or not enough is known."""
    play = played(segment, squad)
    stands = play is not None and 0 < play.on < play.players * (1 - STANDS)
    return _told(segment, squad, play) if stands and play else ""


def sheet(session: Session, here: Sequence[str] | None = None) -> tuple[str, ...]:
    """For the start screen, a line a drill with roles: how long each of those here really plays, and what would change it most.

    The last line is their sum. None here: the whole squad is.
    """
    squad = session.squad if here is None else among(session.squad, here)
    plays = [(segment, play) for segment in session.segment if (play := played(segment, squad)) and play.on]
    lines = tuple(f"{segment.title}: {_told(segment, squad, play)}" for segment, play in plays)
    if len(plays) < 2:
        return lines
    each, of = sum(play.each for _, play in plays), sum(segment.time for segment, _ in plays)
    return (*lines, f"In these {len(plays)} each plays about {_spelt(each)} of {spell(of)}")


def among(squad: Squad, here: Sequence[str]) -> Squad:
    """The squad with only those here, and their bibs."""
    return Squad(players=tuple(here), teams=teams_here(squad.teams, here))


def _told(segment: Segment, squad: Squad, play: Play) -> str:
    about = "at most about" if segment.rep and segment.rep.starts == "on call" else "about"
    said = f"each plays {about} {_range(segment, squad, play)} of {spell(segment.time)}"
    changes = [(0, ""), *_changes(segment, squad, play)]
    better, how = max(changes, key=lambda one: one[0])
    return f"{said}; {how} it would be {_spelt(better)}" if better > play.each * 1.1 else said


def played(segment: Segment, squad: Squad) -> Play | None:
    """How the whole squad shares the drill, whatever the turn: over its length all turns come round to everyone."""
    rep, roles = segment.rep, [role for role in segment.roles if role.plays]
    if rep is None or not rep.live or not roles or not squad.players or not segment.time:
        return None
    on = on_the_floor(roles, len(squad.players), segment.places)
    return Play(live=rep.live, off=rep.off, room=segment.time - segment.setup, on=on, players=len(squad.players))


def on_the_floor(roles: list[Role], players: int, places: int) -> int:
    """How many of so many play at once: as many places as the least sizes fill, with sides up to their most."""
    least, most = (sum(role.size[end] for role in roles) for end in (0, 1))
    used = min(places, players // least)
    return min(players, used * most)


def _range(segment: Segment, squad: Squad, play: Play) -> str:
    """ "1 min 57 s", or "3 min to 4 min" where teams that sub inside themselves are not of one size."""
    roles = [role for role in segment.roles if role.plays]
    if segment.teams != "squad" or not squad.teams:
        return _spelt(play.each)
    turns = play.all_reps * min(1, len(roles) * segment.places / len(squad.teams))
    side = sum(role.size[1] for role in roles) / len(roles)
    told = [_spelt(round(turns * min(1, side / max(1, size)))) for size in sorted({len(team) for _, team in squad.teams}, reverse=True)]
    return f"{told[0]} to {told[-1]}" if told[0] != told[-1] else told[0]


def _changes(segment: Segment, squad: Squad, play: Play) -> Iterator[tuple[int, str]]:
    """What a coach can change, each with the ms that each player would then have; of equals the first is the simplest.

    Smaller sides alone put fewer on the floor: they are told with the place more that they fill.
    """
    roles, more = [role for role in segment.roles if role.plays], segment.places + 1
    if segment.teams != "squad" or len(squad.teams) >= more * len(roles):
        yield play._replace(on=on_the_floor(roles, play.players, more)).each, f"at {_count(more)} baskets"
        if all(role.size[0] > 1 for role in roles):
            smaller = [replace(role, size=(role.size[0] - 1, role.size[1] - 1)) for role in roles]
            how = f"with one fewer a side, at {_count(more)} baskets"
            yield play._replace(on=on_the_floor(smaller, play.players, more)).each, how
    from courttimer.report.turning import again_after

    # Never less rest than is asked for: who may come on twice running rests the whole of it.
    off = max(play.off // 2_000 * 1_000, off_needed(segment.effort, play.live, again_after(segment, squad.players, squad.teams)))
    if off < play.off:
        yield play._replace(off=off).each, f"with {spell(off)} off"


def _count(places: int) -> str:
    return ("no", "one", "two", "three", "four", "five", "six")[places] if places < 7 else str(places)


def _spelt(ms: int) -> str:
    """To the second, so that "1 min 57 s" is not "117 s"."""
    minutes, seconds = divmod(round(ms / 1000), 60)
    parts = ((minutes, "min"), (seconds, "s"))
    return " ".join(f"{count} {unit}" for count, unit in parts if count) or "0 s"
