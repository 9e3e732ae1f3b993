"""Inside drills and at stations, too, time in any steps gives the same practice and the same sounds."""

from datetime import UTC, datetime

from hypothesis import given, settings, strategies as st

from courttimer import locations
from courttimer.clock import HandClock
from courttimer.conductor import Conductor
from courttimer.plan.reading import read
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch
from courttimer.practice.calls import parse
from courttimer.practice.state import opening
from courttimer.sound.hall import Hall
from courttimer.sound.lengths import Lengths
from courttimer.sound.recipes import read as recipes
from courttimer.sound.render import Tape
from tests.practice.test_hand_stations import TWO
from tests.practice.test_hand_turns import STAY_ON, TEAMS

PLAN = read("slices.toml", f'title = "Slices"\n{TEAMS}{STAY_ON}{TWO}', dict[str, str]().__getitem__).session
CALLS = {
    0: "go", 5_000: "forward", 10_000: "forward", 15_000: "forward", 20_000: "back", 25_000: "forward", 30_000: "forward",
    35_000: "forward", 40_000: "forward", 45_000: "forward", 50_000: "forward", 81_500: "station 1", 82_000: "hold", 101_000: "go",
    160_000: "take back",
}  # fmt: skip
ENDS = 240_000
RECIPES = recipes(locations.sounds() / "tones.toml")


def played(beats: set[int]) -> tuple[list[ev.Event], list[tuple[int, int, str, str]]]:
    """What happened and what was heard, looked at in these beats."""
    clock, out, tape = HandClock(datetime(2026, 1, 6, 18, tzinfo=UTC)), list[ev.Event](), Tape()
    conductor = Conductor(Branch(opening(PLAN, 0)), clock, out.append, Hall(tape, Lengths(RECIPES)))
    for moment in sorted({*beats, *CALLS, *range(0, ENDS + 1, 60_000)}):
        clock.wind(moment - clock.now())
        conductor.beat()
        if moment in CALLS:
            conductor.call(parse(CALLS[moment]))
    heard = [(h.placed.at, h.until, h.placed.cue.name, h.placed.text) for h in tape.heard()]
    return [e for e in out if e.source != "fact"], heard


ONCE = played(set())


def test_what_is_looked_at_has_targets_turns_and_a_station_that_stood() -> None:
    events, heard = ONCE

    assert {type(e).__name__ for e in events} >= {"TargetReached", "Turned", "StationEnded", "TakenBack", "PracticeEnded"}
    assert {"White wins.", "Blue on.", "Others, line and back."} <= {text for *_, text in heard}


def test_a_station_that_is_held_silences_nobody_else() -> None:
    """Station 2 ends its rep at 90 s and begins the next at 94 s, whatever station 1 does at 82 s."""
    assert [(at, name) for at, _, name, _ in ONCE[1] if 82_000 < at < 101_000] == [(90_000, "end"), (93_375, "ready"), (94_000, "go")]


@settings(max_examples=8, deadline=None)
@given(st.sets(st.integers(0, ENDS), max_size=30))
def test_time_in_any_steps_brings_the_same_inside_a_drill(beats: set[int]) -> None:
    assert played(beats) == ONCE
