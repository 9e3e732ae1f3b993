"""How long each player really plays in a drill with roles, and what would change it most: told before, when most of it is standing."""

from collections.abc import Iterator
from typing import NamedTuple

from courttimer.plan.model import Role, Segment, Session, Squad
from courttimer.plan.times import spell
from courttimer.report.told import Advice, Lines, called, line_of

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
    def each(self) -> int:
        """ms of live time that one player has: reps begin as long as a whole one still has room."""
        reps = (self.room + self.off) // (self.live + self.off)
        return round(reps * self.live * self.on / self.players)


def standing_advice(session: Session, lines: Lines) -> Iterator[Advice]:
    """One line for each drill in which the squad stands for most of the reps."""
    for at, segment in enumerate(session.segment):
        if text := standing(segment, session.squad):
            yield Advice(line=line_of(("segment", at, "roles"), lines), where=called(segment), text=text)


def standing(segment: Segment, squad: Squad) -> str:
    """The advice for one drill with roles, or nothing when nobody stands for long, or not enough is known."""
    play = played(segment, squad)
    if play is None or not 0 < play.on < play.players * (1 - STANDS):
        return ""
    about = "at most about" if segment.rep and segment.rep.starts == "on call" else "about"
    said = f"each plays {about} {_spelt(play.each)} of {spell(segment.time)}"
    better, how = max(_changes(segment, squad, play), default=(0, ""))
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


def _changes(segment: Segment, squad: Squad, play: Play) -> list[tuple[int, str]]:
    """What a coach can change, each with the ms that each player would then have: one place more, half the off time.

    Smaller sides alone never help here: where two thirds wait, a further place is full with the sizes as they are.
    """
    roles = [role for role in segment.roles if role.plays]
    more, found = segment.places + 1, []
    if segment.teams != "squad" or len(squad.teams) >= more * len(roles):
        found.append((play._replace(on=on_the_floor(roles, play.players, more)).each, f"at {_count(more)} baskets"))
    if play.off >= 2_000:
        off = play.off // 2_000 * 1_000
        found.append((play._replace(off=off).each, f"with {spell(off)} off"))
    return found


def _count(places: int) -> str:
    return ("no", "one", "two", "three", "four", "five", "six")[places] if places < 7 else str(places)


def _spelt(ms: int) -> str:
    """To the second, so that "1 min 57 s" is not "117 s"."""
    minutes, seconds = divmod(round(ms / 1000), 60)
    parts = ((minutes, "min"), (seconds, "s"))
    return " ".join(f"{count} {unit}" for count, unit in parts if count) or "0 s"
