"""Scores written by hand: races, rows, caps, counts by the players, consequences, and all of it taken back."""

from tests.practice.hand import cues, events, play, written

RACE = """
[[segment]]
kind = "drill"
name = "To three"
time = "3 min"
roles = [ { name = "attack" }, { name = "defend" } ]
rep = { live = "8 s", off = "2 s" }
score = { race = 3, win_by = 2, then = "again" }
outcome = [
  { name = "basket", points = 1, to = "attack", ends = "rep" },
  { name = "stop", points = 1, to = "defend", ends = "rep" },
]
"""
NOBODY = ""


def test_a_race_to_three_by_two_goes_on_at_three_all_but_one() -> None:
    calls = "0:00 go\n0:01 outcome 1\n0:04 outcome 2\n0:07 outcome 1\n0:10 outcome 2\n0:13 outcome 1\n0:16 outcome 1\n0:19 outcome 2"
    practice = play(RACE, calls, players=NOBODY)

    assert events(practice, 13_000, 21_000) == written("""
        13000 call basket
        13000 scored basket: attack 1        # three to two is not enough
        13000 rep 5 over: basket
        13000 off for 2000
        15000 rep 6 for 8000
        16000 call basket
        16000 scored basket: attack 1
        16000 target race: attack 4:2
        16000 rep 6 over: basket
        16000 off for 2000
        18000 rep 7 for 8000
        19000 call stop
        19000 scored stop: defend 1
        19000 rep 7 over: stop
        19000 off for 2000
        21000 rep 8 for 8000
    """)


ROW = """
[[segment]]
kind = "drill"
name = "Three in a row"
time = "2 min"
rep = { live = "30 s", off = "10 s" }
score = { row = 3, tally = true, then = "again" }
outcome = [ { name = "make", points = 1 }, { name = "miss", breaks = true } ]
"""


def test_a_row_that_breaks_on_its_last_begins_again_and_is_told_when_the_ball_is_dead() -> None:
    keys = {2: 1, 4: 1, 6: 2, 8: 1, 10: 1, 12: 1, 14: 1}
    calls = "0:00 go\n" + "\n".join(f"0:{at:02d} outcome {key}" for at, key in keys.items())
    practice = play(ROW, calls, players=NOBODY)

    assert events(practice, 0, 30_000) == written("""
        0 call go
        0 segment 0 for 120000
        0 rep 1 for 30000
        2000 call make
        2000 scored make: all 1, row all 1, of all 1 1
        4000 call make
        4000 scored make: all 1, row all 2, of all 1 1
        6000 call miss
        6000 scored miss: row all 0, of all 0 1
        8000 call make
        8000 scored make: all 1, row all 1, of all 1 1
        10000 call make
        10000 scored make: all 1, row all 2, of all 1 1
        12000 call make
        12000 scored make: all 1, row all 3, of all 1 1
        12000 target row: all 3:0
        14000 call make
        14000 scored make: all 1, row all 1, of all 1 1
        30000 rep 1 over: time
        30000 off for 10000
    """)
    # "Back to zero" at 6.000 s would be 24 s old by the off time, and the row is 18 s old: neither is true any more.
    assert cues(practice, 30_000, 40_000) == written("""
        30000 end
        39375 Ready. until 39750
        40000 go
    """)


SHORT_ROW = ROW.replace("30 s", "12 s")


def test_what_has_just_happened_to_a_row_is_said_in_the_off_time_and_the_newest_word_of_each_only() -> None:
    practice = play(SHORT_ROW, "0:00 go\n0:06 outcome 1\n0:08 outcome 1\n0:09 outcome 2", players=NOBODY)

    assert cues(practice, 0, 22_000) == written("""
        0 go change
        12000 end
        13050 Back to zero. until 14175
        21375 Ready. until 21750
        22000 go
    """)


BOTH_ROWS = """
[[segment]]
kind = "drill"
name = "Two rows"
time = "60 s"
roles = [ { name = "attack" }, { name = "defend" } ]
rep = { live = "30 s" }
score = { row = 4 }
outcome = [
  { name = "basket", points = 1, to = "attack" },
  { name = "stop", points = 1, to = "defend", breaks = true },
  { name = "steal", to = "defend", breaks = true },
]
"""


def test_what_breaks_a_row_spares_the_side_that_broke_it() -> None:
    practice = play(BOTH_ROWS, "0:00 go\n0:01 outcome 2\n0:02 outcome 1\n0:03 outcome 3\n0:04 outcome 2", players=NOBODY)

    assert [one.strip() for one in events(practice).splitlines() if "scored" in one] == [
        "1000 scored stop: defend 1, row defend 1",
        "2000 scored basket: attack 1, row attack 1",
        "3000 scored steal: row attack 0",
        "4000 scored stop: defend 1, row defend 2",
    ]


EDGE = """
[[segment]]
kind = "drill"
name = "Edge"
time = "8 s"
grace = "0 s"
roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]
rep = { live = "8 s", turn = "advance" }
score = { race = 1, by = "player", then = "again" }
window = [ { name = "hold out", time = "8 s", runs_out = "stop" } ]
outcome = [ { name = "stop", points = 1, to = "defend", ends = "rep" } ]
[[segment]]
kind = "talk"
time = "10 s"
"""


def test_a_close_a_score_a_target_a_turn_and_the_end_of_rep_and_segment_keep_their_order_in_one_millisecond() -> None:
    practice = play(EDGE, "0:00 go\n0:08 outcome 1", players='[squad]\nplayers = ["Ada", "Bea", "Cleo"]\n')

    assert events(practice, 8_000, 8_000) == written("""
        8000 hold out closes: time
        8000 stop comes for hold out
        8000 scored stop: Bea 1
        8000 target race: Bea 1:0, won by Bea
        8000 rep 1 over: stop
        8000 turn rep: attack Cleo; defend Ada; off Bea
        8000 segment 0 over: time
        8000 segment 1 for 10000
        8000 on
        8000 refused outcome 1: that means nothing in talk time
    """)


TAKEN = """
[[segment]]
kind = "drill"
name = "First to two"
time = "3 min"
roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]
rep = { live = "30 s", off = "5 s", turn = "advance" }
score = { race = 2, by = "player", then = "again" }
consequence = { pays = "losers", time = "20 s" }
outcome = [ { name = "basket", points = 2, to = "attack", ends = "rep" } ]
"""


def test_a_take_back_reaches_across_target_consequence_and_turn_and_put_back_too() -> None:
    calls = "0:00 go\n0:05 outcome 1\n0:12 take back\n0:13 put back\n0:40 take back\n0:41 put back"
    practice = play(TAKEN, calls, players='[squad]\nplayers = ["Ada", "Bea", "Cleo"]\n')

    assert events(practice, 0, 60_000) == written("""
        0 call go
        0 segment 0 for 180000
        0 line-up segment: attack Ada; defend Bea; off Cleo
        0 rep 1 for 30000
        5000 call basket
        5000 scored basket: Ada 2
        5000 target race: Ada 2:0, won by Ada, Bea pay 20000
        5000 rep 1 over: basket
        5000 turn rep: attack Cleo; defend Ada; off Bea
        5000 consequence for 20000
        12000 call take back (basket)
        13000 call put back                  # at 12 s the rep was still live: nothing was missed
        25000 off for 5000
        30000 rep 2 for 30000
        40000 call take back (basket)
        30000 rep 1 over: time               # what would have been
        30000 turn rep: attack Cleo; defend Ada; off Bea
        30000 off for 5000
        35000 rep 2 for 30000
        41000 call put back
        60000 rep 2 over: time
        60000 turn rep: attack Bea; defend Cleo; off Ada
        60000 off for 5000
    """)


def test_nobody_pays_more_than_a_minute_in_an_evening_and_who_came_late_never_pays() -> None:
    drill = TAKEN.replace("20 s", "25 s").replace(', turn = "advance"', "").replace('"losers"', '"others"')
    calls = "0:00 late Cleo\n0:00 go\n0:00.100 here Cleo\n0:05 outcome 1\n0:36 outcome 1\n1:07 outcome 1\n1:23 outcome 1"
    practice = play(drill, calls, players='[squad]\nplayers = ["Ada", "Bea", "Cleo"]\n')

    assert [one.strip() for one in events(practice).splitlines() if "target" in one] == [
        "5000 target race: Ada 2:0, won by Ada, Bea pay 25000",
        "36000 target race: Ada 2:0, won by Ada, Bea pay 25000",
        "67000 target race: Ada 2:0, won by Ada, Bea pay 10000",
        "83000 target race: Ada 2:0, won by Ada",
    ]


COUNTED = """
[[segment]]
kind = "drill"
name = "Count aloud"
time = "3 min"
rep = { live = "20 s", off = "5 s" }
score = { row = 6, by = "player", counted = "players", then = "again" }
consequence = { pays = "losers", time = "10 s", say = "Line and back." }
outcome = [ { name = "made", points = 1 } ]
"""


def test_where_the_players_count_only_reached_and_broken_are_called() -> None:
    """Keys: 1 made, 2 reached, 3 broken. Who has won is put in afterwards."""
    practice = play(COUNTED, "0:00 go\n0:03 outcome 1\n0:05 outcome 3\n0:18 outcome 2\n0:22 score Bea +1")

    assert events(practice, 0, 35_000) == written("""
        0 call go
        0 segment 0 for 180000
        0 rep 1 for 20000
        3000 call made
        5000 call broken
        5000 scored broken
        18000 call reached
        18000 target called: - 6:0, all pay 10000
        20000 rep 1 over: time
        20000 consequence for 10000
        22000 call score Bea +1
        30000 off for 5000
        35000 rep 2 for 20000
    """)
    assert cues(practice, 20_000, 35_000) == written("""
        20000 end
        21050 Line and back. until 22175
        22325 Six reached. until 23075
        30000 end
        34375 Ready. until 34750
        35000 go
    """)


def test_what_the_players_tell_when_the_ball_is_dead_counts_too() -> None:
    """Whoever has six says so after the shot that ended the rep, and does not wait for the next one."""
    practice = play(COUNTED.replace("off = \"5 s\"", "off = \"10 s\""), "0:00 go\n0:20.500 outcome 2\n0:22 outcome 3\n0:24 outcome 1")

    assert events(practice, 20_500, 50_000) == written("""
        20500 call reached
        20500 target called: - 6:0, all pay 10000
        22000 call broken
        22000 scored broken
        24000 refused outcome 1: that means nothing in off time
        30000 consequence for 10000
        40000 off for 10000
        50000 rep 2 for 20000
    """)


CAP = """
[[segment]]
kind = "drill"
name = "Twenty seconds"
time = "2 min"
roles = [ { name = "attack" }, { name = "defend" } ]
rep = { starts = "at once" }
score = { race = 9, cap = "20 s", then = "again" }
outcome = [ { name = "basket", points = 1, to = "attack" }, { name = "stop", points = 1, to = "defend" } ]
"""


def test_a_race_whose_time_is_over_is_won_by_the_leader_or_is_a_tie_and_a_hold_does_not_count() -> None:
    calls = "0:00 go\n0:05 outcome 1\n0:06 outcome 1\n0:07 outcome 2\n0:25 outcome 2\n0:30 outcome 1\n0:32 hold\n0:42 go"
    practice = play(CAP, calls, players=NOBODY)

    assert events(practice, 0, 70_000) == written("""
        0 call go
        0 segment 0 for 120000
        0 rep 1
        5000 call basket
        5000 scored basket: attack 1
        6000 call basket
        6000 scored basket: attack 1
        7000 call stop
        7000 scored stop: defend 1
        20000 target cap: attack 2:1
        25000 call stop
        25000 scored stop: defend 1
        30000 call basket
        30000 scored basket: attack 1
        32000 call hold
        42000 call go
        42000 hold over
        50000 target cap: - 1:1
        70000 target cap: - 0:0
    """)


END = """
[[segment]]
kind = "drill"
name = "To one"
time = "3 min"
roles = [ { name = "attack" }, { name = "defend" } ]
rep = { live = "30 s", off = "5 s" }
score = { race = 1, then = "end drill" }
consequence = { time = "10 s" }
outcome = [ { name = "basket", points = 1, to = "attack" } ]
[[segment]]
kind = "talk"
time = "10 s"
"""


def test_a_target_may_end_the_drill_and_its_consequence_is_done_first() -> None:
    practice = play(END, "0:00 go\n0:05 outcome 1", players='[squad]\nplayers = ["Ada", "Bea"]\n')

    assert events(practice, 5_000, 15_000) == written("""
        5000 call basket
        5000 scored basket: Ada 1
        5000 target race: Ada 1:0, won by Ada, Bea pay 10000
        5000 rep 1 over: target
        5000 consequence for 10000
        15000 segment 0 over: target
        15000 segment 1 for 10000
        15000 on
    """)
    assert cues(practice, 5_000, 15_000) == written("""
        5000 end
        6050 Losers: ten seconds. until 7425
        7575 Ada wins. until 8325
        15000 change
    """)


RIVAL = """
[[segment]]
kind = "drill"
name = "Beat the rival"
time = "2 min"
rep = { live = "60 s", off = "5 s" }
score = { race = 3, by = "rival", rival = 2, tally = true }
outcome = [ { name = "make", points = 1 }, { name = "miss", breaks = true } ]
"""


def test_a_rival_who_is_only_imagined_scores_for_each_miss() -> None:
    practice = play(RIVAL, "0:00 go\n0:01 outcome 1\n0:02 outcome 2\n0:03 outcome 2\n0:04 outcome 1", players=NOBODY)

    assert events(practice, 1_000, 4_000) == written("""
        1000 call make
        1000 scored make: us 1, of us 1 1
        2000 call miss
        2000 scored miss: rival 2, of us 0 1
        3000 call miss
        3000 scored miss: rival 2, of us 0 1
        3000 target race: rival 4:1
        4000 call make
        4000 scored make: us 1, of us 1 1
    """)


def test_a_score_put_right_may_reach_the_target() -> None:
    practice = play(RACE, "0:00 go\n0:01 outcome 1\n0:03 score attack +2\n0:04 score nobody +1", players=NOBODY)

    assert events(practice, 3_000, 4_000) == written("""
        3000 rep 2 for 8000
        3000 call score attack +2
        3000 target race: attack 3:0
        4000 refused score nobody: "nobody" has no score here; there are attack, defend
    """)
