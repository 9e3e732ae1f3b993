"""The commands that tell of all practices, put together: history and forget.

Imported with the command line, so nothing is imported here that `--help` need not pay for.
"""

import argparse
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from courttimer.errors import PlanError
from courttimer.papers import day, leave

if TYPE_CHECKING:
    from courttimer.memory.forget import Forgotten
    from courttimer.memory.history import History
    from courttimer.memory.journal import Told
    from courttimer.plan.model import Session
    from courttimer.report.rows import Rows
    from courttimer.report.tables import Table

SHORTEST_MS = 5 * 60_000
"""What was played for less was no practice."""
SLOW = 100
"""From so many journals on, reading them is worth a word."""
DONE = 0


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the commands."""
    _history_words(commands).set_defaults(act=_history)
    forget = commands.add_parser("forget", help="removes a player's name everywhere, and keeps the counts")
    forget.add_argument("player", nargs="?", help="without it, a removal that was cut off is brought to its end")
    forget.add_argument("--yes", action="store_true", help="without asking")
    forget.set_defaults(act=_forget)


def _history_words(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> argparse.ArgumentParser:
    history = commands.add_parser("history", help="tells of all practices")
    views = ("sessions", "load", "shooting", "best", "work", "export")
    history.add_argument("view", nargs="?", choices=views, help="one of its tables; export takes everything away in one ZIP file")
    history.add_argument("file", nargs="?", type=Path, help="of export")
    history.add_argument("--player", metavar="NAME", help="only what concerns this player")
    history.add_argument("--since", metavar="YYYY-MM-DD", help="only from this day on")
    history.add_argument("--json", action="store_true", help="as JSON")
    history.add_argument("--schema", action="store_true", help="prints the JSON Schema of --json, which documents every column")
    history.add_argument("--csv", action="store_true", help="as CSV: one table, the practices unless another is named")
    history.add_argument("--html", type=Path, metavar="FILE", help="as a page for a browser")
    return history


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")


def _history(given: argparse.Namespace) -> int:
    from courttimer.memory.views import VIEWS, Asked
    from courttimer.report.tables import json_schema

    if (given.view == "export") != bool(given.file):
        raise PlanError("to take everything away: courttimer history export FILE.zip")
    since = day(given.since, "--since") if given.since else ""
    with _brought() as history:
        asked = Asked(since=since, player=_known(history, given.player) if given.player else "")
        wanted = list(VIEWS) if given.view in (None, "export") else [given.view]
        if given.csv and given.view is None:
            wanted = ["sessions"]
        tables = [VIEWS[name](history, asked) for name in wanted]
    if given.schema:
        _say(_as_json(json_schema(tables)))
        return DONE
    return _told(given, tables)


def _as_json(value: object) -> str:
    import json

    return json.dumps(value, ensure_ascii=False, indent=2)


def _told(given: argparse.Namespace, tables: "Sequence[Table]") -> int:
    from courttimer.report.tables import as_csv, as_json, as_text

    if given.view == "export":
        from courttimer import locations
        from courttimer.memory.takeaway import packed

        # What one player may take away holds nothing of the others.
        journals = [] if given.player else sorted(locations.journals().glob("*.jsonl"))
        leave(given.file, packed(tables, journals))
    elif given.html:
        from courttimer.report.history_html import html

        notes = [f"only {given.player}"] * bool(given.player) + [f"since {given.since}"] * bool(given.since)
        leave(given.html, html("All practices", tables, notes).encode())
    elif given.json:
        _say(_as_json(as_json(tables)))
    elif given.csv:
        sys.stdout.write(as_csv(tables[0]).replace("\r\n", "\n"))
    else:
        _say("\n\n".join("\n".join(as_text(table)) for table in tables))
    return DONE


def before(titles: frozenset[str]) -> dict[str, str]:
    """What was reached in these drills last time, and at best, in words for the board; nothing while the history cannot be had."""
    from courttimer.memory.views import Asked, best

    found: dict[str, str] = {}
    with _quietly() as history:
        for drill, who, sort, last, _, most, *_ in best(history, Asked()).rows if history else ():
            if drill in titles and sort in ("makes", "row") and str(drill) not in found:
                found[str(drill)] = f"{f'{who}: ' if who else ''}last time {last}, best {most}"
    return found


def week(session: "Session", wall: str) -> tuple[str, ...]:
    """What would be too much in the seven days that this practice ends; `wall` is its day in ISO 8601.

    Of the practices before it those of the same squad count.
    """
    from courttimer.clock import moment
    from courttimer.memory.views import practices
    from courttimer.report.care_advice import week_advice

    days: list[list[int]] = [[] for _ in range(7)]
    with _quietly() as history:
        for begun, played, players in practices(history) if history else ():
            ago = (moment(wall).date() - moment(begun).date()).days
            same = not session.squad.players or 2 * len(players & {*session.squad.players}) >= len(session.squad.players)
            if 0 <= ago < 7 and same and played >= SHORTEST_MS:
                days[6 - ago].append(played)
    days[6].append(sum(segment.time for segment in session.segment))
    return tuple(f"{one.text} ({one.source})" for one in week_advice(session, days))


@contextmanager
def _quietly() -> "Iterator[History | None]":
    """The history with every journal in it; None while it cannot be had: nothing waits for it."""
    from courttimer import locations
    from courttimer.errors import JournalError
    from courttimer.memory.history import NAME, History
    from courttimer.report.played import COUNTED

    try:
        history = History(locations.data() / NAME, rules=COUNTED)
    except JournalError:
        yield None
        return
    try:
        with suppress(JournalError):
            history.bring(locations.journals(), _rows)
        yield history
    finally:
        history.close()


@contextmanager
def _brought() -> "Iterator[History]":
    """The history with every journal in it; those that cannot be told are named on standard error."""
    from courttimer import locations
    from courttimer.memory.forget import unfinished
    from courttimer.memory.history import NAME, History
    from courttimer.report.played import COUNTED

    def progress(done: int, of: int) -> None:
        if of >= SLOW:
            sys.stderr.write(f"\rReading {of} journals: {done * 100 // of} %")

    if unfinished(locations.data()):
        sys.stderr.write("a removal of a name was cut off: courttimer forget brings it to its end\n")
    history = History(locations.data() / NAME, rules=COUNTED)
    try:
        brought = history.bring(locations.journals(), _rows, progress)
        if brought.read >= SLOW:
            sys.stderr.write("\n")
        for trouble in brought.troubles:
            sys.stderr.write(f"left out: {trouble}\n")
        yield history
    finally:
        history.close()


def _rows(told: "Told") -> "Rows":
    from courttimer.plan.reading import read
    from courttimer.report.played import rows

    files = told.header.files
    session = read(told.header.session, files[told.header.session], files.__getitem__).session
    return rows(told.header.wall, session, told.events)


def _known(history: "History", player: str) -> str:
    """The player as the history writes the name. Raises PlanError, with the nearest names, for one whom it does not know."""
    from difflib import get_close_matches

    from courttimer.memory.views import players

    names = players(history)
    same = [name for name in names if name.casefold() == player.casefold()]
    if player in names or same:
        return player if player in names else same[0]
    near = get_close_matches(player, names) or names[:5]
    raise PlanError(f'no practice knows "{player}"' + (f"; did you mean {' or '.join(near)}?" if near else ""))


def _forget(given: argparse.Namespace) -> int:
    from courttimer import locations
    from courttimer.memory.forget import forget, named, unfinished
    from courttimer.sound import forgetting

    data, cache = locations.data(), locations.cache()
    begun = unfinished(data)
    name = (begun if given.player is None else " ".join(given.player.split())) or ""
    if not name:
        raise PlanError('forget wants a player, such as: courttimer forget "Ada"')
    if begun and begun != name:
        raise PlanError("another removal was cut off: courttimer forget, without a name, brings it to its end first")
    if not begun:
        with _brought() as history:
            name = _spelled(history, name, there=named(data, name) or named(cache, name))
        _agreed(name, given.yes)
    _tell(forget(data, name, prove=_came_to, speech=lambda holds: forgetting.forget(cache, holds)), name)
    return DONE


def _spelled(history: "History", name: str, *, there: bool) -> str:
    """The name as the history writes it; as given when only other files hold it. Raises PlanError when none does."""
    try:
        return _known(history, name)
    except PlanError:
        if there:
            return name
        raise


def _agreed(name: str, yes: bool) -> None:
    """Go on only when the coach means it. Raises PlanError otherwise."""
    if yes:
        return
    if sys.stdin is None or not sys.stdin.isatty():
        raise PlanError("forget asks first, for it cannot be taken back; where nobody can be asked, add --yes")
    _say(f"{name} becomes a number in every record; what was counted stays. This cannot be taken back.")
    if " ".join(input("Type the name again: ").split()) != name:
        raise PlanError("nothing was changed")


def _came_to(told: "Told") -> str:
    """As JSON, whose quotation marks do not depend on what stands between them."""
    import json
    from dataclasses import astuple

    return json.dumps(astuple(_rows(told)), ensure_ascii=False)


def _tell(done: "Forgotten", name: str) -> None:
    """What was done, and what only the coach can do."""
    counts = ((done.journals, "journal"), (done.torn, "torn end"), (done.speech, "spoken phrase"))
    told = ", ".join(f"{n} {what}" if n == 1 else f"{n} {what}s" for n, what in counts)
    _say(f"{name} is {done.stand_in} now: {told}.")
    for path in done.sessions:
        _say(f"changed: {path}")
    for line in done.left:
        _say(line)
    for path in done.elsewhere:
        _say(f"not ours to change, delete it or make it anew: {path}")
    _say("What was copied, printed or sent, and session files that lie elsewhere, cannot be reached from here.")
