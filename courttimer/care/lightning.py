"""When an outdoor court is safe again after thunder or lightning."""

from collections.abc import Iterable

from courttimer.care.words import LIGHTNING, SOURCES

WAIT = 30 * 60_000
"""ms after the last thunder heard or flash seen. Source: `SOURCE`."""
SOURCE = SOURCES[LIGHTNING]


def safe_at(signs: Iterable[int]) -> int | None:
    """The moment from which the court is safe, from the moments of every thunder and flash; each new one starts the wait again."""
    last = max(signs, default=None)
    return None if last is None else last + WAIT


def told(signs: Iterable[int], at: int) -> str:
    """What to do at a moment, in words; empty when nothing was heard or seen, or the wait is over."""
    safe = safe_at(signs)
    if safe is None or at >= safe:
        return ""
    minutes = -(-(safe - at) // 60_000)
    return f"Lightning: into a building or a car. Out again in {minutes} min, if nothing more is heard or seen."
