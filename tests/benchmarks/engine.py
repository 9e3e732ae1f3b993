"""What the engine costs: `python -m tests.benchmarks.engine` prints µs a piece over a whole shipped practice."""

import time
from collections.abc import Callable

from courttimer import locations
from courttimer.plan.reading import read
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, happen
from courttimer.practice.course import course
from courttimer.practice.cues import upcoming
from courttimer.practice.due import next_due
from courttimer.practice.look import look
from courttimer.practice.state import opening

SESSION = "team-practice"
HORIZON_MS = 90_000
ROUNDS = 3


def evening() -> list[tuple[Branch, ev.Event]]:
    """Each state of the practice, and the event that comes then, if go is all that is called; calls that wait come by themselves."""
    path = locations.find_session(SESSION)
    b = Branch(opening(read(path.name, locations.read(path), locations.reader(path.parent)).session, 0))
    steps: list[tuple[Branch, ev.Event]] = []
    e: ev.Event | None = ev.Went(at=0, by="key", starts=0)
    while e is not None:
        steps.append((b, e))
        b = happen(b, e)
        e = next_due(b.now)
    return steps


def micros(steps: list[tuple[Branch, ev.Event]], what: Callable[[Branch, ev.Event], object]) -> tuple[float, float]:
    """Median and worst µs of `what` over all the steps, the best of three rounds at each."""
    best = [float("inf")] * len(steps)
    for _ in range(ROUNDS):
        for i, (b, e) in enumerate(steps):
            begin = time.perf_counter_ns()
            what(b, e)
            best[i] = min(best[i], (time.perf_counter_ns() - begin) / 1_000)
    best.sort()
    return best[len(best) // 2], best[-1]


def main() -> None:
    steps = evening()
    print(f"{SESSION}: {len(steps)} events, {steps[-1][1].at / 60_000:.1f} min")
    rows: tuple[tuple[str, Callable[[Branch, ev.Event], object]], ...] = (
        ("next_due", lambda b, e: next_due(b.now)),
        ("happen (fold)", happen),
        ("look", lambda b, e: look(b, e.at)),
        ("upcoming, 90 s", lambda b, e: upcoming(b.now, e.at, e.at + HORIZON_MS)),
    )
    for name, what in rows:
        median, worst = micros(steps, what)
        print(f"{name:<16} median {median:8.1f} µs   worst {worst:8.1f} µs")
    whole: tuple[tuple[str, Callable[[Branch, ev.Event], object]], ...] = (
        ("course, to the end", lambda b, e: course(b.now)),
        ("upcoming, to the end", lambda b, e: upcoming(b.now, e.at, 9**9)),
    )
    for name, what in whole:
        print(f"{name:<21} {micros(steps[1:2], what)[0] / 1_000:8.2f} ms from the beginning")


if __name__ == "__main__":
    main()
