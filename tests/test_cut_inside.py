"""Wherever a practice is cut off inside a drill or at stations, it is found standing, with its score, its turns and its stations."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from courttimer.clock import HandClock
from courttimer.conductor import Conductor
from courttimer.evening import begin, found
from courttimer.memory.lines import encode
from courttimer.plan.reading import Reading, read
from courttimer.practice import events as ev, records
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import parse
from courttimer.practice.state import opening
from tests.test_cut_anywhere import LEAD_MS, WALL, Ahead

SESSION = """
title = "Inside"
[squad]
players = ["Ada", "Bea", "Cleo", "Dina"]
[[segment]]
kind = "drill"
time = "60 s"
roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]
rep = { live = "8 s", off = "4 s", turn = "fair" }
window = [ { name = "drive", time = "3 s", runs_out = "stop" }, { name = "finish", time = "2 s", opens = "on paint" } ]
outcome = [
  { name = "paint", closes = "drive" },
  { name = "basket", points = 1, to = "attack", ends = "rep", only_after = "paint" },
  { name = "stop", points = 1, to = "defend", ends = "rep" },
]
score = { race = 2, by = "player", then = "again" }
consequence = { time = "5 s" }
[[segment]]
kind = "stations"
each = "20 s"
change = "5 s"
station = [
  { name = "Left", rep = { live = "6 s", off = "2 s" }, score = { row = 2 }, outcome = [ { name = "make", points = 1 } ] },
  { name = "Right" },
]
"""
CALLS = """
0 go
1500 outcome 1
2500 outcome 2
9000 out Dina
9700 outcome 1
12000 take back
14000 hold
16000 go
19000 outcome 1
20500 outcome 2
21500 here Dina
31000 score Ada +1
40000 turn
63000 station 1
64000 outcome 1
64500 outcome 1
65000 hold
70000 go
71000 station 2
72000 station 1
73000 take back
74000 put back
78000 mark
"""


def reading() -> Reading:
    return read("inside.toml", SESSION, dict[str, str]().__getitem__)


def evening() -> list[ev.Event]:
    """Every line of the practice with its calls, until its stations have changed."""
    lines: list[ev.Event] = [ev.Opened(at=0, by="program", wall=WALL, day_ms=64_800_000)]
    clock = HandClock(datetime(2026, 1, 6, 18, tzinfo=UTC))
    conductor = Conductor(Branch(opening(reading().session, 64_800_000)), clock, lines.append, Ahead())
    for line in [*CALLS.strip().splitlines(), "90000 mark"]:
        at, _, words = line.partition(" ")
        while clock.now() < int(at):
            clock.wind(min(500, int(at) - clock.now()))
            conductor.beat()
        conductor.call(parse(words))
    return lines


LINES = evening()


def test_the_practice_that_is_cut_has_all_that_happens_inside() -> None:
    kinds = {type(e).__name__ for e in LINES}

    assert kinds >= {"OutcomeCame", "Scored", "TargetReached", "Turned", "LinedUp", "StationEnded", "TakenBack", "PutBack"}


@pytest.mark.parametrize("n", [n if n % 4 == 0 else pytest.param(n, marks=pytest.mark.long) for n in range(1, len(LINES) + 1)])
def test_cut_after_any_line_it_is_found_standing_with_its_score_and_its_turns(n: int, tmp_path: Path) -> None:
    one = begin(reading())
    one.journal.close()
    header = one.journal.path.read_bytes().splitlines(keepends=True)[0]
    one.journal.path.unlink()
    path = tmp_path / "2026-01-06-1800-inside.jsonl"
    path.write_bytes(header + b"".join(encode(records.record(e)) for e in LINES[:n]))
    left = Branch(opening(reading().session, 64_800_000))
    for e in LINES[:n]:
        left = happen(left, e)
    last = max(e.at for e in LINES[:n])

    _, again = found(path)
    try:
        s, was = again.conductor.branch.now, catch_up(left, last)[0].now
        assert s.clock.held is not None
        assert s.went is None or s.clock.held <= last + LEAD_MS
        assert [(lane.sheet, lane.standing) for lane in s.lanes][: len(was.lanes)] == [(x.sheet, x.standing) for x in was.lanes]
        assert (s.wins, s.paid, s.here, s.chosen) == (was.wins, was.paid, was.here, was.chosen)
    finally:
        again.journal.close()
