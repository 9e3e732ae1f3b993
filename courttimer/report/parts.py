"""The times of one practice: planned against played for each segment, where the time went, and what ran when."""

from collections import Counter
from collections.abc import Iterator
from itertools import groupby

from courttimer.plan.model import Session
from courttimer.practice import events as ev
from courttimer.practice.state import State
from courttimer.report.entries import Part, Ran, Spent, Time
from courttimer.report.spans import HELD, SORTS, Step

NOT_PLAYED = "not played"


def _by_sort(walk: tuple[Step, ...]) -> Counter[tuple[int, str]]:
    """ms by segment and sort."""
    found: Counter[tuple[int, str]] = Counter()
    for step in walk:
        if step.sort:
            found[step.after.segment, step.sort] += step.ms
    return +found


def reps(walk: tuple[Step, ...]) -> Counter[int]:
    """Reps of each segment, those at its stations too; one that a hold broke off and that was played again counts once."""
    ended = (step for step in walk if isinstance(step.event, ev.RepEnded) and step.event.why != "held")
    return Counter(step.after.segment for step in ended if step.event.lane > 0 or not _common(step.after))


def _common(s: State) -> bool:
    """Is lane 0 only the clock that the stations have in common?"""
    return s.running is not None and s.running.kind == "stations"


def parts(session: Session, walk: tuple[Step, ...]) -> tuple[Part, ...]:
    """A line for each segment of the file, also for those that were not played."""
    return tuple(_parts(session, walk))


def _parts(session: Session, walk: tuple[Step, ...]) -> Iterator[Part]:
    ms, done = _by_sort(walk), reps(walk)
    ends = _ends(walk)
    for i, one in enumerate(session.segment):
        of = {sort: ms[i, sort] for sort in SORTS}
        played = sum(of.values()) - sum(of[sort] for sort in HELD)
        yield Part(
            i + 1, one.title, one.kind, one.time, played, of["live"], of["off"], of["set-up"],
            played - of["live"] - of["off"] - of["set-up"], sum(of[sort] for sort in HELD), done[i],
            ends.get(i, NOT_PLAYED),
        )  # fmt: skip


def _ends(walk: tuple[Step, ...]) -> dict[int, str]:
    """How each segment that was begun ended, the last time that it did."""
    found = {}
    for step in walk:
        if isinstance(step.event, ev.SegmentBegan):
            found[step.event.segment] = "still on"
        elif isinstance(step.event, ev.SegmentEnded):
            found[step.event.segment] = step.event.why
    return found


def times(walk: tuple[Step, ...]) -> tuple[Time, ...]:
    """Where the time of the whole practice went."""
    ms: Counter[str] = Counter()
    for (_, sort), n in _by_sort(walk).items():
        ms[sort] += n
    return tuple(Time(sort, ms[sort]) for sort in SORTS if ms[sort])


def spent(session: Session, walk: tuple[Step, ...]) -> tuple[Spent, ...]:
    """Where the time of each segment went."""
    found = sorted(_by_sort(walk).items(), key=lambda one: (one[0][0], SORTS.index(one[0][1])))
    return tuple(Spent(i + 1, session.segment[i].title, sort, ms) for (i, sort), ms in found)


def course(session: Session, walk: tuple[Step, ...], went: int) -> tuple[Ran, ...]:
    """What ran when, in the order in which it did."""
    return tuple(_course(session, walk, went))


def _course(session: Session, walk: tuple[Step, ...], went: int) -> Iterator[Ran]:
    for (on, i, what), of in groupby(walk, key=_runs):
        run = tuple(of)
        if on and (ms := sum(step.ms for step in run)):
            yield Ran(run[0].event.at - went, i + 1, session.segment[i].title, what, ms)


def _runs(step: Step) -> tuple[bool, int, str]:
    return step.after.on, step.after.segment, step.sort if step.sort in HELD else "played"
