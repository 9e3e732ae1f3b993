"""Stations, spots and the situation of a game, written by hand."""

import pytest

from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, happen
from courttimer.practice.spots import round_over
from courttimer.practice.state import opening
from tests.practice.hand import cues, events, play, written

TWO = """
[[segment]]
kind = "stations"
name = "Two baskets"
each = "60 s"
change = "20 s"
station = [
  { name = "Closeouts", rep = { live = "8 s", off = "4 s" }, heard = true },
  { name = "Handles", rep = { live = "20 s", off = "4 s" }, heard = true },
]
"""


def test_two_stations_beat_their_own_time_and_the_change_is_common() -> None:
    practice = play(TWO, "0:00 go")

    assert events(practice, 0, 24_000) == written("""
        0 call go
        0 segment 0 for 140000
        0 line-up segment: group group 1 | group group 2
        0 rep 1 for 60000
        0 @1 rep 1 for 8000
        0 @2 rep 1 for 20000
        8000 @1 rep 1 over: time
        8000 @1 off for 4000
        12000 @1 rep 2 for 8000
        20000 @1 rep 2 over: time
        20000 @2 rep 1 over: time            # all that ends, before all that begins
        20000 @1 off for 4000
        20000 @2 off for 4000
        24000 @1 rep 3 for 8000
        24000 @2 rep 2 for 20000
    """)
    assert events(practice, 56_000) == written("""
        56000 @1 rep 5 over: time
        56000 @1 spare                       # no rep of 8 s fits after an off time of 4 s
        60000 rep 1 over: time               # station 2 has stood in spare time since 44 s
        60000 turn change: group group 2 | group group 1
        60000 off for 20000
        80000 rep 2 for 60000
        80000 @1 rep 1 for 8000
        80000 @2 rep 1 for 20000
        88000 @1 rep 1 over: time
        88000 @1 off for 4000
        92000 @1 rep 2 for 8000
        100000 @1 rep 2 over: time
        100000 @2 rep 1 over: time
        100000 @1 off for 4000
        100000 @2 off for 4000
        104000 @1 rep 3 for 8000
        104000 @2 rep 2 for 20000
        112000 @1 rep 3 over: time
        112000 @1 off for 4000
        116000 @1 rep 4 for 8000
        124000 @1 rep 4 over: time
        124000 @2 rep 2 over: time
        124000 @1 off for 4000
        124000 @2 spare
        128000 @1 rep 5 for 8000
        136000 @1 rep 5 over: time
        136000 @1 spare
        140000 rep 2 over: time
        140000 turn change: group group 1 | group group 2
        140000 segment 0 over: time
        140000 practice over
    """)


def test_with_fewer_players_than_stations_everyone_comes_to_every_station() -> None:
    three = TWO.replace("station = [", 'station = [ { name = "Form shooting" },')
    practice = play(three, "0:00 go", players='[squad]\nplayers = ["Ada", "Bea"]\n')
    lined = [e for e in practice.events if isinstance(e, ev.LinedUp | ev.Turned) and e.lane == 0]
    there = [[", ".join(names) for ((_, names),) in e.standing] for e in lined]
    assert there[:3] == [["group 1", "group 2", ""], ["", "group 1", "group 2"], ["group 2", "", "group 1"]]


def test_two_stations_that_want_to_speak_at_once_are_heard_one_after_the_other() -> None:
    practice = play(TWO, "0:00 go")

    assert cues(practice, 0, 80_000) == written("""
        0 go change                          # one tone for both
        8000 end
        11375 Ready. until 11750
        12000 go
        20000 end                            # one tone for both
        22850 Ready. until 23225             # one of them a breath of 150 ms before the other
        23375 Ready. until 23750
        24000 go
        32000 end
        35375 Ready. until 35750
        36000 go
        44000 end
        47375 Ready. until 47750
        48000 go
        56000 end
        60000 change
        60890 Change. One to the right. until 63165
        80000 go
    """)


QUIET = TWO.replace(", heard = true", "")


def test_of_stations_that_say_nothing_only_the_change_is_heard() -> None:
    assert cues(play(QUIET, "0:00 go"), 0, 80_000) == written("""
        0 go change
        60000 change
        60890 Change. One to the right. until 63165
        80000 go
    """)


def test_a_station_that_stands_holds_nobody_else_and_what_it_lost_is_told() -> None:
    practice = play(QUIET, "0:00 go\n0:04 station 1\n0:05 hold\n0:15 go\n0:58 hold")

    assert [one for one in events(practice, 0, 60_000).splitlines() if "@2" not in one] == written("""
        0 call go
        0 segment 0 for 140000
        0 line-up segment: group group 1 | group group 2
        0 rep 1 for 60000
        0 @1 rep 1 for 8000
        4000 call station 1
        5000 @1 call hold
        5000 @1 rep 1 over: held
        15000 @1 call go
        15000 @1 hold over
        15000 @1 ready for 2000
        17000 @1 rep 1 for 8000
        25000 @1 rep 1 over: time
        25000 @1 off for 4000
        29000 @1 rep 2 for 8000
        37000 @1 rep 2 over: time
        37000 @1 off for 4000
        41000 @1 rep 3 for 8000
        49000 @1 rep 3 over: time
        49000 @1 spare
        58000 @1 call hold
        60000 @1 station over, lost 12000    # ten seconds, and two more
        60000 rep 1 over: time
        60000 turn change: group group 2 | group group 1
        60000 off for 20000
    """).splitlines()
    assert [one for one in events(practice, 0, 60_000).splitlines() if "@2" in one] == written("""
        0 @2 rep 1 for 20000
        20000 @2 rep 1 over: time
        20000 @2 off for 4000
        24000 @2 rep 2 for 20000
        44000 @2 rep 2 over: time
        44000 @2 spare
    """).splitlines()


def test_half_minutes_that_a_station_has_lost_are_said_at_the_change() -> None:
    practice = play(QUIET, "0:00 go\n0:05 station 2\n0:06 hold\n0:26 go")

    assert "  60000 @2 station over, lost 20000" in events(practice)
    assert cues(practice, 60_000, 79_999) == written("""
        60000 change
        60890 Change. One to the right. until 63165
        63315 Handles lost thirty seconds. until 64815      # to the half minute
    """)


COUNTS = """
[[segment]]
kind = "stations"
name = "Counts"
each = "60 s"
station = [
  { name = "Left", rep = { live = "50 s" }, score = { race = 9 }, outcome = [ { name = "make", points = 1 } ] },
  { name = "Right", rep = { live = "50 s" }, score = { race = 9 }, outcome = [ { name = "make", points = 1 } ] },
]
"""


def test_a_station_takes_back_its_own_last_call_though_others_have_called_since() -> None:
    calls = """
        0:00 go
        0:05 station 1
        0:06 outcome 1
        0:07 outcome 1
        0:08 station 2
        0:09 outcome 1
        0:10 station 1
        0:11 take back
        0:12 take back
        0:13 take back
        0:14 put back
        0:15 station 2
        0:16 take back
    """
    practice = play(COUNTS, calls)

    assert events(practice, 5_000, 20_000) == written("""
        5000 call station 1
        6000 @1 call make
        6000 @1 scored make: group 1 1
        7000 @1 call make
        7000 @1 scored make: group 1 1
        8000 call station 2
        9000 @2 call make
        9000 @2 scored make: group 2 1
        10000 call station 1
        11000 @1 call take back (make)
        9000 @2 scored make: group 2 1           # the call of station 2 stands
        12000 @1 call take back (make)
        9000 @2 scored make: group 2 1
        13000 refused take back: this station has nothing to take back
        14000 call put back
        15000 call station 2
        16000 @2 call take back (make)
    """)


def test_a_call_to_the_floor_bars_a_station_from_taking_back_what_was_before_it() -> None:
    practice = play(COUNTS, "0:00 go\n0:05 station 1\n0:06 outcome 1\n0:08 hold\n0:09 longer\n0:12 take back")

    assert events(practice, 8_000, 20_000) == written("""
        8000 @1 call hold
        8000 @1 rep 1 over: held
        9000 call Lengthened
        12000 refused take back: this station has nothing to take back
    """)


SPOTS = """
[[segment]]
kind = "spots"
name = "Corners"
spots = ["left", "right"]
shots = 10
within = "20 s"
rounds = 2
"""


def test_makes_are_entered_for_the_round_that_is_over_and_what_is_not_entered_is_unknown() -> None:
    calls = """
        0:00 go
        0:45 makes left 7
        0:46 makes right 0
        0:50 makes top 1
        0:51 makes left 11
        1:05 makes left 8 round 2
    """
    practice = play(SPOTS, calls)

    assert events(practice) == written("""
        0 call go
        0 segment 0 for 80000
        0 rep 1 for 20000
        20000 rep 1 over: time
        20000 rep 2 for 20000
        40000 rep 2 over: time
        40000 rep 3 for 20000
        45000 call makes left 7 round 1
        46000 call makes right 0 round 1
        50000 refused makes top: there is no spot "top"; there are left, right
        51000 refused makes left: 10 shots were taken at each spot (got 11)
        60000 rep 3 over: time
        60000 rep 4 for 20000
        65000 call makes left 8 round 2
        80000 rep 4 over: time
        80000 segment 0 over: time
        80000 practice over
    """)
    entered = [e for e in practice.events if isinstance(e, ev.MakesEntered)]
    assert {(e.spot, e.round): e.makes for e in entered} == {("left", 1): 7, ("right", 1): 0, ("left", 2): 8}
    assert not round_over(opening(practice.reading.session, 0))


def test_shuffled_spots_come_in_the_order_of_their_seed() -> None:
    one, again = (play(SPOTS.replace('rounds = 2', 'rounds = 3\nshuffled = 7'), "0:00 go") for _ in range(2))
    order = next(e.order for e in one.events if isinstance(e, ev.SpotsOrdered))

    assert order == next(e.order for e in again.events if isinstance(e, ev.SpotsOrdered))
    assert [sorted(order[at : at + 2]) for at in (0, 2, 4)] == [["left", "right"]] * 3


GAME = """
[[segment]]
kind = "scrimmage"
name = "Last minute"
time = "4 min"
outcome = [ { name = "two", points = 2, to = "blue" } ]
game = { clock = "1:00", stops = true, score = { blue = 41, red = 44 }, ball = "blue", repeat = true }
"""
TEAMS = '[squad]\nplayers = ["Ada", "Bea"]\nteams = { blue = ["Ada"], red = ["Bea"] }\n'


def test_the_game_clock_stops_and_starts_and_the_situation_is_played_again_from_its_score() -> None:
    calls = "0:00 go\n0:10 forward\n0:20 outcome 1\n0:30 forward\n0:45 forward\n0:50 outcome 1\n1:00 go\n1:40 forward\n1:45 outcome 1"
    practice = play(GAME, calls, players=TEAMS)

    assert events(practice, 0, 106_000) == written("""
        0 call go
        0 segment 0 for 240000
        0 waiting for 180001
        10000 call go
        10000 rep 1 for 60000
        20000 call two
        20000 scored two: blue 2
        30000 @0 call hold
        45000 @0 call go
        45000 @0 hold over
        50000 call two
        50000 scored two: blue 2
        60000 refused go: that means nothing in live time
        85000 rep 1 over: time               # one minute of play
        85000 waiting for 95001
        100000 call go
        100000 rep 2 for 60000
        105000 call two
        105000 scored two: blue 2
    """.replace("@0 ", ""))


def test_each_situation_of_a_game_begins_at_its_score() -> None:
    practice = play(GAME, "0:00 go\n0:10 forward\n0:20 outcome 1\n1:15 score blue +1\n1:20 forward\n1:25 score red +1", players=TEAMS)
    b = Branch(opening(practice.reading.session, 0))
    points = list[dict[str, int]]()
    for e in practice.events:
        b = happen(b, e)
        if isinstance(e, (ev.RepBegan, ev.Scored, ev.ScoreCorrected)):
            points.append(dict(b.now.lanes[0].sheet.points))

    assert points == [
        {"blue": 41, "red": 44}, {"blue": 43, "red": 44}, {"blue": 44, "red": 44},
        {"blue": 41, "red": 44}, {"blue": 41, "red": 45},
    ]  # fmt: skip


def test_each_group_has_its_own_score_at_each_station() -> None:
    calls = "0:00 go\n0:05 station 1\n0:06 outcome 1\n0:08 outcome 1\n1:04 station 1\n1:05 outcome 1\n1:06 station 2\n1:07 outcome 1"
    practice = play(COUNTS.replace("race = 9", "race = 2"), calls)

    assert [one.strip() for one in events(practice).splitlines() if "scored" in one or "target" in one] == [
        "6000 @1 scored make: group 1 1",
        "8000 @1 scored make: group 1 1",
        "8000 @1 target race: group 1 2:0, won by group 1 Ada Cleo Edda",
        "65000 @1 scored make: group 2 1",
        "67000 @2 scored make: group 1 1",
    ]


LONG = """
[[segment]]
kind = "stations"
each = "10 min"
station = [
  { name = "Ones", roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ], rep = { live = "8 min" } },
  { name = "Form" },
]
"""


def test_who_is_hurt_leaves_the_line_of_her_station_at_once_and_who_comes_late_stands_in_one() -> None:
    """The groups are put right first, then the stations at which they are."""
    practice = play(LONG, "0:00 late Fern\n0:00 go\n0:01 here Fern\n0:03 out Ada")

    assert [one.strip() for one in events(practice, 0, 400_000).splitlines() if "line-up" in one] == [
        "0 line-up segment: group group 1 | group group 2",
        "0 @1 line-up segment: attack Ada; defend Cleo; off Edda",
        "3000 line-up out: group group 1 | group group 2",
        "3000 @1 line-up out: attack Edda; defend Cleo; off",
        "301000 line-up joined: group group 1 | group group 2",
        "301000 @1 line-up joined: attack Edda; defend Cleo; off Fern",
    ]


DUEL = """
[[segment]]
kind = "stations"
each = "60 s"
change = "10 s"
[[segment.station]]
name = "Duel"
roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]
rep = { live = "8 s", off = "2 s" }
score = { race = 2, by = "player", then = "end drill" }
outcome = [ { name = "basket", points = 1, to = "attack" } ]
[[segment.station]]
name = "Form"
"""
DUELS = "0:00 go\n0:01 station 1\n0:02 outcome 1\n0:05 outcome 1\n1:11 station 1\n1:12 outcome 1\n1:15 outcome 1"


@pytest.mark.parametrize("then", ["", ', then = "end drill"'])
def test_each_group_that_comes_to_a_station_plays_its_own_race_there(then: str) -> None:
    practice = play(DUEL.replace(', then = "end drill"', then), DUELS)

    assert [one.strip() for one in events(practice).splitlines() if "target race" in one] == [
        "5000 @1 target race: Ada 2:0, won by Ada",
        "75000 @1 target race: Bea 2:0, won by Bea",
    ]


def test_two_of_one_group_do_not_go_on_with_the_points_of_two_who_have_gone() -> None:
    """Both twos are group 1 of their station; the first has scored once, and so has the second."""
    roles = DUEL.replace('{ name = "attack"', '{ size = 2, name = "attack"').replace('"defend"', '"defend", size = 2')
    eight = '[squad]\nplayers = ["Ada", "Bea", "Cleo", "Dina", "Edda", "Fern", "Gwen", "Hana"]\n'
    practice = play(roles.replace('by = "player", ', ""), "\n".join(DUELS.splitlines()[i] for i in (0, 1, 2, 4, 5)), players=eight)

    assert [one.strip() for one in events(practice).splitlines() if "scored" in one or "target" in one] == [
        "2000 @1 scored basket: group 1 1",
        "72000 @1 scored basket: group 1 1",
    ]


def test_every_group_may_reach_what_the_first_one_reached_at_a_station_without_roles() -> None:
    calls = "0:00 go\n0:05 station 1\n0:06 outcome 1\n0:08 outcome 1\n1:21 station 1\n1:22 outcome 1\n1:23 outcome 1"
    practice = play(COUNTS.replace("race = 9", "race = 2"), calls)

    assert [one.strip() for one in events(practice).splitlines() if "target" in one] == [
        "8000 @1 target race: group 1 2:0, won by group 1 Ada Cleo Edda",
        "83000 @1 target race: group 2 2:0, won by group 2 Bea Dina Fern",
    ]


THREE = """
[[segment]]
kind = "stations"
name = "Three"
each = "20 s"
change = "5 s"
station = [ { name = "One" }, { name = "Two" }, { name = "Three" } ]
"""


def test_at_the_change_each_group_goes_one_to_the_right_and_the_last_to_the_first() -> None:
    lines = events(play(THREE, "0:00 go")).splitlines()

    assert [one.strip() for one in lines if "line-up" in one or "turn" in one][:3] == [
        "0 line-up segment: group group 1 | group group 2 | group group 3",
        "20000 turn change: group group 3 | group group 1 | group group 2",
        "45000 turn change: group group 2 | group group 3 | group group 1",
    ]


def test_two_calls_taken_back_are_put_back_one_after_the_other() -> None:
    calls = "0:00 go\n0:05 station 1\n0:06 outcome 1\n0:07 outcome 1\n0:08 take back\n0:09 take back\n0:10 put back\n0:11 put back"

    assert events(play(COUNTS, calls), 10_000, 20_000) == written("""
        10000 call put back
        11000 call put back
    """)


def test_a_clickers_forward_does_not_end_the_time_of_all_stations_but_key_0_does() -> None:
    """The coach's thumb is on that button all evening; only the key that says over ends what three groups do."""
    pressed = play(TWO, "0:00 go\n0:30 forward")
    assert [e.why.split(":")[0] for e in pressed.events if isinstance(e, ev.Refused)] == ["every station has its own clock"]
    assert [e.at for e in pressed.events if isinstance(e, ev.RepEnded) and e.lane == 0] == [60_000, 140_000]

    ended = play(TWO, "0:00 go\n0:30 over")
    assert [e.at for e in ended.events if isinstance(e, ev.RepEnded) and e.lane == 0] == [30_000, 110_000]
