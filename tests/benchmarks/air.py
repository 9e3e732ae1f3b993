"""What it costs to place the wishes of four stations, beat after beat: `python -m tests.benchmarks.air` prints ms a beat."""

import time
from random import Random

from courttimer.sound.foresight import forget
from courttimer.sound.hall import Hall, Silence
from tests.sound.stations import HORIZON_MS, LENGTHS, stations

EVENINGS, LONG_MS, BEAT_MS = 4, 200_000, 250


def beats(seed: int, talk: float) -> tuple[list[float], int, int]:
    """The ms of each beat, how many wishes there were, and how many found no place."""
    cues = stations(Random(seed), heard=False, talk=talk, until=LONG_MS + HORIZON_MS)
    hall = Hall(Silence(), LENGTHS)
    forget()
    spent = []
    for now in range(0, LONG_MS, BEAT_MS):
        wishes = tuple(c for c in cues if c.until > now - 500 and c.at < now + HORIZON_MS)
        begin = time.perf_counter_ns()
        hall.want(wishes, now, "")
        spent.append((time.perf_counter_ns() - begin) / 1e6)
    return spent, sum(c.at < LONG_MS for c in cues), len(list(hall.facts()))


def main() -> None:
    for talk in (0.3, 0.5, 0.75, 1.0):
        runs = [beats(seed, talk) for seed in range(EVENINGS)]
        spent = sorted(ms for each, _, _ in runs for ms in each)
        wishes, unsaid = sum(n for _, n, _ in runs), sum(n for _, _, n in runs)
        mean, last = sum(spent) / len(spent), len(spent) - 1
        print(
            f"talk {talk:4.2f}: {wishes / EVENINGS:5.1f} wishes in {LONG_MS // 1000} s, {unsaid / EVENINGS:5.1f} unsaid; ms a beat:"
            f" mean {mean:5.2f}, median {spent[last // 2]:5.2f}, 99 % {spent[last * 99 // 100]:5.1f}, worst {spent[last]:5.1f}"
        )


if __name__ == "__main__":
    main()
