"""A small file is written whole or not at all, and what stood there stays what it was."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from courttimer.errors import PlanError
from courttimer.memory import exports
from courttimer.memory.whole import put

unix = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no limit on the size of a file, and its links want rights")


@contextmanager
def limit() -> Iterator[None]:
    """No file may grow beyond 1000 bytes: the system takes that many, and refuses the rest at the next write.

    For as short as can be: the file into which the tests themselves print is longer.
    """
    import resource

    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1_000, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@unix
def test_where_only_a_part_has_room_the_old_file_stays_and_the_coach_is_told(tmp_path: Path) -> None:
    """POSIX.1-2017, write: "only as many bytes as there is room for shall be written", without an error."""
    (tmp_path / "sheet.html").write_bytes(b"last week's")

    told = r"sheet.html: it cannot be written \(the disk is full; make room on it, and try again\)"
    with limit(), pytest.raises(PlanError, match=told):
        exports.write(tmp_path / "sheet.html", b"x" * 5_000, tmp_path / "data")

    assert (tmp_path / "sheet.html").read_bytes() == b"last week's"
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.html"]


@unix
def test_a_link_goes_on_leading_to_the_file_that_is_written(tmp_path: Path) -> None:
    (tmp_path / "there.html").write_bytes(b"old")
    (tmp_path / "here.html").symlink_to("there.html")
    put(tmp_path / "here.html", b"new")

    assert (tmp_path / "here.html").is_symlink()
    assert (tmp_path / "there.html").read_bytes() == b"new"


@unix
def test_a_device_is_written_into_and_stays_a_device(tmp_path: Path) -> None:
    reads, writes = os.pipe()
    put(Path(f"/dev/fd/{writes}"), b"new")

    assert os.read(reads, 9) == b"new"
    os.close(reads)
    os.close(writes)


def test_a_folder_that_is_not_there_is_told_with_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(PlanError, match=r"No such file or directory; make that folder first, or name another"):
        exports.write(tmp_path / "no" / "sheet.html", b"new", tmp_path / "data")
