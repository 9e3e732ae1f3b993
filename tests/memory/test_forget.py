"""A forgotten player leaves no trace of the name in any file of ours, and every count as it was."""

import json
import os
from contextlib import closing
from pathlib import Path

import pytest

from courttimer.errors import BusyError, JournalError
from courttimer.memory import exports
from courttimer.memory.forget import named, unfinished
from courttimer.memory.history import History
from courttimer.memory.journal import Journal, tell
from courttimer.practice import events as ev
from courttimer.sound.voice import stem
from tests.memory.keeping import NAME, events, fill, forgotten, session, told_rows, traces
from tests.memory.practices import lines


@pytest.fixture(name="home")
def _home(tmp_path: Path) -> Path:
    fill(tmp_path / "mine")
    return tmp_path / "mine"


def practices(home: Path) -> dict[str, str]:
    """What each journal that can be told comes to, by the day on which it began."""
    found = {}
    for path in sorted((home / "data" / "journals").glob("*.jsonl")):
        try:
            told = tell(path)
        except JournalError:
            continue
        found[told.header.wall[:10]] = repr((told_rows(told), told.events, told.header.title))
    return found


def test_the_search_finds_the_name_in_every_place_before(home: Path) -> None:
    """The twin of the next test: what it searches with sees what is there."""
    shown = {line.split(":")[0] for line in traces(home)}

    assert shown == {path.name for path in home.rglob("*") if path.is_file()} - {
        "2026-11-26-1800-without.jsonl", "speakers.json", *(path.name for path in home.rglob("*.npy"))
    }  # fmt: skip


def test_no_trace_is_left_in_any_file_of_ours(home: Path) -> None:
    done = forgotten(home)

    assert traces(home) == []
    assert (done.stand_in, done.journals, done.torn, done.speech, done.left) == ("Player 1", 4, 1, 1, [])
    assert not named(home / "data", NAME)
    assert list(home.rglob("*.lock")) == list(home.rglob("*.half")) == []


def test_every_practice_comes_to_what_it_came_to(home: Path) -> None:
    before = practices(home)
    forgotten(home)
    after = practices(home)

    assert len(before) == 4
    assert after == {day: told.replace(NAME.upper(), "Player 1").replace(NAME, "Player 1") for day, told in before.items()}


def test_the_history_is_made_anew_with_the_stand_in(home: Path) -> None:
    forgotten(home)
    with closing(History(home / "data" / "history.sqlite", rules=1)) as told:
        told.bring(home / "data" / "journals", told_rows)
        players = {player for (player,) in told.base.execute("SELECT player FROM players")}

    assert "Player 1" in players
    assert traces(home) == []


def test_the_sound_and_the_text_go_and_what_is_said_of_others_stays(home: Path) -> None:
    (folder,) = (home / "cache" / "speech").iterdir()
    forgotten(home)

    assert json.loads((folder / "lengths.json").read_text(encoding="utf-8")) == {"Water.": 400}
    assert json.loads((folder / "sources.json").read_text(encoding="utf-8")) == {"Water.": "Waw-ter."}
    assert {path.name for path in folder.iterdir()} == {"lengths.json", "sources.json", f"{stem('Water.')}.npy"}


def test_a_journal_without_the_name_and_every_other_file_keep_each_byte(home: Path) -> None:
    others = [home / "data" / "journals" / "2026-11-26-1800-without.jsonl", home / "data" / "speakers.json"]
    before = [path.read_bytes() for path in others]
    forgotten(home)

    assert [path.read_bytes() for path in others] == before


def test_a_journal_goes_on_afterwards_as_the_one_written_last(home: Path) -> None:
    path = home / "data" / "journals" / "2026-11-24-1800-tern.jsonl"
    os.utime(path, ns=(1, 123_456_789_000))
    forgotten(home)

    assert path.stat().st_mtime_ns == 123_456_789_000
    with closing(Journal.open(path)) as journal:
        assert len(journal.events) == len(events(NAME))


def test_while_a_practice_runs_on_such_a_journal_nothing_is_changed(home: Path) -> None:
    running = home / "data" / "journals" / "2026-11-28-1800-ascii.jsonl"
    before = {path: path.read_bytes() for path in home.rglob("*") if path.is_file()}
    with closing(Journal.open(running)), pytest.raises(BusyError, match="is writing this practice; end it first"):
        forgotten(home)

    assert {path: path.read_bytes() for path in home.rglob("*") if path.is_file()} == before


def test_a_practice_that_runs_without_the_name_is_not_in_the_way(home: Path) -> None:
    with closing(Journal.open(home / "data" / "journals" / "2026-11-26-1800-without.jsonl")):
        forgotten(home)

    assert traces(home) == []


def test_the_stand_in_is_nobody_elses_name(home: Path) -> None:
    text = session("Player 1", players='"Player 1", "player-2"')
    (home / "data" / "sessions" / "numbers.toml").write_text(text, encoding="utf-8")

    assert forgotten(home).stand_in == "Player 3"


def test_two_players_one_after_the_other_are_two_stand_ins(home: Path) -> None:
    assert [forgotten(home, name).stand_in for name in (NAME, "Cleo")] == ["Player 1", "Player 2"]


def test_a_kept_session_is_changed_in_the_letters_as_given_and_the_rest_is_told_by_its_line(home: Path) -> None:
    path = home / "data" / "sessions" / "will.toml"
    path.write_text(f'# {NAME.lower()} first\n{session(NAME)}use = "drills/{NAME}.toml"\n', encoding="utf-8")
    done = forgotten(home)

    assert path in done.sessions
    assert done.left == [f"{path}:{n}: this may still be the name; look at it" for n in (1, 15)]
    assert f"drills/{NAME}.toml" in path.read_text(encoding="utf-8")


def test_files_written_elsewhere_are_listed_when_they_hold_the_name_or_may(home: Path, tmp_path: Path) -> None:
    data = home / "data"
    for name, content in (("a.html", NAME), ("b.html", "nobody"), ("c.pdf", "%PDF"), (f"{NAME}.csv", "x"), ("gone.csv", NAME)):
        exports.write(tmp_path / name, content.encode(), data)
    (tmp_path / "gone.csv").unlink()
    done = forgotten(home)

    assert done.elsewhere == [tmp_path / "a.html", tmp_path / "c.pdf", tmp_path / f"{NAME}.csv"]
    assert exports.known(data) == [tmp_path / "a.html", tmp_path / "b.html", tmp_path / "c.pdf"]


def test_half_a_name_at_the_end_of_a_torn_tail_goes_too(home: Path) -> None:
    torn = home / "data" / "journals" / "2026-11-24-1800-tern.jsonl.torn-1"
    torn.write_bytes(b'{"what":"marked","words":"good, Zo\xc3')
    forgotten(home)

    assert torn.read_bytes() == b'{"what":"marked","words":"good, '


def test_a_name_that_is_a_word_of_ours_keeps_the_practice_whole(tmp_path: Path) -> None:
    """A player called Mark: "mark" in small letters is a call; one called Grace: `grace` is a key of the file."""
    for name in ("Mark", "Grace", "Will", "On", "Top"):
        journals = tmp_path / name / "data" / "journals"
        journals.mkdir(parents=True)
        drill = (
            '[[segment]]\nkind = "drill"\ntime = "1 min"\ngrace = "2 s"\nrule = "on the mark, will you"\nrep = { starts = "on call" }\n'
        )
        text = session(name) + drill + f"# {name}s drill\n"
        (journals / "a.jsonl").write_bytes(lines("2026-11-24T18:00:00.000+01:00", events(name), session=text))
        before = practices(tmp_path / name)
        done = forgotten(tmp_path / name, name)
        after = practices(tmp_path / name)

        assert done.left == []
        assert len(after) == len(before) == 1
        assert f'"{name}"' not in (journals / "a.jsonl").read_text(encoding="utf-8")
        assert f"{name}s" not in (journals / "a.jsonl").read_text(encoding="utf-8")


def test_how_the_name_is_said_is_forgotten_with_it(home: Path) -> None:
    lexicon = home / "data" / "sounds" / "lexicon.toml"
    lexicon.parent.mkdir()
    lexicon.write_text(f'# {NAME}: two beats\n"{NAME}" = "Zo-ee"\nSiobhan = "Shivawn"\n[es]\n"{NAME}" = "Soe"\n', encoding="utf-8")
    recording = lexicon.with_name(f"{NAME} to the top.wav")
    recording.write_bytes(b"RIFF\0\0")

    assert forgotten(home).left == [f"{recording}: it holds the name, or is called by it; change it or delete it"]
    assert lexicon.read_text(encoding="utf-8") == 'Siobhan = "Shivawn"\n[es]\n'


def test_what_else_lies_in_our_folder_is_told_and_not_touched(home: Path) -> None:
    note = home / "data" / "note.txt"
    note.write_text(f"call {NAME}", encoding="utf-8")

    assert forgotten(home).left == [f"{note}: it holds the name, or is called by it; change it or delete it"]


def test_a_disk_that_refuses_is_told_and_the_job_is_kept(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr("courttimer.memory.whole.sync", _full)
        with pytest.raises(JournalError, match="not all is done: give courttimer forget again"):
            forgotten(home)
    forgotten(home)

    assert traces(home) == []
    assert unfinished(home / "data") == ""


def _full(raw: object) -> None:
    raise OSError(28, "No space left on device")


def with_words(home: Path, *words: str, players: str = "") -> Path:
    """A further practice, whose marks have these words."""
    path = home / "data" / "journals" / "2026-11-29-1800-words.jsonl"
    marks = [event for n, text in enumerate(words) for event in (ev.Marked(at=100 + n, words=text),)]
    text = session(NAME, players=players)
    path.write_bytes(lines("2026-11-29T18:00:00.000+01:00", (*events(NAME), *marks), session=text))
    return path


def test_what_belongs_to_the_player_keeps_no_trace_of_the_name(home: Path) -> None:
    path = with_words(home, f"{NAME}s ball", f"{NAME}'s pass")
    done = forgotten(home)

    assert done.left == []
    assert NAME not in path.read_text(encoding="utf-8")
    assert '"Player 1s ball"' in path.read_text(encoding="utf-8")


def test_somebody_else_who_is_called_so_stays_and_the_coach_is_told(home: Path) -> None:
    path = with_words(home, f"{NAME}s ball, {NAME}", players=f'"{NAME}", "Bea", "{NAME}s"')
    done = forgotten(home)

    assert done.left == [f"somebody or something is called {NAME}s: wherever that stands it was left"]
    assert f'"{NAME}s ball, Player 1"' in path.read_text(encoding="utf-8")
