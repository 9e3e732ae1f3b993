"""Makes what is left of a practice fit the time that is left: who pays for lost minutes, and who is given those in hand.

The rule, in this order. The running segment first pays what it owes (its own holds and extra reps), down to its least. What is still
missing or over is shared by one common factor, each clipped to its bounds. Only when nothing shrinks any further are optional
segments dropped, first in the file first. Rest and water never shrink. Lengths are rounded down to whole seconds, and what that leaves
goes to the last set-up to come, so that the end stays on the minute. What nothing fills is told as early, what nothing helps as short.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from courttimer.plan.model import Segment
from courttimer.plan.times import spell

PAUSES = ("water", "rest")
SECOND = 1_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A segment that runs or is to come, in ms: `time` as the coach wants it, never what an earlier fit gave; least <= time <= most."""

    time: int
    least: int
    most: int
    optional: bool = False
    setup: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """The first part runs, in ms: `played` is what it has had (with the rep that is on, if that is to be finished).

    `owes` is what its own holds and extra reps have cost. Halts, a late start, and what was lost in earlier segments are not in it:
    those are shared by all.
    """

    played: int
    owes: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """What the fit gives, in ms: the times with what the running part has played add up to the room, unless `short` or `early`."""

    times: tuple[int | None, ...]
    """The whole length of each part; None: left out."""
    setup: tuple[int, int] | None = None
    """The part whose set-up is so much longer, which is in its time already: what rounding has left over. None: nothing is left,
    or the running part, which is the only one, has it."""
    short: int = 0
    """Even at the least it takes so much more than there is."""
    early: int = 0
    """Even at the most it takes so much less than there is: the practice ends early."""


class Change(NamedTuple):
    """A part whose length is another now, in ms; `now` is None when it is left out."""

    at: int
    was: int
    now: int | None


class Bounds(NamedTuple):
    """What a part would like, and what it can have, in ms; least <= base <= most."""

    base: int
    least: int
    most: int


def part_of(segment: Segment, time: int | None = None) -> Part:
    """A segment as the fit sees it; `time` is what the coach has set by hand, which stands."""
    if time is not None:
        return Part(time=time, least=time, most=time, optional=segment.optional, setup=segment.setup)
    written, pause = segment.time, segment.kind in PAUSES
    least = written if pause or segment.at_least is None else segment.at_least
    most = written if segment.at_most is None else segment.at_most
    return Part(time=written, least=least, most=most, optional=segment.optional and not pause, setup=segment.setup)


def fit(parts: Sequence[Part], room: int, running: Running | None = None) -> Fitted:
    """The parts made to fit `room` ms from now; `running` when the first of them runs already. The same values give the same answer."""
    total = room + (running.played if running else 0)
    bounds = [Bounds(part.time, part.least, part.most) for part in parts]
    if running and bounds:
        bounds[0] = _underway(bounds[0], running.played)
    kept = _kept(parts, bounds, total, running)
    wanted = [bounds[at] for at in kept]
    missing = sum(one.base for one in wanted) - total
    if running and bounds and missing > 0:
        base, least, most = bounds[0]
        bounds[0] = Bounds(max(least, base - min(running.owes, missing)), least, most)
    given = dict(zip(kept, map(_rounded, wanted, shares([bounds[at] for at in kept], total)), strict=True))
    over = total - sum(given.values())
    left = max(0, min(over, sum(one.most for one in wanted) - sum(given.values())))
    last = _last_setup(parts, kept, running)
    if left:
        given[last] += left
    return Fitted(
        times=tuple(given.get(at) for at in range(len(parts))),
        setup=(last, left) if left and not (running and last == 0) else None,
        short=max(0, -over),
        early=max(0, over - left),
    )


def shares(bounds: Sequence[Bounds], total: int) -> tuple[int, ...]:
    """What each part has of `total` ms by one common factor on its base, clipped to its bounds; rounded down to whole ms."""
    times, of = _factor(bounds, total)
    return tuple(min(max(one.base * times // of, one.least), one.most) for one in bounds)


def changes(before: Sequence[int | None], after: Sequence[int | None]) -> tuple[Change, ...]:
    """What an earlier answer and a later one give differently; a part that comes back was 0."""
    pairs = enumerate(zip(before, after, strict=True))
    return tuple(Change(at, was or 0, now) for at, (was, now) in pairs if was != now)


def weightiest(changed: Sequence[Change]) -> Change | None:
    """The one change to speak of, when there is time for one: what is left out, else what loses most; None: nothing is lost."""
    lost = [one for one in changed if one.now is None or one.now < one.was]
    return max(lost, key=lambda one: (one.now is None, one.was - (one.now or 0), -one.at), default=None)


def told(changed: Sequence[Change], names: Sequence[str]) -> str:
    """One sentence for the board and the record, to the second; empty when nothing changed that a person would call a change."""
    return ", ".join(_told(one, names[one.at]) for one in changed if one.now is None or _seconds(one.now) != _seconds(one.was))


def _seconds(ms: int) -> int:
    """Whole seconds, in ms: what rounding has left to a set-up is for the clock, not for people."""
    return ms // SECOND * SECOND


def _told(one: Change, name: str) -> str:
    if one.now is None:
        return f"{name} is left out"
    if not one.was:
        return f"{name} is back, {spell(_seconds(one.now))}"
    return f"{name} {spell(_seconds(one.now))} instead of {spell(_seconds(one.was))}"


def _underway(one: Bounds, played: int) -> Bounds:
    """What has been played cannot be taken away."""
    least = max(one.least, played)
    return Bounds(max(one.base, least), least, max(one.most, least))


def _kept(parts: Sequence[Part], bounds: Sequence[Bounds], total: int, running: Running | None) -> list[int]:
    need, out = sum(one.least for one in bounds), set()
    for at, part in enumerate(parts):
        if need > total and part.optional and not (running and at == 0):
            need -= bounds[at].least
            out.add(at)
    return [at for at in range(len(parts)) if at not in out]


def _factor(bounds: Sequence[Bounds], total: int) -> tuple[int, int]:
    """The least factor at which the clipped parts take `total`, as numerator and denominator; the nearest when none does.

    Each part is fixed, then grows with the factor, then is fixed again. So the sum is a row of straight lines between the factors
    at which one begins or ceases to grow, and the wanted one lies on the first line that reaches the total.
    """
    fixed, growing, times, of = sum(one.least for one in bounds), 0, 0, 1
    for _, edge, base, begins in sorted(_edges(bounds)):
        if fixed * base + growing * edge >= total * base:
            return (total - fixed, growing) if growing else (times, of)
        fixed, growing = (fixed - edge, growing + base) if begins else (fixed + edge, growing - base)
        times, of = edge, base
    return times, of


def _edges(bounds: Sequence[Bounds]) -> list[tuple[int, int, int, bool]]:
    """The factors edge / base at which a part begins (True) or ceases (False) to grow, each with a whole number to sort by.

    Two different fractions with denominators under 2**40 are more than 2**-80 apart, so the numbers sort as the fractions do.
    """
    free = [one for one in bounds if one.base and one.least < one.most]
    starts = [((one.least << 80) // one.base, one.least, one.base, True) for one in free]
    return starts + [((one.most << 80) // one.base, one.most, one.base, False) for one in free]


def _rounded(one: Bounds, given: int) -> int:
    """Down to a whole second, but never through the least, nor through what was wanted when the part has that or more."""
    floor = one.base if given >= one.base else one.least
    return one.most if given == one.most else max(floor, given // SECOND * SECOND)


def _last_setup(parts: Sequence[Part], kept: Sequence[int], running: Running | None) -> int:
    """The last part to come that has a set-up, else the last to come, else the running one."""
    ahead = [at for at in kept if at or not running]
    return next((at for at in reversed(ahead) if parts[at].setup), ahead[-1] if ahead else 0)
