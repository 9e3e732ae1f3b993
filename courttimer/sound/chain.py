"""Of things that have their own moments, the row that keeps the most: which tones sound, and which counted words."""

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from courttimer.practice.cue import Placed

T = TypeVar("T")


def best_row(items: Sequence[T], worth: Callable[[T], int], follows: Callable[[T, T], bool]) -> list[T]:
    """The row worth the most in which each may follow the one before; of two worth the same, whose first comes earlier, then second.

    `items` are in order of time, and each is worth more than nothing.
    """
    count = len(items)
    best, onward = [0] * (count + 1), [count] * (count + 1)
    for at in reversed(range(count)):
        after = (to for to in range(at + 1, count) if follows(items[at], items[to]))
        onward[at] = max(after, key=lambda to: (best[to], -to), default=count)
        best[at] = worth(items[at]) + best[onward[at]]
    row, at = [], max(range(count), key=lambda at: (best[at], -at), default=count)
    while at < count:
        row.append(items[at])
        at = onward[at]
    return row


def knots(items: Sequence[Placed], least: int = 0) -> Iterator[list[Placed]]:
    """Those, in order of time, that may come into each other's way; each counts for `least` ms."""
    knot: list[Placed] = []
    ends = 0
    for item in items:
        if knot and item.at >= ends:
            yield knot
            knot = []
        ends = max(ends if knot else 0, item.until, item.at + least)
        knot.append(item)
    if knot:
        yield knot
