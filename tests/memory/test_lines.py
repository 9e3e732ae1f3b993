"""The file of lines: nothing glued, nothing lost, whatever the disk does."""

import errno
import json
import threading
from typing import Any

import pytest
from hypothesis import given, strategies as st

from courttimer.memory.behind import Behind
from courttimer.memory.disk import Raw
from courttimer.memory.lines import Lines, encode
from tests.memory.disks import Disk

# What has ever been trouble in a line: quotes, feeds, controls, line separators, what a badly named file gives, beyond the first plane.
texts = st.text(st.sampled_from('aZ "\\/\n\r\t\0\x1f\x7f\x85é\u2028\u2029\ufeff\uffff\udc80\udcff\U0001f3c0'))
json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | texts,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=6,
)


def numbered(n: int) -> dict[str, Any]:
    return {"n": n, "words": "x" * (n * 7 % 40)}


def lines_on(disk: Disk, kind: type[Lines] = Lines) -> Lines:
    return kind(lambda: disk, syncs=disk.sync)


@given(st.dictionaries(texts, json_values, max_size=4))
def test_a_line_is_json_in_utf8_and_says_the_same_again(record: dict[str, Any]) -> None:
    """RFC 8259 §8.1: JSON between systems is UTF-8; §7: a line feed inside a string is escaped. Read by the standard library."""
    line = encode(record)

    assert line.count(b"\n") == 1
    assert line.endswith(b"\n")
    assert record == json.loads(line.decode("utf-8", "strict"))


def test_a_line_is_compact_and_its_text_stands_as_it_is() -> None:
    assert '{"who":"Zoë","at":5}\n'.encode() == encode({"who": "Zoë", "at": 5})


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_what_json_has_no_word_for_is_refused(number: float) -> None:
    """RFC 8259 §6: infinity and not-a-number cannot be written."""
    with pytest.raises(ValueError, match="not JSON compliant"):
        encode({"played": number})


Moment = tuple[int, bool, bool]
moments = st.lists(st.tuples(st.integers(0, 900), st.booleans(), st.booleans()), max_size=30)


def stand_a_bad_disk(kind: type[Lines], moments: list[Moment], *, appends: bool = False) -> None:
    """Append through changing room and failing cuts and syncs; then there is room, and everything must be there, once, whole."""
    disk = Disk(appends=appends)
    lines = lines_on(disk, kind)
    expected = b""
    for n, (disk.room, disk.cuts, disk.syncs) in enumerate(moments):
        lines.append(numbered(n))
        expected += encode(numbered(n))
        lines.tend()
        if disk.cuts:
            assert disk.content == expected[: disk.content.rfind(b"\n") + 1]
        assert expected.startswith(disk.after_power_cut[: lines.synced()])
        assert len(disk.after_power_cut) >= lines.synced()
        assert (lines.trouble() == "") == (lines.synced() == len(expected))
    disk.room, disk.cuts, disk.syncs = 1_000_000, True, True
    lines.tend()
    assert lines.tend()

    assert expected == disk.content
    assert expected == disk.after_power_cut
    assert lines.trouble() == ""


@given(moments, st.booleans())
def test_nothing_is_glued_and_nothing_lost_once_there_is_room(moments: list[Moment], appends: bool) -> None:
    """On a file that is written in place, as ours is; and, its syncs apart, on one that only ever appends."""
    stand_a_bad_disk(Lines, [(room, cuts, syncs or appends) for room, cuts, syncs in moments], appends=appends)


FULL_INSIDE_THE_SECOND_LINE: list[Moment] = [(900, True, True), (30, True, True), (900, True, True)]


def test_without_the_cut_the_next_line_is_glued_to_a_torn_one() -> None:
    """The twin: proves that the test above can fail."""

    class Gluing(Lines):
        def _cut(self, raw: Raw) -> None:
            self._torn = False

    stand_a_bad_disk(Lines, FULL_INSIDE_THE_SECOND_LINE, appends=True)
    with pytest.raises(AssertionError):
        stand_a_bad_disk(Gluing, FULL_INSIDE_THE_SECOND_LINE, appends=True)


def test_without_writing_over_again_a_failed_sync_loses_lines_in_a_power_cut() -> None:
    """The second twin: it asks again for the promise without writing again."""

    class Trusting(Lines):
        def _doubt(self, fault: OSError) -> None:
            self._sync_fault = fault

    sync_fails_once: list[Moment] = [(900, True, True), (900, True, False), (900, True, True)]
    stand_a_bad_disk(Lines, sync_fails_once)
    with pytest.raises(AssertionError):
        stand_a_bad_disk(Trusting, sync_fails_once)


def test_a_full_disk_leaves_whole_lines_only() -> None:
    disk = Disk(room=40)
    lines = lines_on(disk)
    for n in range(5):
        lines.append(numbered(n))

    assert lines.trouble() == "Nothing is being remembered: the disk is full."
    assert encode(numbered(0)) == disk.content


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (OSError(errno.EROFS, "Read-only file system"), "the folder may not be written"),
        (PermissionError(errno.EACCES, "Permission denied", "journals"), "journals may not be written"),
        (OSError(errno.EIO, "Input/output error"), "the disk gives an error (Input/output error)"),
    ],
)
def test_the_board_is_told_in_words_why(fault: OSError, words: str) -> None:
    def refuse() -> Raw:
        raise fault

    lines = Lines(refuse)
    lines.append({})

    assert f"Nothing is being remembered: {words}." == lines.trouble()
    assert lines.synced() == 0


def test_nothing_is_taken_after_the_end() -> None:
    lines = lines_on(Disk())
    lines.close()

    with pytest.raises(ValueError, match=r"^the file of lines is closed$"):
        lines.append({})


def test_the_caller_never_waits_for_the_disk() -> None:
    """The sync stands still on the helper's thread while a hundred lines are appended."""
    disk, began, go_on, all_safe = Disk(), threading.Event(), threading.Event(), threading.Event()
    threads: list[str] = []

    def slow_sync(raw: Raw) -> None:
        threads.append(threading.current_thread().name)
        began.set()
        assert go_on.wait(30)
        disk.sync(raw)

    lines = Lines(lambda: disk, syncs=slow_sync)

    def tend() -> bool:
        done = lines.tend()
        if done and lines.synced() == len(disk.content):
            all_safe.set()
        return done

    behind = Behind(tend)
    lines.append(numbered(0))
    behind.poke()
    assert began.wait(30)
    for n in range(1, 100):
        lines.append(numbered(n))
        behind.poke()

    assert disk.content.count(b"\n") == 100
    assert lines.synced() == 0
    go_on.set()
    assert all_safe.wait(30)
    assert behind.stop()
    assert {"memory"} == set(threads)
    assert disk.content == disk.after_power_cut


def test_the_helper_tries_again_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that has room again is written to without any further event."""
    monkeypatch.setattr("courttimer.memory.behind.AGAIN_S", 0.001)
    answers = iter([False, False, False, True])
    done = threading.Event()

    def tend() -> bool:
        answer = next(answers, True)
        if answer:
            done.set()
        return answer

    behind = Behind(tend)
    behind.poke()

    assert done.wait(30)
    assert behind.stop()
