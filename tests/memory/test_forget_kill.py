"""A removal that is killed at any touch of the disk is brought to its end by the next one, with the same stand-in."""

import subprocess
import sys
from pathlib import Path

import pytest

from courttimer.memory.forget import unfinished
from tests.memory.keeping import NAME, fill, forgotten, traces
from tests.memory.test_forget import practices


def ends_as_if_never_killed(home: Path, touch: int) -> bool:
    """Kill a removal at its touch of this number, then end it; was it killed?"""
    fill(home)
    counts = practices(home)
    command = [sys.executable, "-m", "tests.memory.forgetter", str(home), NAME, str(touch)]
    killed = subprocess.run(command, check=False).returncode != 0
    assert {*practices(home)} == {*counts}
    again = unfinished(home / "data") or NAME
    done = forgotten(home, again)

    assert again == NAME
    assert traces(home) == []
    assert practices(home) == {day: told.replace(NAME.upper(), "Player 1").replace(NAME, "Player 1") for day, told in counts.items()}
    assert (done.stand_in == "Player 1") or not killed
    assert len(list((home / "data" / "journals").glob("*.jsonl"))) == 5
    return killed


@pytest.mark.parametrize("touch", [0, 4, 9, 20])
def test_a_removal_killed_at_work_is_brought_to_its_end(tmp_path: Path, touch: int) -> None:
    assert ends_as_if_never_killed(tmp_path / "mine", touch)


@pytest.mark.long
def test_a_removal_killed_at_each_touch_of_the_disk_leaves_no_trace_and_no_double(tmp_path: Path) -> None:
    touch = 0
    while ends_as_if_never_killed(tmp_path / str(touch), touch):
        touch += 1

    assert touch > 30
