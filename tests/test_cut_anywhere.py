"""Wherever a practice is cut off, it is found standing, and nothing of the time away is played."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from courttimer.clock import HandClock
from courttimer.conductor import Conductor, Unheard
from courttimer.errors import PlanError
from courttimer.evening import begin, found
from courttimer.memory.lines import encode
from courttimer.plan.reading import read
from courttimer.practice import events as ev, records
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call, What
from courttimer.practice.state import opening

SESSION = """
title = "Short"
[[segment]]
kind = "drill"
time = "40 s"
setup = "5 s"
rep = { live = "8 s", off = "4 s" }
window = [ { name = "drive", time = "3 s" } ]
[[segment]]
kind = "water"
time = "20 s"
[[segment]]
kind = "talk"
time = "20 s"
"""
CALLS: tuple[tuple[int, What], ...] = (
    (0, "go"), (7_000, "outcome"), (12_000, "hold"), (15_000, "go"), (20_000, "outcome"), (28_000, "take back"), (33_000, "hold"),
    (34_000, "next"), (36_000, "hold"), (40_000, "go"), (60_000, "end"),
)  # fmt: skip
LEAD_MS = 150
WALL = "2026-01-06T18:00:00.000+00:00"


class Ahead(Unheard):
    def lead(self) -> int:
        return LEAD_MS


def evening() -> list[ev.Event]:
    """Every line of a short practice with calls."""
    lines: list[ev.Event] = [ev.Opened(at=0, by="program", wall=WALL, day_ms=64_800_000)]
    clock = HandClock(datetime(2026, 1, 6, 18, tzinfo=UTC))
    plan = read("short.toml", SESSION, dict[str, str]().__getitem__).session
    conductor = Conductor(Branch(opening(plan, 64_800_000)), clock, lines.append, Ahead())
    for at, what in CALLS:
        while clock.now() < at:
            clock.wind(500)
            conductor.beat()
        conductor.call(Call(what=what))
    return lines


LINES = evening()
OVER = next(n for n, e in enumerate(LINES) if isinstance(e, ev.CalledOff))


@pytest.fixture(name="header")
def _header() -> bytes:
    one = begin(read("short.toml", SESSION, dict[str, str]().__getitem__))
    one.journal.close()
    first = one.journal.path.read_bytes().splitlines(keepends=True)[0]
    one.journal.path.unlink()
    return first


def cut(folder: Path, header: bytes, lines: list[ev.Event]) -> Path:
    path = folder / "2026-01-06-1800-short.jsonl"
    path.write_bytes(header + b"".join(encode(records.record(e)) for e in lines))
    return path


@pytest.mark.parametrize("n", range(1, OVER + 1))
def test_cut_after_any_line_it_is_found_standing(n: int, tmp_path: Path, header: bytes) -> None:
    lines = LINES[:n]
    last = max(e.at for e in lines)
    _, again = found(cut(tmp_path, header, lines))
    try:
        s = again.conductor.branch.now
        assert s.clock.held is not None, lines[-1]
        assert s.went is None or s.clock.held <= last + LEAD_MS
        again.conductor._clock = HandClock(datetime(2026, 1, 6, 19, tzinfo=UTC), start=3_600_000)
        again.conductor.beat()
        then = again.conductor.branch.now
        assert (then.clock, then.segment, then.on) == (s.clock, s.segment, s.on), "time went on while nobody was there"
        assert then.at <= last + LEAD_MS
    finally:
        again.journal.close()


@pytest.mark.parametrize("n", range(OVER + 1, len(LINES) + 1))
def test_cut_after_its_end_was_called_it_is_over(n: int, tmp_path: Path, header: bytes) -> None:
    path = cut(tmp_path, header, LINES[:n])
    with pytest.raises(PlanError, match="this practice is over"):
        found(path)
