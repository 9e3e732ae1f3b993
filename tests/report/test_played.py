"""What a practice leaves in the history equals a count that knows nothing of take back: of the practice as if never called so."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given, strategies as st

from courttimer.plan.model import Outcome, Rep, Role, Score, Segment, Session, Squad
from courttimer.practice import events as ev
from courttimer.practice.state import opening
from courttimer.report.played import rows
from courttimer.report.rows import Result, Shot, Work
from courttimer.report.stands import stands
from tests.practice.evenings import played, presses, sessions, small
from tests.practice.oracle import Press

WALL = "2026-11-24T18:05:12.345+01:00"


@pytest.fixture(autouse=True, scope="module")
def _small_times() -> Iterator[None]:
    with small():
        yield


@given(plan=sessions(), calls=presses(), more=st.integers(0, 200))
def test_what_stands_leads_to_where_the_practice_stands(plan: Session, calls: list[Press], more: int) -> None:
    branch, journal = played(plan, calls, max((c.at for c in calls), default=0) + more)
    stood = stands(opening(plan, 0), journal)

    assert [one.event for one in stood if isinstance(one.event, ev.TakenBack | ev.PutBack)] == []
    assert replace(stood[-1].after if stood else opening(plan, 0), at=branch.now.at) == branch.now


@given(plan=sessions(), calls=presses())
def test_the_time_played_is_that_of_the_segments_own_clock(plan: Session, calls: list[Press]) -> None:
    branch, journal = played(plan, calls, max((c.at for c in calls), default=0) + 1_000)
    found = rows(WALL, plan, journal)
    kinds = {kind: sum(ms for at, ms in branch.now.played if plan.segment[at].kind == kind) for kind in {s.kind for s in plan.segment}}
    running = 0 if branch.now.ended or not branch.now.on else journal[-1].at

    if not running:
        assert {work.kind: work.played for work in found.work} == kinds
    assert found.practice.played == sum(work.played for work in found.work)
    assert found.practice.ended == branch.now.ended


def test_one_practice_counted_by_hand() -> None:
    """Warm-up 20, then a drill of 30: set-up 2, live 5, off 5, live 5, off 5, live 5 and 3 to spare; held for 7 in the warm-up."""
    drill = Segment(kind="drill", name="Lines", time=30, setup=2, effort=6, rep=Rep(live=5, off=5))
    plan = Session(squad=Squad(players=("Ada",)), segment=(Segment(kind="warm-up", time=20, effort=2), drill))
    calls = [Press(at=0, what="go"), Press(at=5, what="hold"), Press(at=12, what="go"), Press(at=40, what="mark")]
    calls.append(Press(at=41, what="take back"))
    found = rows(WALL, plan, played(plan, calls, 500)[1])

    assert found.practice.live == 15
    assert found.practice.reps == 3
    assert found.work == (
        Work(kind="warm-up", planned=20, played=20, live=0, reps=0), Work(kind="drill", planned=30, played=30, live=15, reps=3)
    )  # fmt: skip
    assert [(one.player, one.reps) for one in found.players] == [("Ada", 3)]


def test_makes_are_those_entered_last_and_what_was_not_entered_is_not_there() -> None:
    spots = Segment(kind="spots", name="Five spots", time=60, spots=("top", "left", "right"), shots=10, rounds=2)
    plan = Session(squad=Squad(players=("Ada",)), segment=(spots,))
    entered = (("top", 1, 6, None), ("left", 1, 4, None), ("top", 2, 8, 12), ("top", 1, 7, None))
    journal = [ev.MakesEntered(at=at, segment=0, spot=s, round=n, makes=m, shots=of) for at, (s, n, m, of) in enumerate(entered)]
    found = rows(WALL, plan, journal)

    assert found.shots == (
        Shot(player="Ada", spot="top", makes=15, attempts=22), Shot(player="Ada", spot="left", makes=4, attempts=10)
    )  # fmt: skip
    assert found.results == (Result(drill="Five spots", who="Ada", sort="makes", value=19),)


def test_makes_that_were_taken_back_do_not_count() -> None:
    plan = Session(segment=(Segment(kind="spots", time=60, spots=("top",), shots=10),))
    journal = [ev.MakesEntered(at=1, segment=0, spot="top", round=1, makes=9), ev.TakenBack(at=2)]

    assert rows(WALL, plan, journal).shots == ()


RIVAL = Segment(
    kind="drill", name="Against nobody", time=90, rep=Rep(starts="at once"), score=Score(race=3, by="rival", rival=2, then="again"),
    outcome=(Outcome(name="make", points=1), Outcome(name="miss", breaks=True)),
)  # fmt: skip


def pressed(*keys: int) -> list[Press]:
    return [Press(at=0, what="go"), *(Press(at=2 + 2 * at, what="outcome", number=key) for at, key in enumerate(keys))]


@pytest.mark.parametrize(("presses_", "value"), [((1, 1, 1), 3), ((2, 1, 2), 1)])
def test_a_race_against_nobody_leaves_only_what_we_reached(presses_: tuple[int, ...], value: int) -> None:
    """Won 3 to 0; lost 1 to 4. The rival is nobody, so it has no best; and "us" is the drill as a whole."""
    plan = Session(squad=Squad(players=("Ada", "Bea")), segment=(RIVAL,))
    found = rows(WALL, plan, played(plan, pressed(*presses_), 80)[1])

    assert found.results == (Result(drill="Against nobody", who="", sort="race", value=value),)


def test_a_race_that_its_time_ended_is_a_race() -> None:
    """One basket for blue when the cap of 20 comes."""
    score = Score(race=9, by="team", cap=20, then="end drill")
    roles = (Role(name="attack"), Role(name="defend"))
    drill = Segment(
        kind="drill", name="Full clock", time=90, teams="squad", rep=Rep(starts="at once"), roles=roles, score=score,
        outcome=(Outcome(name="basket", points=1, to="attack"),),
    )  # fmt: skip
    plan = Session(squad=Squad(players=("Ada", "Bea"), teams=(("blue", ("Ada",)), ("red", ("Bea",)))), segment=(drill,))
    found = rows(WALL, plan, played(plan, pressed(1), 85)[1])

    assert found.results == (Result(drill="Full clock", who="blue", sort="race", value=1),)


def test_a_tally_by_player_is_shooting_too_and_the_drill_is_where_from() -> None:
    """Two makes and a miss of Ada's; what a group or a team made is nobody's shooting."""
    drill = Segment(
        kind="drill", name="Run", time=90, rep=Rep(starts="at once"), roles=(Role(name="attack"), Role(name="off", plays=False)),
        score=Score(by="player", tally=True),
        outcome=(Outcome(name="basket", points=1, to="attack"), Outcome(name="miss", breaks=True)),
    )  # fmt: skip
    plan = Session(squad=Squad(players=("Ada", "Bea")), segment=(drill,))
    journal = played(plan, pressed(1, 2, 1), 80)[1]
    in_twos = replace(drill, roles=(Role(name="attack", size=(2, 2)),), score=Score(by="group", tally=True))
    by_group = replace(plan, segment=(in_twos,))

    assert rows(WALL, plan, journal).shots == (Shot(player="Ada", spot="Run", makes=2, attempts=3),)
    assert rows(WALL, by_group, played(by_group, pressed(1, 2), 80)[1]).shots == ()
