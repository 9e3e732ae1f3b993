"""Reading a file of lines again: its good part, its torn tail set aside, a damaged middle refused with its line."""

import errno
import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from courttimer.errors import JournalError
from courttimer.memory.disk import sync
from courttimer.memory.lines import Record

_BLOCK = 65_536


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What lies in a file: its records, how many bytes they take, and the torn tail behind them."""

    records: tuple[Record, ...]
    length: int
    tail: bytes


def read(path: Path) -> Found:
    """The file's good part and its torn tail, touching nothing. Raises JournalError, with the line, for a damaged middle."""
    try:
        content = path.read_bytes()
    except OSError as fault:
        raise JournalError(f"{path}: it cannot be read ({fault.strerror or fault})") from fault
    *lines, _ = content.split(b"\n")
    records: list[Record] = []
    length = 0
    for number, line in enumerate(lines, 1):
        record = _record(line)
        if record is None:
            _refuse_damage(path, number, lines)
            break
        records.append(record)
        length += len(line) + 1
    return Found(records=tuple(records), length=length, tail=content[length:])


def _record(line: bytes) -> Record | None:
    try:
        record = json.loads(line.decode())
    except (ValueError, RecursionError):
        return None
    return record if isinstance(record, dict) else None


def _refuse_damage(path: Path, number: int, lines: list[bytes]) -> None:
    if any(_record(line) is not None for line in lines[number:]):
        got = lines[number - 1][:40].decode(errors="replace")
        raise JournalError(
            f"{path}:{number}: this line is damaged (got {got!r}) and whole lines follow it; nothing was changed. "
            f"To go on from the line before it: keep a copy of the file, then delete line {number} and all that follow."
        )


def cut(path: Path, found: Found) -> None:
    """Set the torn tail aside in NAME.torn-N, take it off the file, and sync what is left. Raises OSError."""
    if path.stat().st_size != found.length + len(found.tail):
        raise OSError(errno.EBUSY, "another program has changed it", str(path))
    with path.open("r+b", buffering=0) as file:
        if found.tail:
            _set_aside(path, found.tail)
            file.truncate(found.length)
        sync(file)


def _set_aside(path: Path, tail: bytes) -> None:
    number = 0
    while path.with_name(f"{path.name}.torn-{number}").exists():
        number += 1
    aside = path.with_name(f"{path.name}.torn-{number}")
    try:
        aside.write_bytes(tail)
    except OSError:
        aside.unlink(missing_ok=True)  # half a tail, and one more at each further try, would help nobody
        raise


def recover(path: Path) -> Found:
    """`read`, then `cut`: then the file is whole. Raises JournalError for a damaged middle, or if it cannot be written."""
    found = read(path)
    try:
        cut(path, found)
    except OSError as fault:
        raise JournalError(f"{path}: its torn end cannot be set aside ({fault.strerror or fault})") from fault
    return found


def backwards(path: Path) -> Iterator[Record]:
    """The whole lines of the file's end, the last first, as far as they are asked for. Raises OSError."""
    with path.open("rb") as file:
        place = file.seek(0, os.SEEK_END)
        start = b""
        first = True
        while place:
            step = min(_BLOCK, place)
            place = file.seek(place - step)
            start, *lines = (file.read(step) + start).split(b"\n")
            torn = lines.pop() if first and lines else None
            first = first and torn is None
            yield from (record for line in reversed(lines) if (record := _record(line)) is not None)
        if not first and (record := _record(start)) is not None:
            yield record
