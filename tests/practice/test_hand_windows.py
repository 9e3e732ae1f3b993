"""Windows written by hand: where their edge is, what they stand for, what opens them, and what a hold does to them."""

import pytest

from tests.practice.hand import cues, events, play, written

GAP = """
[[segment]]
kind = "drill"
name = "Gap"
time = "60 s"
grace = "{grace}"
rep = {{ live = "8 s", off = "4 s" }}
score = {{ race = 9 }}
window = [ {{ name = "drive", time = "3 s" }} ]
outcome = [ {{ name = "basket", points = 1, only_in = "drive", ends = "rep" }} ]
"""


def test_without_grace_a_window_is_open_before_its_three_seconds_and_not_at_them() -> None:
    """2.999 s counts, 3.000 s and 3.001 s are late: the horn at 3.000 s is what everyone hears, so whoever scores with it is late.

    The window is [opens, closes): its closing comes before the call of the same millisecond, for calls come last.
    """
    practice = play(GAP.format(grace="0 s"), "0:00.000 go\n0:02.999 outcome 1\n0:09.999 outcome 1\n0:17.000 outcome 1")

    assert events(practice, 0, 17_000) == written("""
        0 call go
        0 segment 0 for 60000
        0 rep 1 for 8000
        0 drive opens for 3000
        2999 call basket
        2999 drive closes: basket
        2999 scored basket: all 1
        2999 rep 1 over: basket
        2999 off for 4000
        6999 rep 2 for 8000
        6999 drive opens for 3000
        9999 drive closes: time
        9999 call basket, not: late
        9999 rep 2 over: basket
        9999 off for 4000
        13999 rep 3 for 8000
        13999 drive opens for 3000
        16999 drive closes: time
        17000 call basket, not: late
        17000 rep 3 over: basket
        17000 off for 4000
    """)
    assert cues(practice, 0, 16_999) == written("""
        0 go change open
        2999 end
        6374 Ready. until 6749
        6999 go open
        9999 close end                       # one tone: nobody presses with no lead in a gym
        13374 Ready. until 13749
        13999 go open
        16999 close
    """)


def test_a_press_within_a_second_of_the_close_still_counts_and_a_late_one_is_accepted_by_the_same_key() -> None:
    practice = play(
        GAP.format(grace="1 s"), "0:00 go\n0:03.450 outcome 1\n0:11.449 outcome 1\n0:19.449 outcome 1\n0:22.449 outcome 1"
    )

    assert events(practice, 3_000, 23_449) == written("""
        3000 drive closes: time
        3450 call basket (in the grace)
        3450 scored basket: all 1
        3450 rep 1 over: basket
        3450 off for 4000
        7450 rep 2 for 8000
        7450 drive opens for 3000
        10450 drive closes: time
        11449 call basket (in the grace)     # 999 ms after the close
        11449 scored basket: all 1
        11449 rep 2 over: basket
        11449 off for 4000
        15449 rep 3 for 8000
        15449 drive opens for 3000
        18449 drive closes: time
        19449 call basket, not: late         # 1 000 ms after it: the ball is dead all the same
        19449 rep 3 over: basket
        19449 off for 4000
        22449 call basket (accepted)         # three seconds later, in the off time
        22449 scored basket: all 1
        23449 rep 4 for 8000
        23449 drive opens for 3000
    """)


def test_after_three_seconds_the_same_key_accepts_nothing() -> None:
    practice = play(GAP.format(grace="0 s"), "0:00 go\n0:04 outcome 1\n0:07.001 outcome 1")

    assert events(practice, 4_000, 7_999) == written("""
        4000 call basket, not: late
        4000 rep 1 over: basket
        4000 off for 4000
        7001 refused outcome 1: that means nothing in off time
    """)


TOUCH = """
[[segment]]
kind = "drill"
name = "Touch"
time = "60 s"
grace = "{grace}"
roles = [ {{ name = "attack" }}, {{ name = "defend" }}, {{ name = "off", plays = false }} ]
rep = {{ live = "{live}", off = "4 s" }}
score = {{ race = 9, by = "player" }}
window = [ {{ name = "drive", time = "3 s", runs_out = "stop" }} ]
outcome = [
  {{ name = "stop", points = 1, to = "defend", ends = "rep" }},
  {{ name = "basket", points = 1, to = "attack", only_in = "drive", ends = "rep" }},
]
"""
THREE = '[squad]\nplayers = ["Ada", "Bea", "Cleo"]\n'


def test_the_defence_earns_by_itself_what_it_held_a_grace_later_and_the_rhythm_is_kept() -> None:
    practice = play(
        TOUCH.format(grace="1 s", live="8 s"), "0:00 go\n0:10.450 outcome 2\n0:18.900 outcome 2", players=THREE
    )

    assert events(practice, 0, 21_450) == written("""
        0 call go
        0 segment 0 for 60000
        0 line-up segment: attack Ada; defend Bea; off Cleo
        0 rep 1 for 8000
        0 drive opens for 3000
        3000 drive closes: time
        4000 stop comes for drive
        4000 scored stop: Bea 1
        4000 rep 1 over: stop
        4000 off for 3000                    # the rep was over at 3000, when the horn was heard
        7000 rep 2 for 8000
        7000 drive opens for 3000
        10000 drive closes: time
        10450 call basket (in the grace)     # better than the stop that was to come
        10450 scored basket: Ada 1
        10450 rep 2 over: basket
        10450 off for 4000
        14450 rep 3 for 8000
        14450 drive opens for 3000
        17450 drive closes: time
        18450 stop comes for drive
        18450 scored stop: Bea 1
        18450 rep 3 over: stop
        18450 off for 3000
        18900 refused outcome 2: the rep has just ended
        21450 rep 4 for 8000
        21450 drive opens for 3000
    """)
    assert cues(practice, 0, 17_450) == written("""
        0 go change open
        3000 close
        6375 Ready. until 6750
        7000 go open
        10000 close
        10450 end
        13825 Ready. until 14200
        14450 go open
        17450 close
    """)


def test_without_grace_what_a_window_stands_for_comes_with_its_close() -> None:
    practice = play(TOUCH.format(grace="0 s", live="8 s"), "0:00 go", players=THREE)

    assert events(practice, 3_000, 7_000) == written("""
        3000 drive closes: time
        3000 stop comes for drive
        3000 scored stop: Bea 1
        3000 rep 1 over: stop
        3000 off for 4000
        7000 rep 2 for 8000
        7000 drive opens for 3000
    """)


def test_a_window_as_long_as_its_rep_leaves_its_grace_to_the_off_time() -> None:
    practice = play(TOUCH.format(grace="1 s", live="3 s"), "0:00 go\n0:10.450 outcome 2", players=THREE)

    assert events(practice, 3_000, 14_000) == written("""
        3000 drive closes: time
        3000 rep 1 over: time
        3000 off for 4000
        4000 stop comes for drive
        4000 scored stop: Bea 1
        7000 rep 2 for 3000
        7000 drive opens for 3000
        10000 drive closes: time
        10000 rep 2 over: time
        10000 off for 4000
        10450 call basket (in the grace)
        10450 scored basket: Ada 1
        14000 rep 3 for 3000
        14000 drive opens for 3000
    """)


def test_a_press_too_late_for_a_window_that_closed_with_its_rep_is_accepted_by_the_same_key_too() -> None:
    """Eight seconds for both; the basket beat the horn, and the coach was a second and a half behind it."""
    whole = GAP.format(grace="1 s").replace('time = "3 s"', 'time = "8 s"')

    assert events(play(whole, "0:00 go\n0:09.500 outcome 1\n0:10.500 outcome 1", players=THREE), 8_000, 12_000) == written("""
        8000 drive closes: time
        8000 rep 1 over: time
        8000 off for 4000
        9500 call basket, not: late
        10500 call basket (accepted)
        10500 scored basket: all 1
        12000 rep 2 for 8000
        12000 drive opens for 8000
    """)
    too_late = events(play(whole, "0:00 go\n0:11.500 outcome 1", players=THREE), 11_500, 11_500)
    assert too_late == written("11500 refused outcome 1: that means nothing in off time")


TWO_LIMITS = """
[[segment]]
kind = "drill"
name = "Two limits"
time = "60 s"
roles = [ { name = "attack" }, { name = "defend" } ]
rep = { live = "20 s", off = "5 s" }
score = { race = 9 }
window = [
  { name = "half way", time = "3 s", runs_out = "turnover" },
  { name = "help", time = "3 s", runs_out = "no help" },
]
outcome = [
  { name = "turnover", points = 1, to = "defend" },
  { name = "no help", points = 1, to = "attack" },
  { name = "over half", closes = "half way" },
  { name = "helped", closes = "help" },
  { name = "pass" },
]
"""


@pytest.mark.parametrize(
    ("press", "comes"),
    [
        ("", ["turnover comes for half way", "no help comes for help"]),
        ("outcome 5", ["turnover comes for half way", "no help comes for help"]),
        ("outcome 4", ["turnover comes for half way"]),
        ("outcome 3", ["no help comes for help"]),
        ("outcome 2", ["turnover comes for half way"]),
        ("over", ["turnover comes for half way", "no help comes for help"]),
    ],
)
def test_what_two_windows_stand_for_comes_unless_a_press_of_its_own_window_comes_before(press: str, comes: list[str]) -> None:
    """A pass in the grace says nothing about either limit; a press that belongs to one leaves the other."""
    practice = play(TWO_LIMITS, f"0:00 go\n0:03.500 {press}" if press else "0:00 go", players=THREE)

    assert [one.strip().partition(" ") for one in events(practice, 0, 10_000).splitlines() if " comes for " in one] == [
        ("4000", " ", one) for one in comes
    ]  # fmt: skip


def test_a_clock_that_is_started_afresh_in_the_grace_was_not_over() -> None:
    reset = TWO_LIMITS.replace('{ name = "pass" }', '{ name = "rim", resets = "half way" }')
    practice = play(reset, "0:00 go\n0:03.500 outcome 5", players=THREE)

    assert [one.strip() for one in events(practice, 0, 10_000).splitlines() if " comes for " in one] == [
        "4000 no help comes for help", "7500 turnover comes for half way",
    ]  # fmt: skip


CHAIN = """
[[segment]]
kind = "drill"
name = "Chain"
time = "60 s"
rep = { live = "20 s", off = "5 s" }
window = [
  { name = "drive", time = "3 s" },
  { name = "finish", time = "2 s", opens = "when drive closes" },
  { name = "count", time = "4 s", opens = "on pass", warning = "1 s" },
]
outcome = [ { name = "pass" }, { name = "touch", closes = "drive" } ]
"""


def test_a_window_opens_on_an_outcome_and_when_another_closes() -> None:
    practice = play(CHAIN, "0:00 go\n0:01 outcome 2\n0:05 outcome 1\n0:06 outcome 1\n0:10 outcome 1\n0:11 over")

    assert events(practice, 0, 21_000) == written("""
        0 call go
        0 segment 0 for 60000
        0 rep 1 for 20000
        0 drive opens for 3000
        1000 call touch
        1000 drive closes: touch
        1000 finish opens for 2000
        3000 finish closes: time
        5000 call pass
        5000 count opens for 4000
        6000 call pass                       # it is open already
        9000 count closes: time
        10000 call pass
        10000 count opens for 4000
        11000 call over
        11000 count closes: over
        11000 rep 1 over: over
        11000 off for 5000
        16000 rep 2 for 20000
        16000 drive opens for 3000
        19000 drive closes: time
        19000 finish opens for 2000
        21000 finish closes: time
    """)
    assert cues(practice, 0, 21_000) == written("""
        0 go change open
        1000 open
        3000 close
        5000 open
        8000 warning
        9000 close
        10000 open
        11000 end
        15375 Ready. until 15750
        16000 go open
        19000 open close
        21000 close
    """)


EVERY = """
[[segment]]
kind = "drill"
name = "Pulse"
time = "60 s"
rep = { live = "20 s", off = "5 s", after_hold = "goes on" }
window = [ { name = "jump", time = "2 s", opens = "every 5 s" } ]
"""


def test_a_window_opens_every_five_seconds_of_play_but_not_as_the_rep_ends_and_a_hold_moves_it() -> None:
    practice = play(EVERY, "0:00 go\n0:06 hold\n0:16 go")

    assert events(practice, 0, 40_000) == written("""
        0 call go
        0 segment 0 for 60000
        0 rep 1 for 20000
        5000 jump opens for 2000
        6000 call hold
        6000 jump closes: held
        16000 call go
        16000 hold over
        20000 jump opens for 2000            # at 10 s of play
        22000 jump closes: time
        25000 jump opens for 2000
        27000 jump closes: time
        30000 rep 1 over: time
        30000 off for 5000
        35000 rep 2 for 20000
        40000 jump opens for 2000
    """)


SHOT_CLOCK = """
[[segment]]
kind = "scrimmage"
name = "Five on five"
time = "4 min"
grace = "0 s"
rep = { live = "90 s", off = "5 s" }
window = [
  { name = "shot", time = "24 s", runs_out = "violation" },
  { name = "short", time = "14 s", opens = "on call" },
]
outcome = [
  { name = "rebound", closes = "shot", resets = "short" },
  { name = "new ball", closes = "short", resets = "shot" },
  { name = "violation", ends = "rep" },
]
"""


def test_a_shot_clock_starts_afresh_at_the_press_full_and_short_without_a_tone() -> None:
    """FIBA Official Basketball Rules 2024, art. 29.2.1: 24 s for a new ball, 14 s after a rebound of the same team."""
    practice = play(SHOT_CLOCK, "0:00 go\n0:10 outcome 1\n0:15 outcome 1\n0:20 outcome 2\n0:30 outcome 2")

    assert events(practice, 0, 54_000) == written("""
        0 call go
        0 segment 0 for 240000
        0 rep 1 for 90000
        0 shot opens for 24000
        10000 call rebound
        10000 shot closes: rebound
        10000 short opens for 14000, quietly
        15000 call rebound
        15000 short closes: reset
        15000 short opens for 14000, quietly
        20000 call new ball
        20000 short closes: new ball
        20000 shot opens for 24000, quietly
        30000 call new ball
        30000 shot closes: reset
        30000 shot opens for 24000, quietly
        54000 shot closes: time
        54000 violation comes for shot
        54000 rep 1 over: violation
        54000 off for 5000
    """)
    assert cues(practice, 0, 54_000) == written("""
        0 go change open
        54000 close
    """)


HELD = """
[[segment]]
kind = "drill"
name = "Held"
time = "2 min"
rep = {{ live = "30 s", off = "5 s", after_hold = "{after}" }}
window = [ {{ name = "drive", time = "3 s" }}, {{ name = "shot", time = "24 s" }} ]
"""


def test_a_hold_voids_three_seconds_and_lets_twenty_four_stand() -> None:
    practice = play(HELD.format(after="goes on"), "0:00 go\n0:01 hold\n0:11 go")

    assert events(practice, 0, 40_000) == written("""
        0 call go
        0 segment 0 for 120000
        0 rep 1 for 30000
        0 drive opens for 3000
        0 shot opens for 24000
        1000 call hold
        1000 drive closes: held
        11000 call go
        11000 hold over
        34000 shot closes: time
        40000 rep 1 over: time
        40000 off for 5000
    """)
    assert cues(practice, 0, 40_000) == written("""
        0 go change open
        11000 go
        34000 close
        40000 end
    """)


def test_a_rep_that_is_played_again_after_a_hold_opens_its_windows_anew() -> None:
    practice = play(HELD.format(after="again"), "0:00 go\n0:01 hold\n0:11 go")

    assert events(practice, 1_000, 16_000) == written("""
        1000 call hold
        1000 drive closes: held
        1000 shot closes: held
        1000 rep 1 over: held
        11000 call go
        11000 hold over
        11000 ready for 2000
        13000 rep 1 for 30000
        13000 drive opens for 3000
        13000 shot opens for 24000
        16000 drive closes: time
    """)


def test_a_hold_in_the_grace_gives_nobody_the_point() -> None:
    """The rep is played again, so the window that ran out before the hold stands for nothing."""
    practice = play(TOUCH.format(grace="1 s", live="8 s"), "0:00 go\n0:03.500 hold\n0:10 go", players=THREE)

    assert events(practice, 3_000, 12_000) == written("""
        3000 drive closes: time
        3500 call hold
        3500 rep 1 over: held
        10000 call go
        10000 hold over
        10000 ready for 2000
        12000 rep 1 for 8000
        12000 drive opens for 3000
    """)


@pytest.mark.parametrize(("order", "counts"), [("12", ""), ("2", ', not: no "paint" before it')])
def test_an_outcome_may_count_only_after_another_of_the_same_rep(order: str, counts: str) -> None:
    drill = """
        [[segment]]
        kind = "drill"
        time = "60 s"
        rep = { live = "8 s", off = "4 s" }
        outcome = [ { name = "paint" }, { name = "basket", points = 1, only_after = "paint", ends = "rep" } ]
    """
    practice = play(drill, "0:00 go\n" + "\n".join(f"0:0{n}.000 outcome {key}" for n, key in enumerate(order, 1)))

    assert f"call basket{counts}" in events(practice)
    assert ("scored basket: all 1" in events(practice)) == (not counts)


TWO = """
[[segment]]
kind = "drill"
name = "Two limits"
time = "40 s"
rep = { live = "10 s", off = "5 s" }
window = [ { name = "drive", time = "3 s", warning = "1 s" }, { name = "shot", time = "6 s", warning = "1 s" } ]
"""


def test_two_windows_that_open_together_are_heard_each_at_its_own_end() -> None:
    assert cues(play(TWO, "0:00 go"), 0, 10_000) == written("""
        0 go change open
        2000 warning
        3000 close
        5000 warning
        6000 close
        10000 end
    """)
