"""Every number of the report equals a second count that knows only the journal's lines, and those of two evenings a count by hand."""

from collections import Counter
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings, strategies as st

from courttimer.plan.model import Consequence, Outcome, Rep, Role, Score, Segment, Session, Squad, Station, Turn
from courttimer.practice import events as ev
from courttimer.practice.calls import parse
from courttimer.report.entries import AtStation, Change, Hold, Made, Person, Struck
from courttimer.report.tally import Tally, tally
from tests.report import tally_checks
from tests.report.tally_count import Count
from tests.report.tally_practices import lines, played, practice

WALL = "2026-11-24T18:00:00.000+01:00"


def check(seed: int) -> tuple[Tally, list[ev.Event]]:
    plan, events = practice(seed)
    read, ours = lines(events), tally(WALL, plan, events)
    tally_checks.everything(plan, read, ours, Count(plan, read))
    return ours, events


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**9))
def test_every_number_is_what_the_lines_say(seed: int) -> None:
    check(seed)


@pytest.mark.long
@pytest.mark.parametrize("start", range(0, 600, 200))
def test_every_number_of_six_hundred_practices_is_what_the_lines_say(start: int) -> None:
    for seed in range(start, start + 200):
        check(seed)


def test_the_practices_hold_everything_that_is_counted() -> None:
    """Else the two counts would agree on nothing."""
    seen: Counter[str] = Counter()
    for seed in range(40):
        plan, events = practice(seed)
        ours = tally(WALL, plan, events)
        seen.update({type(e).__name__ for e in events})
        seen.update(name for name in Tally.__slots__ if getattr(ours, name))
        seen.update({f"sort {one.sort}" for one in ours.times})
        seen.update({f"why {one.why}" for one in ours.segments} | {f"what {one.what}" for one in ours.changes})
        seen["paid"] += any(one.paid for one in ours.players)
        seen["row"] += any(one.row for one in ours.scores)
        seen["tally"] += any(one.attempts for one in ours.scores)
    wanted = {*Tally.__slots__, "paid", "row", "tally", "TakenBack", "PutBack", "LinedUp", "StationEnded", "SpotsOrdered"}
    wanted |= {f"sort {sort}" for sort in ("live", "off", "waiting", "set-up", "consequence", "stopped", "spare", "on", "hold", "halt")}
    wanted |= {f"why {why}" for why in ("time", "moved", "last", "target", "still on", "not played")}
    wanted |= {f"what {what}" for what in ("longer", "shorter", "again", "not played")}
    assert {one for one in wanted if not seen[one]} == set()


@pytest.mark.parametrize("n", range(3))
def test_a_number_that_is_wrong_is_seen(n: int) -> None:
    plan, events = practice(8)
    read, ours = lines(events), tally(WALL, plan, events)
    wrong = (
        replace(ours, practice=(ours.head._replace(live=ours.head.live + 1),)),
        replace(ours, players=(ours.players[0]._replace(played=1), *ours.players[1:])),
        replace(ours, segments=(ours.segments[0]._replace(reps=99), *ours.segments[1:])),
    )[n]
    with pytest.raises(AssertionError):
        tally_checks.everything(plan, read, wrong, Count(plan, read))


def told(plan: Session, *called: str, until: int = 600_000, own: bool = False) -> Tally:
    """The report on calls such as "12 outcome 1" (seconds), a station's as "12 @2 outcome 1"."""
    calls = []
    for line in called:
        at, _, words = line.partition(" ")
        lane, _, rest = words.partition(" ") if words.startswith("@") else ("@-1", "", words)
        calls.append((int(float(at) * 1_000), replace(parse(rest), lane=int(lane[1:]))))
    aside = (ev.CueHeard, ev.CueDropped, ev.SoundChanged, ev.MarkWorded)
    return tally(WALL, plan, [e for e in played(Random(0), plan, calls, until, own_take_backs=own) if not isinstance(e, aside)])


ONE_ON_ONE = (Role(name="attack"), Role(name="defend"), Role(name="off", plays=False))
PAINT = Segment(
    kind="drill", name="Paint", time=60_000, setup=10_000, effort=6, roles=ONE_ON_ONE,
    rep=Rep(live=8_000, off=12_000, turn=Turn(how="advance")),
    outcome=(Outcome(name="basket", points=1, to="attack", ends="rep"), Outcome(name="stop", points=1, to="defend", ends="rep")),
    score=Score(race=5, by="player", tally=True),
)  # fmt: skip
EVENING = Session(squad=Squad(players=("Ada", "Bea", "Cleo")), segment=(Segment(kind="warm-up", time=30_000, effort=2), PAINT))


def test_an_evening_counted_by_hand() -> None:
    """Warm-up 30 s, held from 10 s to 14 s. Set-up to 44 s; reps from 44 s, 64 s (a basket at 67 s) and 79 s; 7 s are left at 97 s."""
    ours = told(EVENING, "0 go", "10 hold", "14 go", "67 outcome 1", "100 mark good", "101 outcome 2", "200 effort Ada 7")
    paint = ours.segments[1]

    assert ours.head[:7] == ("2026-11-24T18:00:00.000+01:00", "Practice", True, 90_000, 90_000, 19_000, 3)
    assert (paint.live, paint.off, paint.setup, paint.other, paint.held, paint.reps) == (19_000, 24_000, 10_000, 7_000, 0, 3)
    assert [(one.sort, one.ms) for one in ours.times] == [
        ("live", 19_000), ("off", 24_000), ("set-up", 10_000), ("spare", 7_000), ("on", 30_000), ("hold", 4_000)
    ]  # fmt: skip
    assert ours.holds == (Hold(10_000, 1, "Warm-up", "", "hold", 4_000, "called"),)
    assert ours.changes == ()
    # Ada attacks first against Bea; then each goes one on: Cleo comes on, who has waited.
    assert ours.players[0] == Person("Ada", 90_000, 2, 41_000, 8_000, 0, 0, 0, 7, 7, 11)
    assert sum(one.played for one in ours.players) == 3 * 30_000 + 2 * 19_000
    assert [(one.call, one.why) for one in ours.refused] == [("outcome 2", "the practice is over")]
    assert [(one.number, one.at, one.words) for one in ours.marks] == [(1, 100_000, "good")]


def test_what_was_taken_back_counts_nowhere_and_is_told_apart() -> None:
    ours = told(EVENING, "0 go", "47 outcome 1", "49 take back", "80 mark", "81 take back", "82 put back")
    never = told(EVENING, "0 go", "80 mark")

    assert ours.taken_back == (Struck(49_000, "basket", put_back=False), Struck(81_000, "mark", put_back=True))
    assert replace(ours, taken_back=(), practice=never.practice) == never


def test_what_a_station_took_back_under_the_calls_of_another_counts_nowhere() -> None:
    score = Score(tally=True)
    one = Station(name="A", rep=Rep(live=20_000), outcome=(Outcome(name="make", points=1),), score=score)
    plan = Session(segment=(Segment(kind="stations", time=60_000, each=60_000, station=(one, replace(one, name="B"))),))
    ours = told(plan, "0 go", "3 @1 outcome 1", "5 @1 outcome 1", "30 @2 outcome 1", "40 @1 take back", own=True)
    never = told(plan, "0 go", "3 @1 outcome 1", "30 @2 outcome 1")

    assert [(one.station, one.points, one.attempts) for one in ours.scores] == [("A", 1, 1), ("B", 1, 1)]
    assert replace(ours, taken_back=(), practice=never.practice) == never


@pytest.mark.parametrize(
    ("calls", "sort", "why"),
    [
        (("10 hold", "12 water", "16 go"), "hold", "called, counted as the water"), (("10 halt", "16 go"), "halt", "called"),
        (("10 thunder", "1816 go"), "halt", "thunder"),
    ],
)  # fmt: skip
def test_why_the_clock_stood_is_told(calls: tuple[str, ...], sort: str, why: str) -> None:
    (hold,) = told(replace(EVENING, outdoor=True), "0 go", *calls, until=3_000_000).holds

    assert (hold.at, hold.sort, hold.why) == (10_000, sort, why)


def test_what_made_a_segment_longer_or_shorter_is_told_with_its_reason() -> None:
    ours = told(replace(EVENING, segment=(*EVENING.segment, PAINT)), "0 go", "10 longer", "20 next", "25 next", "30 end")

    assert ours.changes == (
        Change(10_000, 1, "Warm-up", 60_000, "longer", "called"),
        Change(20_000, 1, "Warm-up", -70_000, "shorter", "moved on"),
        Change(25_000, 2, "Paint", -55_000, "shorter", "moved on"),
        Change(30_000, 3, "Paint", -55_000, "shorter", "the practice was ended"),
    )


def test_who_owes_again_while_others_pay_has_paid_too() -> None:
    """Ada wins at 2 s and Bea pays until 10 s; at 5 s Bea has won after all, and Ada pays after the off time."""
    pays = Consequence(pays="losers", time=8_000)
    score = Score(race=1, by="player", then="again")
    drill = replace(PAINT, setup=0, roles=ONE_ON_ONE[:2], rep=Rep(live=20_000, off=5_000), score=score, consequence=pays)
    ours = told(Session(squad=Squad(players=("Ada", "Bea")), segment=(drill,)), "0 go", "2 outcome 1", "5 score Bea +1")

    assert [(one.side, one.pays) for one in ours.targets] == [("Ada", "Bea"), ("Bea", "Ada")]
    assert [one.paid for one in ours.players] == [8_000, 8_000]


def test_what_a_station_lost_is_told() -> None:
    one = Station(name="A", rep=Rep(live=10_000, off=5_000, after_hold="goes on"))
    plan = Session(segment=(Segment(kind="stations", time=60_000, each=60_000, station=(one, replace(one, name="B"))),))
    # By hand: reps at 0, 15 (stands from 20 to 33) and 43; none fits after 58. The other one: at 0, 15, 30 and 45.
    ours = told(plan, "0 go", "20 @1 hold", "33 @1 go")

    assert ours.stations == (AtStation(1, "Stations", "A", 3, 30_000, 13_000, 13_000), AtStation(1, "Stations", "B", 4, 40_000, 0, 0))
    assert [(one.station, one.at, one.ms) for one in ours.holds] == [("A", 20_000, 13_000)]


def test_makes_that_nobody_entered_are_unknown_and_not_nought() -> None:
    plan = Session(segment=(Segment(kind="spots", name="Two", time=60_000, within=10_000, spots=("top", "left"), shots=10, rounds=2),))
    ours = told(plan, "0 go", "25 makes top 0 round 1")

    assert [(one.spot, one.round, one.makes, one.share) for one in ours.shots] == [
        ("top", 1, 0, 0.0), ("left", 1, None, None), ("top", 2, None, None), ("left", 2, None, None)
    ]  # fmt: skip
    assert ours.shots[1] == Made(1, "Two", "left", 1, None, None, None, None, None)


def test_who_comes_late_has_the_minutes_from_then_on() -> None:
    """Here at 60 s and warm after five minutes: 40 s of the warm-up and the drill, in whose second rep, at 430 s, she is in."""
    plan = replace(EVENING, segment=(Segment(kind="warm-up", time=400_000, effort=2), PAINT))
    ours = told(plan, "0 late Cleo", "0 go", "60 here Cleo")

    assert [(one.player, one.here) for one in ours.players] == [("Ada", 460_000), ("Bea", 460_000), ("Cleo", 100_000)]
    assert [one.played for one in ours.players] == [400_000 + 16_000, 400_000 + 16_000, 40_000 + 16_000]
    assert sum(one.standing for one in ours.players) == 3 * 8_000


def test_a_team_that_subs_inside_itself_is_said_to_count_as_one() -> None:
    teams = (("blue", ("Ada", "Bea")), ("red", ("Cleo", "Dina")))
    drill = replace(PAINT, teams="squad", roles=ONE_ON_ONE[:2], rep=Rep(live=8_000, off=12_000))
    ours = told(Session(squad=Squad(players=("Ada", "Bea", "Cleo", "Dina"), teams=teams), segment=(drill,)), "0 go")

    assert {one.reps for one in ours.players} == {3}
    assert ours.notes == ("In Paint each team subs itself: all its players have its reps and minutes.",)


def test_that_it_was_practised_although_it_was_too_hot_is_told() -> None:
    anyway = "It was too hot by the last level; whoever led it confirmed to practise anyway."
    cool, hot = (told(EVENING, "0 go", f"5 heat {air} C 70 %", "6 heat practise anyway") for air in (20, 39))

    assert anyway in hot.notes
    assert anyway not in cool.notes


def test_the_rest_is_made_to_fit_after_a_hold_and_the_end_is_on_the_minute() -> None:
    """The floor is ours for 90 s from 18:00. Two seconds of the hold come out of the warm-up, which pays for its own down to 28 s."""
    warm = replace(EVENING.segment[0], at_least=28_000)
    drill = replace(PAINT, at_least=50_000)
    floor = (18 * 3_600_000, 18 * 3_600_000 + 90_000)
    ours = told(replace(EVENING, segment=(warm, drill), floor=floor), "0 go", "10 hold", "16 go")

    assert ours.changes == (
        Change(16_000, 1, "Warm-up", -2_000, "shorter", "to fit the floor time, after a hold"),
        Change(16_000, 2, "Paint", -4_000, "shorter", "to fit the floor time, after a hold"),
    )
    assert ours.head.early == 0
