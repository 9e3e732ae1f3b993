"""How long a player rests after a bout of work, by how hard and how long it was, and what of it was missing."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from courttimer.care.sources import COMMON, Source

GAME_LIKE = range(6, 9)
"""Efforts of game-like bouts: harder than "hard", which is 5. Below, no rest is asked for."""
EASY = 3
"""Work up to this effort, "moderate", is rest for who comes from harder work: walking, stretching, free throws. Source: `COMMON`."""
SPRINT = range(9, 11)
GAME_LIKE_RATIO = 2
GAME_LIKE_SOURCE = COMMON
NSCA = Source("NSCA, Essentials of Strength Training and Conditioning", "4th ed., Table 3.6; its gaps filled by our rule")


class Row(NamedTuple):
    """Bouts from `least` to `most` ms rest from `low` to `high` times their length."""

    least: int
    most: int
    low: int
    high: int


WORK_TO_REST = (
    Row(5_000, 10_000, 12, 20),
    Row(15_000, 30_000, 3, 5),
    Row(60_000, 180_000, 3, 4),
    Row(180_001, 3_600_000, 1, 3),
)
"""Source: `NSCA`. Between 10 and 15 s and between 30 and 60 s the table is silent: there the ratio goes in a straight line
from one row's to the next one's (our rule). Bouts under 5 s rest as the first row."""


class Rest(NamedTuple):
    """The least rest that is asked for after a bout, in ms; `quality`: for the work to be worth it, not for safety."""

    least: int
    source: Source
    quality: bool = False


def rest(effort: int | None, live: int) -> Rest | None:
    """The rest after a bout of `live` ms; None when none is asked for."""
    if effort in GAME_LIKE:
        return Rest(GAME_LIKE_RATIO * live, GAME_LIKE_SOURCE)
    if effort in SPRINT:
        return Rest(sprint(live)[0], NSCA, quality=True)
    return None


def sprint(live: int) -> tuple[int, int]:
    """Least and most rest in ms, rounded up, after a sprint or conditioning bout of `live` ms."""
    before, after = _rows(live)
    part = (min(live, after.least) - before.most, after.least - before.most) if live > before.most else (0, 1)
    return _between(live, before.low, after.low, part), _between(live, before.high, after.high, part)


def _rows(live: int) -> tuple[Row, Row]:
    """The row of the bout twice, or the two between which it lies."""
    after = next((row for row in WORK_TO_REST if live <= row.most), WORK_TO_REST[-1])
    at = WORK_TO_REST.index(after)
    return (WORK_TO_REST[at - 1], after) if at and live < after.least else (after, after)


def _between(live: int, one: int, other: int, part: tuple[int, int]) -> int:
    done, of = part
    return -(-live * (one * of + (other - one) * done) // of)


def taking_turns(players: int, on_floor: int) -> int:
    """How many groups take turns when so many of the players are on the floor; at least 1."""
    return max(1, players // on_floor) if on_floor else 1


def off_time(live: int, off: int, groups: int) -> int:
    """What a player has off between two bouts when `groups` take turns evenly, in ms."""
    return groups * off + (groups - 1) * live


def off_needed(effort: int | None, live: int, groups: int = 1) -> int:
    """The off time between two reps, in ms and whole seconds, that gives everyone their rest when `groups` take turns evenly."""
    asked = rest(effort, live)
    missing = asked.least - (groups - 1) * live if asked else 0
    return max(0, -(-missing // (groups * 1_000)) * 1_000)


class Bout(NamedTuple):
    """One player's work on the floor, in practice time: a live stretch, a consequence. `effort` None: nobody said how hard.

    `paced`: play that never stops, in which those who play find their own rest; of its game-like efforts none is asked for.
    """

    start: int
    end: int
    effort: int | None
    paced: bool = False


class Missing(NamedTuple):
    """A bout after which the rest until `until`, when work went on, was short by `ms`."""

    bout: Bout
    until: int
    asked: Rest

    @property
    def ms(self) -> int:
        return self.asked.least - (self.until - self.bout.end)


def missing(work: Iterable[Bout]) -> tuple[Missing, ...]:
    """Where one player's rest was short, from their work as it really was, in any order."""
    runs = _runs(work)
    found = (_missing(run, after[0].start) for run, after in pairwise(runs))
    return tuple(one for one in found if one is not None and one.ms > 0)


def rested_at(work: Iterable[Bout]) -> int:
    """The moment from which one player has had the rest that their last work asks for; 0 for who has not worked."""
    runs = _runs(work)
    if not runs:
        return 0
    asked = _asked(runs[-1])
    return _whole(runs[-1]).end + (asked.least if asked else 0)


def still_resting(at: int, coming: Iterable[Sequence[Bout]]) -> int:
    """How many ms more, from `at`, those who come on next have to rest: the most that one of them has."""
    return max((max(0, rested_at(work) - at) for work in coming), default=0)


def _runs(work: Iterable[Bout]) -> list[list[Bout]]:
    """Work in the order of time, what touches or overlaps together: there was no rest between. Easy work is left out."""
    runs: list[list[Bout]] = []
    until = 0
    for one in sorted((one for one in work if one.end > one.start and not _is_easy(one)), key=lambda one: one.start):
        if runs and one.start <= until:
            runs[-1].append(one)
        else:
            runs.append([one])
        until = max(until, one.end)
    return runs


def _is_easy(one: Bout) -> bool:
    return one.effort is not None and one.effort <= EASY


def _whole(run: Sequence[Bout]) -> Bout:
    """The run as one bout, as hard as its hardest."""
    efforts = [one.effort for one in run if one.effort is not None]
    return Bout(run[0].start, max(one.end for one in run), max(efforts, default=None), all(one.paced for one in run))


def _asked(run: Sequence[Bout]) -> Rest | None:
    """What the run asks for as a whole, or one of its bouts when that is more: a short sprint asks for more than a long one."""
    strained = [one for one in run if not (one.paced and one.effort in GAME_LIKE)]
    bouts = (_whole(strained), *strained) if strained else ()
    asked = [found for one in bouts if (found := rest(one.effort, one.end - one.start))]
    return max(asked, key=lambda one: one.least, default=None)


def _missing(run: Sequence[Bout], until: int) -> Missing | None:
    asked = _asked(run)
    return Missing(_whole(run), until, asked) if asked else None
