"""Forgets a player: the name is taken out of every file of ours, a stand-in takes its place, and what was counted stays.

The order is what makes it safe to be killed. First the name and its stand-in are written down as a job; then each file is changed,
whole or not at all; last the job is thrown away. Begun again, a job goes on with the same stand-in, and what is changed already does
not hold the name any more. The history is thrown away: the journals make it anew.
"""

import json
import re
import tomllib
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from typing import Any

from courttimer.errors import BusyError, JournalError
from courttimer.memory import exports, history
from courttimer.memory.disk import sync_folder
from courttimer.memory.journal import Told, tell
from courttimer.memory.lines import encode
from courttimer.memory.lock import Lock, holder
from courttimer.memory.naming import Name, called
from courttimer.memory.places import SUFFIX, beside
from courttimer.memory.whole import HALF, content, half, put, words

JOB = "forget.json"
OPAQUE = (".pdf", ".zip", ".wav", ".flac", ".ogg", ".png")
"""Files that may hold a name without showing it to a search."""

_NUMBERED = re.compile(rb"(?i)player[ -]([0-9]{1,6})")

Prove = Callable[[Told], str]
Speech = Callable[[Callable[[str], bool]], int]


@dataclass(kw_only=True)
class Forgotten:
    """What was done: `sessions` are kept session files that were changed, `left` what must be done by hand, in words."""

    stand_in: str
    journals: int = 0
    torn: int = 0
    speech: int = 0
    sessions: list[Path] = field(default_factory=list)
    elsewhere: list[Path] = field(default_factory=list)
    """Files outside our folders that were written for the coach and hold the name, or may do so."""
    left: list[str] = field(default_factory=list)


def unfinished(data: Path) -> str:
    """The name whose removal was cut off; else nothing."""
    return _job(data)[0]


def named(data: Path, name: str) -> bool:
    """Does any file in the folder hold the name?"""
    wanted = Name(name, "")
    return any(wanted.holds(path.name) or wanted.held(words(path)) for path in _ours(data) if path.name != JOB)


def forget(data: Path, name: str, *, prove: Prove, speech: Speech) -> Forgotten:
    """Take the name out of the folder `data` and of the speech that `speech` keeps.

    `prove` tells as JSON what a journal's practice came to; it must come to the same afterwards, with the stand-in for the name.
    Raises BusyError, before anything is changed, while a practice runs whose journal holds the name; JournalError when the disk
    refuses: then it can be begun again.
    """
    _refuse_running(data, Name(name, ""))
    try:
        for left in data.rglob(f"*{HALF}"):
            left.unlink()
        begun, stand_in = _job(data)
        job = _Job(data, name, Forgotten(stand_in=stand_in if begun == name else _stand_in(data)), prove)
        job.write_down()
        job.history()
        job.journals()
        job.sessions()
        job.others()
        job.done.speech = speech(job.any.holds)
        job.exports()
        (data / JOB).unlink(missing_ok=True)
        sync_folder(data)
    except OSError as fault:
        what = f"{fault.filename or data}: {fault.strerror or fault}"
        raise JournalError(f"{what}; not all is done: give courttimer forget again") from fault
    return job.done


def _refuse_running(data: Path, name: Name) -> None:
    for path in _journals(data):
        if beside(path).exists() and name.held(content(path)):
            with _locked(path):
                pass


@contextmanager
def _locked(path: Path) -> Iterator[None]:
    try:
        lock = Lock(beside(path))
    except BlockingIOError:
        who = holder(beside(path))
        raise BusyError(f"{path}: another courttimer{who} is writing this practice; end it first") from None
    try:
        yield
    finally:
        lock.release()


def _job(data: Path) -> tuple[str, str]:
    """The name and the stand-in of a job that was cut off; else nothing."""
    try:
        found = json.loads((data / JOB).read_text(encoding="utf-8"))
        return str(found["name"]), str(found["stand_in"])
    except (OSError, ValueError, KeyError, TypeError):
        return "", ""


def _stand_in(data: Path) -> str:
    """ "Player 1", or the first number by which nobody and nothing of ours goes."""
    used = {int(number) for path in _ours(data) for number in _NUMBERED.findall(path.name.encode() + b"\n" + content(path))}
    return f"Player {next(n for n in count(1) if n not in used)}"


def _ours(data: Path) -> list[Path]:
    """Every file in our folder but the history, which is thrown away."""
    found = (path for path in data.rglob("*") if path.is_file() and not path.name.startswith(history.NAME))
    return sorted(found)


def _journals(data: Path) -> list[Path]:
    return sorted((data / "journals").glob(f"*{SUFFIX}"))


class _Job:
    """Lives as long as one removal."""

    def __init__(self, data: Path, name: str, done: Forgotten, prove: Prove) -> None:
        self.data, self.name, self.done, self._prove = data, name, done, prove
        others = any(called(f"{name}s", content(path)) for path in _ours(data))
        self.done.left += [f"somebody or something is called {name}s: wherever that stands it was left"] * others
        self.any, self.given = (Name(name, done.stand_in, same=same, owner=not others) for same in (False, True))
        self.same = Name(name, done.stand_in, same=True)
        self._slug = Name(_plain(name), _plain(done.stand_in)) if _plain(name) else None

    def write_down(self) -> None:
        put(self.data / JOB, json.dumps({"name": self.name, "stand_in": self.done.stand_in}).encode())

    def history(self) -> None:
        lock = history.alone(self.data / history.NAME)
        try:
            history.discard(self.data / history.NAME)
        finally:
            lock.release()

    def journals(self) -> None:
        for path in _journals(self.data):
            if self.any.held(content(path)) or self._file_name(path) != path.name:
                with _locked(path):
                    self._journal(path)
                    self._rename(path)
                self.done.journals += 1
        for path in sorted((self.data / "journals").glob(f"*{SUFFIX}.torn-*")):
            found = content(path)
            if (without := self.any.raw(found, torn=True)) != found:
                put(path, without)
                self.done.torn += 1
            self._rename(path)

        for path in (self.data / "journals").glob("*.lock"):  # of one that was killed, or kept by Windows
            if self._file_name(path) != path.name:
                Lock(path).release()
                path.unlink(missing_ok=True)

    def _journal(self, path: Path) -> None:
        """Any letters first; where that changes what the practice came to, only the letters as given."""
        found, there = content(path), half(path)
        before = self._came_to(path)
        for name in (self.any, self.given):
            there.write_bytes(without := b"\n".join(self._lines(name, found)))
            if before is None or _same_json(before, self._came_to(there), name):
                there.unlink()
                put(path, without)
                return
        there.unlink()
        self.done.left.append(f"{path}: the name cannot be taken out without changing what was counted; delete the file, or keep it")

    def _lines(self, name: Name, found: bytes) -> Iterator[bytes]:
        *lines, tail = found.split(b"\n")
        yield from (self._line(name, line) if name.held(line) else line for line in lines)
        yield name.raw(tail, torn=True)

    def _line(self, name: Name, line: bytes) -> bytes:
        try:
            record = json.loads(line)
        except ValueError:
            record = None
        if not isinstance(record, dict):
            return name.raw(line)
        return encode(name.record(record)).removesuffix(b"\n")

    def _came_to(self, path: Path) -> str | None:
        """What the journal tells, None when it tells nothing."""
        try:
            told = tell(path)
        except JournalError:
            return None
        try:
            return self._prove(told)
        except Exception:  # it cannot be played, but it can be told: as many lines of the same sorts
            return json.dumps([(type(event).__name__, event.at) for event in told.events])

    def _file_name(self, path: Path) -> str:
        """What the file is to be called: names of files have only plain small letters of the title."""
        return self._slug.text(path.name) if self._slug else path.name

    def _rename(self, path: Path) -> None:
        wanted = self._file_name(path)
        if wanted != path.name:
            stem, dot, rest = wanted.partition(".")
            names = (wanted if n == 1 else f"{stem}-{n}{dot}{rest}" for n in count(1))
            path.rename(next(to for name in names if not (to := path.with_name(name)).exists()))

    def sessions(self) -> None:
        """The coach's own files: only the letters as given, and no name of a file; what is left of it is told by its line."""
        for path in sorted((self.data / "sessions").rglob("*.toml")):
            text = content(path).decode("utf-8", "surrogateescape")
            without = self.same.toml(text, files=False)
            if without != text and _same_table(text, without, self.same):
                put(path, without.encode("utf-8", "surrogateescape"))
                self.done.sessions.append(path)
                text = without
            lines = enumerate(text.split("\n"), 1)
            self.done.left += [
                f"{path}:{number}: this may still be the name; look at it" for number, line in lines if self.any.holds(line)
            ]

    def others(self) -> None:
        """How the name is to be said is forgotten with it; what else lies in our folder is not ours to change, but to name."""
        lexicon = self.data / "sounds" / "lexicon.toml"
        lines = content(lexicon).split(b"\n")
        stay = [line for line in lines if not self.any.held(line)]
        if stay != lines and _fewer(b"\n".join(lines), b"\n".join(stay)):
            put(lexicon, b"\n".join(stay))
        known = {JOB, exports.NAME}
        for path in _ours(self.data):
            inside = path.relative_to(self.data).parts[0] in ("journals", "sessions")
            called = self.any.holds(path.name) or self._file_name(path) != path.name
            if path.name not in known and (called or (not inside and self.any.held(words(path)))):
                self.done.left.append(f"{path}: it holds the name, or is called by it; change it or delete it")

    def exports(self) -> None:
        for path in exports.known(self.data):
            if path.suffix in OPAQUE or self.any.holds(str(path)) or self.any.held(content(path)):
                self.done.elsewhere.append(path)
        listed = self.data / exports.NAME
        lines = content(listed).split(b"\n")
        if any(map(self.any.held, lines)):
            put(listed, b"\n".join(line for line in lines if not self.any.held(line)))


def _plain(name: str) -> str:
    """The name as it stands in the name of a journal's file."""
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return "-".join("".join(letter if letter.isalnum() else " " for letter in letters).split())


def _same_json(before: str, after: str | None, name: Name) -> bool:
    return after is not None and bool(_replaced(json.loads(before), name) == json.loads(after))


def _same_table(before: str, after: str, name: Name) -> bool:
    """Does the session say the same, with the stand-in for the name?"""
    try:
        return bool(_replaced(tomllib.loads(before), name) == tomllib.loads(after))
    except ValueError:
        return False


def _fewer(before: bytes, after: bytes) -> bool:
    """Is the second table of texts the first one with some of them left out?"""
    try:
        had, has = (tomllib.loads(text.decode("utf-8-sig")) for text in (before, after))
    except ValueError:
        return False
    return all(had.get(key) == value or isinstance(value, dict) for key, value in has.items())


def _replaced(value: Any, name: Name) -> Any:
    if isinstance(value, str):
        return value if value.endswith(".toml") else name.text(value)
    if isinstance(value, list):
        return [_replaced(one, name) for one in value]
    if isinstance(value, dict):
        return {name.text(key): _replaced(one, name) for key, one in value.items()}
    return value
