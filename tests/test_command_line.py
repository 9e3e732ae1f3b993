"""The command line: what a coach may give it never ends in a traceback, and each fault has its exit code."""

import json
import os
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

import pytest

from courttimer import locations, rehearsal
from courttimer.__main__ import COACH, DONE, OURS, main, reading
from courttimer.errors import DeviceError
from courttimer.evening import begin, delays
from courttimer.memory.journal import tell
from courttimer.practice import events as ev
from courttimer.practice.calls import Call
from courttimer.sound import trial
from courttimer.sound.delays import late
from courttimer.sound.voice import Report

SESSION = """
title = "Short"
[[segment]]
kind = "warm-up"
time = "5 s"
[[segment]]
kind = "drill"
name = "Paint"
time = "20 s"
rep = { live = "5 s", off = "3 s" }
"""


@pytest.fixture(name="session")
def _session(tmp_path: Path) -> Path:
    path = tmp_path / "short.toml"
    path.write_text(SESSION, encoding="utf-8")
    return path


BAD = {
    "empty": b"",
    "binary": bytes(range(256)) * 40,
    "not UTF-8": b'title = "\xff\xfe"',
    "deep": b"a = " + b"[" * 5_000 + b"]" * 5_000,
    "noise": b"\x00\x07=[" * 5_000_000,
    "no segments": b'title = "x"\n',
    "true for a number": b'age = true\n[[segment]]\nkind = "talk"\ntime = "1 min"\n',
    "nan": b"age = nan\n",
    "negative time": b'[[segment]]\nkind = "talk"\ntime = "-1 min"\n',
    "floor that ends first": b'floor = "19:00-18:00"\n[[segment]]\nkind = "talk"\ntime = "1 min"\n',
    "itself": b'[[segment]]\nuse = "bad.toml"\n',
    "outside": b'[[segment]]\nuse = "../other.toml"\n',
    "missing drill": b'[[segment]]\nuse = "nowhere.toml"\n',
}


@pytest.mark.parametrize("command", ["check", "run", "rehearse"])
@pytest.mark.parametrize("bad", BAD)
def test_a_bad_file_is_told_in_lines_with_exit_code_2(
    bad: str, command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bad.toml"
    path.write_bytes(BAD[bad])

    code = main([command, str(path), *(["--plain", "--silent"] if command == "run" else [])])

    told = capsys.readouterr()
    assert code == COACH
    assert told.err.startswith("bad.toml:")
    assert "Traceback" not in told.err


@pytest.mark.parametrize("word", ["nowhere.toml", "first-practise", ""])
def test_a_session_that_is_not_there_is_told_with_exit_code_2(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", word]) == COACH
    assert "no such file" in capsys.readouterr().err


def test_a_folder_is_told_with_exit_code_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(tmp_path)]) == COACH
    assert "folder" in capsys.readouterr().err


def test_a_good_file_has_exit_code_0(session: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(session)]) == DONE
    assert "No mistakes" in capsys.readouterr().out


def test_check_tells_mistakes_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.toml"
    path.write_bytes(BAD["negative time"])

    assert main(["check", str(path), "--json"]) == COACH
    assert json.loads(capsys.readouterr().out)["mistakes"][0].startswith("bad.toml:3:")


def test_the_schema_is_printed_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--schema"]) == DONE
    assert json.loads(capsys.readouterr().out)["$schema"].startswith("https://json-schema.org/")


def test_every_mistake_in_a_file_of_calls_is_told_at_its_line(
    session: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    calls = tmp_path / "calls.txt"
    calls.write_text("0:00.000 go\n0:07 jump\nlater over\n", encoding="utf-8")

    assert main(["rehearse", str(session), "--calls", str(calls)]) == COACH
    told = capsys.readouterr().err.splitlines()
    assert [line.split(": ")[0] for line in told] == [f"{calls}:2", f"{calls}:3"]


def test_a_rehearsal_writes_a_journal_that_tells_the_practice(session: Path, tmp_path: Path) -> None:
    journal = tmp_path / "journal.jsonl"

    assert main(["rehearse", str(session), "--journal", str(journal), "--cues", str(tmp_path / "cues.json")]) == DONE

    happened = tell(journal).events
    assert [e.rep for e in happened if isinstance(e, ev.RepBegan)] == [1, 2]
    assert isinstance([e for e in happened if e.source != "fact"][-1], ev.PracticeEnded)
    assert {"go", "end", "change"} <= {cue["name"] for cue in json.loads((tmp_path / "cues.json").read_text("utf-8"))}


def test_cues_of_an_unknown_sort_are_refused(session: Path, tmp_path: Path) -> None:
    assert main(["rehearse", str(session), "--cues", str(tmp_path / "cues.txt")]) == COACH


def test_a_sound_file_of_an_unknown_sort_is_refused_at_once(session: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rehearse", str(session), "--wav", "practice.mp3"]) == COACH
    told = capsys.readouterr()
    assert told.err == "--wav writes .wav, .flac or .ogg (got practice.mp3)\n"
    assert told.out == ""


def test_what_is_said_is_rendered_before_a_sound_file_is_written(
    session: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    said: list[str] = []

    def prepare(texts: Iterable[str], voice: object, folder: Path) -> Report:
        said.extend(texts)
        return Report(trouble="no speech: the voice is hoarse")

    monkeypatch.setattr(rehearsal, "prepare", prepare)
    assert main(["rehearse", str(session), "--wav", str(tmp_path / "x.ogg")]) == DONE
    assert "Ready." in said
    assert "the voice is hoarse" in capsys.readouterr().out
    assert (tmp_path / "x.ogg").read_bytes()[:4] == b"OggS"


def test_a_rehearsal_tells_what_is_wrong_with_the_coachs_phrases(session: Path, capsys: pytest.CaptureFixture[str]) -> None:
    locations.own_sounds().mkdir(parents=True)
    (locations.own_sounds() / "en.toml").write_text('[phrases]\nready = "{who}"\n', encoding="utf-8")

    assert main(["rehearse", str(session)]) == DONE
    assert "en.toml:2: ready has no {who}; leave the braces out" in capsys.readouterr().out


@pytest.mark.parametrize("asked", ["--wav x.wav", "--wav x.ogg", "--cues x.vtt", "--journal x.jsonl"])
def test_a_file_that_cannot_be_written_is_told_with_what_to_do(
    asked: str, session: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    option, name = asked.split()

    assert main(["rehearse", str(session), option, str(tmp_path / "no" / name)]) == COACH
    assert f"{name}: it cannot be written (No such file or directory; make that folder first" in capsys.readouterr().err


@pytest.mark.parametrize("at", ["0:60", "9:99", "1:60:00", "12:00:00.001", "99999999999999999:00"])
def test_a_call_at_a_time_that_there_is_not_is_told(
    at: str, session: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "calls.txt").write_text(f"{at} over\n", encoding="utf-8")

    assert main(["rehearse", str(session), "--calls", str(tmp_path / "calls.txt")]) == COACH
    assert f"calls.txt:1: minutes and seconds go up to 59, and no call comes after 12 hours (got {at})" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["check first-practice", "report --columns", "rehearse first-practice", "forget Nobody"])
def test_with_everything_closed_a_command_does_its_work_all_the_same(command: str) -> None:
    closed = ["sh", "-c", 'exec "$@" <&- >&- 2>&-', "sh", sys.executable, "-m", "courttimer", *command.split()]

    assert subprocess.run(closed, check=False, timeout=60).returncode in (DONE, COACH)


@pytest.mark.parametrize("typed", ["", "7\n", "7\n\n8\n8"])
def test_a_workout_that_is_not_entered_to_its_end_is_not_kept(typed: str, capsys: pytest.CaptureFixture[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "courttimer", "enter", "workout-alone"],
        input=typed, capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip

    assert (done.returncode, done.stderr) == (COACH, "stopped: nothing was kept; courttimer enter asks again from the first spot\n")
    assert not list(locations.journals().glob("*"))


def test_resume_says_when_there_is_nothing_to_go_on_with(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["resume", "--plain", "--silent"]) == COACH
    assert "no practice to go on with" in capsys.readouterr().err


def test_resume_refuses_what_is_no_journal_of_ours(session: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["resume", str(session), "--plain", "--silent"]) == OURS
    assert "short.toml" in capsys.readouterr().err


def test_resume_passes_over_a_practice_that_still_runs_elsewhere(capsys: pytest.CaptureFixture[str]) -> None:
    found = reading("first-practice")
    cut_off, running = begin(found), begin(found)
    for one in (cut_off, running):
        one.conductor.call(Call(what="go"), at=0)
    cut_off.conductor.call(Call(what="end"), at=5)
    cut_off.journal.close()

    assert main(["resume", "--plain", "--silent"]) == OURS
    assert f"another courttimer (process {os.getpid()}) is writing this practice" in capsys.readouterr().err
    running.journal.close()


def test_with_standard_input_closed_a_practice_runs_all_the_same(session: Path) -> None:
    command = [sys.executable, "-m", "courttimer", "run", str(session), "--plain", "--silent", "--go", "--rate", "60"]
    done = subprocess.run(
        ["sh", "-c", 'exec "$@" <&-', "sh", *command], capture_output=True, text=True, check=False, timeout=60
    )

    assert (done.returncode, done.stderr) == (DONE, "")
    assert "The practice is over." in done.stdout


@pytest.mark.parametrize(("content", "said"), [(b"0:01 over\n\xff", "no text in UTF-8"), (None, "no such file")])
def test_a_file_of_calls_that_cannot_be_read_is_the_coachs_to_mend(
    content: bytes | None, said: str, session: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    calls = tmp_path / "calls.txt"
    if content is not None:
        calls.write_bytes(content)

    assert main(["rehearse", str(session), "--calls", str(calls)]) == COACH
    assert said in capsys.readouterr().err


def test_a_delay_that_is_told_by_hand_is_kept_under_the_speakers_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["speaker", "--speaker", "Gym box", "--delay", "180"]) == DONE
    assert capsys.readouterr().out == "Kept: Gym box gets its cues 180 ms earlier.\n"
    assert delays() == {"Gym box": 180}


def test_of_two_kept_delays_that_of_the_longer_name_counts_and_this_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    for name, ms in (("Gym", 120), ("Gym box", 223), ("gym", 90)):
        assert main(["speaker", "--speaker", name, "--delay", str(ms)]) == DONE

    assert capsys.readouterr().out.endswith("Kept: gym gets its cues 90 ms earlier.\nGym box keeps its own 223 ms.\n")
    assert (late(delays(), "Gym box"), late(delays(), "The gym's other"), late(delays(), "built-in")) == (223, 90, 0)


@pytest.mark.parametrize("word", ["inf", "nan", "-1", "soon"])
def test_a_wait_without_end_is_refused(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["speaker", "--wait", word])
    assert f"0 to 600 seconds are wanted (got {word})" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--delay", "180"], "--delay wants --speaker NAME: it is kept under that name\n"),
        (["--speaker", "box", "--delay", "-1"], "a speaker is between 0 and 2000 ms late (got -1)\n"),
        (["--speaker", "box", "--delay", "2001"], "a speaker is between 0 and 2000 ms late (got 2001)\n"),
    ],
)
def test_a_delay_that_no_speaker_has_is_refused(words: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["speaker", *words]) == COACH
    assert capsys.readouterr().err == said
    assert delays() == {}


class NoSound:
    """A machine without any sound system."""

    def look(self) -> list[object]:
        raise DeviceError("PortAudio is not installed")


def test_a_machine_without_sound_is_told_with_exit_code_3(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(trial, "Either", NoSound)
    assert main(["speaker", "--list"]) == OURS
    assert capsys.readouterr().err == "PortAudio is not installed\n"


@pytest.mark.parametrize("rate", ["0", "-1", "1.5", "fast"])
def test_a_clock_that_would_stand_still_is_refused(rate: str, session: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match=r"^2$"):
        main(["run", str(session), "--plain", "--rate", rate])
    assert f"a whole number from 1 on is wanted (got {rate})" in capsys.readouterr().err


def test_a_name_that_is_not_in_the_squad_is_told_as_typed_and_leaves_no_practice_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Else `resume` would find the practice that never was, before the one that was cut off."""
    monkeypatch.setenv("COURTTIMER_HOME", str(tmp_path / "home"))
    session = tmp_path / "short.toml"
    session.write_text('[squad]\nplayers = ["Ada", "Bea"]\n' + SESSION.replace('title = "Short"\n', ""), encoding="utf-8")
    assert main(["run", str(session), "--plain", "--silent", "--present", "ada, Zed"]) == COACH
    assert "not in the squad: Zed" in capsys.readouterr().err
    assert not list((tmp_path / "home").rglob("*.jsonl"))
