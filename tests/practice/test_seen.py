"""What may be seen inside a drill, from practices that are really played up to a moment."""

import pytest

from courttimer.clock import HandClock, RealClock, at_day_ms
from courttimer.conductor import Conductor, Unheard
from courttimer.plan.reading import read
from courttimer.practice.branch import Branch
from courttimer.practice.calls import parse
from courttimer.practice.state import opening
from courttimer.practice.view import View

SQUAD = '[staff]\ncoaches = ["Mira"]\n[squad]\nplayers = ["Ada", "Bea", "Cleo", "Dina", "Edda", "Fern"]\n'
ROLES = 'roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]\n'
TURNS = f"""
[[segment]]
kind = "drill"
name = "Paint touch"
time = "3 min"
{ROLES}rep = {{ live = "8 s", off = "8 s", turn = "TURN" }}
window = [ {{ name = "drive", time = "3 s" }} ]
outcome = [ {{ name = "basket", points = 1, only_in = "drive", ends = "rep" }}, {{ name = "miss" }} ]
score = {{ race = 5, by = "player" }}
"""
FAIR = TURNS.replace("TURN", "fair")
SPOTS = """
[[segment]]
kind = "spots"
spots = ["left corner", "top"]
shots = 10
within = "5 s"
"""
STATIONS = """
[[segment]]
kind = "stations"
each = "1 min"
change = "10 s"
station = [
  { name = "Closeouts", lead = "Mira", rep = { live = "20 s", off = "5 s" }, outcome = [ { name = "stop" } ] },
  { name = "Form", rep = { live = "20 s", off = "5 s" } },
]
"""


def seen(session: str, calls: str, at: int) -> View:
    """The look at `at` ms, after calls such as `0:05 out Ada`, a line each."""
    found = read("seen.toml", SQUAD + session, dict[str, str]().__getitem__).session
    hand = HandClock(at_day_ms(RealClock().wall(), 0))
    conductor = Conductor(Branch(opening(found, 0)), hand, lambda event: None, Unheard())
    for line in calls.strip().splitlines():
        moment, _, call = line.strip().partition(" ")
        minutes, _, seconds = moment.partition(":")
        hand.wind(int(minutes) * 60_000 + round(float(seconds) * 1_000) - hand.now())
        conductor.call(parse(call))
    hand.wind(at - hand.now())
    conductor.beat()
    return conductor.view()


@pytest.mark.parametrize("turn", ["fair", "advance", "swap", "one for one"])
@pytest.mark.parametrize("at", [2_000, 10_000])
def test_who_comes_in_next_is_who_then_comes(turn: str, at: int) -> None:
    """In the rep and in the off time after it; two reps are 16 s apart."""
    session = TURNS.replace("TURN", turn)
    before, after = seen(session, "0:00 go", at).inside, seen(session, "0:00 go", at + 16_000).inside
    assert before.next == after.roles
    assert before.roles


@pytest.mark.parametrize("at", range(2_000, 100_000, 8_000))
@pytest.mark.parametrize("away", ["Fern", "Dina Edda Fern"])
def test_who_comes_in_is_foreseen_in_every_rep_and_off_time_when_the_number_is_odd(at: int, away: str) -> None:
    """Of three, one goes on playing, in the role that is fair."""
    calls = "\n".join([f"0:00 out {one}" for one in away.split()] + ["0:00 go"])
    assert seen(FAIR, calls, at).inside.next == seen(FAIR, calls, at + 16_000).inside.roles


def test_where_the_winner_decides_nobody_is_promised_a_place() -> None:
    assert seen(TURNS.replace("TURN", "winners stay"), "0:00 go", 2_000).inside.next == ()


def test_every_outcome_and_window_is_named_also_while_none_can_happen() -> None:
    inside = seen(FAIR, "0:00 go", 10_000).inside
    assert inside.outcomes == ((1, "basket"), (2, "miss"))
    assert inside.windows == ("drive",)


@pytest.mark.parametrize(("at", "late"), [(5_999, "basket"), (7_999, "basket"), (8_001, "")])
def test_what_came_too_late_can_be_accepted_for_three_seconds(at: int, late: str) -> None:
    assert seen(FAIR, "0:00 go\n0:05 outcome 1", at).inside.late == late


@pytest.mark.parametrize(
    ("call", "said"),
    [("outcome 2", "miss"), ("out Ada", "Ada out"), ("longer", "longer by 60 s"), ("last", "last one"), ("mark nice", "mark"),
     ("score Bea +2", "Bea +2"), ("hold", "hold"), ("turn", "turn")],
)  # fmt: skip
def test_what_is_taken_back_and_put_back_is_said_in_words(call: str, said: str) -> None:
    session = FAIR
    assert seen(session, f"0:00 go\n0:02 {call}\n0:03 take back", 3_000).said == f"Taken back: {said}."
    assert seen(session, f"0:00 go\n0:02 {call}\n0:03 take back\n0:04 put back", 4_000).said == f"Put back: {said}."


def test_a_station_takes_its_own_last_call_back_and_says_which() -> None:
    told = seen(STATIONS, "0:00 go\n0:01 station 1\n0:02 outcome 1\n0:03 station 2\n0:04 hold\n0:05 station 1\n0:06 take back", 6_000)
    assert told.said == "Taken back: stop."
    assert [one.word for one in told.inside.stations] == ["live", "stopped"]


def test_late_and_out_are_told_apart_and_each_can_become_the_other() -> None:
    stands = seen(FAIR, "0:00 late Ada\n0:00 out Bea\n0:00 late Cleo\n0:00 out Cleo\n0:00 out Dina\n0:00 late Dina\n0:00 out Mira", 0)
    assert stands.attendance.late == ("Ada", "Dina")
    assert stands.attendance.away == ("Ada", "Bea", "Cleo", "Dina")
    assert (stands.attendance.staff, stands.attendance.staff_out) == (("Mira",), ("Mira",))
    again = seen(FAIR, "0:00 late Ada\n0:01 late Ada", 1_000)
    assert again.said == "late Ada: Ada is late already."


def test_who_warms_up_can_go_out_again() -> None:
    told = seen(FAIR, "0:00 out Ada\n0:00 go\n0:01 here Ada\n0:02 out Ada", 3_000)
    assert told.attendance.away == ("Ada",)
    assert told.attendance.warming == ()


def test_makes_can_be_entered_after_the_last_spot_in_the_next_segment_and_after_the_end() -> None:
    water = '[[segment]]\nkind = "water"\ntime = "1 min"\n'
    for session, at in ((SPOTS, 12_000), (SPOTS + water, 12_000)):
        told = seen(session, "0:00 go\n0:11 makes top 7", at)
        assert told.inside.enter
        assert [(one.spot, one.makes) for one in told.inside.spots] == [("left corner", None), ("top", 7)]
    assert not seen(SPOTS, "0:00 go", 2_000).inside.enter


def test_a_hold_that_somebody_called_needs_no_reason() -> None:
    assert seen(FAIR, "0:00 go\n0:02 hold", 3_000).stood == ""


def test_after_the_reps_of_a_station_comes_the_change() -> None:
    assert seen(STATIONS, "0:00 go", 5_000).then[0] == "change"


def test_at_the_change_a_station_that_stood_changes_with_the_others() -> None:
    assert [one.word for one in seen(STATIONS, "0:00 go\n0:01 station 1\n0:04 hold", 44_000).inside.stations] == ["stopped", "live"]
    assert [one.word for one in seen(STATIONS, "0:00 go\n0:01 station 1\n0:04 hold", 62_000).inside.stations] == ["change", "change"]
