"""Turns written by hand: who goes where, by rep and by outcome, who comes late, who goes, and who is too few."""

import pytest

from courttimer.practice import events as ev
from tests.practice.hand import cues, events, play, written

TEAMS = """
[squad]
players = ["Ada", "Bea", "Cleo", "Dina", "Edda", "Fern"]
teams = { blue = ["Ada", "Dina"], red = ["Bea", "Edda"], white = ["Cleo", "Fern"] }
"""
STAY_ON = """
[[segment]]
kind = "drill"
name = "Stay on"
time = "3 min"
teams = "squad"
roles = [ { name = "attack", size = 2 }, { name = "defend", size = 2 }, { name = "off", plays = false } ]
rep = { starts = "on call", live = "24 s", turn = { defend = "off", off = "defend" } }
score = { race = 3, by = "team", then = "end drill" }
consequence = { pays = "others", time = "20 s", say = "Others, line and back." }
outcome = [
  { name = "basket", points = 1, to = "attack", ends = "rep", clicker = "forward" },
  { name = "stop", ends = "rep", clicker = "back", turn = { attack = "off", defend = "attack", off = "defend" } },
]
"""


def test_three_teams_go_through_basket_and_stop_with_a_clicker_alone() -> None:
    calls = """
        0:00 go
        0:05 forward
        0:10 forward      # blue scores and stays on
        0:15 forward
        0:20 back         # white stops it, and it is theirs
        0:25 forward
        0:30 forward
        0:35 forward
        0:40 forward
        0:45 forward
        0:50 forward      # three
    """
    practice = play(STAY_ON, calls, players=TEAMS)

    assert events(practice) == written("""
        0 call go
        0 segment 0 for 180000
        0 line-up segment: attack blue; defend red; off white
        0 waiting for 156001
        5000 call go
        5000 rep 1 for 24000
        10000 call basket
        10000 scored basket: blue 1
        10000 rep 1 over: basket
        10000 turn rep: attack blue; defend white; off red
        10000 waiting for 146001
        15000 call go
        15000 rep 2 for 24000
        20000 call stop
        20000 scored stop
        20000 turn stop: attack white; defend red; off blue
        20000 rep 2 over: stop
        20000 waiting for 136001
        25000 call go
        25000 rep 3 for 24000
        30000 call basket
        30000 scored basket: white 1
        30000 rep 3 over: basket
        30000 turn rep: attack white; defend blue; off red
        30000 waiting for 126001
        35000 call go
        35000 rep 4 for 24000
        40000 call basket
        40000 scored basket: white 1
        40000 rep 4 over: basket
        40000 turn rep: attack white; defend red; off blue
        40000 waiting for 116001
        45000 call go
        45000 rep 5 for 24000
        50000 call basket
        50000 scored basket: white 1
        50000 target race: white 3:1, won by white Cleo Fern, Bea Edda Ada Dina pay 20000
        50000 rep 5 over: basket
        50000 turn rep: attack white; defend blue; off red
        50000 consequence for 20000
        70000 segment 0 over: target
        70000 practice over
    """)
    assert cues(practice, 0, 16_000) == written("""
        0 change
        890 Stay on. until 1640
        5000 go
        10000 end
        11050 White on. until 11800
        15000 go
    """)
    assert cues(practice, 50_000) == written("""
        50000 end
        51050 Others, line and back. until 52800
        52950 Blue on. until 53700
        53850 White wins. until 54600
        70000 end
    """)


ONE_TO_TWO = """
[[segment]]
kind = "drill"
name = "One to two"
time = "60 s"
roles = [ {{ name = "attack" }}, {{ name = "defend", size = 2 }}, {{ name = "off", plays = false }} ]
rep = {{ live = "5 s", off = "1 s", turn = {turn} }}
"""
FIVE = '[squad]\nplayers = ["Ada", "Bea", "Cleo", "Dina", "Edda"]\n'


def turns(session: str, players: str, calls: str = "0:00 go", until: int = 24_000) -> list[str]:
    """Every line-up and every turn."""
    lines = events(play(session, calls, players=players), 0, until).splitlines()
    return [one.split(maxsplit=2)[2] for one in lines if one.split()[1] in ("line-up", "turn")]


def test_along_each_arrow_as_many_move_as_the_smaller_side_holds_longest_in_first() -> None:
    table = ONE_TO_TWO.format(turn='{ attack = "defend", defend = "off", off = "attack" }')

    assert turns(table, FIVE) == [
        "segment: attack Ada; defend Bea Cleo; off Dina Edda",
        "rep: attack Dina; defend Cleo Ada; off Edda Bea",
        "rep: attack Edda; defend Ada Dina; off Bea Cleo",
        "rep: attack Bea; defend Dina Edda; off Cleo Ada",
        "rep: attack Cleo; defend Edda Bea; off Ada Dina",
    ]


def test_in_one_line_the_roles_give_the_step_in_their_order() -> None:
    """One comes on for the attack, then two for the defence: the line is Bea, Cleo, Ada, Dina, Edda, who is longest in first."""
    assert turns(ONE_TO_TWO.format(turn='"advance"'), FIVE) == [
        "segment: attack Ada; defend Bea Cleo; off Dina Edda",
        "rep: attack Dina; defend Cleo Ada; off Edda Bea",
        "rep: attack Bea; defend Dina Edda; off Cleo Ada",
        "rep: attack Cleo; defend Edda Bea; off Ada Dina",
        "rep: attack Dina; defend Cleo Ada; off Edda Bea",
    ]


def test_one_and_two_change_over_one_for_one_until_those_who_have_only_waited_come_on() -> None:
    """A swap alone never brings in the line: after as many reps as it is long, its players come on for those longest in."""
    assert turns(ONE_TO_TWO.format(turn='"swap"'), FIVE, until=12_000) == [
        "segment: attack Ada; defend Bea Cleo; off Dina Edda",
        "rep: attack Bea; defend Cleo Ada; off Dina Edda",
        "rep: attack Dina; defend Bea Edda; off Cleo Ada",      # not Cleo, and Ada with Bea
    ]


ONE_ON_ONE = """
[[segment]]
kind = "drill"
name = "One on one"
time = "10 min"
roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]
rep = { live = "20 s", off = "10 s", turn = "advance" }
"""
FOUR = '[squad]\nplayers = ["Ada", "Bea", "Cleo", "Dina"]\n'


def test_who_is_hurt_goes_at_once_with_the_smallest_change_and_who_comes_late_warms_up_for_five_minutes() -> None:
    practice = play(ONE_ON_ONE, "0:00 go\n0:05 out Bea\n0:10 here Bea\n0:12 out bea\n0:15 here Bea", players=FOUR)

    assert events(practice, 0, 30_000) == written("""
        0 call go
        0 segment 0 for 600000
        0 line-up segment: attack Ada; defend Bea; off Cleo Dina
        0 rep 1 for 20000
        5000 call out Bea
        5000 line-up out: attack Ada; defend Cleo; off Dina
        10000 call here Bea
        12000 call out Bea                   # she warmed up, and goes again
        15000 call here Bea
        20000 rep 1 over: time
        20000 turn rep: attack Dina; defend Ada; off Cleo
        20000 off for 10000
        30000 rep 2 for 20000
    """)
    assert [one for one in events(practice).splitlines() if "joins" in one or "joined" in one] == [
        " 315000 Bea joins",
        " 315000 line-up joined: attack Dina; defend Ada; off Cleo Bea",
    ]


def test_too_few_are_told_at_once_with_what_would_fit() -> None:
    drill = ONE_ON_ONE.replace('"attack"', '"attack", size = 3').replace('"defend"', '"defend", size = 3')
    practice = play(drill, "0:00 go", players=FOUR)

    assert "line-up segment: " in events(practice)
    assert "(3 against 3 takes 6, 4 are here: 2 against 2 would fit)" in events(practice)


def test_who_comes_and_makes_it_enough_is_lined_up_with_all_the_others_and_told_no_more() -> None:
    drill = ONE_ON_ONE.replace('"attack"', '"attack", size = 2').replace('"defend"', '"defend", size = 2')
    played = play(drill, "0:00 out Dina\n0:00 go\n0:02 here Dina", players=FOUR)
    lines = [one.strip() for one in events(played).splitlines() if "line-up" in one]

    assert lines[:2] == [
        "0 line-up segment:  (2 against 2 takes 4, 3 are here: 1 against 2 would fit)",
        "302000 line-up segment: attack Ada Bea; defend Cleo Dina; off",
    ]


def test_what_does_not_fit_is_told_with_those_who_are_here_now() -> None:
    two = ONE_ON_ONE.replace("roles =", "places = 2\nroles =")
    told = [e.told for e in play(two, "0:00 out Dina\n0:00 go\n0:02 here Dina\n5:10 out Ada", players=FOUR).events
            if isinstance(e, ev.LinedUp)]  # fmt: skip

    assert told == [f"1 of 2 places: {n} are here, each place takes 2" for n in (3, 4, 3)]


@pytest.mark.parametrize("turn", ["round robin", "fair"])
def test_no_team_without_players_is_made_and_none_plays(turn: str) -> None:
    """Of six teams four have a player; the others are not there."""
    played = play(TOURNAMENT.replace("teams = 4", "teams = 6").replace("round robin", turn), "0:00 go", players=FOUR)

    assert all(names for e in played.events if isinstance(e, ev.LinedUp) for _, names in e.units)
    assert {one for e in played.events if isinstance(e, ev.Turned) for place in e.standing for _, names in place for one in names} == {
        "team 1", "team 2", "team 3", "team 4",
    }  # fmt: skip


def test_of_three_teams_at_two_places_none_plays_itself_in_two_games_at_once() -> None:
    """There is one game at a time; the second place stands empty."""
    two = TOURNAMENT.replace("teams = 4", "teams = 3").replace("teams =", "places = 2\nteams =")

    assert turns(two, FOUR, until=40_000) == [
        "segment: home team 2; away team 3; off team 1",
        "rep: home team 1; away team 2; off team 3",
        "rep: home team 3; away team 1; off team 2",
        "rep: home team 2; away team 3; off team 1",
    ]


def test_a_tournament_of_one_team_is_told_to_be_too_few() -> None:
    practice = play(TOURNAMENT, "0:00 go", players='[squad]\nplayers = ["Ada"]\n')

    assert "(1 against 1 takes 2, 1 is here: choose a drill for 1)" in events(practice)


def test_the_line_is_the_role_called_off_wherever_it_stands_in_the_file() -> None:
    """One shoots for the others; however many there are, the rest wait."""
    shoots = ONE_ON_ONE.replace('{ name = "off"', '{ name = "shooter", plays = false }, { name = "off"')

    assert "line-up segment: attack Ada; defend Bea; shooter Cleo; off Dina Edda Fern" in events(play(shoots, "0:00 go"))


TOURNAMENT = """
[[segment]]
kind = "drill"
name = "Everyone against everyone"
time = "90 s"
teams = 4
roles = [ { name = "home", size = 2 }, { name = "away", size = 2 }, { name = "off", plays = false } ]
rep = { live = "10 s", off = "2 s", turn = "round robin" }
"""


def test_a_small_tournament_is_played_in_the_order_of_the_tables() -> None:
    """Berger table for four: 1-4, 2-3; 4-3, 1-2; 2-4, 3-1 (FIDE Handbook C.05 Annex 1, table A)."""
    players = '[squad]\nplayers = ["Ada", "Bea", "Cleo", "Dina", "Edda", "Fern", "Gwen", "Hana"]\n'

    assert [one.partition("; off")[0] for one in turns(TOURNAMENT, players, until=72_000)] == [
        "segment: home team 1; away team 4",
        "rep: home team 2; away team 3",
        "rep: home team 4; away team 3",
        "rep: home team 1; away team 2",
        "rep: home team 2; away team 4",
        "rep: home team 3; away team 1",
        "rep: home team 1; away team 4",
    ]


WINNERS = """
[[segment]]
kind = "drill"
name = "Winners stay"
time = "60 s"
roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]
rep = { live = "5 s", off = "1 s", turn = "winners stay" }
outcome = [
  { name = "basket", points = 1, to = "attack", ends = "rep" },
  { name = "stop", points = 1, to = "defend", ends = "rep" },
]
"""


def test_winners_stay_and_the_others_go_to_the_end_of_the_line() -> None:
    """When time ends a rep nobody has won, and nobody moves; a turn that is called moves who did not score last."""
    calls = "0:00 go\n0:02 outcome 1\n0:04 outcome 2"

    assert turns(WINNERS, FOUR, calls, until=9_000) == [
        "segment: attack Ada; defend Bea; off Cleo Dina",
        "rep: attack Ada; defend Cleo; off Dina Bea",
        "rep: attack Dina; defend Cleo; off Bea Ada",
    ]


ACCEPTED = """
[[segment]]
kind = "drill"
name = "Late turn"
time = "60 s"
grace = "0 s"
roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]
rep = { live = "20 s", off = "5 s", turn = { attack = "off", off = "attack" } }
window = [ { name = "drive", time = "3 s" } ]
outcome = [
  { name = "basket", points = 1, to = "attack", only_in = "drive", ends = "rep", turn = { defend = "off", off = "defend" } },
]
score = { race = 9, by = "player" }
"""


def test_an_outcome_that_is_accepted_late_moves_from_where_the_rep_was_played() -> None:
    """Not counted at first, so the rep's own turn came; accepted, it is Ada's point, and Bea goes instead of Ada."""
    practice = play(ACCEPTED, "0:00 go\n0:05 outcome 1\n0:07 outcome 1", players=FOUR)

    assert events(practice, 5_000, 10_000) == written("""
        5000 call basket, not: late
        5000 rep 1 over: basket
        5000 turn rep: attack Cleo; defend Bea; off Dina Ada
        5000 off for 5000
        7000 call basket (accepted)
        7000 scored basket: Ada 1
        7000 turn basket: attack Ada; defend Cleo; off Dina Bea
        10000 rep 2 for 20000
        10000 drive opens for 3000
    """)


EVERY_MINUTE = """
[[segment]]
kind = "drill"
name = "Never stops"
time = "3 min"
roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]
rep = { starts = "at once", turn = "advance", turn_every = "40 s" }
"""


def test_in_play_that_never_stops_the_turn_comes_by_time_and_by_call() -> None:
    practice = play(EVERY_MINUTE, "0:00 go\n0:50 turn\n1:00 hold\n1:10 go", players=FOUR)

    assert [one for one in events(practice).splitlines() if " turn" in one] == [
        "  40000 turn time: attack Cleo; defend Ada; off Dina Bea",
        "  50000 call turn",
        "  50000 turn call: attack Dina; defend Cleo; off Bea Ada",
        " 100000 turn time: attack Bea; defend Dina; off Ada Cleo",   # 40 s of play after the last one
        " 140000 turn time: attack Ada; defend Bea; off Cleo Dina",
        " 180000 turn time: attack Cleo; defend Ada; off Dina Bea",
        " 190000 turn rep: attack Dina; defend Cleo; off Bea Ada",
    ]


def test_with_fair_turns_by_time_everyone_has_had_their_share_of_play_that_never_stops() -> None:
    fair = EVERY_MINUTE.replace("advance", "fair").replace("3 min", "4:05")

    assert [one.partition("; off")[0] for one in turns(fair, FIVE, until=244_000)] == [
        "segment: attack Ada; defend Bea",
        "time: attack Cleo; defend Dina",
        "time: attack Edda; defend Ada",      # Edda had waited; then those who have waited longest
        "time: attack Bea; defend Cleo",
        "time: attack Dina; defend Edda",     # after five stints everyone has had two: one of each
        "time: attack Ada; defend Bea",
        "time: attack Cleo; defend Dina",
    ]
