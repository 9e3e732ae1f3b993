"""How speeches share the time: every schedule of a few of them is looked at, and the best is the one that is found."""

from collections.abc import Iterator, Sequence

import pytest
from hypothesis import given, settings, strategies as st

from courttimer.sound import foresight
from courttimer.sound.foresight import Form, Job, Span, Way, settled, without

Key = tuple[tuple[int, ...], tuple[tuple[int, ...], ...]]


def forms(first: int, room: int, lengths: Sequence[int], calm: int, tone: int) -> tuple[Form, ...]:
    """A long and a short form with a tone over the moment `tone`, which only the last form may meet."""
    out = []
    for length, clear in [(n, True) for n in lengths] + [(lengths[-1], False)]:
        starts: tuple[Span, ...] = ((first, first + room - length),) if room >= length else ()
        if clear:
            starts = without(starts, tone - length, tone + 2)
        if starts:
            out.append(Form(length=length, starts=starts, calm=first + calm, clear=clear))
    return tuple(out)


jobs = st.lists(
    st.builds(
        lambda right, first, room, lengths, calm, tone: Job(right=right, forms=forms(first, room, lengths, calm, tone)),
        st.integers(4, 6), st.integers(0, 8), st.integers(1, 9), st.sampled_from([(4, 2), (5, 3), (3,), (2, 1)]),
        st.integers(0, 6), st.integers(0, 12),
    ),
    max_size=4,
)  # fmt: skip


def ways(job: Job) -> list[Way]:
    return [(n, at) for n, form in enumerate(job.forms) for a, b in form.starts for at in range(a, b + 1)]


def schedules(jobs: Sequence[Job], taken: tuple[tuple[int, int], ...] = ()) -> Iterator[tuple[Way | None, ...]]:
    if not jobs:
        yield ()
        return
    yield from ((None, *rest) for rest in schedules(jobs[1:], taken))
    for n, at in ways(jobs[0]):
        end = at + jobs[0].forms[n].length
        if all(end <= a or at >= b for a, b in taken):
            yield from (((n, at), *rest) for rest in schedules(jobs[1:], (*taken, (at, end))))


def key(jobs: Sequence[Job], found: Sequence[Way | None]) -> Key:
    """Smaller is better, as the file promises it: kept and clear by right of way, then each in its turn, near its moment."""
    worth = [0] * 16
    for job, way in zip(jobs, found, strict=True):
        if way:
            worth[2 * job.right] -= 1
            worth[2 * job.right + 1] -= job.forms[way[0]].clear
    each = [
        (way[0], abs(way[1] - job.forms[way[0]].calm), way[1]) if way else (99,) for job, way in zip(jobs, found, strict=True)
    ]  # fmt: skip
    return tuple(worth), tuple(each)


def ranked(jobs: list[Job]) -> list[Job]:
    return sorted(jobs, key=lambda job: job.right)


@settings(max_examples=150, deadline=None)
@given(jobs.map(ranked))
def test_it_is_the_best_of_all_schedules(jobs: list[Job]) -> None:
    assert tuple(settled(jobs)) == min(schedules(jobs), key=lambda found: key(jobs, found))


@pytest.mark.long
@settings(max_examples=500, deadline=None)
@given(jobs.map(ranked))
def test_it_is_the_best_of_all_schedules_many_times(jobs: list[Job]) -> None:
    assert tuple(settled(jobs)) == min(schedules(jobs), key=lambda found: key(jobs, found))


def plain(right: int, first: int, last: int, length: int) -> Job:
    return Job(right=right, forms=(Form(length=length, starts=((first, last),), calm=first),))


def test_a_speech_waits_for_a_weaker_one_that_cannot_wait() -> None:
    assert settled([plain(4, 0, 9, 5), plain(7, 0, 1, 3)]) == [(0, 3), (0, 0)]


def test_without_foresight_the_weaker_one_is_lost(monkeypatch: pytest.MonkeyPatch) -> None:
    """The twin: the first in turn takes its best, and when the search is given up that stands."""
    monkeypatch.setattr(foresight, "STEPS", 0)
    foresight.forget()
    assert settled([plain(4, 0, 9, 5), plain(7, 0, 1, 3)]) == [(0, 0), None]
    foresight.forget()


def test_one_of_the_stronger_is_worth_more_than_many_weaker() -> None:
    assert settled([plain(4, 0, 0, 20), *(plain(7, n, n, 1) for n in range(20))]) == [(0, 0)] + [None] * 20


def test_what_has_no_room_at_all_is_left_out() -> None:
    assert settled([Job(right=4, forms=())]) == [None]


def test_thirty_speeches_in_a_room_for_ten_are_settled_within_the_steps_of_a_search() -> None:
    found = settled([plain(7, 10 * (n % 3), 100, 10) for n in range(30)])
    assert sum(way is not None for way in found) == 11
