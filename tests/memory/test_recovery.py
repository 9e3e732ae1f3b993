"""After a crash: the good part stays, the torn tail is set aside, and a damaged middle is refused with its line."""

from collections.abc import Callable
from pathlib import Path

import pytest

from courttimer.errors import JournalError
from courttimer.memory.lines import Lines, Record, encode
from courttimer.memory.recovery import Found, backwards, read, recover

RECORDS: tuple[Record, ...] = tuple({"n": n, "who": "Zoë", "words": '"\n{}' * (n % 3)} for n in range(6))
CONTENT = b"".join(map(encode, RECORDS))
AFTER: Record = {"n": "after"}


def append(path: Path, found: Found, record: Record) -> None:
    lines = Lines(lambda: path.open("r+b", buffering=0), length=found.length)
    lines.append(record)
    lines.close()


def cut_and_go_on(path: Path, at: int, recover: Callable[[Path], Found]) -> None:
    """The file is cut at a byte, recovered, appended to, and recovered again: what was whole is there, and what came after."""
    path.write_bytes(CONTENT[:at])
    whole = RECORDS[: CONTENT[:at].count(b"\n")]
    found = recover(path)

    assert whole == found.records
    append(path, found, AFTER)
    assert (*whole, AFTER) == recover(path).records
    assert b"".join(map(encode, (*whole, AFTER))) == path.read_bytes()
    tail = CONTENT[:at].rpartition(b"\n")[2]
    assert ([tail] if tail else []) == [torn.read_bytes() for torn in path.parent.glob("*.torn-*")]


def test_a_file_cut_at_any_byte_goes_on(tmp_path: Path) -> None:
    for at in range(len(CONTENT) + 1):
        folder = tmp_path / str(at)
        folder.mkdir()
        cut_and_go_on(folder / "lines", at, recover)


def test_without_the_cut_of_the_tail_it_does_not_go_on(tmp_path: Path) -> None:
    """The twin: it counts the torn tail as good, so that the next line is glued to it."""

    def leave_the_tail(path: Path) -> Found:
        found = read(path)
        return Found(records=found.records, length=found.length + len(found.tail), tail=b"")

    torn = [at for at in range(len(CONTENT) + 1) if not CONTENT[:at].endswith(b"\n") and at]
    for at in torn:
        with pytest.raises(AssertionError):
            cut_and_go_on(tmp_path / "lines", at, leave_the_tail)


def test_each_torn_tail_is_set_aside_under_a_number_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "evening.jsonl"
    for tail in (b"{", b'{"n'):
        with path.open("ab") as file:
            file.write(tail)
        recover(path)

    assert path.with_name("evening.jsonl.torn-0").read_bytes() == b"{"
    assert path.with_name("evening.jsonl.torn-1").read_bytes() == b'{"n'
    assert path.read_bytes() == b""


@pytest.mark.parametrize("tail", [b"\0" * 4096, b"[" * 100_000, b'{"n":1}', b"[1]\n", b"{}x\n", b"\xff\n", b"9" * 5000 + b"\n"])
def test_what_a_power_cut_can_leave_at_the_end_is_a_torn_tail(tmp_path: Path, tail: bytes) -> None:
    """Zeros, noise, an object without its line feed, a line that is no object."""
    path = tmp_path / "lines"
    path.write_bytes(CONTENT + tail)

    assert Found(records=RECORDS, length=len(CONTENT), tail=tail) == recover(path)
    assert path.read_bytes() == CONTENT


@pytest.mark.parametrize("number", range(1, 6))
@pytest.mark.parametrize("damage", [b"", b"\0\0\0", b"[]", b'{"n":1', b"\xff{}"])
def test_a_damaged_middle_is_refused_with_its_line_and_left_alone(tmp_path: Path, number: int, damage: bytes) -> None:
    lines = CONTENT.splitlines()
    lines[number - 1] = damage
    path = tmp_path / "lines"
    path.write_bytes(b"\n".join(lines) + b"\n")
    before = path.read_bytes()

    with pytest.raises(JournalError) as refused:
        recover(path)

    assert str(refused.value).startswith(f"{path}:{number}: this line is damaged")
    assert before == path.read_bytes()
    assert [path] == list(tmp_path.iterdir())


def test_the_remedy_in_the_refusal_works(tmp_path: Path) -> None:
    """Done in an editor, "delete line 3 and all that follow" leaves a file that opens."""
    lines = CONTENT.splitlines(keepends=True)
    path = tmp_path / "lines"
    path.write_bytes(b"".join(lines[:2]) + b"oops\n" + b"".join(lines[3:]))
    with pytest.raises(JournalError, match=r"delete line 3 and all that follow\.$"):
        recover(path)
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:2]))

    assert recover(path).records == RECORDS[:2]


def test_a_file_that_an_editor_saved_with_carriage_returns_opens(tmp_path: Path) -> None:
    path = tmp_path / "lines"
    path.write_bytes(CONTENT.replace(b"\n", b"\r\n"))

    assert recover(path).records == RECORDS


@pytest.mark.parametrize("block", [1, 7, 65_536])
def test_read_backwards_a_file_tells_the_same(tmp_path: Path, block: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("courttimer.memory.recovery._BLOCK", block)
    path = tmp_path / "lines"
    for at in range(len(CONTENT) + 1):
        path.write_bytes(CONTENT[:at])
        assert read(path).records[::-1] == tuple(backwards(path))


def test_a_file_that_another_program_changed_meanwhile_is_not_cut(tmp_path: Path) -> None:
    from courttimer.memory.recovery import cut

    path = tmp_path / "lines"
    path.write_bytes(CONTENT + b"torn")
    found = read(path)
    path.write_bytes(CONTENT + CONTENT)

    with pytest.raises(OSError, match="another program has changed it"):
        cut(path, found)
    assert path.read_bytes() == CONTENT + CONTENT
