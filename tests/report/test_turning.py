"""How soon the turns bring somebody on again is what the practice does with them, and rest is counted by it."""

from itertools import product

import pytest

from courttimer.plan.model import Rep, Role, Segment, Session, Squad, Turn
from courttimer.practice import events as ev
from courttimer.practice.course import from_go
from courttimer.practice.due import next_due
from courttimer.practice.fold import fold
from courttimer.practice.lineup import on_floor
from courttimer.practice.scoring import members
from courttimer.practice.state import opening
from courttimer.report.care_advice import care_advice
from courttimer.report.turning import MOST_REPS, again_after

OFF = Role(name="off", plays=False)


def drill(sizes: tuple[int, ...], how: str, places: int = 1, off: int = 10_000) -> Segment:
    roles = tuple(Role(name=f"role {n}", size=(size, size)) for n, size in enumerate(sizes))
    rep = Rep(live=10_000, off=off, turn=Turn(how=how))
    return Segment(kind="drill", time=MOST_REPS * (10_000 + off), roles=(*roles, OFF), rep=rep, places=places, effort=8)


def squad(players: int) -> Squad:
    return Squad(players=tuple(f"player {n}" for n in range(players)))


def really(segment: Segment, players: int) -> int:
    """The same counted from the events of a whole drill."""
    s = from_go(opening(Session(segment=(segment,), squad=squad(players)), 0))
    last, least, rep = dict[str, int](), MOST_REPS, 0
    while (e := next_due(s)) is not None:
        s = fold(s, e)
        if isinstance(e, ev.RepBegan):
            rep += 1
            for one in members(s.lanes[0].units, on_floor(segment, s.lanes[0].standing)):
                least = min(least, rep - last.get(one, -MOST_REPS))
                last[one] = rep
    return least


@pytest.mark.parametrize(("how", "sizes"), [*product(("fair", "advance"), ((1,), (1, 1), (2, 2), (3, 2), (2, 1), (5,)))])
def test_it_is_what_the_practice_does(how: str, sizes: tuple[int, ...]) -> None:
    for places, players in product((1, 2), (5, 6, 10, 12, 13)):
        segment = drill(sizes, how, places)
        assert again_after(segment, squad(players).players) == really(segment, players), (places, players)


def test_where_one_line_goes_through_two_roles_everyone_plays_twice_running() -> None:
    assert again_after(drill((3, 2), "advance"), squad(12).players) == 1
    assert again_after(drill((5,), "advance"), squad(12).players) == 2


def test_rest_is_counted_by_how_soon_they_come_on_again() -> None:
    # Ten seconds at effort 8 want 20 (common practice). Twice running: only the off time. Every second rep: off, live, off.
    for segment, missing in ((drill((3, 2), "advance"), True), (drill((5,), "advance"), False), (drill((2, 2), "fair"), False)):
        told = care_advice(Session(segment=(segment,), squad=squad(12)), {})
        assert bool([one for one in told if "of rest" in one.text]) is missing


def test_where_nobody_ever_turns_nobody_who_plays_rests_longer_than_the_off_time() -> None:
    assert again_after(drill((2, 2), ""), squad(12).players) == 1
    assert care_advice(Session(segment=(drill((2, 2), "", off=19_000),), squad=squad(12)), {})
