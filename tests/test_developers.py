"""What DEVELOPERS.md says of the house is the house: every file has its place in it, and none that is named is gone."""

import re
from pathlib import Path

HERE = Path(__file__).parents[1]
HOUSE = HERE / "courttimer"
PAGE = (HERE / "DEVELOPERS.md").read_text(encoding="utf-8")
FILES = {path.stem for path in HOUSE.rglob("*.py")} - {"__init__"}


def test_every_file_has_its_place_in_a_room() -> None:
    rooms = PAGE.partition("## The rooms")[2].partition("\n## ")[0]
    named = set(re.findall(r"`(\w+)`", rooms))
    assert FILES - named == set(), "say in DEVELOPERS.md, The rooms, where it belongs"


def test_every_path_that_is_named_is_there() -> None:
    paths = set(re.findall(r"`((?:[a-z]+/)+(?:[\w.]+\.(?:py|toml|jsonl|md))?)`", PAGE))
    assert len(paths) > 40
    assert sorted(path for path in paths if not (HERE / path).exists() and not (HOUSE / path).exists()) == []
