"""The history at the command line, from journals of every version and of the practices of today."""

import csv
import io
import json
import shutil
import zipfile
from pathlib import Path

import html5lib
import jsonschema
import pytest

from courttimer import locations
from courttimer.__main__ import COACH, DONE, main

Said = pytest.CaptureFixture[str]
KEPT = Path(__file__).parent / "journals"
TOLD = {
    "v1-competitive-evening.jsonl": ("Tern Street U16, Friday", 23),
    "v1-first-practice.jsonl": ("First practice", 4),
}
"""Each journal of every version that holds a practice, with its title and its reps: a held one counts once, a struck one not at all."""


@pytest.fixture(name="journals")
def _journals() -> Path:
    folder = locations.journals()
    folder.mkdir(parents=True)
    for name in TOLD:
        shutil.copy(KEPT / name, folder)
    return folder


def rows(said: Said, *words: str) -> list[dict[str, str]]:
    assert main(["history", *words, "--csv"]) == DONE
    return list(csv.DictReader(io.StringIO(said.readouterr().out)))


def test_a_practice_of_every_version_is_told(journals: Path, capsys: Said) -> None:
    assert [(row["title"], int(row["reps"])) for row in rows(capsys)] == list(TOLD.values())


def test_a_rehearsed_practice_is_told_as_it_was_played(journals: Path, capsys: Said) -> None:
    main(["rehearse", "team-practice", "--journal", str(journals / "today.jsonl")])
    capsys.readouterr()
    today = rows(capsys, "sessions")[0]
    work = {row["kind"]: row for row in rows(capsys, "work", "--since", today["day"])}

    assert (today["title"], today["at"], today["minutes"], today["planned"]) == ("Tern Street U14, Thursday", "18:00", "68", "68")
    assert {kind: row["minutes"] for kind, row in work.items()} == {
        "drill": "40",
        "scrimmage": "8",
        "warm-up": "8",
        "water": "8",
        "cool-down": "4",
    }


def test_a_damaged_journal_is_named_and_the_others_are_told(journals: Path, capsys: Said) -> None:
    (journals / "bad.jsonl").write_bytes(b'{"what":"journal"\n{"what":"still","at":1}\n')
    (journals / "none.jsonl").write_bytes(b"")
    assert main(["history", "sessions"]) == DONE
    told = capsys.readouterr()

    assert "First practice" in told.out
    assert [line.split(": ")[0] for line in told.err.splitlines()] == ["left out", "left out"]
    assert "bad.jsonl:1: this line is damaged" in told.err
    assert "none.jsonl: no practice was begun in this file" in told.err


def test_json_is_as_its_schema_says_in_words_for_every_column(journals: Path, capsys: Said) -> None:
    assert main(["history", "--json"]) == DONE
    told = json.loads(capsys.readouterr().out)
    assert main(["history", "--schema"]) == DONE
    schema = json.loads(capsys.readouterr().out)

    jsonschema.validate(told, schema)
    assert list(told) == ["sessions", "load", "shooting", "best", "work"]
    assert all(column["description"] for table in schema["properties"].values() for column in table["items"]["properties"].values())


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # html5lib's own
def test_the_page_is_valid(journals: Path, tmp_path: Path, capsys: Said) -> None:
    assert main(["history", "--html", str(tmp_path / "h.html"), "--player", "ada", "--since", "2020-01-01"]) == DONE

    html5lib.HTMLParser(strict=True).parse((tmp_path / "h.html").read_text(encoding="utf-8"))


def test_everything_is_taken_away_in_one_file(journals: Path, tmp_path: Path, capsys: Said) -> None:
    assert main(["history", "export", str(tmp_path / "all.zip")]) == DONE
    with zipfile.ZipFile(tmp_path / "all.zip") as box:
        assert {f"journals/{path.name}": path.read_bytes() for path in journals.iterdir()} == {
            name: box.read(name) for name in box.namelist() if name.startswith("journals/")
        }
        jsonschema.validate(json.loads(box.read("history.json")), json.loads(box.read("history.schema.json")))
        columns = [line.split()[0] for line in box.read("README.txt").decode().splitlines() if line.startswith("  ")]
        heads = [
            name for file in box.namelist() if file.endswith(".csv") for name in box.read(file).decode().split("\r\n")[0].split(",")
        ]
    assert columns == heads


def test_what_one_player_takes_away_holds_no_other(journals: Path, tmp_path: Path, capsys: Said) -> None:
    assert main(["history", "export", str(tmp_path / "ada.zip"), "--player", "Ada"]) == DONE
    with zipfile.ZipFile(tmp_path / "ada.zip") as box:
        text = b"".join(map(box.read, box.namelist())).decode()

    assert [name for name in ("Bea", "Cleo", "Dina") if name in text] == []


def test_a_player_is_found_in_any_case_and_a_slip_is_asked_about(journals: Path, capsys: Said) -> None:
    assert rows(capsys, "sessions", "--player", "ADA") == rows(capsys, "sessions", "--player", "Ada")
    assert main(["history", "--player", "Gwenn"]) == COACH
    assert capsys.readouterr().err == 'no practice knows "Gwenn"; did you mean Gwen?\n'


def test_a_player_is_forgotten_and_the_practices_are_told_as_before(journals: Path, capsys: Said) -> None:
    before = rows(capsys, "work")
    assert main(["forget", "gwen", "--yes"]) == DONE
    told = capsys.readouterr().out

    assert told.startswith("Gwen is Player 1 now: 2 journals, 0 torn ends, 0 spoken phrases.\n")
    assert rows(capsys, "work") == before
    assert rows(capsys, "sessions", "--player", "Player 1") == rows(capsys, "sessions")
    assert main(["history", "--player", "Gwen"]) == COACH


def test_forgetting_asks_first_and_names_the_nearest(journals: Path, capsys: Said, monkeypatch: pytest.MonkeyPatch) -> None:
    before = {path: path.read_bytes() for path in journals.iterdir()}
    monkeypatch.setattr("sys.stdin", None)
    assert [main(["forget", "Gwen"]), main(["forget", "Gwenn", "--yes"]), main(["forget"])] == [COACH] * 3

    assert capsys.readouterr().err == (
        "forget asks first, for it cannot be taken back; where nobody can be asked, add --yes\n"
        'no practice knows "Gwenn"; did you mean Gwen?\n'
        'forget wants a player, such as: courttimer forget "Ada"\n'
    )
    assert {path: path.read_bytes() for path in journals.iterdir()} == before


def test_a_removal_that_was_cut_off_is_told_and_brought_to_its_end(journals: Path, capsys: Said) -> None:
    job = locations.data() / "forget.json"
    job.write_text('{"name": "Gwen", "stand_in": "Player 5"}', encoding="utf-8")
    assert main(["history", "sessions"]) == DONE
    assert "a removal of a name was cut off: courttimer forget brings it to its end" in capsys.readouterr().err
    assert main(["forget", "Ada", "--yes"]) == COACH
    assert main(["forget", "--yes"]) == DONE

    assert "Gwen is Player 5 now" in capsys.readouterr().out
    assert not job.exists()


class Keys(io.StringIO):
    """Somebody at a terminal, who types this."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("typed", "code"), [("Gwen\n", DONE), ("Gwne\n", COACH)])
def test_whoever_types_the_name_again_means_it(
    journals: Path, capsys: Said, monkeypatch: pytest.MonkeyPatch, typed: str, code: int
) -> None:
    monkeypatch.setattr("sys.stdin", Keys(typed))
    assert main(["forget", "Gwen"]) == code

    assert ("Gwen" in (journals / "v1-first-practice.jsonl").read_text(encoding="utf-8")) == (code == COACH)
