"""How speeches that want the same time share it: as many as can be, the strongest right of way first, and nobody moved without need.

A schedule is worth the number of speeches kept of the strongest right of way, then the number of these that are clear of tones, then
the same of the next right, and so on. Of all schedules that are worth the most one is taken: the first speech has the best of its
forms that leaves this worth within reach, as near to its calm moment as that allows (of two, earlier); then the second, and so on.
So the answer is one and the same however it is found, and when some of it has begun the rest of it stays the answer.

Mostly one speech after another takes the best that is free, and nothing is lost by it. Only where something is, a search looks
ahead. It is exact; past LABELS steps it is given up, and the plain way stands.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from heapq import heappop, heappush

Span = tuple[int, int]

LABELS = 20_000
"""Steps of the search for speeches that hang together. Four stations need some hundreds (tests/benchmarks/air.py)."""
RIGHTS, DIGIT = 8, 10
"""Ranks of right of way; no more speeches of one right hang together than fit into so many bits."""
MUST = 1 << 2 * DIGIT * (RIGHTS + 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """One way to say something."""

    length: int
    """In ms, with the breath before the next speech."""
    starts: tuple[Span, ...]
    """From when to when it may begin, both included, in order of time."""
    calm: int
    """The moment at which it would begin if it could choose."""
    clear: bool = True
    """No tone is heard over it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One speech: its rank of right of way (0 is the strongest), and its forms that have room, best first."""

    right: int
    forms: tuple[Form, ...]
    must: bool = False
    """It is settled that it is kept."""


Way = tuple[int, int]
"""A form's index, and the moment at which it begins."""
Ways = tuple[Way | None, ...]


class _SpentError(Exception):
    """The search has taken too many steps."""


def settled(jobs: Sequence[Job]) -> list[Way | None]:
    """For each speech, strongest first, its way to be said; None: it is left out."""
    out: list[Way | None] = [None] * len(jobs)
    for part in _apart(jobs):
        for at, way in zip(part, _together(tuple(jobs[i] for i in part)), strict=True):
            out[at] = way
    return out


def without(spans: Iterable[Span], after: int, before: int) -> tuple[Span, ...]:
    """The spans without what lies between two moments; the moments themselves stay."""
    return tuple(
        (a, b) for low, high in spans for a, b in ((low, min(high, after)), (max(low, before, after + 1), high)) if a <= b
    )  # fmt: skip


def _apart(jobs: Sequence[Job]) -> list[list[int]]:
    """The numbers of speeches that can come into each other's way, in groups."""
    rooms = sorted(
        (min(f.starts[0][0] for f in job.forms), max(f.starts[-1][1] + f.length for f in job.forms), at)
        for at, job in enumerate(jobs) if job.forms
    )  # fmt: skip
    parts: list[list[int]] = []
    ends = 0
    for first, last, at in rooms:
        if not parts or first >= ends:
            parts.append([])
            ends = last
        parts[-1].append(at)
        ends = max(ends, last)
    return [sorted(part) for part in parts]


@lru_cache(maxsize=256)
def _together(jobs: tuple[Job, ...]) -> Ways:
    plain = _in_turn(jobs)
    worth = sum(_gain(job, job.forms[way[0]]) for job, way in zip(jobs, plain, strict=True) if way)
    if worth == sum(_gain(job, job.forms[0]) for job in jobs):
        return plain
    search = _Search()
    try:
        most = search.most(jobs, worth)
        return plain if most == worth else search.one_by_one(list(jobs), most)
    except _SpentError:
        return plain


def _gain(job: Job, form: Form) -> int:
    """What a schedule is worth, as one number: each right of way has two digits, kept and clear; above them is what must be."""
    return ((1 << DIGIT) + form.clear << 2 * DIGIT * (RIGHTS - job.right)) + job.must * MUST


def _in_turn(jobs: Iterable[Job]) -> Ways:
    """Each takes the best that those before it have left."""
    taken: list[Span] = []
    ways: list[Way | None] = []
    for job in jobs:
        way = next(((n, at) for n, form in enumerate(job.forms) if (at := _nearest(form, taken)) is not None), None)
        if way:
            taken.append((way[1], way[1] + job.forms[way[0]].length))
        ways.append(way)
    return tuple(ways)


def _nearest(form: Form, taken: Iterable[Span] = ()) -> int | None:
    starts = form.starts
    for a, b in taken:
        starts = without(starts, a - form.length, b)
    return min((min(max(form.calm, a), b) for a, b in starts), key=lambda at: (abs(at - form.calm), at), default=None)


class _Search:
    """Lives as long as the speeches of one group are being settled."""

    def __init__(self) -> None:
        self.labels = 0

    def one_by_one(self, jobs: list[Job], most: int) -> Ways:
        """The ways of the one answer that is worth `most`."""
        ways: list[Way | None] = []
        for at, job in enumerate(jobs):
            way = self._way(jobs, at, most + MUST)
            forms = (_only(job.forms[way[0]], way[1], way[1]),) if way else ()
            jobs[at] = replace(job, forms=forms, must=way is not None)
            most += MUST if way else 0
            ways.append(way)
        return tuple(ways)

    def _way(self, jobs: list[Job], at: int, most: int) -> Way | None:
        def within(form: Form, first: int, last: int) -> bool:
            """Is it within reach that this speech has this form and begins between these moments?"""
            narrowed = replace(jobs[at], forms=(_only(form, first, last),), must=True)
            return self.most([*jobs[:at], narrowed, *jobs[at + 1 :]], most - 1, most) >= most

        for n, form in enumerate(jobs[at].forms):
            if within(form, form.starts[0][0], form.starts[-1][1]):
                off = self._off(form, within)
                return n, form.calm - off if within(form, form.calm - off, form.calm - off) else form.calm + off
        return None

    def _off(self, form: Form, within: Callable[[Form, int, int], bool]) -> int:
        """By how little it can begin off its calm moment."""
        near = min(abs(min(max(form.calm, a), b) - form.calm) for a, b in form.starts)
        far = max(abs(form.starts[0][0] - form.calm), abs(form.starts[-1][1] - form.calm))
        while near < far:
            half = (near + far) // 2
            near, far = (near, half) if within(form, form.calm - half, form.calm + half) else (half + 1, far)
        return near

    def most(self, jobs: Sequence[Job], floor: int, enough: int | None = None) -> int:
        """The most that a schedule is worth, if that is more than `floor`; `floor` if not. Looks no further than `enough`.

        Goes from schedule to longer schedule, in the order of the moments from which the air is free again. Of two that leave
        the same speeches unsaid, the one that is free earlier and worth no less goes on.
        """
        options = [_options(job) for job in jobs]
        heap = [(-(10**12), 0, (1 << len(jobs)) - 1)]
        seen: dict[int, int] = {}
        while heap and (enough is None or floor < enough):
            free, owed, unsaid = heappop(heap)
            self.labels += 1
            if self.labels > LABELS:
                raise _SpentError
            following, unsaid, hope = _following(options, free, unsaid)
            floor = max(floor, -owed)
            if hope - owed <= floor or seen.get(unsaid, -1) >= -owed:
                continue
            seen[unsaid] = -owed
            # A start that leaves time for a whole other speech before it may wait: nothing is lost when that one goes first.
            soon = min(way[0][1] for way in following)
            for way in following:
                for start, end, gain, bit in way:
                    if start < soon:
                        heappush(heap, (end, owed - gain, unsaid & ~bit))
        return floor


Options = list[tuple[int, Form]]


def _options(job: Job) -> Options:
    """What each form is worth, best first. A longer form that is clear is never needed to keep more."""
    clear = min((f for f in job.forms if f.clear), key=lambda f: f.length, default=None)
    kept = ([clear] if clear else []) + [f for f in job.forms if not f.clear]
    return [(_gain(job, form), form) for form in kept]


def _following(options: list[Options], free: int, unsaid: int) -> tuple[list[list[tuple[int, int, int, int]]], int, int]:
    """What may be said next (start, end, worth, bit), which speeches can still be said at all, and the most they may add."""
    following, alive, hope = [], 0, 0
    for at, ways in enumerate(options):
        bit = 1 << at
        if not unsaid & bit:
            continue
        can = []
        for gain, form in ways:
            start = next((max(a, free) for a, b in form.starts if b >= free), None)
            if start is not None:
                can.append((start, start + form.length, gain, bit))
        if can:
            following.append(can)
            alive |= bit
            hope += can[0][2]
    return following, alive, hope


def _only(form: Form, first: int, last: int) -> Form:
    starts = tuple((max(a, first), min(b, last)) for a, b in form.starts)
    return replace(form, starts=tuple((a, b) for a, b in starts if a <= b))
