"""One evening put together: what was begun is found again after it was cut off, held where it stood."""

import threading
from pathlib import Path

import pytest

from courttimer import evening, locations, playing
from courttimer.__main__ import reading as session_of
from courttimer.errors import JournalError, PlanError
from courttimer.evening import Evening, begin, found
from courttimer.memory.journal import tell
from courttimer.memory.lines import encode
from courttimer.memory.shelf import latest
from courttimer.plan.reading import Reading, read
from courttimer.practice import events as ev
from courttimer.practice.calls import Call, parse

SESSION = """
title = "Short"
voice = { say = "horns" }
[[segment]]
kind = "warm-up"
time = "5 min"
[[segment]]
kind = "drill"
time = "20 s"
rep = { live = "5 s", off = "3 s" }
"""


@pytest.fixture(name="reading")
def _reading() -> Reading:
    return read("short.toml", SESSION, dict[str, str]().__getitem__)


def cut_off(reading: Reading, *calls: str) -> Path:
    """A practice in which these calls were made, then nothing more was written."""
    one = begin(reading)
    for at, line in enumerate(calls):
        one.conductor.call(Call(what=line, words="here") if line == "mark" else Call(what=line), at=1_000 * at)  # type: ignore[arg-type]
    one.journal.close()
    return one.journal.path


def opened(path: Path) -> Evening:
    return found(path)[1]


def test_a_practice_that_was_cut_off_is_found_held_at_the_last_known_moment(reading: Reading) -> None:
    path = cut_off(reading, "go", "mark")
    again = opened(path)

    assert again.conductor.view().phase == "held"
    assert again.conductor.branch.now.clock.held == 1_000
    assert again.conductor.branch.now.marks == 1
    again.journal.close()


def test_that_hold_cannot_be_taken_back_but_go_ends_it(reading: Reading) -> None:
    again = opened(cut_off(reading, "go", "mark"))

    refused = again.conductor.call(Call(what="take back"))
    assert isinstance(refused, ev.Refused)
    assert "cut off" in refused.why
    assert isinstance(again.conductor.call(Call(what="go")), ev.Went)
    again.journal.close()


def test_what_the_journal_says_is_what_the_practice_was(reading: Reading) -> None:
    """Fold the journal: the same state as the one that was left."""
    one = begin(reading)
    for at, what in ((0, "go"), (2_000, "longer"), (3_000, "take back"), (4_000, "next"), (5_000, "hold")):
        one.conductor.call(Call(what=what), at=at)  # type: ignore[arg-type]
    one.journal.close()

    _, branch = evening.replayed(tell(one.journal.path))

    assert branch.now == one.conductor.branch.now


def test_a_practice_that_is_over_is_not_gone_on_with(reading: Reading) -> None:
    path = cut_off(reading, "go", "end")

    with pytest.raises(PlanError, match="this practice is over"):
        found(path)


def test_a_second_program_on_the_same_practice_is_refused(reading: Reading) -> None:
    first = opened(cut_off(reading, "go"))

    with pytest.raises(JournalError, match="another courttimer"):
        found(first.journal.path)
    first.journal.close()


def test_the_journal_lies_in_the_users_folder_and_keeps_the_sessions_text(reading: Reading) -> None:
    path = cut_off(reading, "go")

    assert path.parent == locations.journals()
    assert tell(path).header.files == {"short.toml": SESSION}


def test_words_are_put_to_a_mark_afterwards(reading: Reading) -> None:
    one = begin(reading)
    one.conductor.call(Call(what="go"), at=0)
    one.conductor.call(Call(what="mark"), at=500)

    one.note(0, "good help")

    assert one.marks() == ((500, "good help"),)
    one.journal.close()


def test_a_line_that_is_no_call_is_answered_in_words(reading: Reading) -> None:
    one = begin(reading)
    one.listen(["jump\n"])
    turns = iter([False] * 3)
    one.conductor.run(lambda: next(turns, True))

    assert "is not a call" in one.conductor.view().said
    one.journal.close()


def test_the_delay_of_a_speaker_is_read_from_the_users_folder_and_nonsense_is_left_out() -> None:
    locations.data().mkdir(parents=True)
    (locations.data() / "speakers.json").write_text('{"Gym box": 180, "odd": "late", "far": 99999, "yes": true}', encoding="utf-8")

    assert evening.delays() == {"Gym box": 180}


@pytest.mark.parametrize("text", ["", "[1]", "{"])
def test_a_damaged_list_of_delays_is_no_delay(text: str) -> None:
    locations.data().mkdir(parents=True)
    (locations.data() / "speakers.json").write_text(text, encoding="utf-8")

    assert evening.delays() == {}


def test_the_sessions_run_last_can_be_run_again_from_their_journals(reading: Reading) -> None:
    path = cut_off(reading, "go")

    assert latest(locations.journals(), 3) == [("Short", path)]
    assert session_of(str(path)).session == reading.session


@pytest.mark.parametrize(
    ("record", "said"),
    [
        ({"what": "held", "at": "soon", "lane": -1, "by": "key"}, '"at" of "held" is no'),
        ({"what": "window called", "at": 5, "lane": 7, "by": "key", "window": "x", "starts": 5}, "cannot have happened"),
        ({"what": "put back", "at": 5, "lane": -1, "by": "key"}, "cannot have happened"),
    ],
)
def test_a_journal_that_someone_has_written_into_is_refused_in_words(reading: Reading, record: dict[str, object], said: str) -> None:
    path = cut_off(reading, "go")
    with path.open("ab") as file:
        file.write(encode(record))

    with pytest.raises(JournalError, match=said):
        found(path)


def test_an_effort_said_at_the_next_start_is_kept_with_the_practice_before(reading: Reading) -> None:
    path = cut_off(reading, "go", "end")
    again = begin(reading)
    again.call(parse("effort 7"))
    joined("effort")

    assert again.noted.startswith("Kept with Short, ")
    assert [(e.who, e.effort) for e in tell(path).events if isinstance(e, ev.EffortGiven)] == [("", 7)]
    again.call(parse("effort Zoe 7"))
    joined("effort")
    assert 'nobody here is called "Zoe"' in again.noted
    assert [e for e in again.journal.events if isinstance(e, ev.EffortGiven)] == []
    again.journal.close()


def joined(name: str) -> None:
    """Wait for a thread to end."""
    for thread in threading.enumerate():
        if thread.name == name:
            thread.join(10)


def test_a_practice_in_lines_ends_with_the_short_form(reading: Reading) -> None:
    one = begin(reading)
    for at, what in ((0, "go"), (40_000, "end")):
        one.conductor.call(parse(what), at=at)
    told = list(playing._after(one))
    one.journal.close()

    assert told[0] == "Played 0:40 of 5:20, 0:00 of it live, in 0 reps."
    assert f"Kept: {one.journal.path}" in told
    assert "courttimer report --effort 7" in told[-1]
