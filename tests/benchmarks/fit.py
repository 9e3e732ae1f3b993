"""What the fit costs for a session of 500 segments, beside scipy finding one factor: `python -m tests.benchmarks.fit`.

It runs on the conductor's thread at a call, so it has 5 ms. Beside it stands the same question asked of `scipy.optimize.brentq` over
arrays of numpy, which only finds the factor: no bounds told apart, nothing rounded, nobody left out.
"""

import time
from collections.abc import Callable
from random import Random

import numpy as np
from scipy.optimize import brentq

from courttimer.plan.fit import Part, Running, fit
from tests.benchmarks._row import row

SEGMENTS = 500
ALLOWED_MS = 5.0
ROUNDS = 40


def session() -> tuple[Part, ...]:
    """Segments of one to fifteen minutes, each with its own bounds."""
    random = Random(1)
    times = [random.randrange(60, 900) * 1_000 for _ in range(SEGMENTS)]
    return tuple(Part(time=one, least=int(one * random.uniform(0.3, 1)), most=int(one * random.uniform(1, 1.5))) for one in times)


def by_scipy(parts: tuple[Part, ...], room: int) -> Callable[[], object]:
    """One root of the sum of clipped lengths."""
    base, least, most = (np.array([getattr(one, name) for one in parts]) for name in ("time", "least", "most"))
    return lambda: brentq(lambda factor: np.clip(factor * base, least, most).sum() - room, 0.3, 1.5, xtol=1e-12)


def fastest(what: Callable[[], object]) -> float:
    """ms of the fastest of many rounds."""
    best = float("inf")
    for _ in range(ROUNDS):
        begin = time.perf_counter_ns()
        what()
        best = min(best, (time.perf_counter_ns() - begin) / 1e6)
    return best


def main() -> None:
    parts = session()
    whole = sum(one.time for one in parts)
    for name, room in (("a tenth lost", whole * 9 // 10), ("a tenth in hand", whole * 11 // 10)):
        ours = fastest(lambda room=room: fit(parts, room, Running(played=20_000, owes=60_000)))  # type: ignore[misc]  # a default binds it
        print(row(f"fit of {SEGMENTS}, {name}", ours, "what it is allowed", ALLOWED_MS, 1))
        print(f"{'':<34} {ours / fastest(by_scipy(parts, room)):8.1f} x what scipy.optimize.brentq takes for the factor alone")


if __name__ == "__main__":
    main()
