"""The evenings that come with the program, rehearsed with random calls: the report equals a count of the lines in the journal."""

import json
from pathlib import Path
from random import Random

import pytest

from courttimer.__main__ import DONE, main
from courttimer.memory.journal import tell
from courttimer.plan.reading import read
from courttimer.report.tally import Tally, tally
from tests.report import tally_checks
from tests.report.papers import SHIPPED
from tests.report.tally_count import Count

CALLS = (*["outcome 1"] * 9, *["outcome 2"] * 6, "over", "forward", "hold", *["go"] * 5, "mark", "longer", "turn", "take back")

QUICK = ("first-practice", "workout-alone")
"""The others take many seconds each."""


def calls(seed: int, minutes: int) -> str:
    """A call every few seconds."""
    r, at, out = Random(seed), 0, ["0:00 go"]
    while at < minutes * 60_000:
        at += r.randint(2_000, 20_000)
        out.append(f"{at // 60_000}:{at // 1000 % 60:02d}.{at % 1000:03d} {r.choice(CALLS)}")
    return "\n".join(out)


@pytest.mark.parametrize("name", [name if name in QUICK else pytest.param(name, marks=pytest.mark.long) for name in SHIPPED])
def test_every_number_of_a_rehearsed_evening_is_what_its_file_says(name: str, tmp_path: Path) -> None:
    (tmp_path / "calls.txt").write_text(calls(len(name), 60), encoding="utf-8")
    path = tmp_path / "evening.jsonl"
    assert main(["rehearse", name, "--calls", str(tmp_path / "calls.txt"), "--journal", str(path)]) == DONE

    ours = counted(path)
    assert ours.head.reps > 3
    assert ours.head.taken_back > 3


KEPT = sorted(path for path in (Path(__file__).parents[1] / "journals").glob("*.jsonl") if "every-event" not in path.name)


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_every_number_of_a_practice_of_an_earlier_version_is_what_its_file_says(path: Path) -> None:
    assert counted(path).head.ended


def counted(path: Path) -> Tally:
    """The report on a journal, after a second count of its lines has agreed with it."""
    told = tell(path)
    plan = read(told.header.session, told.header.files[told.header.session], told.header.files.__getitem__).session
    lines = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()][1:]
    ours = tally(told.header.wall, plan, told.events)
    tally_checks.everything(plan, lines, ours, Count(plan, lines))
    return ours
