"""The house's rules: who may know whom, where each outside library lives, and where files are opened (design, "The house")."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

HOUSE = Path(__file__).parent.parent / "courttimer"
FILES = {path.relative_to(HOUSE).as_posix(): ast.parse(path.read_text("utf-8")) for path in sorted(HOUSE.rglob("*.py"))}

BOOKS = {"squad", "care"}
TENSES = {"plan", "practice", "report"}
SENSES = {"sound", "screen", "memory"}
# What each room may know beside itself and the errors. Look back, never forward; senses read the tenses and never meet.
MAY_KNOW = {
    "__init__": set[str](),
    "errors": set[str](),
    "clock": set[str](),
    "locations": set[str](),
    "squad": set[str](),
    "care": set[str](),
    "plan": BOOKS,
    "practice": {"plan"} | BOOKS,
    "report": {"plan", "practice"} | BOOKS,
    "sound": TENSES | BOOKS | {"clock", "locations"},
    "screen": TENSES | BOOKS | {"clock", "locations"},
    "memory": TENSES | BOOKS | {"clock", "locations"},
    "conductor": {"plan", "practice", "clock"},
}
TIES = {"__main__", "entering", "evening", "loudspeaker", "papers", "playing", "recalling", "rehearsal", "reporting", "shown"}
"""Only these know every room: the command line, and the ways in which a practice is put together."""

LIVES_IN = {
    "textual": {"screen"},
    "rich": {"screen"},
    "numpy": {"sound"},
    "sounddevice": {"sound"},
    "pyttsx3": {"sound"},
    "soxr": {"sound"},
    "soundfile": {"sound"},
    "espeakng_loader": {"sound"},
    "platformdirs": {"locations"},
    "sqlite3": {"memory"},
    "fpdf": {"report"},
    "font_roboto": {"report"},
    "time": {"clock"},
    "datetime": {"clock"},
}
OPENS_FILES = {"memory", "sound", "locations"} | TIES
OPENING = {"read_text", "read_bytes", "write_text", "write_bytes", "touch", "mkdir", "unlink", "iterdir", "glob", "rglob"}


def room(file: str) -> str:
    """`plan/model.py` is in plan, `clock.py` is clock."""
    return file.split("/")[0].removesuffix(".py")


def imports(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Line and full name of every import, also those inside functions."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"line {node.lineno}: imports say the whole name"
            assert node.module
            whole = node.module == "courttimer"
            yield from ((node.lineno, f"{node.module}.{alias.name}" if whole else node.module) for alias in node.names)


def strangers(file: str, tree: ast.Module) -> list[str]:
    """The imports of other rooms that the file may not have."""
    own = room(file)
    if own in TIES:
        return []
    allowed = MAY_KNOW[own] | {own, "errors", "__init__"}
    ours = ((line, name) for line, name in imports(tree) if name.split(".")[0] == "courttimer")
    return [f"{file}:{line}: {name}" for line, name in ours if (*name.split("."), "__init__")[1] not in allowed]


def away_from_home(file: str, tree: ast.Module) -> list[str]:
    """The imports of outside libraries, and of the clock, in a room that is not their home."""
    found = []
    for line, name in imports(tree):
        library = name.split(".")[0]
        outside = library not in sys.stdlib_module_names and library != "courttimer"
        if (outside or library in LIVES_IN) and room(file) not in LIVES_IN.get(library, set()):
            found.append(f"{file}:{line}: {name}")
    return found


def openings(file: str, tree: ast.Module) -> list[str]:
    """The calls that touch the disk, in a room that may not."""
    if room(file) in OPENS_FILES:
        return []
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)]
    return [f"{file}:{call.lineno}" for call in calls if _touches_the_disk(call.func)]


def _touches_the_disk(func: ast.expr) -> bool:
    if isinstance(func, ast.Name):
        return func.id == "open"
    if not isinstance(func, ast.Attribute):
        return False
    of = func.value
    opened = func.attr == "open" and isinstance(of, ast.Name | ast.Call) and ast.unparse(of).startswith(("io", "os", "Path"))
    return func.attr in OPENING or opened


@pytest.mark.parametrize("file", FILES)
def test_no_room_knows_more_than_it_may(file: str) -> None:
    assert strangers(file, FILES[file]) == []


@pytest.mark.parametrize("file", FILES)
def test_each_outside_library_and_the_time_of_day_have_one_home(file: str) -> None:
    assert away_from_home(file, FILES[file]) == []


@pytest.mark.parametrize("file", FILES)
def test_files_are_opened_only_where_they_may(file: str) -> None:
    assert openings(file, FILES[file]) == []


@pytest.mark.parametrize("file", FILES)
def test_every_file_begins_with_what_you_come_to_it_for(file: str) -> None:
    said = ast.get_docstring(FILES[file]) or ""

    assert FILES[file].body[0].lineno == 1
    assert said.splitlines()[0].endswith((".", ":")), "the first line is a sentence"


@pytest.mark.parametrize("words", ["--help", "check sessions/first-practice.toml", "check --schema", "check nowhere.toml"])
def test_help_and_check_import_neither_numpy_nor_textual(words: str) -> None:
    command = [sys.executable, "-X", "importtime", "-m", "courttimer", *words.split()]
    done = subprocess.run(command, cwd=HOUSE.parent, capture_output=True, text=True, encoding="utf-8", check=False)
    loaded = {line.rpartition("|")[2].strip().partition(".")[0] for line in done.stderr.splitlines()}

    assert done.returncode in (0, 2)
    assert "argparse" in loaded
    assert not {"numpy", "textual", "sounddevice", "soxr", "pyttsx3"} & loaded


def test_the_rules_can_fail() -> None:
    """Each rule sees its own breach: the twin of the tests above."""
    assert strangers("plan/x.py", ast.parse("from courttimer.practice import fold"))
    assert strangers("memory/x.py", ast.parse("def f():\n    import courttimer.sound.mixer"))
    assert strangers("practice/x.py", ast.parse("from courttimer import screen"))
    assert strangers("conductor.py", ast.parse("from courttimer.memory.journal import Journal"))
    assert away_from_home("screen/x.py", ast.parse("import numpy as np"))
    assert away_from_home("plan/x.py", ast.parse("from datetime import date"))
    assert away_from_home("memory/x.py", ast.parse("import requests"))
    assert openings("plan/x.py", ast.parse("Path('x').read_text()"))
    assert openings("plan/x.py", ast.parse("open('x')"))
    assert openings("care/x.py", ast.parse("Path('x').open()"))
    assert not strangers("report/x.py", ast.parse("from courttimer.practice import fold\nfrom courttimer.squad import turns"))
