"""How long until one event is safe on disk, as a ratio to a raw write and sync of the same bytes: `python -m tests.benchmarks.disk`.

Limit of the design, "How fast, how small": 1.1. The ways take turns in one run on one disk, so that what else the disk does falls
on all alike. Beside the raw way stands the least that any helper thread can do: write here, hand over, sync there. What a beat
brings is often five events at once; they share one sync, so the ratio of five is the one a practice sees.
"""

import os
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path
from queue import SimpleQueue

from courttimer.memory.behind import Behind
from courttimer.memory.disk import Raw, sync
from courttimer.memory.lines import Lines, Record, encode
from courttimer.practice.events import RepBegan
from courttimer.practice.records import record

ROUNDS = 1_000
LIMIT = 1.1
Way = Callable[[list[Record]], tuple[float, float]]
"""Keeps the events; gives the moments at which the caller was free again, and at which all were safe."""


class Our:
    """The journal's own lines and its helper."""

    def __init__(self, path: Path) -> None:
        self._safe: SimpleQueue[float] = SimpleQueue()
        self._lines = Lines(lambda: path.open("xb", buffering=0), syncs=self._sync)
        self._behind = Behind(self._tend)
        self._until = self._told = 0
        self._at = 0.0

    def _sync(self, raw: Raw) -> None:
        sync(raw)
        self._at = time.perf_counter()

    def _tend(self) -> bool:
        done = self._lines.tend()
        if self._lines.synced() == self._until > self._told:
            self._told = self._until
            self._safe.put(self._at)
        return done

    def keep(self, events: list[Record]) -> tuple[float, float]:
        self._until += sum(len(encode(event)) for event in events)
        for event in events:
            self._lines.append(event)
            self._behind.poke()
        free = time.perf_counter()
        return free, self._safe.get()


def raw_way(path: Path) -> Way:
    """Each line written and synced in the caller's own thread."""
    file = path.open("xb", buffering=0)

    def keep(events: list[Record]) -> tuple[float, float]:
        for event in events:
            file.write(encode(event))
            sync(file)
        return time.perf_counter(), time.perf_counter()

    return keep


def handed_way(path: Path) -> Way:
    """Each line written in the caller's thread and synced in another: the least that there is."""
    file = path.open("xb", buffering=0)
    orders: SimpleQueue[None] = SimpleQueue()
    answers: SimpleQueue[float] = SimpleQueue()

    def serve() -> None:
        while True:
            orders.get()
            sync(file)
            answers.put(time.perf_counter())

    threading.Thread(target=serve, daemon=True).start()

    def keep(events: list[Record]) -> tuple[float, float]:
        for event in events:
            file.write(encode(event))
            orders.put(None)
        free = time.perf_counter()
        return free, max(answers.get() for _ in events)

    return keep


def main(folder: Path) -> None:
    ways: dict[str, Way] = {"raw": raw_way(folder / "raw"), "handed": handed_way(folder / "handed"), "ours": Our(folder / "ours").keep}
    for together in (1, 5):
        kept: dict[str, list[float]] = {name: [] for name in ways}
        safe: dict[str, list[float]] = {name: [] for name in ways}
        for n in range(ROUNDS):
            events = [record(RepBegan(at=n, lane=0, rep=i, lasts=8_000)) for i in range(together)]
            for name, way in ways.items():
                began = time.perf_counter()
                free, all_safe = way(events)
                kept[name].append(free - began)
                safe[name].append(all_safe - began)
        tell(together, kept, safe)


def tell(together: int, kept: dict[str, list[float]], safe: dict[str, list[float]]) -> None:
    raw, handed, ours = (1e3 * statistics.median(safe[name]) for name in ("raw", "handed", "ours"))
    caller = 1e3 * statistics.median(kept["ours"])
    print(f"{together} event(s): raw write and sync       {raw:7.3f} ms")
    print(f"            handed to a bare thread  {handed:7.3f} ms  {handed / raw:.2f} x raw")
    print(f"            safe, our way            {ours:7.3f} ms  {ours / raw:.2f} x raw (limit {LIMIT}), {ours / handed:.2f} x handed")
    print(f"            the caller is kept       {caller:7.3f} ms  {caller / raw:.2f} x raw")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory(dir=sys.argv[1] if sys.argv[1:] else os.curdir) as folder:
        main(Path(folder))
