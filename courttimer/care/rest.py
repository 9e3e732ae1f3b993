"""How long a player rests after a bout of work, by how hard and how long it was."""

from typing import NamedTuple

from courttimer.care.sources import COMMON, Source

GAME_LIKE = range(6, 9)
"""Efforts of game-like bouts: harder than "hard", which is 5. Below, no rest is asked for."""
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


def off_time(live: int, off: int, groups: int) -> int:
    """What a player has off between two bouts when `groups` take turns evenly, in ms."""
    return groups * off + (groups - 1) * live


def off_needed(effort: int | None, live: int, groups: int = 1) -> int:
    """The off time between two reps, in ms and whole seconds, that gives everyone their rest when `groups` take turns evenly."""
    asked = rest(effort, live)
    missing = asked.least - (groups - 1) * live if asked else 0
    return max(0, -(-missing // (groups * 1_000)) * 1_000)
