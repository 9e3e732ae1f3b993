"""A real full disk: whole lines in the file, words on the board, and nothing lost once there is room."""

import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from courttimer.memory.journal import Journal, tell
from courttimer.memory.recovery import read
from tests.memory.writer import HEADER, event

EVENTS = tuple(event(n) for n in range(1, 60))

SMALL = """
import resource, sys
from pathlib import Path
from courttimer.memory.journal import Journal
from courttimer.memory.recovery import read
from tests.memory.writer import HEADER, event

_, most = resource.getrlimit(resource.RLIMIT_FSIZE)
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), most))
journal = Journal.create(Path(sys.argv[1]), HEADER)
for n in range(1, 60):
    journal.write(event(n))
assert journal.trouble() == "Nothing is being remembered: the disk is full.", journal.trouble()
journal._behind.stop()  # it tries again and again, and could be seen trying
assert read(journal.path).tail == b""
resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
journal.close()
assert journal.trouble() == ""
print(journal.path)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no limit on the size of a file")
@pytest.mark.parametrize("limit", [1_000, 1_001, 4_096, 5_555])
def test_at_the_size_limit_of_a_file_nothing_is_glued_and_nothing_lost(tmp_path: Path, limit: int) -> None:
    """The system takes a part of a line, then refuses: POSIX.1-2017, setrlimit, RLIMIT_FSIZE; write, "only as many bytes"."""
    command = [sys.executable, "-c", SMALL, str(tmp_path), str(limit)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)

    assert done.stderr == ""
    assert tell(Path(done.stdout.strip())).events == EVENTS


@pytest.fixture
def stick(tmp_path: Path) -> Iterator[Path]:
    """A disk of 64 kB."""
    subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "none", str(tmp_path)], check=True)
    yield tmp_path
    subprocess.run(["umount", str(tmp_path)], check=True)


@pytest.mark.rig
def test_on_a_full_disk_nothing_is_glued_and_nothing_lost_once_there_is_room(stick: Path) -> None:
    with closing(Journal.create(stick / "journals", HEADER)) as journal:
        with (stick / "films").open("wb", buffering=0) as films:
            films.write(b"x" * 1_000_000)
        for one in EVENTS:
            journal.write(one)
        assert journal.trouble() == "Nothing is being remembered: the disk is full."
        journal._behind.stop()  # it tries again and again, and could be seen trying
        found = read(journal.path)
        assert found.tail == b""
        assert 0 < len(found.records) - 1 < len(EVENTS)
        (stick / "films").unlink()
    assert journal.trouble() == ""
    assert tell(journal.path).events == EVENTS


@pytest.mark.rig
def test_on_a_disk_that_turns_read_only_the_practice_goes_on(stick: Path) -> None:
    path = stick / "journals"
    with closing(Journal.create(path, HEADER)) as journal:
        for one in EVENTS[:5]:
            journal.write(one)
    subprocess.run(["mount", "-o", "remount,ro", str(stick)], check=True)
    again = Journal.open(journal.path)
    again.write(EVENTS[5])
    assert "may not be written" in again.trouble()
    subprocess.run(["mount", "-o", "remount,rw", str(stick)], check=True)
    again.close()
    assert again.trouble() == ""
    assert EVENTS[:6] == tell(journal.path).events
