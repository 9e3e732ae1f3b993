"""Who does the consequence: the losers, briefly; nobody in the heat, nobody who came late, nobody who was hurt and is back."""

import pytest

from courttimer.practice import events as ev
from tests.practice.hand import SQUAD, play

DUEL = """
[[segment]]
kind = "drill"
name = "Duel"
time = "30 min"
roles = [ { name = "attack", size = 3 }, { name = "defend", size = 3 } ]
rep = { live = "10 s", off = "20 s" }
score = { race = 1, by = "group", then = "again" }
consequence = { pays = "losers", time = "20 s" }
outcome = [ { name = "basket", points = 1, to = "attack", ends = "rep" } ]
"""
"""Bea, Dina and Fern defend, and lose."""


def pays(calls: str, session: str = DUEL) -> list[tuple[tuple[str, ...], int]]:
    """Who pays at each target, and how many ms."""
    return [(e.pays, e.owes) for e in play(session, calls).events if isinstance(e, ev.TargetReached)]


BASKET = "0:00 go\n0:05 outcome 1"
LOSERS = ("Bea", "Dina", "Fern")


def test_the_losers_pay() -> None:
    assert pays(BASKET) == [(LOSERS, 20_000)]


@pytest.mark.parametrize(
    ("heat", "somebody"),
    [("cool", True), ("wbgt 26 C", True), ("hot", False), ("wbgt 28 C", False)],
)
def test_from_the_second_level_of_the_heat_on_nobody_does(heat: str, somebody: bool) -> None:
    # WBGT 26 C are 78.8 F: level 1 in region 1 (76.1 to 81.0 F); "hot" is level 2, and 28 C are 82.4 F: level 2.
    assert bool(pays(f"0:00 go\n0:01 heat {heat}\n0:05 outcome 1")[0][1]) is somebody


def test_heat_in_the_file_counts_as_much_as_heat_on_the_board() -> None:
    played = play(DUEL, BASKET, players='heat = "hot"\n' + SQUAD)
    assert [e.owes for e in played.events if isinstance(e, ev.TargetReached)] == [0]


def test_who_came_late_does_not() -> None:
    range_of = DUEL.replace('"attack", size = 3', '"attack", size = "2-3"').replace('"defend", size = 3', '"defend", size = "2-3"')
    for one in ("Bea", "Dina", "Fern"):
        paying = pays(f"0:00 late {one}\n0:01 go\n0:20 here {one}\n5:36 outcome 1", range_of)[0][0]
        assert paying
        assert one not in paying


def test_who_was_taken_out_because_of_being_hurt_and_is_back_does_not() -> None:
    paying = pays("0:00 go\n0:12 out Dina\n1:00 here Dina\n6:35 outcome 1")[0][0]
    assert paying
    assert "Dina" not in paying


def test_nobody_does_more_than_a_minute_in_an_evening() -> None:
    reps = "\n".join(f"{ms // 60_000}:{ms // 1_000 % 60:02d} outcome 1" for ms in range(5_000, 600_000, 45_000))
    done: dict[str, int] = {}
    for who, owes in pays(f"0:00 go\n{reps}"):
        for one in who:
            done[one] = done.get(one, 0) + owes
    assert set(done.values()) == {60_000}
