"""Random sessions and random calls with times so small that every millisecond can be counted, and how the engine plays them."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from hypothesis import strategies as st

from courttimer.plan.model import Outcome, Rep, Segment, Session, Station, Window
from courttimer.practice import begins, ends, events as ev, play_calls, rules
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import Call, What
from courttimer.practice.rules import decide
from courttimer.practice.state import opening
from tests.practice import oracle
from tests.practice.oracle import Press

CALLS: tuple[What, ...] = (
    "go", "go", "go", "hold", "hold", "halt", "outcome", "outcome", "outcome", "open", "open", "last", "next", "before", "longer",
    "shorter", "water", "voice", "mark", "end", "space", "space", "forward", "forward", "back", "take back", "put back",
)  # fmt: skip
OUTCOMES = (
    (),
    (Outcome(name="touch", closes="drive"), Outcome(name="basket", ends="rep", clicker="back")),
    (Outcome(name="stop", ends="rep", clicker="forward"), Outcome(name="nothing")),
)


@contextmanager
def small() -> Iterator[None]:
    """The engine's own seconds as the oracle has them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(begins, "READY_MS", oracle.READY)
        patch.setattr(ends, "VOID_MS", oracle.VOID)
        for name in ("STEP", "SHORT_STEP", "JUST", "WATER", "RESTART"):
            patch.setattr(rules, f"{name}_MS", getattr(oracle, name))
        patch.setattr(play_calls, "JUST_MS", oracle.JUST)
        yield


@pytest.fixture(name="small_times", scope="module")
def _small_times() -> Iterator[None]:
    with small():
        yield


def windows() -> st.SearchStrategy[tuple[Window, ...]]:
    opens = st.sampled_from(("with the rep", "on call"))
    one = st.builds(Window, name=st.just("drive"), time=st.integers(1, 14), opens=opens)
    other = st.builds(Window, name=st.just("shot"), time=st.integers(1, 14), opens=opens)
    return st.one_of(st.just(()), st.tuples(one), st.tuples(one, other))


def drills() -> st.SearchStrategy[Segment]:
    rep = st.builds(
        Rep, live=st.one_of(st.none(), st.integers(1, 12)), off=st.integers(0, 6),
        starts=st.sampled_from(("by itself", "on call", "at once")), after_hold=st.sampled_from(("again", "goes on")),
    )  # fmt: skip
    return st.builds(
        Segment, kind=st.sampled_from(("drill", "scrimmage")), time=st.integers(5, 60), setup=st.integers(0, 8),
        rep=st.one_of(st.none(), rep, rep, rep), window=windows(), outcome=st.sampled_from(OUTCOMES),
    )  # fmt: skip


def rounds() -> st.SearchStrategy[Segment]:
    """Stations and spots on one clock."""
    time, setup, change = st.integers(5, 60), st.integers(0, 4), st.integers(0, 4)
    station = st.lists(st.just(Station(name="one")), min_size=1, max_size=3).map(tuple)
    spots = st.lists(st.just("top"), min_size=1, max_size=3).map(tuple)
    return st.one_of(
        st.builds(Segment, kind=st.just("stations"), time=time, setup=setup, change=change, each=st.integers(2, 9), station=station),
        st.builds(
            Segment, kind=st.just("spots"), time=time, setup=setup, change=change, within=st.integers(2, 9), spots=spots,
            rounds=st.integers(1, 2),
        ),
    )  # fmt: skip


def plain() -> st.SearchStrategy[Segment]:
    kind = st.sampled_from(("warm-up", "water", "talk", "rest"))
    return st.builds(Segment, kind=kind, time=st.integers(3, 30), setup=st.sampled_from((0, 0, 4)))


def sessions() -> st.SearchStrategy[Session]:
    segment = st.one_of(drills(), drills(), rounds(), plain())
    return st.builds(Session, segment=st.lists(segment, min_size=1, max_size=4).map(tuple))


@st.composite
def presses(draw: st.DrawFn, most: int = 14) -> list[Press]:
    """Calls at random moments, mostly after a go."""
    at, out = 0, list[Press]()
    lead = draw(st.sampled_from((0, 0, 1, 3)))
    if draw(st.integers(0, 9)):
        out.append(Press(at=draw(st.integers(0, 3)), what="go", lead=lead))
        at = out[0].at
    gap = st.one_of(st.integers(0, 3), st.integers(0, 20))
    for wait, what, number in draw(st.lists(st.tuples(gap, st.sampled_from(CALLS), st.integers(0, 3)), max_size=most)):
        at += wait
        out.append(Press(at=at, what=what, number=number, lead=lead))
    return out


def call(p: Press) -> Call:
    return Call(what=next(w for w in CALLS if w == p.what), number=p.number)


def played(plan: Session, calls: list[Press], until: int, *, start: Branch | None = None) -> tuple[Branch, list[ev.Event]]:
    """The engine's evening: its branch at `until` and its journal, from the beginning or from `start`."""
    b, journal = start or Branch(opening(plan, 0)), list[ev.Event]()
    todo: list[tuple[int, Press | None]] = [(p.at, p) for p in calls]
    for at, p in [*todo, (until, None)]:
        b, brought = catch_up(b, at)
        journal += brought
        if p is not None:
            made = decide(b, call(p), at, p.lead)
            b, brought = catch_up(happen(b, made), at)
            journal += [made, *brought]
    return b, journal


def bare(journal: list[ev.Event]) -> list[ev.Event]:
    """Refusals without their words, which are no matter of time."""
    return [ev.Refused(at=e.at, by=e.by, call="", why="") if isinstance(e, ev.Refused) else e for e in journal]
