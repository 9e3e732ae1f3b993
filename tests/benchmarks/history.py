"""What the history costs with 5 000 practices in it: each view beside one plain SQL scan of the shots, and a second import."""

import os
import sqlite3
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from courttimer.memory.history import History
from courttimer.memory.views import VIEWS, Asked
from tests.benchmarks._row import row
from tests.memory.practices import produce, write

PRACTICES = 5_000
ROUNDS = 5
SECOND = 1_000.0
"""The bar, in ms, for any view."""


def best(act: Callable[[], object]) -> float:
    """The best of a few rounds, in ms."""
    times = []
    for _ in range(ROUNDS):
        begin = time.perf_counter()
        act()
        times.append((time.perf_counter() - begin) * 1_000)
    return min(times)


def scan(path: Path) -> None:
    """Every shot once, by a program that knows nothing of views."""
    with closing(sqlite3.connect(path)) as base:
        for _ in base.execute("SELECT player, spot, makes, attempts FROM shots"):
            pass


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        for number in range(PRACTICES):
            write(home / "journals", number)
        begin = time.perf_counter()
        with closing(History(home / "history.sqlite", rules=1)) as told:
            told.bring(home / "journals", produce)
        print(f"{PRACTICES} practices read for the first time in {time.perf_counter() - begin:.1f} s, {os.cpu_count()} cores")
        plain = best(lambda: scan(home / "history.sqlite"))
        with closing(History(home / "history.sqlite", rules=1)) as told:
            for view, ask in VIEWS.items():
                for player in ("", "Bea"):
                    ours = best(lambda ask=ask, player=player: ask(told, Asked(player=player)))  # type: ignore[misc]  # bound at once
                    name = f"{view}{', one player' * bool(player)}"
                    print(row(name, ours, "one plain scan of all shots", plain, SECOND / plain))
            again = best(lambda: told.bring(home / "journals", produce))
            print(row("import, nothing new", again, "one plain scan of all shots", plain, SECOND / plain))


if __name__ == "__main__":
    main()
