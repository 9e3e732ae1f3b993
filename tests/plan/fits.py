"""Random practices for the fit: parts as coaches write them, some with rest and water, some optional, some running already."""

from random import Random

from courttimer.plan.fit import Part, Running, part_of
from courttimer.plan.model import Segment

KINDS = ("drill", "drill", "drill", "drill", "warm-up", "talk", "water", "rest")


def segments(random: Random, most: int = 14) -> tuple[Segment, ...]:
    return tuple(_segment(random) for _ in range(random.randrange(1, most)))


def running(random: Random, first: Part) -> Running | None:
    """Half of the time the first part runs, and owes up to five minutes."""
    if random.random() < 0.5:
        return None
    return Running(played=random.randrange(first.time + 1), owes=random.choice((0, random.randrange(300_000))))


def room(random: Random, parts: tuple[Part, ...]) -> int:
    """From hardly anything to more than all can fill."""
    return int(sum(part.time for part in parts) * random.uniform(0.2, 1.4))


def practice(seed: int) -> tuple[tuple[Segment, ...], tuple[Part, ...], int, Running | None]:
    """The segments, their parts, the room, and what runs: the same for the same seed."""
    random = Random(seed)
    written = segments(random)
    parts = tuple(part_of(one) for one in written)
    return written, parts, room(random, parts), running(random, parts[0])


def _segment(random: Random) -> Segment:
    time = random.randrange(30, 1_200) * random.choice((1_000, 1_000, 500, 1))
    time = max(time, 5_000)
    least = random.choice((None, max(5_000, int(time * random.uniform(0.3, 1)))))
    most = random.choice((None, None, int(time * random.uniform(1, 1.6))))
    setup = random.choice((0, 0, (least or time) // 3))
    return Segment(
        kind=random.choice(KINDS),  # type: ignore[arg-type]  # each is one of the kinds
        time=time, at_least=least, at_most=most, optional=random.random() < 0.2, setup=setup,
    )  # fmt: skip
