"""When a frame of the stream is heard, learned from what the card says in every callback.

Each callback tells when its first frame will be heard; that word is noisy, late by some ms now and then, and jumps after an
underflow. `offset` is the moment at which frame 0 would have been heard. It is the median of the last 500 words, moved along by
the rate at which the card's clock drifts: least squares over one median a second, at most 500 ppm, kept across steps. Twelve
words in a row more than 10 ms off are a step: all older words go. A shorter median takes noise for truth, a longer one drift.

Moments are whole nanoseconds of `time.perf_counter_ns`; a frame is 62 500 / 3 ns at 48 kHz.
"""

from bisect import bisect_left, insort
from collections import deque

WORDS = 500
STEP_NS = 10_000_000
STEP_WORDS = 12
RATE_LIMIT = 500e-6
SECOND = 94
"""Callbacks in about a second, at 512 frames each; their median is one point for the rate."""
POINTS = 300
"""Seconds remembered for the rate."""
ROUGH, SURE = 30, 120
"""Seconds after which a rate is believed at all, and alone."""


class Mapping:
    """Learns from `put`, answers from `offset`. Lives as long as a stream; not for two threads at once."""

    def __init__(self) -> None:
        self._words: deque[tuple[int, int]] = deque()
        self._sorted: list[int] = []
        self._odd = 0
        self._second: list[tuple[int, int]] = []
        self._points: deque[tuple[int, int]] = deque(maxlen=POINTS)
        self._prior = 0.0
        self.steps = 0
        """Steps believed since the stream began."""
        self.slip = 0
        """How much later everything is heard since the last step, in ns."""

    @property
    def steady(self) -> bool:
        """Whether enough was heard to place anything."""
        return len(self._words) >= STEP_WORDS

    def put(self, heard: int, frame: int) -> bool:
        """The card says that `frame` is heard at `heard`. True when this makes a step believed."""
        offset = heard - frame * 62_500 // 3
        self._words.append((heard, offset))
        insort(self._sorted, offset)
        if len(self._words) > WORDS:
            del self._sorted[bisect_left(self._sorted, self._words.popleft()[1])]
        self._second.append((heard, offset))
        if len(self._second) == SECOND:
            self._points.append(_middle(self._second))
            self._second = []
        if abs(offset - self._sorted[len(self._sorted) // 2]) <= STEP_NS:
            self._odd = 0
            return False
        self._odd += 1
        return self._odd == STEP_WORDS and self._step()

    def _step(self) -> bool:
        self._prior = self.rate()
        before = self._sorted[len(self._sorted) // 2]
        self._points.clear()
        self._second = []
        self._words = deque(list(self._words)[-STEP_WORDS:])
        self._sorted = sorted(offset for _, offset in self._words)
        self._odd = 0
        self.steps += 1
        self.slip = self._sorted[STEP_WORDS // 2] - before
        return True

    def forget(self) -> None:
        """The card has stood still: nothing that it said holds any more, but the rate of its clock."""
        self._prior = self.rate()
        self._points.clear()
        self._words.clear()
        self._second, self._sorted, self._odd = [], [], 0

    def rate(self) -> float:
        """How much later each second is heard than a true 48 kHz would have it, in s/s; half a minute gives a rough one."""
        if len(self._points) < ROUGH:
            return self._prior
        share = min(1.0, len(self._points) / SURE)
        learned = share * _slope(self._points) + (1 - share) * self._prior
        return max(-RATE_LIMIT, min(RATE_LIMIT, learned))

    def offset(self, at: int) -> int:
        """When frame 0 would have been heard, as it looks around the moment `at`. Raises IndexError before the first word."""
        rate = self.rate()
        there = sorted(offset + round(rate * (at - heard)) for heard, offset in self._words)
        return there[len(there) // 2]


def _middle(words: list[tuple[int, int]]) -> tuple[int, int]:
    half = len(words) // 2
    return sorted(heard for heard, _ in words)[half], sorted(offset for _, offset in words)[half]


def _slope(points: deque[tuple[int, int]]) -> float:
    """Least squares: ns of offset a ns."""
    n = len(points)
    x0, y0 = points[0]
    mean_x = sum(x - x0 for x, _ in points) / n
    mean_y = sum(y - y0 for _, y in points) / n
    across = sum((x - x0 - mean_x) * (y - y0 - mean_y) for x, y in points)
    return across / sum((x - x0 - mean_x) ** 2 for x, _ in points)
