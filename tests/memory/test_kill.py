"""A program that is killed loses nothing that it had written."""

import random
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from courttimer.memory.journal import Journal, tell
from courttimer.memory.shelf import last
from courttimer.practice.events import PracticeEnded
from tests.memory import writer


def kill_after(folder: Path, lines: int) -> int:
    """Run the writer, kill it when so many lines of its echo were read, and give the number of the last event it had written."""
    command = [sys.executable, "-m", "tests.memory.writer", str(folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout
        echoed = [process.stdout.readline() for _ in range(lines)]
        process.kill()
        echoed += process.stdout.readlines()
    return max(int(line) for line in echoed if line.endswith("\n"))


def survives(folder: Path, lines: int) -> None:
    """Every event whose number was echoed is there; the journal goes on, as the one that was cut off."""
    written = kill_after(folder, lines)
    path = last(folder)
    assert path is not None
    with closing(Journal.open(path)) as journal:
        # One event can be in the file whose number did not come to be echoed.
        assert len(journal.events) in (written, written + 1)
        assert journal.events == tuple(writer.event(n) for n in range(1, len(journal.events) + 1))
        journal.write(PracticeEnded(at=written))
    assert tell(path).events[-1] == PracticeEnded(at=written)
    assert last(folder) is None


def test_killed_a_few_times_it_loses_nothing(tmp_path: Path) -> None:
    for n, lines in enumerate((1, 40, 700)):
        survives(tmp_path / str(n), lines)


@pytest.mark.long
def test_killed_300_times_at_random_moments_it_loses_nothing(tmp_path: Path) -> None:
    chance = random.Random(300)
    for n in range(300):
        survives(tmp_path / str(n), chance.randint(1, 900))
