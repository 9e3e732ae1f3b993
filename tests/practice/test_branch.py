"""Take back, put back, the journal and a cut: the practice is where it would be, whoever tells its story."""

import json
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings, strategies as st

from courttimer.plan.model import Rep, Segment, Session
from courttimer.practice import branch as branches, events as ev, records
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.rules import decide
from courttimer.practice.state import State, opening
from tests.practice.evenings import call, played, presses, sessions, small
from tests.practice.oracle import Press

MANY = settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
DRILL = Session(segment=(Segment(kind="drill", time=120_000, rep=Rep(live=8_000, off=4_000)), Segment(kind="water", time=60_000)))


def struck_by_hand(plan: Session, calls: list[Press]) -> list[Press]:
    """The calls that stand after all, found with pencil and rubber: nothing of Branch but its answer to one call is used."""
    kept, struck = list[Press](), list[Press]()
    for p in calls:
        made = decide(played(plan, kept, p.at)[0], call(p), p.at, p.lead)
        if isinstance(made, ev.TakenBack):
            struck.append(kept.pop())
        elif p.what == "put back":
            kept += [struck.pop()] if struck else []
        elif not isinstance(made, ev.Refused):
            kept.append(p)
            struck.clear()
    return kept


def timeless(b: Branch) -> State:
    """The state without the moment of the last line, which a refused call moves too."""
    return replace(b.now, at=0)


def end(calls: list[Press], rest: int) -> int:
    return (calls[-1].at if calls else 0) + rest


@MANY
@given(sessions(), presses(), st.integers(0, 80))
def test_what_was_taken_back_might_as_well_never_have_been(plan: Session, calls: list[Press], rest: int) -> None:
    with small():
        twin = played(plan, struck_by_hand(plan, calls), end(calls, rest))[0]
        assert timeless(played(plan, calls, end(calls, rest))[0]) == timeless(twin)


@MANY
@given(sessions(), presses(), st.integers(0, 80))
def test_the_journal_read_back_tells_the_same_practice(plan: Session, calls: list[Press], rest: int) -> None:
    with small():
        b, journal = played(plan, calls, end(calls, rest))
        again = Branch(opening(plan, 0))
        for line in [json.dumps(records.record(e)) for e in journal]:
            again = happen(again, records.event(json.loads(line)))
    assert again.now == b.now
    assert (again.back is None, again.forward is None, again.call) == (b.back is None, b.forward is None, b.call)


@MANY
@given(sessions(), presses(), st.integers(0, 80), st.integers(0, 999))
def test_cut_after_any_line_the_practice_goes_on_as_if_nothing_had_been(
    plan: Session, calls: list[Press], rest: int, where: int
) -> None:
    with small():
        journal = played(plan, calls, end(calls, rest))[1]
        lines = journal[: where % (len(journal) + 1)]
        b = Branch(opening(plan, 0))
        for e in lines:
            b = happen(b, e)
        made = sum(e.source == "call" or isinstance(e, ev.Refused) for e in lines)
        b, brought = catch_up(b, max((e.at for e in lines), default=0))
        then = played(plan, calls[made:], end(calls, rest), start=b)[1]
    assert [*lines, *brought, *then] == journal


def test_a_next_pressed_by_mistake_is_taken_back_with_the_time_that_has_passed() -> None:
    b, _ = played(DRILL, [Press(at=0, what="go"), Press(at=30_000, what="next"), Press(at=40_000, what="take back")], 40_000)
    assert (b.now.segment, b.now.lanes[0].rep, b.now.lanes[0].stretch) == (0, 4, "live")


def test_a_new_call_leaves_nothing_to_put_back() -> None:
    calls = [Press(at=0, what="go"), Press(at=1, what="hold"), Press(at=2, what="take back"), Press(at=3, what="mark")]
    b, _ = played(DRILL, calls, 4)
    assert b.forward is None
    assert isinstance(decide(b, call(Press(at=4, what="put back")), 4, 0), ev.Refused)


def test_a_hold_that_nobody_called_cannot_be_taken_back() -> None:
    b, _ = played(DRILL, [Press(at=0, what="go")], 5_000)
    b = happen(b, ev.Held(at=5_000, why="cut off"))
    assert isinstance(decide(b, call(Press(at=6_000, what="take back")), 6_000, 0), ev.Refused)


@pytest.mark.parametrize("line", [ev.TakenBack(at=0), ev.PutBack(at=0)])
def test_a_journal_that_takes_back_what_never_was_is_refused(line: ev.Event) -> None:
    with pytest.raises(ValueError, match="there is nothing to"):
        happen(Branch(opening(DRILL, 0)), line)


def test_time_that_goes_round_in_circles_is_a_fault_and_not_a_hang(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(branches, "next_due", lambda s: ev.HoldEnded(at=7))
    with pytest.raises(RuntimeError, match="time stands still at 7 ms"):
        catch_up(Branch(opening(DRILL, 0)), 100)
