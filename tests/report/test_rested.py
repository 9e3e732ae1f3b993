"""The rest that players really had, consequences included, told with its source, and equal to a count from the journal."""

from dataclasses import replace

from courttimer.care.bouts import Bout, missing
from courttimer.plan.model import Rep, Role, Segment, Session, Squad, Turn
from courttimer.practice import events as ev
from courttimer.practice.state import opening
from courttimer.report.rested import bouts, rest_advice
from courttimer.report.stands import Stood, stands
from tests.practice.evenings import played
from tests.practice.oracle import Press
from tests.report.rest_count import gaps, practice, work

S = 1_000
ONE_AND_ONE = (Role(name="in"), Role(name="off", plays=False))
GO = [Press(at=0, what="go")]


def evening(plan: Session, calls: list[Press] = GO) -> tuple[tuple[Stood, ...], list[ev.Event]]:
    _, journal = played(plan, calls, 3_600_000)
    return stands(opening(plan, 0), journal), journal


def taking_turns(off: int, **more: object) -> Session:
    """Ada and Bea by turns, 8 s each, at effort 8, for 64 s."""
    rep = Rep(live=8 * S, off=off * S, turn=Turn(how="fair"))
    drill = Segment(kind="drill", time=64 * S, effort=8, roles=ONE_AND_ONE, rep=rep)
    return Session(squad=Squad(players=("Ada", "Bea")), segment=(drill,))


def test_who_waits_rests_and_what_is_missing_is_told_with_its_source() -> None:
    # By hand, with 3 s off: 3 + 8 + 3 = 14 s of rest, where twice 8 s are common practice; reps at 0, 11, 22, 33, 44, 55 s.
    stood, _ = evening(taking_turns(3))
    assert bouts(stood)["Ada"][:2] == [Bout(0, 8 * S, 8), Bout(22 * S, 30 * S, 8)]
    (said,) = rest_advice(stood)
    assert said.where == 'rest, "Drill"'
    assert said.text == "short 4 times for 2 players; most for Ada, by 2 s of 16 s after 8 s at effort 8"
    assert said.source == "common practice"
    assert said.care
    assert rest_advice(evening(taking_turns(4))[0]) == ()


def test_a_hold_is_rest() -> None:
    # Held at 10 s, in the off time, for two minutes: nothing is missing after the first bout.
    calls = [*GO, Press(at=9 * S, what="hold"), Press(at=129 * S, what="go")]
    stood, _ = evening(taking_turns(3), calls)
    assert [one.ms for one in missing(bouts(stood)["Ada"])] == [2 * S]


def test_a_hold_in_a_rep_that_goes_on_is_no_work() -> None:
    plan = taking_turns(4)
    drill = plan.segment[0]
    assert drill.rep is not None
    plan = replace(plan, segment=(replace(drill, rep=replace(drill.rep, after_hold="goes on")),))
    stood, _ = evening(plan, [*GO, Press(at=4 * S, what="hold"), Press(at=100 * S, what="go")])
    assert bouts(stood)["Ada"][:2] == [Bout(0, 4 * S, 8), Bout(100 * S, 104 * S, 8)]


def test_without_roles_everyone_works_and_play_without_a_clock_is_paced() -> None:
    squad = Squad(players=("Ada", "Bea"))
    plan = Session(
        squad=squad,
        segment=(
            Segment(kind="drill", time=20 * S, effort=7, rep=Rep(live=20 * S)),
            Segment(kind="talk", time=5 * S, effort=9),
            Segment(kind="scrimmage", time=60 * S, effort=7),
            Segment(kind="drill", time=10 * S, effort=8),
        ),
    )
    found = bouts(evening(plan)[0])
    paced = [Bout(25 * S, 85 * S, 7, paced=True), Bout(85 * S, 95 * S, 8, paced=True)]
    assert found == {name: [Bout(0, 20 * S, 7), *paced] for name in squad.players}


def test_only_whoever_is_here_works() -> None:
    plan = taking_turns(3)
    stood = stands(opening(plan, 0), [ev.HereChanged(at=0, by="key", who="Bea", now="out"), *evening(plan)[1]])
    assert "Bea" not in bouts(stood)


def test_the_work_of_three_hundred_evenings_is_what_their_journals_say() -> None:
    seen = 0
    for seed in range(300):
        plan, calls = practice(seed)
        stood, journal = evening(plan, calls)
        counted, ours = work(plan, journal), bouts(stood)
        whole = {name: sum(end - start for start, end, _ in of) for name, of in counted.items()}
        assert {name: sum(one.end - one.start for one in of) for name, of in ours.items()} == whole, seed
        for name, of in ours.items():
            game = [one for one in of if one.effort in (2, 6, 7, 8)]
            if len(game) == len(of):
                short = [2 * (end - start) - rest for (start, end, _), rest in gaps(counted[name]) if rest < 2 * (end - start)]
                assert [one.ms for one in missing(of)] == short, (seed, name)
                seen += bool(short)
    assert seen > 30


def test_each_segment_in_which_rest_was_short_is_named() -> None:
    plan = taking_turns(3)
    second = replace(plan.segment[0], name="Again", effort=7)
    between = Segment(kind="water", time=60 * S)
    said = rest_advice(evening(replace(plan, segment=(*plan.segment, between, second)))[0])
    assert [one.where for one in said] == ['rest, "Drill"', 'rest, "Again"']
    assert ["at effort 8" in said[0].text, "at effort 7" in said[1].text] == [True, True]
