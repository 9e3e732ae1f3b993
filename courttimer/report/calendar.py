"""A session as an event for a calendar: iCalendar, RFC 5545 of September 2009; sections are named beside what keeps them.

Times are floating (3.3.5, form 1): the time of day in the gym, as it stands in the session file, whatever zone a phone or the
coach's laptop believes in. No name of a player is in it: calendars are shared, and lie on other people's machines.
"""

from typing import NamedTuple

from courttimer.report.sheet import Sheet

WIDEST = 75
"""Octets of a content line, its end not counted (3.1)."""
PRODUCT = "-//courttimer//courttimer//EN"


class When(NamedTuple):
    """`begins` and `ends` are the gym's own time, as 20261201T180000; `made` is now, in UTC, as 20261125T080000Z.

    `uid` names the event for ever: imported again, it takes the place of the earlier one. `remind` is ms before; 0: no reminder.
    """

    begins: str
    ends: str
    made: str
    uid: str
    remind: int = 3_600_000


def calendar(sheet: Sheet, when: When) -> str:
    """The file's text, its lines ended by CR LF: one VEVENT (3.6.1), with a VALARM (3.6.6) unless no reminder is wanted."""
    lines = [
        "BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "BEGIN:VEVENT", f"UID:{when.uid}", f"DTSTAMP:{when.made}",
        f"DTSTART:{when.begins}", f"DTEND:{when.ends}", f"SUMMARY:{escaped(sheet.title)}",
        f"DESCRIPTION:{escaped(plan(sheet))}",
    ]  # fmt: skip
    address = dict(sheet.card).get("Come to", "")
    if address:
        lines.append(f"LOCATION:{escaped(address)}")
    if when.remind:
        lines += ["BEGIN:VALARM", "ACTION:DISPLAY", f"DESCRIPTION:{escaped(sheet.title)}", f"TRIGGER:-{_duration(when.remind)}"]
        lines.append("END:VALARM")
    return "".join(folded(line) for line in (*lines, "END:VEVENT", "END:VCALENDAR"))


def plan(sheet: Sheet) -> str:
    """The plan in plain lines: when, what, how long, and what to bring; nobody's name."""
    told = [f"{part.at}  {part.title}" + (f", {part.under[0]}" if part.under else "") for part in sheet.parts]
    things = [label if label != "bibs" else f"bibs ({text})" for label, text in sheet.fetch]
    return "\n".join((*told, *([f"Bring: {', '.join(things)}"] if things else ())))


def escaped(text: str) -> str:
    """TEXT (3.3.11): backslash, semicolon and comma with a backslash, a new line as \\n; what a text may not hold is left out."""
    kept = "".join(letter for letter in text.replace("\r\n", "\n") if letter in "\t\n" or (ord(letter) >= 32 and ord(letter) != 127))
    for letter in "\\;,":
        kept = kept.replace(letter, f"\\{letter}")
    return kept.replace("\n", "\\n")


def folded(line: str) -> str:
    """A content line, folded by CR LF and a space so that none is longer than 75 octets (3.1); no letter is cut in two."""
    out, size = "", 0
    for letter in line:
        octets = len(letter.encode("utf-8", "replace"))
        if size + octets > WIDEST:
            out, size = f"{out}\r\n ", 1
        out, size = out + letter, size + octets
    return f"{out}\r\n"


def _duration(ms: int) -> str:
    """3.3.6: in whole minutes where they are whole, else in seconds."""
    minutes, rest = divmod(ms, 60_000)
    return f"PT{ms // 1000}S" if rest else f"PT{minutes}M"
