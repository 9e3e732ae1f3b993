"""Consequences written by hand: who does them, for how long, and when nobody does."""

from collections.abc import Iterator

import pytest

from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, happen
from courttimer.practice.inside import inside
from courttimer.practice.state import State, opening
from courttimer.rehearsal import Played
from tests.practice.hand import events, play


def walked(practice: Played) -> Iterator[tuple[ev.Event, State]]:
    """Every event with the state after it."""
    b = Branch(opening(practice.reading.session, 0))
    for e in practice.events:
        b = happen(b, e)
        yield e, b.now


DUELS = """
[[segment]]
kind = "drill"
name = "Duels"
time = "2 min"
roles = [ { name = "attack" }, { name = "defend" } ]
rep = { live = "20 s", off = "5 s" }
score = { race = 1, by = "player", then = "again" }
consequence = { time = "20 s" }
outcome = [ { name = "basket", points = 1, to = "attack" }, { name = "stop", points = 1, to = "defend" } ]
"""
PAIR = '[squad]\nplayers = ["Ada", "Bea"]\n'


def test_of_two_races_that_are_lost_in_one_rep_both_losers_pay_at_its_end() -> None:
    practice = play(DUELS, "0:00 go\n0:02 outcome 1\n0:04 outcome 2", players=PAIR)
    (begun,) = [s for e, s in walked(practice) if isinstance(e, ev.StretchBegan) and e.stretch == "consequence"]

    assert begun.lanes[0].payers == ("Bea", "Ada")
    assert inside(begun, begun.at).does == "Bea, Ada"
    assert "20000 consequence for 20000" in events(practice)


@pytest.mark.parametrize("since", ["heat 38 C 60 %", "out Bea"])
def test_what_is_owed_is_not_done_when_it_has_become_too_hot_or_the_loser_is_hurt(since: str) -> None:
    practice = play(DUELS, f"0:00 go\n0:02 outcome 1\n0:05 {since}", players=PAIR)

    assert "pay" in events(practice)
    assert "20000 off for 5000" in events(practice)
    assert "consequence" not in events(practice)


def test_a_drill_that_is_over_does_not_wait_for_a_consequence_that_nobody_does() -> None:
    practice = play(DUELS, "0:00 go\n0:02 outcome 1\n0:04 last\n0:06 out Bea", players=PAIR)

    assert "20000 segment 0 over: last" in events(practice)


COUNTED = """
[[segment]]
kind = "drill"
name = "Count aloud"
time = "5 min"
rep = { live = "20 s", off = "5 s" }
score = { row = 6, by = "player", counted = "players", then = "again" }
consequence = { time = "25 s" }
outcome = [ { name = "made", points = 1 } ]
"""


def test_a_target_that_is_told_in_spare_time_has_its_consequence_and_ends_the_drill() -> None:
    drill = COUNTED.replace("5 min", "60 s").replace("again", "end drill").replace("25 s", "10 s")

    assert [one.strip() for one in events(play(drill, "0:00 go\n0:47 outcome 2"), 45_000).splitlines()] == [
        "45000 rep 2 over: time", "45000 spare", "47000 call reached", "47000 target called: - 6:0, all pay 10000",
        "47000 consequence for 10000", "57000 segment 0 over: target", "57000 practice over",
    ]  # fmt: skip


def test_where_only_the_players_know_who_has_lost_it_may_be_the_same_one_each_time() -> None:
    """Each time it may be Ada: her minute is over after three times twenty seconds, so nobody pays a fourth time."""
    calls = "0:00 go\n0:05 outcome 2\n0:55 outcome 2\n1:45 outcome 2\n2:20 outcome 2"
    practice = play(COUNTED, calls)

    assert [one.strip() for one in events(practice).splitlines() if "target" in one] == [
        "5000 target called: - 6:0, all pay 25000",
        "55000 target called: - 6:0, all pay 25000",
        "105000 target called: - 6:0, all pay 10000",
        "140000 target called: - 6:0",
    ]


TOGETHER = """
[[segment]]
kind = "drill"
name = "Together"
time = "2 min"
rep = { live = "30 s", off = "5 s" }
score = { race = 2, SCORE, then = "again" }
consequence = { time = "20 s" }
outcome = [ { name = "make", points = 1 }, { name = "miss", breaks = true } ]
"""


def with_roles(score: str, roles: str) -> str:
    return TOGETHER.replace("SCORE", score).replace("rep =", f"{roles}rep =")


@pytest.mark.parametrize(
    ("score", "roles"),
    [('by = "group"', ""), ('by = "rival", rival = 2', ""), ('by = "rival", rival = 2', 'roles = [ { name = "shoot" } ]\n')],
)
def test_who_has_reached_a_target_together_or_has_beaten_the_rival_does_no_consequence(score: str, roles: str) -> None:
    practice = play(with_roles(score, roles), "0:00 go\n0:01 outcome 1\n0:02 outcome 1")

    assert "2000 target race: " in events(practice)
    assert "pay" not in events(practice)
    assert "consequence" not in events(practice)


def test_who_has_lost_to_the_rival_does_the_consequence() -> None:
    practice = play(with_roles('by = "rival", rival = 2', ""), "0:00 go\n0:02 outcome 2")

    assert "2000 target race: rival 2:0, all pay 20000" in events(practice)


@pytest.mark.parametrize(("off", "then"), [("5 s", 35_000), ("0 s", 50_000)])
def test_who_loses_again_while_others_still_pay_does_it_after_the_off_time_or_the_next_rep(off: str, then: int) -> None:
    drill = COUNTED.replace("25 s", "10 s").replace('off = "5 s"', f'off = "{off}"')
    practice = play(drill, "0:00 go\n0:10 outcome 2\n0:25 outcome 2")

    assert [one.strip() for one in events(practice).splitlines() if "target" in one or "consequence" in one] == [
        "10000 target called: - 6:0, all pay 10000", "20000 consequence for 10000", "25000 target called: - 6:0, all pay 10000",
        f"{then} consequence for 10000",
    ]  # fmt: skip
