"""The commands that put a session on paper, put together: sheet and calendar; and how a file is left for the coach.

Imported with the command line, so nothing is imported here that `--help` need not pay for.
"""

import argparse
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from courttimer.errors import PlanError

if TYPE_CHECKING:
    from courttimer.plan.reading import Reading
    from courttimer.report.calendar import When

Reads = Callable[[str], "Reading"]
DONE = 0


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]", reading: Reads) -> None:
    """Add the commands; `reading` gives the session that a word names."""
    for command, act in ((_sheet_words(commands), _sheet), (_calendar_words(commands), _calendar)):
        command.set_defaults(act=lambda given, act=act: act(given, reading(given.session)))


def _sheet_words(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> argparse.ArgumentParser:
    sheet = commands.add_parser("sheet", help="writes one page for the clipboard")
    sheet.add_argument("session", help="a session file, or the name of a shipped or kept one")
    sheet.add_argument("--html", type=Path, metavar="FILE", help="as a page for a browser")
    sheet.add_argument("--pdf", type=Path, metavar="FILE", help="to print; without a file it is named like the session")
    sheet.add_argument("--at", metavar="H:MM", help="the time of day at which it begins; without it, the start of the floor time")
    sheet.add_argument("--paper", choices=("a4", "letter"), default="a4", help="of the PDF")
    return sheet


def _calendar_words(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> argparse.ArgumentParser:
    calendar = commands.add_parser("calendar", help="writes the session as an event for a calendar")
    calendar.add_argument("session", help="a session file, or the name of a shipped or kept one")
    calendar.add_argument("--date", required=True, metavar="YYYY-MM-DD", help="the day of the practice")
    calendar.add_argument("--at", metavar="H:MM", help="the time of day at which it begins; without it, the start of the floor time")
    calendar.add_argument("--remind", metavar="TIME", default="1 h", help='so long before, such as "1 h"; "0 s": not at all')
    calendar.add_argument("--out", type=Path, metavar="FILE", help="without it, a file named like the session and the day")
    return calendar


def _sheet(given: argparse.Namespace, found: "Reading") -> int:
    from courttimer.report.lineups import lineups
    from courttimer.report.pen import unprintable
    from courttimer.report.sheet import sheet
    from courttimer.report.sheet_html import html
    from courttimer.report.sheet_pdf import fit, pdf

    page = sheet(found.session, _time_of_day(given.at), lineups(found.session))
    if given.html:
        leave(given.html, html(page, *fit(page, "letter")).encode())  # the shorter of the two papers: a browser has either
    if given.pdf or not given.html:
        lost = unprintable(f"{page}")
        if lost:
            sys.stderr.write(f"The PDF has no letters for {lost}; print the page that --html writes instead.\n")
        leave(given.pdf or Path(f"{_stem(found)}-sheet.pdf"), pdf(page, given.paper))
    return DONE


def _stem(found: "Reading") -> str:
    return Path(next(iter(found.files))).stem


def _time_of_day(text: str | None) -> int | None:
    """ms since midnight of "18:00"; None for None. Raises PlanError for what is no time of day."""
    if text is None:
        return None
    found = re.fullmatch(r"(\d{1,2}):(\d\d)", text)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise PlanError(f'--at wants a time of day such as "18:00" (got "{text}")')
    return (int(found[1]) * 60 + int(found[2])) * 60_000


def _calendar(given: argparse.Namespace, found: "Reading") -> int:
    from courttimer.plan.times import parse
    from courttimer.report.calendar import calendar
    from courttimer.report.sheet import sheet

    remind = parse(given.remind)
    if remind is None:
        raise PlanError(f'--remind wants a time such as "1 h" or "30 min" (got "{given.remind}")')
    when = _when(given, found, remind)
    text = calendar(sheet(found.session, _time_of_day(given.at)), when)
    leave(given.out or Path(f"{_stem(found)}-{given.date}.ics"), text.encode())
    return DONE


def _when(given: argparse.Namespace, found: "Reading", remind: int) -> "When":
    from hashlib import sha256

    from courttimer import clock
    from courttimer.report.calendar import When

    floor, at = found.session.floor, _time_of_day(given.at)
    begins = at if at is not None else floor[0] if floor else None
    if begins is None:
        raise PlanError("calendar wants --at H:MM: this session has no floor time")
    length = floor[1] - floor[0] if floor else sum(segment.time for segment in found.session.segment) + found.session.clear
    midnight = clock.moment(f"{day(given.date, '--date')}T00:00")
    first, last = (clock.at_day_ms(midnight, ms).strftime("%Y%m%dT%H%M%S") for ms in (begins, begins + length))
    name = sha256(f"{_stem(found)}\n{found.session.title}".encode()).hexdigest()[:16]
    return When(first, last, clock.utc(clock.RealClock().wall()), f"{first}-{name}@courttimer", remind)


def day(text: str, option: str) -> str:
    """The day as given. Raises PlanError for what is no day."""
    from courttimer import clock

    try:
        if re.fullmatch(r"\d{4}-\d\d-\d\d", text):
            return clock.moment(text).strftime("%Y-%m-%d")
    except ValueError:
        pass
    raise PlanError(f'{option} wants a day such as "2026-12-01" (got "{text}")')


def leave(path: Path, content: bytes) -> None:
    """Write a file that the coach asked for, and say where. Raises PlanError."""
    from courttimer import locations
    from courttimer.memory import exports

    exports.write(path, content, locations.data())
    sys.stdout.write(f"{path}\n")
