"""The journal of one practice: its header, then one line an event; written as it happens, and opened again after a crash."""

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Self

from courttimer.errors import BusyError, JournalError
from courttimer.memory.behind import Behind
from courttimer.memory.lines import Lines, Record
from courttimer.memory.lock import Lock, holder
from courttimer.memory.places import FoundFile, NewFile, beside
from courttimer.memory.recovery import Found, read
from courttimer.practice import records as codec
from courttimer.practice.events import Event

FORMAT = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """The first line: all that is needed to play the events again, also on another machine.

    `wall` is the time of day, ISO 8601 with its zone; `session` is the name of the session's own file in `files`, which holds
    the text of every file that the session was read from; `program` is the version that began this journal.
    """

    wall: str
    program: str
    title: str
    session: str
    files: Mapping[str, str]
    format: int = FORMAT


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a journal tells."""

    header: Header
    events: tuple[Event, ...]


def tell(path: Path) -> Told:
    """The journal as it stands, also while it is being written. Raises JournalError; a torn tail is left out."""
    return _told(path, read(path))


class Journal:
    """Lives as long as one program writes one practice. Only one thread may `write`; anyone may ask for `trouble`."""

    def __init__(self, path: Path, told: Told, opens: NewFile | FoundFile, *, length: int = 0) -> None:
        """Use `create` or `open`."""
        self.header = told.header
        self.events = told.events
        """What had happened when it was opened."""
        self._opens = opens
        self._lines = Lines(opens, length=length, syncs=opens.sync)
        self._behind = Behind(self._lines.tend)

    @classmethod
    def create(cls, folder: Path, header: Header) -> Self:
        """A new journal in the folder, made if need be. When that cannot be, `trouble` says so, and it is tried again."""
        journal = cls(folder, Told(header=header, events=()), NewFile(folder, _stem(header)))
        journal._append({"what": "journal"} | asdict(header) | {"files": dict(header.files)})
        return journal

    @classmethod
    def open(cls, path: Path) -> Self:
        """A journal to go on with: a torn tail is set aside first.

        Raises JournalError when another program is writing it, when its middle is damaged, or when it is none of ours.
        """
        lock = _lock(path)
        try:
            found = read(path)
            told = _told(path, found)
        except JournalError:
            if lock:
                lock.release()
            raise
        journal = cls(path, told, FoundFile(path, found, lock), length=found.length)
        journal._lines.retry()
        return journal

    @property
    def path(self) -> Path:
        """Where it lies (while a new one could not be made yet: where it will)."""
        return self._opens.path

    def write(self, event: Event) -> None:
        """Keep the event. When this returns the system has it: the program may die. A power cut is provided for just behind."""
        self._append(codec.record(event))

    def synced_length(self) -> int:
        """How many bytes of the file a power cut cannot take any more."""
        return self._lines.synced()

    def trouble(self) -> str:
        """In words for the board, why nothing is being remembered; empty when all is well."""
        return self._lines.trouble()

    def close(self) -> None:
        """Sync, and let the file and its lock go. A second time does nothing."""
        if self._behind.stop():
            self._lines.close()
            self._opens.release()

    def _append(self, record: Record) -> None:
        self._lines.append(record)
        self._behind.poke()


def _lock(path: Path) -> Lock | None:
    try:
        return Lock(beside(path))
    except BlockingIOError:
        who = holder(beside(path))
        raise BusyError(f"{path}: another courttimer{who} is writing this practice; go on there, or end it there first") from None
    except OSError:
        return None  # a folder that may not be written: the practice goes on from memory, and the journal says so


def _told(path: Path, found: Found) -> Told:
    if not found.records:
        raise JournalError(f"{path}: no practice was begun in this file; nothing was changed")
    header = _header(path, found.records[0])
    return Told(header=header, events=tuple(_events(path, found.records)))


def _header(path: Path, record: Record) -> Header:
    made_with = record.get("format")
    if record.get("what") != "journal" or not isinstance(made_with, int):
        raise JournalError(f"{path}:1: this is no journal of courttimer; nothing was changed")
    if made_with > FORMAT:
        raise JournalError(f"{path}:1: a newer courttimer wrote it (format {made_with}, known here: {FORMAT}); update this one")
    try:
        return Header(**{field.name: record[field.name] for field in fields(Header)})
    except KeyError as fault:
        raise JournalError(f"{path}:1: the header lacks {fault}; nothing was changed") from fault


def _events(path: Path, records: tuple[Record, ...]) -> Iterator[Event]:
    for number, record in enumerate(records[1:], 2):
        try:
            yield codec.event(record)
        except (ValueError, TypeError) as fault:
            raise JournalError(f"{path}:{number}: {fault}; nothing was changed") from fault


def _stem(header: Header) -> str:
    """Day, time and title: "2026-11-24-1805-tern-street-u14" sorts by time and reads well in any folder."""
    digits = re.sub(r"[^0-9]", "", header.wall[:16]).ljust(12, "0")
    day = f"{digits[:4]}-{digits[4:6]}-{digits[6:8]}"
    plain = unicodedata.normalize("NFKD", header.title).encode("ascii", "ignore").decode().lower()
    slug = re.sub(r"[^a-z0-9]+", "-", plain)[:40].strip("-")
    return f"{day}-{digits[8:12]}-{slug or 'practice'}"
