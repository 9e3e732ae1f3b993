"""An import that is killed loses nothing and doubles nothing: the next one ends where it would have ended."""

import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from courttimer.memory.history import History, discard
from tests.memory.practices import dump, produce, write

JOURNALS = 4


def survives(home: Path, statement: int) -> bool:
    """Kill an import before a statement of its, go on with it, and compare; was it killed?"""
    home.mkdir(exist_ok=True)
    for number in range(JOURNALS):
        write(home / "journals", number)
    command = [sys.executable, "-m", "tests.memory.importer", str(home), str(statement)]
    killed = subprocess.run(command, check=False).returncode != 0
    with closing(History(home / "history.sqlite", rules=1)) as told:
        kept = told.base.execute("SELECT count(*) FROM practice").fetchone()[0]
        assert kept + told.bring(home / "journals", produce).read == JOURNALS
        after = dump(told)
    discard(home / "history.sqlite")
    with closing(History(home / "history.sqlite", rules=1)) as told:
        told.bring(home / "journals", produce)
        assert after == dump(told)
    return killed


@pytest.mark.parametrize("statement", [0, 2, 20, 60])
def test_an_import_killed_at_work_is_gone_on_with(tmp_path: Path, statement: int) -> None:
    assert survives(tmp_path, statement)


@pytest.mark.long
def test_an_import_killed_before_each_of_its_statements_loses_and_doubles_nothing(tmp_path: Path) -> None:
    statement = 0
    while survives(tmp_path / str(statement), statement):
        statement += 2

    assert statement > 60
