"""The history is what the journals make of it: whatever the order, the number and the end of its imports."""

import os
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from courttimer.errors import JournalError
from courttimer.memory.history import History, discard
from courttimer.memory.journal import Told
from courttimer.report.rows import Rows
from tests.memory.practices import dump, produce, write

Opened = tuple[Path, Path]


@contextmanager
def history(folder: Path, rules: int = 1) -> Iterator[History]:
    with closing(History(folder / "history.sqlite", rules=rules)) as opened:
        yield opened


def anew(folder: Path) -> list[str]:
    """What a history holds that is made at once from the journals as they lie there now."""
    discard(folder / "anew" / "history.sqlite")
    with history(folder / "anew") as fresh:
        fresh.bring(folder / "journals", produce)
        return dump(fresh)


@settings(max_examples=30, deadline=None)
@given(
    steps=st.lists(st.tuples(st.sampled_from(("write", "grow", "cut", "take out", "copy", "bring")), st.integers(0, 5)), max_size=25)
)
def test_after_any_row_of_imports_it_is_as_if_made_at_once(
    tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[str, int]]
) -> None:
    home = tmp_path_factory.mktemp("home")
    (home / "journals").mkdir()
    with history(home) as grown:
        for step, number in steps:
            _do(step, home / "journals", number, grown)
        grown.bring(home / "journals", produce)

        assert dump(grown) == anew(home)


def _do(step: str, folder: Path, number: int, grown: History) -> None:
    path = folder / f"practice-{number:05d}.jsonl"
    match step:
        case "write":
            write(folder, number)
        case "grow" if path.exists():
            path.write_bytes(path.read_bytes() + b'{"what":"still","at":2000000,"lane":-1,"by":"time"}\n')
        case "cut" if path.exists():
            path.write_bytes(path.read_bytes()[: -50 - number])
        case "take out":
            path.unlink(missing_ok=True)
        case "copy" if path.exists():
            (folder / f"copy-{number}.jsonl").write_bytes(path.read_bytes())
        case "bring":
            grown.bring(folder, produce)


def test_a_second_import_reads_nothing(tmp_path: Path) -> None:
    for number in range(3):
        write(tmp_path / "journals", number)
    with history(tmp_path) as told:
        assert told.bring(tmp_path / "journals", produce).read == 3
        assert told.bring(tmp_path / "journals", produce).read == 0


def test_a_copy_counts_once_and_its_longest_one(tmp_path: Path) -> None:
    whole = write(tmp_path / "journals", 1)
    content = whole.read_bytes()
    whole.with_name("a-part.jsonl").write_bytes(content[: content.rindex(b"\n", 0, -1) + 1])
    with history(tmp_path) as told:
        told.bring(tmp_path / "journals", produce)
        counted = told.base.execute("SELECT name FROM journal WHERE counts").fetchall()

    assert counted == [(whole.name,)]


def test_a_damaged_journal_is_reported_and_the_others_are_told(tmp_path: Path) -> None:
    for number in range(3):
        write(tmp_path / "journals", number)
    damaged = tmp_path / "journals" / "practice-00001.jsonl"
    damaged.write_bytes(damaged.read_bytes().replace(b'{"what":"marked"', b'{"what""marked"', 1))
    with history(tmp_path) as told:
        brought = told.bring(tmp_path / "journals", produce)
        again = told.bring(tmp_path / "journals", produce)
        counted = told.base.execute("SELECT name FROM journal WHERE counts ORDER BY name").fetchall()

    assert [trouble.startswith(f"{damaged}:2: this line is damaged") for trouble in brought.troubles] == [True]
    assert again.troubles == brought.troubles
    assert counted == [("practice-00000.jsonl",), ("practice-00002.jsonl",)]


def test_a_producer_that_fails_on_one_journal_stops_no_other(tmp_path: Path) -> None:
    def fails(told: Told) -> Rows:
        if told.header.wall.startswith("2020-01-02"):
            raise IndexError("tuple index out of range")
        return produce(told)

    for number in range(3):
        write(tmp_path / "journals", number)
    with history(tmp_path) as told:
        brought = told.bring(tmp_path / "journals", fails)
        assert told.base.execute("SELECT count(*) FROM practice").fetchone() == (2,)
    assert len(brought.troubles) == 1


def test_an_import_that_is_broken_off_leaves_nothing_half(tmp_path: Path) -> None:
    def breaks(told: Told) -> Rows:
        if told.header.wall.startswith("2020-01-03"):
            raise KeyboardInterrupt
        return produce(told)

    for number in range(4):
        write(tmp_path / "journals", number)
    with history(tmp_path) as told:
        before = dump(told)
        with pytest.raises(KeyboardInterrupt):
            told.bring(tmp_path / "journals", breaks)

        assert dump(told) == before


def test_without_a_folder_of_journals_it_is_empty(tmp_path: Path) -> None:
    with history(tmp_path) as told:
        assert told.bring(tmp_path / "journals", produce).read == 0


@pytest.mark.parametrize(
    "content", [b"no database at all, but long enough to be read as one" * 40, b"", b"SQLite format 3\0" + bytes(90)]
)
def test_what_is_no_history_is_made_anew(tmp_path: Path, content: bytes) -> None:
    write(tmp_path / "journals", 1)
    (tmp_path / "history.sqlite").write_bytes(content)
    with history(tmp_path) as told:
        told.bring(tmp_path / "journals", produce)
        assert dump(told) == anew(tmp_path)


def test_other_rules_make_it_anew(tmp_path: Path) -> None:
    write(tmp_path / "journals", 1)
    with history(tmp_path, rules=1) as told:
        told.bring(tmp_path / "journals", produce)
    with history(tmp_path, rules=2) as told:
        assert told.bring(tmp_path / "journals", produce).read == 1


def test_a_history_that_another_program_holds_is_told_in_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("courttimer.memory.history.PATIENCE_S", 0.0)
    with history(tmp_path), pytest.raises(JournalError, match="another courttimer is reading the journals; wait for it"):
        History(tmp_path / "history.sqlite", rules=1)
    with history(tmp_path):
        pass  # and then it is free again


def test_a_disk_that_refuses_is_told_in_words(tmp_path: Path) -> None:
    write(tmp_path / "journals", 1)
    with history(tmp_path) as told:
        told.base.execute("PRAGMA query_only = 1")
        with pytest.raises(JournalError, match=r"the history cannot be written \(.*\); the journals are whole"):
            told.bring(tmp_path / "journals", produce)


def test_on_a_full_disk_room_is_asked_for_and_nothing_is_to_be_deleted(tmp_path: Path) -> None:
    """SQLite documentation, PRAGMA max_page_count and SQLITE_FULL: what would be longer is refused as on a full disk."""
    for number in range(40):
        write(tmp_path / "journals", number)
    with history(tmp_path) as told:
        told.base.execute(f"PRAGMA max_page_count = {told.base.execute('PRAGMA page_count').fetchone()[0]}")
        with pytest.raises(JournalError, match=r"\(the disk is full; make room on it, and try again\); the journals are whole"):
            told.bring(tmp_path / "journals", produce)


def test_a_folder_that_cannot_be_made_is_told_in_words(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(JournalError, match="the history cannot be opened"):
        History(tmp_path / "file" / "history.sqlite", rules=1)


def test_the_same_size_at_another_time_is_read_again(tmp_path: Path) -> None:
    path = write(tmp_path / "journals", 1)
    with history(tmp_path) as told:
        told.bring(tmp_path / "journals", produce)
        path.write_bytes(path.read_bytes().replace(b"Tern Street", b"Fern Street"))
        os.utime(path, ns=(1, 1))
        told.bring(tmp_path / "journals", produce)

        assert told.base.execute("SELECT title FROM practice").fetchall() == [("Fern Street",)]
