"""The journal of a practice: what was written is there again, one program writes it, and the practice goes on without a disk."""

import os
import subprocess
import sys
from contextlib import closing
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from courttimer.errors import JournalError
from courttimer.memory.journal import FORMAT, Header, Journal, tell
from courttimer.memory.lines import encode
from courttimer.memory.shelf import last
from courttimer.practice import event as shapes, events, records
from courttimer.practice.branch import Branch, happen
from courttimer.practice.events import (
    CalledOff,
    CueHeard,
    EffortGiven,
    Event,
    Held,
    Marked,
    PracticeEnded,
    PutBack,
    RepBegan,
    Still,
    TakenBack,
    Went,
)
from courttimer.practice.state import opening
from tests.report.tally_practices import practice as random_practice

HEADER = Header(
    wall="2026-11-24T18:05:12.345+01:00",
    program="0.1.0",
    title="Tern Street U14, Tuesday",
    session="tuesday.toml",
    files={"tuesday.toml": 'title = "Tern Street U14, Tuesday"\n', "drills/zoë.toml": "# ü\r\n"},
)
EVENTS: tuple[Event, ...] = (
    Went(at=1_000, by="key", starts=1_150, floor_ends=4_500_000),
    RepBegan(at=2_000, lane=0, rep=1, lasts=8_000),
    CueHeard(at=2_100, cue="0/2000/go/0", asked=2_000, played=2_000.021),
    Held(at=3_000, by="clicker"),
    TakenBack(at=3_500, by="key"),
    Still(at=4_500),
)


def practice(folder: Path, *happened: Event, header: Header = HEADER) -> Path:
    with closing(Journal.create(folder, header)) as journal:
        for event in happened:
            journal.write(event)
        return journal.path


def test_a_practice_is_there_again_and_goes_on(tmp_path: Path) -> None:
    path = practice(tmp_path, *EVENTS[:3])
    with closing(Journal.open(path)) as journal:
        assert journal.header == HEADER
        assert EVENTS[:3] == journal.events
        for event in EVENTS[3:]:
            journal.write(event)

    assert tell(path).events == EVENTS
    assert tell(path).header == HEADER


def test_an_event_is_in_the_file_when_write_returns(tmp_path: Path) -> None:
    """Flushed before anything else happens: another reader sees it at once, while the journal is open."""
    with closing(Journal.create(tmp_path, HEADER)) as journal:
        for n, event in enumerate(EVENTS, 1):
            journal.write(event)
            assert EVENTS[:n] == tell(journal.path).events


def test_after_the_end_all_is_safe_and_nothing_lies_beside_it(tmp_path: Path) -> None:
    journal = Journal.create(tmp_path, HEADER)
    for event in EVENTS:
        journal.write(event)
    journal.close()
    journal.close()

    assert journal.synced_length() == journal.path.stat().st_size
    assert [journal.path] == list(tmp_path.iterdir())
    assert journal.trouble() == ""


def test_its_name_tells_day_time_and_session_and_none_is_written_twice(tmp_path: Path) -> None:
    names = [practice(tmp_path).name for _ in range(3)]

    assert names == [f"2026-11-24-1805-tern-street-u14-tuesday{n}.jsonl" for n in ("", "-2", "-3")]


@pytest.mark.parametrize(("title", "slug"), [("../../etc", "etc"), ("練習", "practice"), ("Ü" * 60, "u" * 40), ("CON", "con")])
def test_any_title_gives_a_name_that_every_system_takes(tmp_path: Path, title: str, slug: str) -> None:
    header = Header(wall=HEADER.wall, program="0.1.0", title=title, session="", files={})

    assert practice(tmp_path, header=header) == tmp_path / f"2026-11-24-1805-{slug}.jsonl"


def test_a_power_cut_takes_nothing_that_was_synced(tmp_path: Path) -> None:
    """Cut at the last synced length and at every byte after it: what was safe is there, and at most what came after is gone."""
    with closing(Journal.create(tmp_path / "running", HEADER)) as journal:
        for event in EVENTS[:3]:
            journal.write(event)
        journal._lines.tend()
        safe = journal.synced_length()
        for event in EVENTS[3:]:
            journal.write(event)
        content = journal.path.read_bytes()
    assert content[:safe].count(b"\n") == 1 + 3
    for at in range(safe, len(content) + 1):
        path = tmp_path / f"{at}.jsonl"
        path.write_bytes(content[:at])
        with closing(Journal.open(path)) as again:
            assert again.events == EVENTS[: content[:at].count(b"\n") - 1]
            again.write(PracticeEnded(at=9_000))
        assert tell(path).events == (*again.events, PracticeEnded(at=9_000))


def test_cut_inside_its_header_it_is_no_journal_and_is_left_alone(tmp_path: Path) -> None:
    content = practice(tmp_path / "whole").read_bytes()
    path = tmp_path / "cut.jsonl"
    for at in (0, 1, len(content) // 2, len(content) - 1):
        path.write_bytes(content[:at])
        with pytest.raises(JournalError, match="no practice was begun in this file"):
            Journal.open(path)
        assert content[:at] == path.read_bytes()
        assert last(tmp_path) is None
        assert [path] == [one for one in tmp_path.iterdir() if one.is_file()]


def test_a_damaged_middle_is_refused_with_its_line(tmp_path: Path) -> None:
    path = practice(tmp_path, *EVENTS)
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join(lines[:3]) + lines[3][5:] + b"".join(lines[4:]))
    before = path.read_bytes()

    for read in (Journal.open, tell):
        with pytest.raises(JournalError, match=r"\.jsonl:4: this line is damaged"):
            read(path)
    assert before == path.read_bytes()
    assert [path] == list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("line", "number", "words"),
    [
        ('{"what":"score kept","at":1}\n', 2, '"score kept" is no event of this program'),
        ('{"what":"still","at":1,"colour":2}\n', 2, '"still" has other fields'),
    ],
)
def test_what_a_newer_program_wrote_is_refused_with_its_line(tmp_path: Path, line: str, number: int, words: str) -> None:
    path = practice(tmp_path)
    with path.open("a") as file:
        file.write(line)

    with pytest.raises(JournalError, match=rf"\.jsonl:{number}: {words}"):
        Journal.open(path)


def test_a_newer_format_is_refused_and_says_what_to_do(tmp_path: Path) -> None:
    path = practice(tmp_path)
    path.write_text(path.read_text().replace(f'"format":{FORMAT}', f'"format":{FORMAT + 1}'))

    with pytest.raises(JournalError, match=r":1: a newer courttimer wrote it \(format 2, known here: 1\); update this one$"):
        Journal.open(path)


@pytest.mark.parametrize("content", ["{}\n", '{"what":"still","at":0}\n', '{"what":"journal","format":1}\n', "[]\n{}\n"])
def test_what_is_no_journal_is_refused(tmp_path: Path, content: str) -> None:
    path = tmp_path / "notes.jsonl"
    path.write_text(content)

    with pytest.raises(JournalError, match=r"notes\.jsonl:1: "):
        Journal.open(path)
    assert content == path.read_text()


def test_two_programs_cannot_write_one_practice(tmp_path: Path) -> None:
    """The second is another process, and is told so in words; it may still read. When the first ends, it may write."""
    said = "import sys; from pathlib import Path; from courttimer.memory.journal import Journal; from courttimer.errors import *\n"
    said += "try: Journal.open(Path(sys.argv[1])).close(); print('opened')\nexcept JournalError as why: print(why)"

    def second_program(path: Path) -> str:
        return subprocess.run([sys.executable, "-c", said, path], capture_output=True, text=True, check=True).stdout.strip()

    with closing(Journal.create(tmp_path, HEADER)) as journal:
        journal.write(EVENTS[0])
        told = second_program(journal.path)
        who = f"another courttimer (process {os.getpid()})"
        assert f"{journal.path}: {who} is writing this practice; go on there, or end it there first" == told
        assert EVENTS[:1] == tell(journal.path).events
    assert second_program(journal.path) == "opened"


def test_the_lock_file_of_a_dead_program_blocks_nobody(tmp_path: Path) -> None:
    path = practice(tmp_path, *EVENTS)
    path.with_name(path.name + ".lock").write_bytes(b"")

    Journal.open(path).close()

    assert [path] == list(tmp_path.iterdir())


def test_what_is_said_after_the_end_does_not_begin_the_practice_anew(tmp_path: Path) -> None:
    practice(tmp_path, *EVENTS, PracticeEnded(at=5_000), EffortGiven(at=5_000, who="Ada", effort=7), Marked(at=5_100))

    assert last(tmp_path) is None


def test_the_last_practice_is_the_newest_that_did_not_end(tmp_path: Path) -> None:
    """An end that was taken back is no end; facts after the end change nothing."""
    heard = [CueHeard(at=n, cue="0/0/go/0", asked=n, played=float(n)) for n in range(2_000)]
    ended = practice(tmp_path, *EVENTS, PracticeEnded(at=5_000), *heard)
    cut_off = practice(tmp_path, *EVENTS)
    not_ended = practice(tmp_path, PracticeEnded(at=5_000), TakenBack(at=6_000), *heard)
    for second, path in enumerate([cut_off, not_ended, ended]):
        os.utime(path, (second, second))

    assert not_ended == last(tmp_path)
    not_ended.unlink()
    assert cut_off == last(tmp_path)
    cut_off.unlink()
    assert last(tmp_path) is None
    assert last(tmp_path / "nowhere") is None


END = (CalledOff(at=5_000), PracticeEnded(at=5_000))
EFFORT = EffortGiven(at=6_000, who="", effort=7)


@pytest.mark.parametrize(
    ("after", "ended"),
    [
        ((TakenBack(at=6_000), PutBack(at=7_000)), True),
        ((TakenBack(at=6_000), Still(at=6_500), PutBack(at=7_000)), True),
        ((TakenBack(at=6_000), PutBack(at=7_000), TakenBack(at=8_000)), False),
        ((EFFORT, TakenBack(at=7_000)), True),
        ((EFFORT, TakenBack(at=7_000), TakenBack(at=8_000)), False),
        ((EFFORT, TakenBack(at=7_000), PutBack(at=8_000)), True),
        ((TakenBack(at=6_000), CalledOff(at=8_000), PracticeEnded(at=8_000)), True),
    ],
)
def test_an_end_that_was_put_back_is_an_end_and_what_was_said_after_it_may_be_taken_back(
    tmp_path: Path, after: tuple[Event, ...], ended: bool
) -> None:
    path = practice(tmp_path, *EVENTS, *END, *after)

    assert last(tmp_path) == (None if ended else path)


@pytest.mark.parametrize("seed", range(12))
def test_a_random_practice_has_ended_when_its_replay_has(tmp_path: Path, seed: int) -> None:
    """Cut off after every line of its last forty: whoever knows all of take back says the same as a walk from the end."""
    plan, happened = random_practice(seed)
    branch, path = Branch(opening(plan, 0)), tmp_path / "cut.jsonl"
    content = b"{}\n"
    for line, event in enumerate(happened):
        branch, content = happen(branch, event), content + encode(records.record(event))
        follows = happened[line + 1 : line + 2]
        if line >= max(4, len(happened) - 40) and not any(e.source == "time" and e.at == event.at for e in follows):
            path.write_bytes(content)
            assert (last(tmp_path) is None) == branch.now.ended, line


@pytest.fixture
def no_folder(tmp_path: Path) -> Path:
    """A place where no folder can be made, even by root: a file is in the way."""
    in_the_way = tmp_path / "taken"
    in_the_way.write_text("a file")
    return in_the_way / "journals"


def test_without_a_folder_the_practice_goes_on_and_is_written_once_there_is_one(no_folder: Path) -> None:
    with closing(Journal.create(no_folder, HEADER)) as journal:
        for event in EVENTS[:3]:
            journal.write(event)
        assert journal.trouble().startswith("Nothing is being remembered: ")
        no_folder.parent.unlink()
        for event in EVENTS[3:]:
            journal.write(event)
        assert tell(journal.path).events == EVENTS
    assert journal.trouble() == ""


def test_without_a_folder_to_the_end_it_says_so_to_the_end(no_folder: Path) -> None:
    journal = Journal.create(no_folder, HEADER)
    journal.write(EVENTS[0])
    journal.close()

    assert journal.trouble().startswith("Nothing is being remembered: ")
    assert journal.synced_length() == 0


KEPT = sorted((Path(__file__).parent.parent / "journals").glob("v*.jsonl"))


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.name)
def test_a_journal_of_every_version_opens(path: Path) -> None:
    """tests/journals/v1-….jsonl was written in format 1, and so on. None of them is ever changed: names and fields are for ever."""
    told = tell(path)

    assert path.name.startswith(f"v{told.header.format}-")
    assert told.header.session in told.header.files
    assert path.read_bytes().count(b"\n") == 1 + len(told.events)


def test_there_is_a_journal_of_every_version() -> None:
    assert {path.name.partition("-")[0] for path in KEPT} == {f"v{n}" for n in range(1, FORMAT + 1)}


def test_every_event_of_this_program_can_be_kept(tmp_path: Path) -> None:
    made = one_of_each()

    assert made == tell(practice(tmp_path, *made)).events


def one_of_each() -> tuple[Event, ...]:
    """One event of each kind, every field filled."""
    examples: dict[object, Any] = {int: 1, str: "x", bool: True, float: 1.5, int | None: 2}
    who = ("x", ("y",))
    examples |= {
        shapes.Names: ("x",),
        shapes.Lengths: (1, -1),
        shapes.Sums: (("x", 1),),
        shapes.Makes: (("x", 1, 2),),
        shapes.Units: (who,),
        shapes.Standing: ((who,),),
    }
    return tuple(kind(**{field.name: examples[field.type] for field in fields(kind)}) for kind in records.names().values())


def test_a_torn_tail_is_set_aside_when_the_practice_goes_on_and_again_the_next_time(tmp_path: Path) -> None:
    """The tail is longer than the line that comes after it: left in the file, it would be glued to the next practice."""
    first = Journal.create(tmp_path, HEADER)
    first.write(events.Still(at=1_000))
    first.close()
    for number in range(2):
        with first.path.open("ab") as file:
            file.write(b'{"what":"marked","words":"' + b"x" * 400)
        again = Journal.open(first.path)
        again.write(events.Still(at=2_000 + number))
        again.close()

    assert [e.at for e in tell(first.path).events] == [1_000, 2_000, 2_001]
    assert first.path.read_bytes().count(b"x" * 400) == 0
    assert len(list(tmp_path.glob("*.torn-*"))) == 2
