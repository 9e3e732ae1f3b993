"""The commands that put a session on paper: what they write, where, and how each wrong word is answered."""

from io import BytesIO
from pathlib import Path

import pytest
from icalendar import Calendar
from pypdf import PdfReader

from courttimer import locations
from courttimer.__main__ import COACH, DONE, main
from courttimer.memory.exports import known

Said = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")


def test_a_sheet_is_written_beside_and_its_place_is_told_and_kept_in_mind(capsys: Said) -> None:
    assert main(["sheet", "first-practice"]) == DONE
    path = Path("first-practice-sheet.pdf")

    assert capsys.readouterr().out == f"{path}\n"
    assert len(PdfReader(BytesIO(path.read_bytes())).pages) == 1
    assert known(locations.data()) == [path.resolve()]


def test_a_sheet_as_a_page_begins_when_it_is_told_to() -> None:
    assert main(["sheet", "team-practice", "--html", "t.html", "--at", "19:30"]) == DONE

    assert "<b>19:38</b>" in Path("t.html").read_text(encoding="utf-8")
    assert not list(Path().glob("*.pdf"))


def test_letters_that_the_pdf_lacks_are_told(tmp_path: Path, capsys: Said) -> None:
    session = tmp_path / "s.toml"
    session.write_text('[[segment]]\nkind = "talk"\nname = "輪"\ntime = "1 min"\n', encoding="utf-8")

    assert main(["sheet", str(session), "--pdf", "s.pdf"]) == DONE
    assert capsys.readouterr().err == "The PDF has no letters for 輪; print the page that --html writes instead.\n"


def test_an_event_begins_and_ends_with_the_floor_time_of_its_day() -> None:
    assert main(["calendar", "team-practice", "--date", "2026-12-01"]) == DONE
    (event,) = Calendar.from_ical(Path("team-practice-2026-12-01.ics").read_bytes()).events

    assert (str(event.start), str(event.end)) == ("2026-12-01 18:00:00", "2026-12-01 19:15:00")


def test_an_event_may_begin_late_and_run_past_midnight() -> None:
    assert main(["calendar", "team-practice", "--date", "2026-12-31", "--at", "23:30", "--out", "x.ics", "--remind", "0 s"]) == DONE
    (event,) = Calendar.from_ical(Path("x.ics").read_bytes()).events

    assert (str(event.start), str(event.end)) == ("2026-12-31 23:30:00", "2027-01-01 00:45:00")
    assert event.walk("VALARM") == []


def test_the_same_practice_written_again_is_the_same_event() -> None:
    for name in ("a.ics", "b.ics"):
        main(["calendar", "team-practice", "--date", "2026-12-01", "--out", name])
    one, again = (next(iter(Calendar.from_ical(Path(name).read_bytes()).events)) for name in ("a.ics", "b.ics"))

    assert one["uid"] == again["uid"]


WRONG = {
    "calendar team-practice --date 2026-02-30": '--date wants a day such as "2026-12-01" (got "2026-02-30")',
    "calendar team-practice --date tomorrow": '--date wants a day such as "2026-12-01" (got "tomorrow")',
    "calendar team-practice --date 2026-12-01 --at 25:00": '--at wants a time of day such as "18:00" (got "25:00")',
    "calendar team-practice --date 2026-12-01 --remind soon": '--remind wants a time such as "1 h" or "30 min" (got "soon")',
    "sheet team-practice --at noon": '--at wants a time of day such as "18:00" (got "noon")',
    "sheet team-practice --html nowhere/t.html": "nowhere/t.html: it cannot be written "
    "(No such file or directory; make that folder first, or name another)",
    "history export": "to take everything away: courttimer history export FILE.zip",
    "history load x.zip": "to take everything away: courttimer history export FILE.zip",
    "history --since yesterday": '--since wants a day such as "2026-12-01" (got "yesterday")',
    "history --player Zoe": 'no practice knows "Zoe"',
}


@pytest.mark.parametrize("line", WRONG)
def test_a_wrong_word_is_answered_in_words(line: str, capsys: Said) -> None:
    assert main(line.split()) == COACH
    assert capsys.readouterr().err == WRONG[line] + "\n"


def test_a_session_without_floor_time_wants_a_time_for_the_calendar(tmp_path: Path, capsys: Said) -> None:
    session = tmp_path / "s.toml"
    session.write_text('[[segment]]\nkind = "talk"\ntime = "1 min"\n', encoding="utf-8")

    assert main(["calendar", str(session), "--date", "2026-12-01"]) == COACH
    assert capsys.readouterr().err == "calendar wants --at H:MM: this session has no floor time\n"


def test_what_a_rehearsal_leaves_is_kept_in_mind_too(tmp_path: Path) -> None:
    assert main(["rehearse", "first-practice", "--cues", "c.json", "--journal", "j.jsonl"]) == DONE

    assert known(locations.data()) == [Path("c.json").resolve(), Path("j.jsonl").resolve()]
