"""When water is due: from the end of the last one, whether it was a segment or a hold, so that the board says what `check` says."""

import pytest

from courttimer.plan.reading import read
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import parse
from courttimer.practice.look import look
from courttimer.practice.rules import decide
from courttimer.practice.state import opening

MIN = 60_000
SESSION = """
age = 13
[[segment]]
kind = "water"
time = "4 min"
[[segment]]
kind = "drill"
time = "60 min"
"""


def due(calls: str, at: float) -> float:
    """In how many minutes water is due, at a moment after these calls, each with its minute."""
    b = Branch(opening(read("by-hand.toml", SESSION, dict[str, str]().__getitem__).session, 0))
    for line in calls.split(", "):
        minutes, _, words = line.partition(" ")
        now = round(float(minutes) * MIN)
        b = catch_up(b, now)[0]
        b = catch_up(happen(b, decide(b, parse(words), now, 0)), now)[0]
    found = look(catch_up(b, round(at * MIN))[0], round(at * MIN)).care.water_in
    assert found is not None
    return found / MIN


@pytest.mark.parametrize(
    ("calls", "at", "minutes"),
    [
        ("0 go", 3, 17),  # in a water it is counted from its beginning
        ("0 go", 4, 20),
        ("0 go", 23, 1),  # 19 min after its end
        ("0 go, 2 next", 3, 19),  # it was over after 2 min
        ("0 go, 10 hold, 13 go, 13.5 water", 14, 19),  # the hold that just was: from its end
        ("0 go, 10 hold, 11 water, 13 go", 14, 19),  # the hold that is: from its end too
        ("0 go, 10 hold, 11 water", 12, 19),
        ("0 go, 10 hold, 13 go", 14, 10),  # a hold that nobody has called the water is none
        ("0 go, 10 hold, 11 water, 13 go, 20 hold, 25 go", 26, 7),
        ("0 go, 10 hold, 11 water, 13 go, 13.1 take back, 13.2 take back, 13.3 go", 14, 10),
        ("0 go, 10 heat hot", 14, 5),  # level 2: four breaks in the hour (US Soccer, GHSA)
    ],
)
def test_water_is_due_twenty_minutes_after_the_end_of_the_last_one(calls: str, at: float, minutes: float) -> None:
    assert due(calls, at) == pytest.approx(minutes)
