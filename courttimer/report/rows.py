"""What one practice leaves behind in the history: a few narrow rows, made from its journal and kept in tables of the same names.

The fields of these classes are the columns of the history, for the store, the exports and their documents alike.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """The practice itself. Times are ms of play: holds are not in them."""

    wall: str
    """Day and time of its first line, ISO 8601 with the zone."""
    title: str
    planned: int
    played: int
    live: int
    reps: int
    load: int
    """The coach's guess: effort times minutes, summed over the segments (`care.load`)."""
    ended: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """The time of one kind of segment in one practice, in ms."""

    kind: str
    planned: int
    played: int
    live: int
    reps: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """Makes out of attempts of one player at one spot in one practice; what was never entered is not there."""

    player: str
    spot: str
    makes: int
    attempts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What somebody reached in a drill: `sort` is "makes", "race", "row", …; more is better."""

    drill: str
    who: str
    sort: str
    value: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Player:
    """One player's practice; times in ms."""

    player: str
    played: int
    reps: int
    load: int
    wins: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """All that one practice leaves."""

    practice: Practice
    work: tuple[Work, ...] = ()
    shots: tuple[Shot, ...] = ()
    results: tuple[Result, ...] = ()
    players: tuple[Player, ...] = ()
