"""The history of all practices: SQLite tables made from the journals, and from nothing else, so that they can be made anew.

What is in the folder of journals is in the history; what is taken out of it is not. Each journal is brought in by one transaction
and remembered by its size and time of change; so whatever the order and number of imports, and wherever one was killed, the next
import ends at the same tables. A file that is no database of ours, or was made by other rules, is thrown away and made anew.
A journal that lies there twice (a copy, perhaps shorter) counts once: its longest copy.
"""

import os
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import astuple, dataclass, fields
from hashlib import sha256
from itertools import count
from pathlib import Path
from threading import Event
from typing import Any

from courttimer.errors import JournalError, PlanError, refused
from courttimer.memory.journal import Told, tell
from courttimer.memory.lock import Lock
from courttimer.memory.places import SUFFIX
from courttimer.report.rows import Player, Practice, Result, Rows, Shot, Work

NAME = "history.sqlite"
FORMAT = 1
"""Raise it whenever the tables change."""
AT_ONCE = 50
"""So many journals are made safe together: a sync of the disk for each would take longer than all the rest."""
PATIENCE_S = 5.0
TURNS = 50

Produce = Callable[[Told], Rows]
Progress = Callable[[int, int], None]

TABLES: dict[str, type] = {"practice": Practice, "work": Work, "shots": Shot, "results": Result, "players": Player}
"""Each table and what its rows hold; they are kept by the name of their journal."""
_SORTS = {int: "INTEGER", bool: "INTEGER", str: "TEXT"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """What an import did: journals read, journals that are gone, and each that could not be told, in words."""

    read: int = 0
    gone: int = 0
    troubles: tuple[str, ...] = ()


class History:
    """Lives as long as one command. `rules` is the number of the rules that make the rows."""

    def __init__(self, path: Path, *, rules: int) -> None:
        """Raises JournalError when it can be neither opened nor made."""
        self._path = path
        self._lock = alone(path)
        try:
            self.base = _opened(path, rules * 1000 + FORMAT)
        except (OSError, sqlite3.Error) as fault:
            self._lock.release()
            raise JournalError(f"{path}: the history cannot be opened ({_why(fault)})") from fault

    def close(self) -> None:
        self.base.close()
        self._lock.release()

    def bring(self, folder: Path, produce: Produce, progress: Progress = lambda done, of: None) -> Brought:
        """Make the tables those of the journals in the folder: read what is new or has changed, let go what is no longer there.

        `produce` makes the rows; what it raises for one journal is told, and the others are brought in all the same.
        Raises JournalError when the disk refuses, or another program holds the history for too long.
        """
        try:
            return self._bring(folder, produce, progress)
        except sqlite3.Error as fault:
            raise JournalError(f"{self._path}: the history cannot be written ({_why(fault)}); the journals are whole") from fault

    def _bring(self, folder: Path, produce: Produce, progress: Progress) -> Brought:
        lie = _lying(folder)
        known = {name: (size, time) for name, size, time in self.base.execute("SELECT name, size, time FROM journal")}
        gone = [name for name in known if name not in lie]
        changed = [name for name, stamp in lie.items() if known.get(name) != stamp]
        if gone:
            with self._whole():
                for name in gone:
                    self._drop(name)
        for start in range(0, len(changed), AT_ONCE):
            progress(start, len(changed))
            with self._whole():
                for name in changed[start : start + AT_ONCE]:
                    self._take(folder / name, lie[name], produce)
        told = self.base.execute("SELECT trouble FROM journal WHERE trouble != '' ORDER BY name")
        return Brought(read=len(changed), gone=len(gone), troubles=tuple(trouble for (trouble,) in told))

    @contextmanager
    def _whole(self) -> Iterator[None]:
        """All of it or nothing of it, also when the program is killed."""
        self.base.execute("BEGIN IMMEDIATE")
        try:
            yield
        except BaseException:
            if self.base.in_transaction:  # a full disk has rolled it back already
                self.base.execute("ROLLBACK")
            raise
        self.base.execute("COMMIT")

    def _drop(self, name: str) -> None:
        found = self.base.execute("SELECT id FROM journal WHERE name = ?", (name,)).fetchone()
        for table in (*TABLES, "journal"):
            self.base.execute(f"DELETE FROM {table} WHERE {'name' if table == 'journal' else 'journal'} = ?", (name,))
        if found:
            self._settle(found[0])

    def _take(self, path: Path, stamp: tuple[int, int], produce: Produce) -> None:
        self._drop(path.name)
        told = _told(path, produce)
        if told is None:
            return
        who, length, digest, rows, trouble = told
        line = (path.name, *stamp, who, length, digest, trouble)
        self.base.execute("INSERT INTO journal (name, size, time, id, length, digest, trouble) VALUES (?, ?, ?, ?, ?, ?, ?)", line)
        if rows is not None:
            self._keep(path.name, "practice", [astuple(rows.practice)])
            self._keep(path.name, "work", map(astuple, rows.work))
            self._keep(path.name, "shots", map(astuple, rows.shots))
            self._keep(path.name, "results", map(astuple, rows.results))
            self._keep(path.name, "players", map(astuple, rows.players))
        self._settle(who)

    def _keep(self, name: str, table: str, found: Iterable[tuple[Any, ...]]) -> None:
        marks = ", ".join("?" * (1 + len(fields(TABLES[table]))))
        self.base.executemany(f"INSERT INTO {table} VALUES ({marks})", ((name, *row) for row in found))

    def _settle(self, who: str) -> None:
        """Of the copies of one practice that could be told the longest counts."""
        best = "SELECT name FROM journal WHERE id = ? AND trouble = '' ORDER BY length DESC, digest DESC, name DESC LIMIT 1"
        self.base.execute(f"UPDATE journal SET counts = coalesce(name = ({best}), 0) WHERE id = ?", (who, who))


def alone(path: Path) -> Lock:
    """The history for one program at a time: a file that is thrown away under another program's hands would take its next with it.

    Raises JournalError when another one keeps it for too long, or when the folder cannot be written.
    """
    for turn in count():
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            return Lock(path.with_name(f"{path.name}.lock"))
        except BlockingIOError:
            if turn >= TURNS:
                raise JournalError(f"{path}: another courttimer is reading the journals; wait for it, then try again") from None
            Event().wait(PATIENCE_S / TURNS)
        except OSError as fault:
            raise JournalError(f"{path}: the history cannot be opened ({refused(fault)})") from fault
    raise AssertionError("numbers have no end")


def _why(fault: OSError | sqlite3.Error) -> str:
    """What is wrong, and what to do about it."""
    if isinstance(fault, OSError):
        return refused(fault)
    if getattr(fault, "sqlite_errorcode", None) == sqlite3.SQLITE_FULL:
        return "the disk is full; make room on it, and try again"
    return f"{fault}; delete the file, it is made anew"


def _opened(path: Path, version: int) -> sqlite3.Connection:
    base = _connected(path)
    try:
        if not _ours(base, version):
            base.close()
            discard(path)
            base = _connected(path)
            base.executescript(_schema(version))
        base.execute("PRAGMA synchronous = NORMAL")
    except BaseException:
        base.close()
        raise
    return base


def _connected(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, timeout=PATIENCE_S, isolation_level=None)


def _ours(base: sqlite3.Connection, version: int) -> bool:
    """Whether the tables are there, as these rules make them."""
    with suppress(sqlite3.DatabaseError):
        if base.execute("PRAGMA user_version").fetchone()[0] == version:
            base.execute("SELECT count(*) FROM journal, practice LIMIT 1")
            return True
    return False


def _schema(version: int) -> str:
    """The tables; `told` is what counts of `journal`."""
    lines = [
        "CREATE TABLE journal (name TEXT PRIMARY KEY, size INTEGER, time INTEGER, id TEXT, length INTEGER, digest TEXT, trouble TEXT,"
        " counts INTEGER NOT NULL DEFAULT 0)",
        "CREATE INDEX journal_id ON journal (id)",
    ]
    for table, row in TABLES.items():
        columns = ", ".join(f"{field.name} {_SORTS[field.type]}" for field in fields(row) if isinstance(field.type, type))
        lines += [f"CREATE TABLE {table} (journal TEXT, {columns})", f"CREATE INDEX {table}_journal ON {table} (journal)"]
    lines.append(f"PRAGMA user_version = {version}")
    return f"BEGIN IMMEDIATE; {'; '.join(lines)}; COMMIT;"


def discard(path: Path) -> None:
    """Throw the history away, with what SQLite keeps beside it; the journals make it anew. Raises OSError."""
    for end in ("", "-journal", "-wal", "-shm"):
        path.with_name(path.name + end).unlink(missing_ok=True)


def _lying(folder: Path) -> dict[str, tuple[int, int]]:
    """The journals in the folder, each with its size and time of change, by name."""
    found = {}
    with suppress(OSError), os.scandir(folder) as entries:  # half the time of asking each path
        for entry in sorted(entries, key=lambda entry: entry.name):
            if entry.name.endswith(SUFFIX):
                with suppress(OSError):
                    state = entry.stat()
                    found[entry.name] = (state.st_size, state.st_mtime_ns)
    return found


def _told(path: Path, produce: Produce) -> tuple[str, int, str, Rows | None, str] | None:
    """Identity, length, digest, rows and trouble of a journal; None when it has gone meanwhile."""
    try:
        content = path.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as fault:
        return "", 0, "", None, f"{path}: it cannot be read ({fault.strerror or fault})"
    who, digest = sha256(content.partition(b"\n")[0]).hexdigest(), sha256(content).hexdigest()
    try:
        return who, len(content), digest, produce(tell(path)), ""
    except JournalError as fault:
        return who, len(content), digest, None, str(fault)
    except PlanError as fault:
        return who, len(content), digest, None, f"{path}: its session cannot be read ({fault.lines[0]})"
    except Exception as fault:  # a journal that somebody has edited may fold into anything: the others are told all the same
        return who, len(content), digest, None, f"{path}: it cannot have happened so ({fault!r})"
