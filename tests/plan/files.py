"""The session files that the tests of this room read, and how they are read from memory."""

from collections.abc import Mapping
from pathlib import Path

from courttimer.errors import PlanError
from courttimer.plan.reading import Reading, read

TUESDAY = (Path(__file__).parent / "tuesday.toml").read_text(encoding="utf-8")

DRILL = """\
[squad]
players = ["Ada", "Bea", "Cleo"]
teams = { blue = ["Ada"], red = ["Bea", "Cleo"] }
[[segment]]
kind = "drill"
name = "Gate"
time = "5 min"
at_least = "4 min"
setup = "30 s"
roles = [{ name = "attack" }, { name = "defend" }]
rep = { live = "20 s", off = "10 s", turn = "swap" }
score = { race = 5 }
[[segment.window]]
name = "drive"
time = "3 s"
runs_out = "stop"
[[segment.outcome]]
name = "basket"
points = 1
to = "attack"
clicker = "forward"
[[segment.outcome]]
name = "stop"
closes = "drive"
"""


def reading(text: str | bytes, drills: Mapping[str, str | bytes] | None = None) -> Reading:
    return read("tuesday.toml", text, (drills or {}).__getitem__)


def mistakes(text: str | bytes, drills: Mapping[str, str | bytes] | None = None) -> tuple[str, ...]:
    """The lines told about a session; none when it is a plan."""
    try:
        reading(text, drills)
    except PlanError as why:
        return why.lines
    return ()


def swapped(old: str, new: str, text: str = DRILL) -> str:
    assert old in text
    return text.replace(old, new, 1)
