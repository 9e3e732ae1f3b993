"""courttimer report at the command line: the right practice, every output as documented, damage told, and words kept afterwards."""

import csv
import io
import json
import shutil
from contextlib import redirect_stdout
from pathlib import Path

import html5lib
import jsonschema
import pytest

from courttimer import locations
from courttimer.__main__ import COACH, DONE, OURS, main
from courttimer.memory.journal import tell
from courttimer.memory.shelf import last
from courttimer.report.columns import COLUMNS
from courttimer.report.entries import Head
from courttimer.report.tally import Tally

Said = pytest.CaptureFixture[str]
KEPT = Path(__file__).parent / "journals"
CALLS = "0:00 go\n0:47 outcome 2\n1:05 mark\n1:30 take back\n2:00 mark feet\n"


@pytest.fixture(name="today", scope="module")
def _today(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The journal of a practice with marks, rehearsed once for all."""
    folder = tmp_path_factory.mktemp("rehearsed")
    path = folder / "today.jsonl"
    (folder / "calls.txt").write_text(CALLS, encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(io.StringIO()):
        patch.setenv(locations.HOME, str(folder / "home"))
        main(["rehearse", "team-practice", "--calls", str(folder / "calls.txt"), "--journal", str(path)])
    return path


@pytest.fixture(name="journals")
def _journals(today: Path) -> Path:
    """Two practices that ended, the second one with marks."""
    folder = locations.journals()
    folder.mkdir(parents=True)
    shutil.copy(KEPT / "v1-first-practice.jsonl", folder)
    shutil.copy(today, folder)
    return folder


def said(capsys: Said, *words: str, code: int = DONE) -> str:
    assert main(["report", *words]) == code
    return capsys.readouterr().out


def rows(capsys: Said, table: str, *words: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(said(capsys, "--csv", table, *words))))


def test_without_a_journal_the_practice_begun_last_is_told(journals: Path, capsys: Said) -> None:
    assert said(capsys).startswith("Tern Street U14, Thursday\n")
    (journals / "today.jsonl").unlink()
    assert said(capsys).startswith("First practice\n")


@pytest.mark.parametrize("word", ["v1-first-practice", "v1-first-practice.jsonl", str(KEPT / "v1-first-practice.jsonl")])
def test_a_journal_is_named_by_its_file_or_its_name(word: str, journals: Path, capsys: Said) -> None:
    assert said(capsys, word).startswith("First practice\n2026-11-12, 04:00\n")


@pytest.mark.parametrize("path", sorted(KEPT.glob("*-first-practice.jsonl")), ids=lambda path: path.stem)
def test_a_journal_of_every_version_is_told(path: Path, capsys: Said) -> None:
    (head,) = rows(capsys, "practice", str(path))

    assert (head["title"], head["ended"], head["played"], head["reps"]) == ("First practice", "1", head["planned"], "4")


def test_a_practice_that_goes_on_is_told_by_its_name_only(journals: Path, capsys: Said) -> None:
    lines = (journals / "today.jsonl").read_bytes().splitlines(keepends=True)
    for path in journals.iterdir():
        path.unlink()
    (journals / "cut.jsonl").write_bytes(b"".join(lines[:40]))

    assert ", not ended" in said(capsys, "cut")
    assert main(["report"]) == COACH
    assert "none has ended yet" in capsys.readouterr().err


def test_a_damaged_journal_is_named_and_the_one_before_it_is_told(journals: Path, capsys: Said) -> None:
    lines = (journals / "today.jsonl").read_bytes().splitlines(keepends=True)
    (journals / "today.jsonl").write_bytes(b"".join([*lines[:30], b'{"what":"st\n', *lines[31:]]))

    assert main(["report"]) == OURS
    told = capsys.readouterr()
    assert told.out.startswith("First practice\n")
    assert "today.jsonl:31: this line is damaged" in told.err
    assert main(["report", "today"]) == OURS
    assert "today.jsonl:31: this line is damaged" in capsys.readouterr().err


def test_what_cannot_have_happened_is_told_without_a_traceback(journals: Path, capsys: Said) -> None:
    assert main(["report", str(KEPT / "v1-every-event.jsonl")]) == OURS
    assert "it cannot have happened so" in capsys.readouterr().err


def test_a_journal_that_is_not_there_is_asked_about(journals: Path, capsys: Said) -> None:
    assert main(["report", "todai"]) == COACH
    assert capsys.readouterr().err == "todai: there is no such journal; did you mean today?\n"


def test_json_is_as_its_schema_says_in_words_for_every_column(journals: Path, capsys: Said) -> None:
    told, schema = json.loads(said(capsys, "--json")), json.loads(said(capsys, "--schema"))

    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(told, schema)
    assert list(told) == list(COLUMNS)
    assert all(column["description"] for table in schema["properties"].values() for column in table["items"]["properties"].values())
    told["segments"][0]["played"] = "8 minutes"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(told, schema)


def test_every_column_that_is_written_is_explained(journals: Path, capsys: Said) -> None:
    explained = said(capsys, "--columns")
    for table in COLUMNS:
        told = said(capsys, "--csv", table)
        columns = next(csv.reader(io.StringIO(told)))
        about = explained.split(f"{table}: ")[1].split("\n\n")[0].splitlines()[1:]
        assert [line.split()[0] for line in about] == columns
        assert all(len(line.split()) > 1 for line in about)


def test_the_columns_are_the_fields_of_the_entries() -> None:
    assert [c.name for c in COLUMNS["practice"][1]] == list(Head._fields)
    assert set(COLUMNS) == set(Tally.__slots__) - {"notes"}


def test_csv_and_json_tell_the_same(journals: Path, capsys: Said) -> None:
    told = json.loads(said(capsys, "--json"))
    for table in COLUMNS:
        as_text = [{name: "" if value is None else str(value) for name, value in row.items()} for row in told[table]]
        assert rows(capsys, table) == as_text


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # html5lib's own
def test_the_page_is_written_and_valid(journals: Path, tmp_path: Path, capsys: Said) -> None:
    assert said(capsys, "--html", str(tmp_path / "r.html")) == f"{tmp_path / 'r.html'}\n"

    html5lib.HTMLParser(strict=True).parse((tmp_path / "r.html").read_text(encoding="utf-8"))


def test_a_table_that_is_not_there_is_asked_about(capsys: Said) -> None:
    assert main(["report", "--csv", "scorse"]) == COACH
    assert 'there is no table "scorse"' in capsys.readouterr().err


def test_efforts_given_afterwards_are_kept_in_the_journal_and_the_last_one_counts(journals: Path, capsys: Said) -> None:
    said(capsys, "--effort", "ada 6", "--effort", "Bea 8", "--effort", "7")
    said(capsys, "--effort", "Ada 9")
    players = {row["player"]: (row["effort"], row["own_load"]) for row in rows(capsys, "players")}

    assert (players["Ada"], players["Bea"], players["Cleo"]) == (("9", "612"), ("8", "544"), ("", ""))  # 68 minutes each
    assert rows(capsys, "practice")[0]["effort"] == "7"
    assert last(journals) is None, "what is said afterwards does not begin the practice anew"


def test_words_are_put_to_a_mark_afterwards(journals: Path, capsys: Said) -> None:
    assert [row["words"] for row in rows(capsys, "marks")] == ["feet"]
    said(capsys, "--words", "1 quick feet")

    assert [row["words"] for row in rows(capsys, "marks")] == ["quick feet"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--effort", "Zoe 7"), '--effort: nobody here is called "Zoe"'),
        (("--effort", "Ada 11"), '--effort: effort wants who and 0 to 10, such as "effort Ada 7" (got "Ada 11")'),
        (("--words", "3 hm"), "--words: there is no mark 3; there are 1"),
        (("--words", "² hm"), '--words: wants the number of a mark and words, such as "2 good help" (got "² hm")'),
        (("--words", "hm"), '--words: wants the number of a mark and words, such as "2 good help" (got "hm")'),
    ],
)
def test_a_slip_is_told_and_nothing_is_kept(words: tuple[str, str], told: str, journals: Path, capsys: Said) -> None:
    before = tell(journals / "today.jsonl").events

    assert main(["report", *words, "--effort", "Bea 5"]) == COACH
    assert capsys.readouterr().err == f"{told}\n"
    assert tell(journals / "today.jsonl").events == before
