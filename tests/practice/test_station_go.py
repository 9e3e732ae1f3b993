"""A station that is told to go while the whole floor stands goes with the floor, and its clock is right afterwards."""

from courttimer.plan.model import Rep, Segment, Session, Station
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import Call, What
from courttimer.practice.rules import decide
from courttimer.practice.state import opening

WAYS: tuple[What, ...] = ("space", "go")


def journal(rep: Rep, *calls: tuple[int, What, int]) -> list[ev.Event]:
    station = Station(name="one", rep=rep)
    plan = Session(segment=(Segment(kind="stations", time=60_000, each=60_000, station=(station,)),))
    b, out = Branch(opening(plan, 0)), list[ev.Event]()
    for at, what, lane in (*calls, (200_000, "mark", -1)):
        b, brought = catch_up(b, at)
        made = decide(b, Call(what=what, lane=lane, number=int(what == "station")), at, 0)
        b = happen(b, made)
        out += [*brought, made]
    return out


def test_a_station_that_stood_goes_on_when_the_floor_does() -> None:
    # By hand: 30 s a rep. The station stands from 10 s, the floor from 12 s to 40 s: 10 s of the rep are over then, 20 s are left.
    rep = Rep(live=30_000, after_hold="goes on")
    told = journal(rep, (0, "go", -1), (10_000, "hold", 1), (12_000, "hold", -1), (20_000, "go", 1), (40_000, "go", -1))

    assert [(e.at, e.lane) for e in told if isinstance(e, ev.HoldEnded)] == [(40_000, -1), (40_000, 1)]
    assert next(e.at for e in told if isinstance(e, ev.RepEnded) and e.lane == 1) == 60_000
    assert [e.lost for e in told if isinstance(e, ev.StationEnded)] == [2_000]


def test_a_station_that_waited_begins_when_the_floor_goes() -> None:
    rep = Rep(live=5_000, starts="on call")
    told = journal(rep, (0, "go", -1), (10_000, "hold", -1), (12_000, "go", 1), (40_000, "go", -1))

    assert [e.at for e in told if isinstance(e, ev.RepBegan) and e.lane == 1][:1] == [40_000]


def test_with_a_station_chosen_a_halt_still_ends_for_everyone_and_is_taken_back() -> None:
    """The one at the laptop may have chosen a station: space then must free the floor, and u the halt, not the station."""
    rep = Rep(live=30_000)
    start: tuple[tuple[int, What, int], ...] = ((0, "go", -1), (5_000, "station", -1), (10_000, "halt", -1))
    for call in WAYS:
        told = journal(rep, *start, (20_000, call, -1))
        assert [(e.at, e.lane) for e in told if isinstance(e, ev.HoldEnded)] == [(20_000, -1)], call
    told = journal(rep, *start, (20_000, "take back", -1))
    assert [(e.lane, e.call) for e in told if isinstance(e, ev.TakenBack)] == [(-1, "halt")]
