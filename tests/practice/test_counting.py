"""On random sessions and random calls the engine's whole list of events is the one that counting milliseconds gives."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from courttimer.plan.model import Rep, Segment, Session, Station, Window
from courttimer.practice import due, events, rules
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import Call, What
from courttimer.practice.rules import decide
from courttimer.practice.state import opening
from tests.practice.counting import JUST, READY, RESTART, SHORT_STEP, STEP, VOID, WATER, Counted

UNTIL = 220
CALLS = (
    "go", "hold", "space", "forward", "outcome", "open", "last", "next", "before", "longer", "shorter", "water", "voice", "mark",
    "halt", "end",
)  # fmt: skip


@pytest.fixture(autouse=True, scope="module")
def _small_times() -> Iterator[None]:
    small = ((due, "READY_MS", READY), (due, "VOID_MS", VOID), (rules, "JUST_MS", JUST), (rules, "WATER_MS", WATER),
             (rules, "RESTART_MS", RESTART), (rules, "STEP_MS", STEP), (rules, "SHORT_STEP_MS", SHORT_STEP))  # fmt: skip
    with pytest.MonkeyPatch.context() as patch:
        for room, name, value in small:
            patch.setattr(room, name, value)
        yield


windows = st.lists(
    st.builds(Window, name=st.just("drive"), time=st.integers(1, 14), opens=st.sampled_from(["with the rep", "on call"])),
    max_size=1,
).map(tuple)
reps = st.builds(
    Rep, live=st.integers(1, 15), off=st.integers(0, 8), starts=st.sampled_from(["by itself", "on call"]),
    after_hold=st.sampled_from(["again", "goes on"]),
)  # fmt: skip
open_reps = st.builds(Rep, live=st.none(), off=st.integers(0, 6), starts=st.just("on call"))
timed = st.builds(
    Segment,
    kind=st.sampled_from(["warm-up", "water", "talk"]),
    time=st.integers(1, 40),
    setup=st.integers(0, 6).filter(lambda n: n != 1),
)
drills = st.builds(
    Segment, kind=st.just("drill"), time=st.integers(5, 70), setup=st.integers(0, 8), window=windows,
    rep=reps | open_reps | st.just(Rep(starts="at once")),
)  # fmt: skip
stations = st.builds(
    Segment, kind=st.just("stations"), time=st.integers(10, 70), setup=st.integers(0, 5),
    each=st.integers(2, 14), change=st.integers(0, 5),
    station=st.lists(st.just(Station(name="S")), min_size=2, max_size=3).map(tuple),
)  # fmt: skip
plans = st.lists(timed | drills | drills | stations | st.just(Segment(kind="scrimmage", time=30)), min_size=1, max_size=4).map(
    tuple
)
calls = st.lists(st.tuples(st.integers(0, UNTIL - 20), st.sampled_from(CALLS)), max_size=14).map(
    lambda made: [(0, "go"), *sorted(made, key=lambda c: c[0])]
)


def plain(e: events.Event) -> events.Event:
    """Why a call was refused, and what it is called then, are words: the oracle has its own."""
    e = replace(e, call="", why="") if isinstance(e, events.Refused) else e
    return replace(e, floor_ends=None) if isinstance(e, events.Went) else e


def as_call(word: str) -> Call:
    assert word in get_args(What)
    what: Any = word
    return Call(what=what)


def engine(
    plan: tuple[Segment, ...], made: list[tuple[int, str]], lead: int, until: int = UNTIL
) -> tuple[Branch, list[events.Event]]:
    """The practice as the engine plays it, and every event of it."""
    branch, out = Branch(opening(Session(segment=plan), 0)), []
    for at, word in made:
        branch, due_now = catch_up(branch, at)
        out += due_now
        e = decide(branch, as_call(word), at, lead)
        out.append(e)
        branch, due_now = catch_up(happen(branch, e), at)
        out += due_now
    branch, rest = catch_up(branch, until)
    return branch, out + rest


@settings(max_examples=250, deadline=None)
@given(plans, calls, st.sampled_from([0, 2]))
def test_the_engine_agrees_with_counting(plan: tuple[Segment, ...], made: list[tuple[int, str]], lead: int) -> None:
    assert [plain(e) for e in engine(plan, made, lead)[1]] == [plain(e) for e in Counted(plan=plan, lead=lead).run(made, UNTIL)]


@pytest.mark.long
@settings(max_examples=20_000, deadline=None)
@given(plans, calls, st.sampled_from([0, 1, 2, 5]))
def test_a_campaign_of_evenings_agrees_with_counting(plan: tuple[Segment, ...], made: list[tuple[int, str]], lead: int) -> None:
    assert [plain(e) for e in engine(plan, made, lead)[1]] == [plain(e) for e in Counted(plan=plan, lead=lead).run(made, UNTIL)]


def struck(plan: tuple[Segment, ...], made: list[tuple[int, str]]) -> list[tuple[int, str]]:
    """What was never made, struck out by hand: slow, and without any pointer."""
    kept: list[tuple[int, str]] = []
    gone: list[tuple[int, str]] = []
    for at, word in made:
        if word == "take back":
            gone += [kept.pop()] if kept else []
        elif word == "put back":
            kept += [gone.pop()] if gone else []
        else:
            branch, _ = engine(plan, kept, 0, at)
            if not isinstance(decide(branch, as_call(word), at, 0), events.Refused):
                kept.append((at, word))
                gone = []
    return kept


with_take_back = st.lists(
    st.tuples(st.integers(0, UNTIL - 20), st.sampled_from((*CALLS, "take back", "take back", "put back"))), max_size=10
).map(lambda made: [(0, "go"), *sorted(made, key=lambda c: c[0])])


@settings(max_examples=150, deadline=None)
@given(plans, with_take_back)
def test_take_back_is_the_practice_in_which_the_call_was_never_made(plan: tuple[Segment, ...], made: list[tuple[int, str]]) -> None:
    branch, _ = engine(plan, made, 0)

    assert replace(branch.now, at=0) == replace(engine(plan, struck(plan, made), 0)[0].now, at=0)


@settings(max_examples=150, deadline=None)
@given(plans, with_take_back, st.integers(0, 200))
def test_the_journal_tells_the_state_and_time_brings_the_lines_after_any_cut(
    plan: tuple[Segment, ...], made: list[tuple[int, str]], cut: int
) -> None:
    branch, out = engine(plan, made, 0)
    again = Branch(opening(Session(segment=plan), 0))
    for e in out:
        again = happen(again, events.event(events.record(e)))
    assert again.now == branch.now

    n = cut % (len(out) + 1)
    some = Branch(opening(Session(segment=plan), 0))
    for e in out[:n]:
        some = happen(some, e)
    brought = catch_up(some, max((e.at for e in out[:n]), default=0))[1]
    assert brought == out[n : n + len(brought)]
