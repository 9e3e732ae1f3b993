"""Times as coaches write them and read them: "12 s", "3:30", "1 min 30 s" to whole milliseconds and back."""

import re

_NUMBER = r"([0-9]{1,6}(?:\.[0-9]{1,3})?)"

# Spaces belong to the number that follows them, so that no text can make the match slow.
DURATION = (
    "^(?=[^0-9]*[0-9])"
    f"(?: *{_NUMBER} *(?:hours|hour|h))?"
    f"(?: *{_NUMBER} *(?:minutes|minute|mins|min))?"
    f"(?: *{_NUMBER} *(?:seconds|second|secs|sec|s))?"
    f"(?: *{_NUMBER} *ms)? *$"
)
COLONS = r"^ *(?:([0-9]{1,2}):(?=[0-9]{2}:))?([0-9]{1,3}):([0-5][0-9]) *$"
FLOOR = "^ *([01]?[0-9]|2[0-3]):([0-5][0-9]) *[-–] *([01]?[0-9]|2[0-4]):([0-5][0-9]) *$"

_LONGEST = 40
_UNITS = (3_600_000, 60_000, 1000, 1)


def parse(text: str) -> int | None:
    """Whole milliseconds of "12 s", "2.5 s", "3:30", "1:15:00", "1 h 15 min"; None if it is not a time."""
    if len(text) > _LONGEST:
        return None
    if found := re.fullmatch(COLONS, text):
        hours, minutes, seconds = (int(part or 0) for part in found.groups())
        return None if found[1] and minutes > 59 else hours * 3_600_000 + minutes * 60_000 + seconds * 1000
    if found := re.fullmatch(DURATION, text):
        return sum(_scaled(part, unit) for part, unit in zip(found.groups(), _UNITS, strict=True) if part)
    return None


def parse_floor(text: str) -> tuple[int, int] | None:
    """Milliseconds of the day of "18:00-19:15"; None if it is not two times of day."""
    found = re.fullmatch(FLOOR, text) if len(text) <= _LONGEST else None
    if not found:
        return None
    a, b, c, d = (int(part) for part in found.groups())
    return (a * 60 + b) * 60_000, (c * 60 + d) * 60_000


def spell(ms: int) -> str:
    """As the coach would say it: "8 s", "90 s", "2.5 s", "10 min", "4 min 30 s", "1 h 15 min". For any whole ms from 0 up."""
    if (ms < 120_000 and ms % 60_000) or ms == 0:
        return f"{ms / 1000:g} s"
    minutes, rest = divmod(ms, 60_000)
    hours, minutes = divmod(minutes, 60)
    parts = ((hours, "h"), (minutes, "min"), (rest / 1000, "s"))
    return " ".join(f"{count:g} {unit}" for count, unit in parts if count)


def _scaled(number: str, unit: int) -> int:
    whole, _, part = number.partition(".")
    return int(whole) * unit + int((part or "0").ljust(3, "0")) * unit // 1000
