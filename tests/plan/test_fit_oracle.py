"""The fit against an optimiser that knows nothing of factors, and what it promises, on a thousand random practices."""

from random import Random
from typing import Any

import numpy as np
import pytest
from scipy.optimize import lsq_linear

from courttimer.plan.fit import PAUSES, Bounds, Fitted, Part, Running, fit, shares
from tests.plan.fits import practice

STARTS = range(0, 1_000, 250)
TIGHT = 1e5


def optimal(bounds: list[Bounds], total: int) -> list[float]:
    """The lengths nearest to those wanted, a change weighing by its square over the length: in minutes, by bounded least squares.

    That they lie on one common factor, clipped, is what the conditions of Karush, Kuhn and Tucker say of this problem.
    """
    free = [one for one in bounds if one.least < one.most]
    rest = (total - sum(one.least for one in bounds if one.least == one.most)) / 60_000
    if not free:
        return [one.least for one in bounds]
    base = np.array([one.base / 60_000 for one in free])
    a = np.vstack([np.diag(1 / np.sqrt(base)), TIGHT * np.ones(len(free))])
    ends = tuple(np.array([one[end] / 60_000 for one in free]) for end in (1, 2))
    found: Any = lsq_linear(a, np.append(np.sqrt(base), TIGHT * rest), ends, method="bvls", tol=1e-16).x
    given = iter(float(one) * 60_000 for one in found)
    return [one.least if one.least == one.most else next(given) for one in bounds]


@pytest.mark.parametrize("start", STARTS)
def test_before_rounding_the_lengths_are_the_optimisers_to_a_millisecond(start: int) -> None:
    worst = 0.0
    for seed in range(start, start + 250):
        _, parts, _, _ = practice(seed)
        bounds = [Bounds(one.time, one.least, one.most) for one in parts]
        total = Random(seed).randint(sum(one.least for one in parts), sum(one.most for one in parts))
        pairs = zip(shares(bounds, total), optimal(bounds, total), strict=True)
        worst = max(worst, *(abs(ours - theirs) for ours, theirs in pairs))
    assert worst < 1.01, "ours are whole milliseconds rounded down; a hundredth is the optimiser's own error"


def wanted(parts: tuple[Part, ...], room: int, running: Running | None) -> tuple[list[int], list[Bounds], int]:
    """What the rule says before anything is shared: who is kept, what each may have, and the whole, worked out step by step."""
    total = room + (running.played if running else 0)
    bounds = [Bounds(one.time, one.least, one.most) for one in parts]
    if running:
        least = max(parts[0].least, running.played)
        bounds[0] = Bounds(max(parts[0].time, least), least, max(parts[0].most, least))
    kept = list(range(len(parts)))
    for at, part in enumerate(parts):
        if part.optional and (at or not running) and sum(bounds[one].least for one in kept) > total:
            kept.remove(at)
    missing = sum(bounds[one].base for one in kept) - total
    if running:
        pays = max(0, min(running.owes, missing, bounds[0].base - bounds[0].least))
        bounds[0] = bounds[0]._replace(base=bounds[0].base - pays)
    return kept, [bounds[at] for at in kept], total


@pytest.mark.parametrize("start", STARTS)
def test_the_whole_fit_is_what_the_rule_and_the_optimiser_give_rounded_down(start: int) -> None:
    for seed in range(start, start + 250):
        _, parts, room, running = practice(seed)
        found = fit(parts, room, running)
        kept, bounds, total = wanted(parts, room, running)
        least, most = sum(one.least for one in bounds), sum(one.most for one in bounds)
        assert [at for at, one in enumerate(found.times) if one is not None] == kept
        assert (found.short, found.early) == (max(0, least - total), max(0, total - most))
        for at, theirs in zip(kept, optimal(bounds, min(max(total, least), most)), strict=True):
            assert -1.01 < theirs - played(found, at) < 1_000 or alone(kept, running), (seed, at)


def played(found: Fitted, at: int) -> int:
    """What a part has without the set-up that rounding has left to it."""
    return (found.times[at] or 0) - (found.setup[1] if found.setup and found.setup[0] == at else 0)


def alone(kept: list[int], running: Running | None) -> bool:
    """Only the running part is there: it takes what rounding leaves."""
    return running is not None and len(kept) == 1


@pytest.mark.parametrize("start", STARTS)
def test_bounds_are_kept_rest_is_not_shortened_and_the_total_is_exact(start: int) -> None:
    for seed in range(start, start + 250):
        written, parts, room, running = practice(seed)
        found = fit(parts, room, running)
        had = running.played if running else 0
        assert sum(one or 0 for one in found.times) - had == room + found.short - found.early
        assert not (found.short and found.early)
        for at, (segment, part) in enumerate(zip(written, parts, strict=True)):
            if found.times[at] is None:
                assert segment.optional, (seed, at)
                assert segment.kind not in PAUSES, (seed, at)
                continue
            least = max(part.least, had if at == 0 else 0)
            assert least <= played(found, at) <= max(part.most, least), (seed, at)
            assert segment.kind not in PAUSES or played(found, at) >= segment.time, (seed, at)
            whole = played(found, at) % 1_000 == 0 or played(found, at) in (part.time, least, part.most)
            assert whole or (at == 0 and running and sum(one is not None for one in found.times) == 1), (seed, at)


@pytest.mark.parametrize("start", STARTS)
def test_more_time_shortens_nothing_while_the_same_segments_are_kept(start: int) -> None:
    for seed in range(start, start + 250):
        _, parts, room, running = practice(seed)
        random = Random(seed)
        less = fit(parts, room, running)
        more = fit(parts, room + random.choice((1, 999, 1_000, random.randrange(600_000))), running)
        if [one is None for one in less.times] == [one is None for one in more.times]:
            assert all(played(more, at) >= played(less, at) for at in range(len(parts)))


def test_five_hundred_segments_fit_as_exactly_as_five() -> None:
    random = Random(500)
    parts = tuple(part for seed in range(200) for part in practice(seed)[1])[:500]
    whole = sum(part.time for part in parts)
    for room in (whole // 3, whole * 9 // 10, whole, whole * 11 // 10, whole * 2):
        found = fit(parts, room, Running(played=min(20_000, parts[0].time), owes=random.randrange(9_000)))
        assert sum(one or 0 for one in found.times) == room + min(20_000, parts[0].time) + found.short - found.early


def test_the_optimiser_sees_a_factor_that_is_wrong_by_a_hundredth_of_a_percent() -> None:
    """The twin of the first test: so it can fail."""
    bounds, total = [Bounds(600_000, 60_000, 900_000), Bounds(300_000, 60_000, 300_000)], 850_000
    best = optimal(bounds, total)
    assert abs(best[0] - shares(bounds, total)[0]) < 1.01
    assert abs(best[0] - shares(bounds, round(total * 1.0001))[0]) > 1.01
