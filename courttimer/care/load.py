"""How hard a practice was in all: effort times minutes, for the session, for each player, and for the week."""

from collections.abc import Iterable
from typing import NamedTuple

from courttimer.care.sources import Source

FOSTER = Source("Foster 1998", "Med. Sci. Sports Exerc. 30:1164-1168: session load, effort of 0 to 10 times minutes")
ASK_AFTER = 30 * 60_000
"""ms after the practice at which players are asked how hard it was, so that its last minutes do not speak for all. Source: `ASKED`."""
ASKED = Source("Foster 1998", "Med. Sci. Sports Exerc. 30:1164-1168: asked about 30 min afterwards", memory=True)
HARDEST = 10


class Work(NamedTuple):
    """What was really played of one segment, in ms, and how hard the coach guessed it to be; None: the coach did not say."""

    effort: int | None
    played: int


class Load(NamedTuple):
    """`effort_ms` is effort times ms, a whole number; `unknown` are the ms whose effort nobody said."""

    effort_ms: int = 0
    unknown: int = 0

    @property
    def units(self) -> int:
        """Effort times minutes, as loads are told."""
        return (self.effort_ms + 30_000) // 60_000


class Loads(NamedTuple):
    """Two answers that are never mixed: the coach's guess from what was played, and what the player said; None: not asked."""

    guess: Load
    own: Load | None = None


def guessed(work: Iterable[Work]) -> Load:
    """From the coach's efforts: of the session, or of one player when `work` holds only what that player took part in."""
    done = tuple(work)
    known = sum(one.effort * one.played for one in done if one.effort is not None)
    return Load(known, sum(one.played for one in done if one.effort is None))


def own(effort: int, taken_part: int) -> Load:
    """From the one effort that a player names for the whole practice, and the ms for which they took part.

    Raises ValueError for an effort that is not 0 to 10.
    """
    if not 0 <= effort <= HARDEST:
        raise ValueError(f"an effort is 0 to {HARDEST} (got {effort})")
    return Load(effort * taken_part)


def summed(loads: Iterable[Load]) -> Load:
    """The sum of a day's practices, or of the seven days of a week; a day of rest adds nothing."""
    every = tuple(loads)
    return Load(sum(one.effort_ms for one in every), sum(one.unknown for one in every))
