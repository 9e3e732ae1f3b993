"""A sound card made in the test: a clock that drifts, words that are noisy, steps; and a mixer that only remembers frames."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from courttimer.practice.cue import Placed
from courttimer.sound.desk import Desk, Settled
from tests.sound.wishes import placed

BLOCK = 512
LATENCY_NS = 150_000_000
BLOCK_NS = BLOCK * 62_500 // 3
Ns = NDArray[np.int64]


@dataclass
class Frames:
    """A mixer that keeps where everything was queued, and plays nothing."""

    head: int = 0
    queued: dict[str, int] = field(default_factory=dict)
    moved: set[str] = field(default_factory=set)

    def queue(
        self, key: str, frame: int, samples: Any, duck: Sequence[tuple[int, int]] = (), *, speech: bool = False
    ) -> None:
        if key in self.queued:
            self.moved.add(key)
        self.queued[key] = frame

    def withdraw(self, key: str, frame: int) -> bool:
        return self.queued[key] >= max(frame, self.head)

    def fade(self, key: str, frame: int) -> None: ...
    def duck(self, key: str, ranges: Sequence[tuple[int, int]], frame: int) -> None: ...


@dataclass(frozen=True, kw_only=True)
class Card:
    """`heard[k]`: when the first frame of block k is really heard, in ns; `word[k]`: what the card says about it."""

    heard: Ns
    word: Ns
    steps: tuple[tuple[int, int], ...]
    """When each step came, and how long it was, in ns."""

    def at(self, frame: int) -> int:
        """When a frame is really heard."""
        k, rest = divmod(frame, BLOCK)
        return int(self.heard[k]) + rest * int(self.heard[k + 1] - self.heard[k]) // BLOCK


def card(*, hours: float, ppm: float, noise: NDArray[np.float64], steps: Sequence[tuple[float, float]]) -> Card:
    """A card that is `ppm` slow, whose words are off by `noise` seconds, and which at each step (when, size in s) hangs."""
    count = int(hours * 3600e9 / BLOCK_NS)
    heard = np.round(np.arange(count) * BLOCK_NS * (1 + ppm * 1e-6)).astype(np.int64) + LATENCY_NS
    marks = []
    for when, size in steps:
        k = int(np.searchsorted(heard, round(when * 1e9)))
        marks.append((int(heard[k]), round(size * 1e9)))
        heard[k:] += round(size * 1e9)
    word = heard + np.round(np.resize(noise, count) * 1e9).astype(np.int64)
    return Card(heard=heard, word=word, steps=tuple(marks))


def noise(seconds: float, *, wander: float, memory: float, late: float) -> NDArray[np.float64]:
    """How far the card's words are off, in s: a wander of so many s with a memory of so many s, and a share stamped late."""
    rng = np.random.default_rng(7)
    count = int(seconds * 1e9 / BLOCK_NS)
    keep = float(np.exp(-BLOCK_NS / 1e9 / memory)) if memory else 0.0
    walk = rng.normal(0, wander * np.sqrt(1 - keep * keep), count)
    for i in range(1, count if keep else 0):
        walk[i] += keep * walk[i - 1]
    stamped_late = np.minimum(rng.exponential(0.008, count), 0.027)
    return walk + (rng.random(count) < late) * stamped_late


def groups(hours: float, longest: int, seed: int = 11) -> list[list[Placed]]:
    """Single cues, 3 s windows with their seconds, 10 s countdowns, pairs `longest` ms apart; 3 to 60 s of silence between."""
    rng = np.random.default_rng(seed)
    shapes = [[0], list(range(0, 4000, 1000)), list(range(0, 11_000, 1000)), [0, longest]]
    out, at = [], 30_000
    while at < hours * 3_600_000 - 100_000:
        shape = shapes[int(rng.integers(4))]
        out.append([placed("tick", at + ms, stretch=at, n=n, group=f"{at}") for n, ms in enumerate(shape)])
        at += shape[-1] + int(rng.uniform(3_000, 60_000))
    return out


@dataclass(frozen=True, kw_only=True)
class Heard:
    """What came of one cue: how far from the wall it was heard, in ns, and whether it was placed twice."""

    placed: Placed
    frame: int
    error: int
    moved: bool


def play(card: Card, wishes: Sequence[Sequence[Placed]]) -> list[Heard]:
    """Let a desk play the groups on the card, block by block, with a turn every ten blocks."""
    frames, settled = Frames(), set[str]()
    desk = Desk(mixer=frames, ns=lambda at: at * 1_000_000, samples=lambda _: (0,), settled=settled)
    now = ((card.heard - LATENCY_NS) // 1_000_000).tolist()
    words, news = card.word.tolist(), list[Settled]()
    first = 0
    for k, word in enumerate(words):
        frames.head = (k + 1) * BLOCK
        desk.put(word, k * BLOCK)
        if k % 10 == 0:
            while first < len(wishes) and wishes[first][-1].at < now[k] - 2_000:
                first += 1
            near = [w for group in wishes[first : first + 3] if group[0].at < now[k] + 90_000 for w in group]
            news += desk.turn(near, now[k])
    return [_heard(card, s, moved=s.placed.cue.id in frames.moved) for s in news if not s.why]


def _heard(card: Card, settled: Settled, *, moved: bool) -> Heard:
    error = card.at(settled.frame) - settled.placed.at * 1_000_000
    return Heard(placed=settled.placed, frame=settled.frame, error=error, moved=moved)
