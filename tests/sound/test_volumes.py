"""The volumes are as the coach left them last time, and never a reason for silence."""

from pathlib import Path

import pytest

from courttimer.sound.volumes import keep, kept


def test_they_are_as_they_were_left(tmp_path: Path) -> None:
    assert kept(tmp_path) == (0, 0)
    keep(tmp_path / "new", -6, 3)
    assert kept(tmp_path / "new") == (-6, 3)


@pytest.mark.parametrize("text", ["", "{}", "[1, 2]", '{"everything": "loud", "voice": 0}', '{"everything": -400, "voice": 0}'])
def test_a_file_that_makes_no_sense_is_as_none(tmp_path: Path, text: str) -> None:
    (tmp_path / "volume.json").write_text(text, encoding="utf-8")
    assert kept(tmp_path) == (0, 0)


def test_a_folder_that_cannot_be_written_stops_nothing(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    keep(tmp_path / "taken", -6, 3)
    assert kept(tmp_path / "taken") == (0, 0)
