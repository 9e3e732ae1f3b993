"""A program that is killed loses nothing that it had written, and the practice stands where it stood."""

import os
import random
import subprocess
import sys
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import pytest

from courttimer import locations
from courttimer.conductor import STILL_MS
from courttimer.errors import PlanError
from courttimer.evening import found
from courttimer.memory.journal import Journal, tell
from courttimer.memory.lines import encode
from courttimer.memory.recovery import read
from courttimer.memory.shelf import last
from courttimer.practice import events
from courttimer.practice.events import Held, PracticeEnded, Woke
from tests.memory import writer

CALLS = ("over", "1", "2", "hold", "space", "go", "take back", "put back", "mark good feet", "next", "last", "longer", "halt", "water")
KILLS = int(os.environ.get("COURTTIMER_KILLS", "50"))
"""Of each sort; 300 take five minutes."""


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


def test_a_writer_at_speed_killed_a_few_times_loses_nothing(tmp_path: Path) -> None:
    for n, lines in enumerate((1, 40, 700)):
        survives(tmp_path / str(n), lines)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(KILLS))
def test_a_writer_at_speed_killed_many_times_loses_nothing(tmp_path: Path, seed: int) -> None:
    survives(tmp_path, random.Random(seed).randint(1, 900))


@dataclass(frozen=True, slots=True, kw_only=True)
class Killed:
    """What is known of a practice that was killed: the lines it had written, and the practice time of its last beat."""

    lines: tuple[bytes, ...]
    stood: int


def kill_a_practice(folder: Path, chance: random.Random) -> Killed:
    """Run the first practice at speed, make calls at random moments, and kill it at one."""
    stood = folder / "stood"
    stood.write_bytes(bytes(8))
    command = [sys.executable, "-m", "tests.memory.runner", "first-practice", str(stood)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        assert process.stdin
        assert process.stdout
        echoed = b""
        for call in ("go", *chance.choices(CALLS, k=chance.randint(0, 8))):
            process.stdin.write(call.encode() + b"\n")
            process.stdin.flush()
            echoed += process.stdout.read(chance.randint(1, 1_000))
        # A line has just been read: a moment that has nothing to do with the lines is needed, a stretch of practice time later.
        until = moment(stood) + chance.randint(0, 3_000)
        while moment(stood) < until and process.poll() is None:
            continue
        process.kill()
        echoed += process.stdout.read()
    *lines, _ = echoed.split(b"\n")
    return Killed(lines=tuple(line + b"\n" for line in lines), stood=moment(stood))


def moment(stood: Path) -> int:
    """The practice time of the last beat, in ms."""
    return int.from_bytes(stood.read_bytes(), "little")


def resumes(home: Path, chance: random.Random) -> None:
    """Every line that was echoed is there, in order; resume holds the practice within a second of where it stood."""
    killed = kill_a_practice(home, chance)
    path = max(locations.journals().glob("*.jsonl"), key=lambda one: one.stat().st_mtime_ns)
    written = tuple(map(encode, read(path).records[1:]))
    # One line can be in the file that did not come to be echoed.
    assert killed.lines in (written, written[:-1])
    known = max(one.at for one in tell(path).events)
    if last(locations.journals()) is None:  # calls can bring a practice to its end before it is killed
        with pytest.raises(PlanError, match="this practice is over"):
            found(path, rate=60)
        return
    assert killed.stood - known < STILL_MS

    _, evening = found(path, rate=60)
    evening.journal.close()
    after = tell(path).events[len(written) :]
    assert evening.conductor.branch.now.held or not evening.conductor.branch.now.on
    stands = after[-1].at
    assert isinstance(after[-1], Woke)
    assert known <= stands < known + STILL_MS  # a first go that was on its way is heard first
    # Before it, what was due at that moment and had not come to be written, and the hold.
    assert [one for one in after[:-1] if one.source != "time"] in ([], [Held(at=stands, by="program", why="cut off")])
    assert all(one.at <= stands for one in after)
    with closing(Journal.open(path)) as journal:
        journal.write(events.PracticeEnded(at=known))


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(locations.HOME, str(tmp_path / "home"))
    return tmp_path


@pytest.mark.parametrize("seed", [1, 2])
def test_a_practice_killed_at_a_random_moment_goes_on_where_it_stood(home: Path, seed: int) -> None:
    resumes(home, random.Random(seed))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(3, 3 + KILLS))
def test_a_practice_killed_at_many_random_moments_goes_on_where_it_stood(home: Path, seed: int) -> None:
    resumes(home, random.Random(seed))
