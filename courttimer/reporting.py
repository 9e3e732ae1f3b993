"""The command that tells of one practice, put together: report; and what can still be said of it afterwards.

Imported with the command line, so nothing is imported here that `--help` need not pay for.
"""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from courttimer.errors import JournalError, PlanError
from courttimer.papers import leave

if TYPE_CHECKING:
    from courttimer.memory.journal import Told
    from courttimer.plan.model import Session
    from courttimer.practice.branch import Branch
    from courttimer.practice.events import Event
    from courttimer.report.tables import Table
    from courttimer.report.tally import Tally

DONE, OURS = 0, 3


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command."""
    report = commands.add_parser("report", help="tells what was done in one practice")
    report.add_argument("journal", nargs="?", help="its journal; without it, the last practice that ended")
    report.add_argument("--html", type=Path, metavar="FILE", help="as a page for a browser")
    report.add_argument("--json", action="store_true", help="as JSON, all tables")
    csv = "one table as CSV; the segments unless another is named"
    report.add_argument("--csv", nargs="?", const="segments", metavar="TABLE", help=csv)
    report.add_argument("--columns", action="store_true", help="explains every table and every column")
    report.add_argument("--schema", action="store_true", help="prints the JSON Schema of --json")
    effort = 'how hard it was, 0 to 10: "Ada 7", or "7" as the coach says; kept in the journal'
    report.add_argument("--effort", action="append", default=[], metavar="WHO", help=effort)
    words = 'words to a mark by its number: "2 good help"; kept in the journal'
    report.add_argument("--words", action="append", default=[], metavar="MARK", help=words)
    report.set_defaults(act=_report)


def _report(given: argparse.Namespace) -> int:
    from courttimer.report.columns import COLUMNS, documented
    from courttimer.report.tables import json_schema

    if given.columns:
        _say("\n\n".join(_explained(table) for table in documented()))
        return DONE
    if given.schema:
        _say(_as_json(json_schema(documented())))
        return DONE
    if given.csv is not None and given.csv not in COLUMNS:
        raise PlanError(f'--csv: there is no table "{given.csv}"; there are {", ".join(COLUMNS)}')
    path, told, damaged = _found(given.journal)
    more = _said(given, path, told)
    if more:
        keep(path, more)
    _tell(given, _tallied(path, told, more))
    return OURS if damaged else DONE


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")


def _as_json(value: object) -> str:
    import json

    return json.dumps(value, ensure_ascii=False, indent=2)


def _explained(table: "Table") -> str:
    return "\n".join([f"{table.name}: {table.title}", *(f"  {c.name:<12} {c.meaning}" for c in table.columns)])


def _found(word: str | None) -> "tuple[Path, Told, bool]":
    """The journal that the word means, and whether one that came before it is damaged, which is told."""
    from courttimer import locations
    from courttimer.memory.journal import tell
    from courttimer.memory.shelf import finished

    if word is not None:
        path = _path(word, locations.journals())
        return path, tell(path), False
    damaged = False
    for path in finished(locations.journals()):
        try:
            return path, tell(path), damaged
        except JournalError as fault:
            sys.stderr.write(f"left out: {fault}\n")
            damaged = True
    raise PlanError("there is no practice to tell of: none has ended yet; courttimer report JOURNAL tells of one that goes on")


def _path(word: str, folder: Path) -> Path:
    """The file, or the journal of this name in the user's folder. Raises PlanError."""
    for path in (Path(word), folder / word, folder / f"{word}.jsonl"):
        if path.is_file():
            return path
    from difflib import get_close_matches

    names = sorted(path.stem for path in folder.glob("*.jsonl")) if folder.is_dir() else []
    near = get_close_matches(word, names, cutoff=0.5) or names[-3:]
    raise PlanError(f"{word}: there is no such journal" + (f"; did you mean {' or '.join(near)}?" if near else ""))


def _said(given: argparse.Namespace, path: Path, told: "Told") -> "list[Event]":
    """What is said of the practice now. Raises PlanError with every mistake."""
    out: list[Event] = []
    mistakes = []
    if given.effort or given.words:
        from courttimer.evening import replayed

        branch = replayed(told)[1]
        if not branch.now.ended:
            raise PlanError(f"{path}: this practice is not over; courttimer resume goes on with it")
        at = max(e.at for e in told.events)
        for word, of in ((word, of) for word, words in (("--effort", given.effort), ("--words", given.words)) for of in words):
            try:
                out.append(_effort(branch, of, at) if word == "--effort" else _words(branch.now.plan, told, of))
            except ValueError as fault:
                mistakes.append(f"{word}: {fault}")
    if mistakes:
        raise PlanError(*mistakes)
    return out


def _effort(branch: "Branch", text: str, at: int) -> "Event":
    from courttimer.practice.calls import parse
    from courttimer.practice.events import Refused
    from courttimer.practice.rules import decide

    made = decide(branch, parse(f"effort {text}"), at, 0)
    if isinstance(made, Refused):
        raise ValueError(made.why)
    return made


def _words(plan: "Session", told: "Told", text: str) -> "Event":
    from courttimer.practice.calls import whole
    from courttimer.practice.events import Marked, MarkWorded, Opened
    from courttimer.practice.state import opening
    from courttimer.report.stands import stands

    number, _, words = text.strip().partition(" ")
    day = next((e.day_ms for e in told.events if isinstance(e, Opened)), 0)
    marks = [e for e, _ in stands(opening(plan, day), told.events) if isinstance(e, Marked)]
    if not whole(number) or not words.strip():
        raise ValueError(f'wants the number of a mark and words, such as "2 good help" (got "{text}")')
    if not 1 <= int(number) <= len(marks):
        raise ValueError(f"there is no mark {number}; there are {len(marks)}")
    return MarkWorded(at=marks[int(number) - 1].at, by="line", words=words.strip())


def keep(path: Path, events: "list[Event]") -> None:
    """Write them at the end of the journal. Raises JournalError, BusyError when another program is writing it."""
    from courttimer.memory.journal import Journal

    journal = Journal.open(path)
    try:
        for e in events:
            journal.write(e)
    finally:
        journal.close()
    if journal.trouble():
        raise JournalError(f"{path}: {journal.trouble()}")


def short_form(path: Path) -> tuple[str, ...]:
    """The practice in a few lines, for the end screen. Raises JournalError."""
    from courttimer.memory.journal import tell
    from courttimer.report.in_words import short

    return short(_tallied(path, tell(path), []))


def keep_effort(call: str) -> str:
    """Keep "Ada 7" with the practice that ended last, as it is said at the next start; gives what was done, in words.

    Nothing when no practice has ended yet.
    """
    from courttimer.evening import replayed

    try:
        path, told, _ = _found(None)
    except PlanError:
        return ""
    last = f"{told.header.title}, {told.header.wall[:10]}"
    try:
        keep(path, [_effort(replayed(told)[1], call, max(e.at for e in told.events))])
    except (JournalError, ValueError) as fault:
        return f"Not kept with {last}: {fault}."
    return f"Kept with {last}: effort {call} of 10."


def _tallied(path: Path, told: "Told", more: "list[Event]") -> "Tally":
    from courttimer.plan.reading import read
    from courttimer.report.tally import tally

    files = told.header.files
    session = read(told.header.session, files[told.header.session], files.__getitem__).session
    try:
        return tally(told.header.wall, session, (*told.events, *more))
    except Exception as fault:  # a journal that somebody has edited may hold anything
        raise JournalError(f"{path}: it cannot have happened so ({fault!r}); nothing was changed") from fault


def _tell(given: argparse.Namespace, of: "Tally") -> None:
    from courttimer.report.columns import tables
    from courttimer.report.in_words import report
    from courttimer.report.tables import as_csv, as_json

    if given.html:
        from courttimer.report.pages import html

        leave(given.html, html(of).encode())
    if given.json:
        _say(_as_json(as_json(tables(of))))
    elif given.csv is not None:
        sys.stdout.write(as_csv(next(table for table in tables(of) if table.name == given.csv)).replace("\r\n", "\n"))
    elif not given.html:
        _say("\n".join(report(of)))
