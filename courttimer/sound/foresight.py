"""How speeches that want the same time share it: as many as can be, the strongest right of way first, and nobody moved without need.

A schedule is worth the number of speeches kept of the strongest right of way, then the number of these that are clear of tones, then
the same of the next right, and so on. Of all schedules that are worth the most one is taken: the first speech has the best of its
forms that leaves this worth within reach, as near to its calm moment as that allows (of two, earlier); then the second, and so on.
So the answer is one and the same however it is found, and when some of it has begun the rest of it stays the answer.

Mostly one speech after another takes the best that is free, and nothing is lost by it. Only where something is, a search looks
ahead. It is exact as long as no more than TOGETHER hang together; of more, the first takes its best without looking ahead, until
the others hang together no more.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from functools import lru_cache
from heapq import heappop, heappush
from typing import NamedTuple

Span = tuple[int, int]

TOGETHER, STEPS = 20, 150
"""More speeches that hang together than this, or more steps in one search, and the first of them takes what is best for it alone."""
TOO_MANY = -1
KNOWN = 20_000
RIGHTS, DIGIT = 8, 10
"""Ranks of right of way; no more speeches of one right hang together than fit into so many bits."""
MUST = 1 << 2 * DIGIT * (RIGHTS + 1)


class Form(NamedTuple):
    """One way to say something."""

    length: int
    """In ms, with the breath before the next speech."""
    starts: tuple[Span, ...]
    """From when to when it may begin, both included, in order of time."""
    calm: int
    """The moment at which it would begin if it could choose."""
    clear: bool = True
    """No tone is heard over it."""


class Job(NamedTuple):
    """One speech: its rank of right of way (0 is the strongest), and its forms, best first; some may have no room."""

    right: int
    forms: tuple[Form, ...]
    must: bool = False
    """It is settled that it is kept."""


Jobs = tuple[Job, ...]
Way = tuple[int, int]
"""A form's number, and the moment at which it begins."""
Ways = tuple[Way | None, ...]


_known: dict[Jobs, int] = {}
"""What speeches that hang together are worth, from one beat to the next."""


class _TooManyError(Exception):
    """More hangs together than can be searched."""


def settled(jobs: Sequence[Job]) -> list[Way | None]:
    """For each speech, strongest first, its way to be said; None: it is left out."""
    return list(_settled(tuple(jobs)))


def forget() -> None:
    """Begin anew, with nothing known from the beats before."""
    _together.cache_clear()
    _known.clear()


def without(spans: Iterable[Span], after: int, before: int) -> tuple[Span, ...]:
    """The spans without what lies between two moments; the moments themselves stay."""
    return tuple(
        (a, b) for low, high in spans for a, b in ((low, min(high, after)), (max(low, before, after + 1), high)) if a <= b
    )  # fmt: skip


def _settled(jobs: Jobs) -> Ways:
    ways: list[Way | None] = [None] * len(jobs)
    for part in _apart(jobs):
        for at, way in zip(part, _together(tuple(jobs[i] for i in part)), strict=True):
            ways[at] = way
    return tuple(ways)


def _apart(jobs: Jobs) -> list[list[int]]:
    """The numbers of speeches that can come into each other's way, in groups; what has no room is in none."""
    rooms = sorted((_first(job), _last(job), at) for at, job in enumerate(jobs) if any(f.starts for f in job.forms))
    parts: list[list[int]] = []
    ends = 0
    for first, last, at in rooms:
        if not parts or first >= ends:
            parts.append([])
            ends = last
        parts[-1].append(at)
        ends = max(ends, last)
    return [sorted(part) for part in parts]


def _first(job: Job) -> int:
    return min(form.starts[0][0] for form in job.forms if form.starts)


def _last(job: Job) -> int:
    return max(form.starts[-1][1] + form.length for form in job.forms if form.starts)


@lru_cache(maxsize=256)
def _together(jobs: Jobs) -> Ways:
    """The ways for speeches that hang together."""
    plain = _in_turn(jobs)
    worth = _worth(jobs, plain)
    if worth == sum(_gain(job, next(f for f in job.forms if f.starts)) for job in jobs):
        return plain
    try:
        most = _most(jobs)
        if worth == most:
            return plain
        first = _way(jobs[0], jobs[1:], most)
    except _TooManyError:
        first = plain[0]
    if first is None:
        return None, *_settled(jobs[1:])
    return first, *_settled(_beside(jobs[1:], first[1], first[1] + jobs[0].forms[first[0]].length))


def _worth(jobs: Jobs, ways: Ways) -> int:
    return sum(_gain(job, job.forms[way[0]]) for job, way in zip(jobs, ways, strict=True) if way)


def _gain(job: Job, form: Form) -> int:
    """What a schedule is worth, as one number: each right of way has two digits, kept and clear; above them is what must be."""
    return ((1 << DIGIT) + form.clear << 2 * DIGIT * (RIGHTS - job.right)) + job.must * MUST


def _in_turn(jobs: Jobs) -> Ways:
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


def _beside(jobs: Jobs, a: int, b: int) -> Jobs:
    """What room is left to these when one speech lasts from `a` to `b`."""
    return tuple(job._replace(forms=tuple(f._replace(starts=without(f.starts, a - f.length, b)) for f in job.forms)) for job in jobs)


def _only(job: Job, form: Form, first: int, last: int) -> Job:
    """A speech that must be said, in this form, and begin between these moments."""
    return Job(right=job.right, forms=(form._replace(starts=_within(form.starts, first, last)),), must=True)


def _within(spans: Iterable[Span], first: int, last: int) -> tuple[Span, ...]:
    return tuple((max(a, first), min(b, last)) for a, b in spans if b >= first and a <= last)


def _way(job: Job, others: Jobs, most: int) -> Way | None:
    """The best way to say the first so that all together are worth `most`; None: it is left out for that."""
    for n, form in enumerate(job.forms):
        near = _nearest(form)
        if near is None:
            continue
        if _gain(job, form) + _most(_beside(others, near, near + form.length)) == most:
            return n, near
        at = _at(job, form, others, most + MUST)
        if at is not None:
            return n, at
    return None


def _at(job: Job, form: Form, others: Jobs, most: int) -> int | None:
    """How near to its calm moment it can begin so that all together are worth `most`."""

    def within(off: int) -> bool:
        return _most((_only(job, form, form.calm - off, form.calm + off), *others)) == most

    far = max(abs(form.starts[0][0] - form.calm), abs(form.starts[-1][1] - form.calm))
    if not within(far):
        return None
    off = bisect_left(range(far), True, key=within)
    early = form.calm - off
    return early if _most((_only(job, form, early, early), *others)) == most else form.calm + off


def _most(jobs: Jobs) -> int:
    """The most that a schedule of these is worth. Raises _TooManyError."""
    return sum(_most_together(tuple(sorted((jobs[at] for at in part), key=_first))) for part in _apart(jobs))


def _most_together(jobs: Jobs) -> int:
    if len(jobs) > TOGETHER:
        raise _TooManyError
    later = [0]
    for at in reversed(range(len(jobs))):
        rest = jobs[at:]
        if rest not in _known:
            _known[rest] = _longer(rest, later)
        if _known[rest] == TOO_MANY:
            raise _TooManyError
        later.insert(0, _known[rest])
    if len(_known) > KNOWN:
        _known.clear()
    return later[0]


def _longer(jobs: Jobs, later: list[int]) -> int:
    """The most that these are worth when it is known for each of them what all that begin later are worth.

    Goes from schedule to longer schedule, in the order of the moments from which the air is free again. Of two that leave
    the same unsaid, the one that is free earlier and worth no less goes on; and none goes on whose best is not enough.
    """
    options, firsts = [_options(job) for job in jobs], [_first(job) for job in jobs]
    best, enough = later[0], later[0] + options[0][0][0]
    later = [enough, *later]
    heap = [(firsts[0], 0, (1 << len(jobs)) - 1)]
    seen: dict[int, int] = {}
    steps = 0
    while heap and best < enough:
        free, owed, unsaid = heappop(heap)
        steps += 1
        if steps > STEPS:
            return TOO_MANY
        new = bisect_left(firsts, free)
        following, unsaid = _following(options[:new], free, unsaid)
        if new:
            best = max(best, later[new] - owed)
        if sum(way[0][2] for way in following) + later[new] - owed <= best or seen.get(unsaid, -1) >= -owed:
            continue
        seen[unsaid] = -owed
        # A start that leaves time for a whole other speech before it may wait: nothing is lost when that one goes first.
        soon = min((way[0][1] for way in following), default=10**12)
        while new < len(jobs) and firsts[new] < soon:
            ways, _ = _following([options[new]], free, 1)
            following += [[(start, end, gain, 1 << new) for start, end, gain, _ in way] for way in ways]
            soon = min(soon, following[-1][0][1])
            new += 1
        for way in following:
            for start, end, gain, bit in way:
                if start < soon:
                    heappush(heap, (end, owed - gain, unsaid & ~bit))
    return best


Options = list[tuple[int, Form]]


def _options(job: Job) -> Options:
    """What each form is worth, best first. A longer form that is clear is never needed to keep more."""
    clear = min((f for f in job.forms if f.clear and f.starts), key=lambda f: f.length, default=None)
    kept = ([clear] if clear else []) + [f for f in job.forms if f.starts and not f.clear]
    return [(_gain(job, form), form) for form in kept]


def _following(options: list[Options], free: int, unsaid: int) -> tuple[list[list[tuple[int, int, int, int]]], int]:
    """What may be said next (start, end, worth, bit), and what is unsaid without that which is over."""
    following = []
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
        else:
            unsaid &= ~bit
    return following, unsaid
