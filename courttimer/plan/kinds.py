"""What may stand behind a key of the session file: how each kind of single value is read, told to an editor, and told in words.

Lists and tables of them are in `tables.py`.
A kind reads a TOML value and notes mistakes instead of raising them, so that the coach hears of all of them at once.
`schema` accepts whatever `read` accepts; both are made from the same limits.
"""

import re
from typing import Any, ClassVar

from courttimer.plan.rulebook import NAMES, NoSuchCountError, count
from courttimer.plan.times import COLONS, DURATION, FLOOR, parse, parse_floor, spell
from courttimer.plan.words import listed, nearest, shown, ticked

Path = tuple[str | int, ...]
Schema = dict[str, Any]

# Control characters, line separators, and the marks that turn the writing direction: they would disturb the board.
_UNSEEN = "\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff"
_DISTURBING = re.compile(f"[{_UNSEEN}]")
_HOW_TIMES = 'write it like "12 s", "3:30" or "1 min 30 s"'


class Wrong:
    """What a kind gives back in place of a value that it has noted as a mistake."""


WRONG = Wrong()


class RefusedError(Exception):
    """Why a single value cannot be taken, with what to write instead."""


class Notes:
    """Lives as long as one reading: the mistakes found so far, every table that could be made, and the lists with gaps."""

    def __init__(self, rules: str = "") -> None:
        self.rules = rules
        self.mistakes: list[tuple[Path, Path, str]] = []
        self.made: list[tuple[Path, Any]] = []
        self.gaps: set[Path] = set()

    def add(self, path: Path, what: str, of: Path | None = None) -> None:
        """Notes a mistake at the line of `path`, told as one of `of` (the path itself, when not given)."""
        self.mistakes.append((path, path if of is None else of, what))


class Kind:
    """The base: `take` raises `RefusedError`, `read` notes it at its path."""

    standin: ClassVar[Any] = WRONG
    """Taken for a needed value that could not be read, so that the rest of its table is looked at too."""

    def take(self, value: object, notes: Notes) -> Any:
        raise NotImplementedError

    def read(self, value: object, path: Path, notes: Notes) -> Any:
        """The value, or WRONG with at least one mistake noted."""
        try:
            return self.take(value, notes)
        except RefusedError as why:
            notes.add(path, str(why))
            return WRONG

    def schema(self) -> Schema:
        """JSON Schema (2020-12) that accepts whatever `read` accepts. Tables are named as "#/$defs/Name"."""
        raise NotImplementedError

    def words(self) -> str:
        """For the reference page."""
        raise NotImplementedError


class Text(Kind):
    """Words on one line."""

    most = 200
    sort = "a text"

    def take(self, value: object, notes: Notes) -> str:
        if not isinstance(value, str):
            raise RefusedError(f"{self.sort} in quotation marks is expected (got {shown(value)})")
        if not value.strip():
            raise RefusedError("this is blank; write something, or leave the line out")
        if len(value) > self.most:
            raise RefusedError(f"longer than {self.most} characters (got {len(value)}: {shown(value)}); shorten it")
        if _DISTURBING.search(value):
            raise RefusedError(f"holds a control character (got {shown(value)}); take it out")
        return value.strip()

    def schema(self) -> Schema:
        return {"type": "string", "minLength": 1, "maxLength": self.most}

    def words(self) -> str:
        return f"{self.sort}, {self.most} characters at most"


class Prose(Text):
    """A sentence that is shown or said."""


class Name(Text):
    """A name: short enough for the board."""

    standin: ClassVar[Any] = ""
    most = 60
    sort = "a name"


class YesNo(Kind):
    """true or false."""

    def take(self, value: object, notes: Notes) -> bool:
        if not isinstance(value, bool):
            raise RefusedError(f"true or false is expected, without quotation marks (got {shown(value)})")
        return value

    def schema(self) -> Schema:
        return {"type": "boolean"}

    def words(self) -> str:
        return "`true` or `false`"


class Whole(Kind):
    """A whole number from `least` to `most`."""

    def __init__(self, least: int, most: int) -> None:
        self.least, self.most = least, most

    def take(self, value: object, notes: Notes) -> int:
        if isinstance(value, bool) or not isinstance(value, int):
            raise RefusedError(f"a whole number is expected (got {shown(value)})")
        if not self.least <= value <= self.most:
            raise RefusedError(f"a number from {self.least} to {self.most} is expected (got {shown(value)})")
        return value

    def schema(self) -> Schema:
        return {"type": "integer", "minimum": self.least, "maximum": self.most}

    def words(self) -> str:
        return f"a whole number, {self.least} to {self.most}"


class Clip(Whole):
    """How many players: 3, or a range such as "2-4", as (least, most)."""

    pattern = "^ *[0-9]{1,3} *[-–] *[0-9]{1,3} *$"

    def take(self, value: object, notes: Notes) -> Any:
        if not isinstance(value, str):
            number = super().take(value, notes)
            return number, number
        if not re.fullmatch(self.pattern, value):
            raise RefusedError(f'a number, or a range such as "2-4", is expected (got {shown(value)})')
        least, most = (int(part) for part in re.split("[-–]", value))
        if not self.least <= least <= most <= self.most:
            raise RefusedError(f"a range inside {self.least}-{self.most}, the smaller first, is expected (got {shown(value)})")
        return least, most

    def schema(self) -> Schema:
        return {"anyOf": [super().schema(), {"type": "string", "pattern": self.pattern}]}

    def words(self) -> str:
        return f'{super().words()}, or a range such as "2-4"'


class OneOf(Kind):
    """One of a few words. An empty one stands for "not given" and cannot be written."""

    def __init__(self, *options: str) -> None:
        self.options = tuple(option for option in options if option)

    def take(self, value: object, notes: Notes) -> str:
        if isinstance(value, str) and value in self.options:
            return value
        raise RefusedError(f"{listed(self.options)} is expected (got {shown(value)}){nearest(value, self.options)}")

    def schema(self) -> Schema:
        return {"enum": list(self.options)}

    def words(self) -> str:
        return ticked(self.options)


class Time(Kind):
    """A time in whole milliseconds, from `least` to `most`, both written as a coach would."""

    standin: ClassVar[Any] = 0

    def __init__(self, least: str, most: str) -> None:
        self.least, self.most = parse(least) or 0, parse(most) or 0

    def take(self, value: object, notes: Notes) -> int:
        return self.within(self.parsed(value), value)

    def parsed(self, value: object) -> int:
        if isinstance(value, int) and not isinstance(value, bool):
            raise RefusedError(f'a time needs its unit, in quotation marks (got {shown(value)}); write "30 s" or "12 min"')
        ms = parse(value) if isinstance(value, str) else None
        if ms is None:
            raise RefusedError(f"not a time (got {shown(value)}); {_HOW_TIMES}")
        return ms

    def within(self, ms: int, value: object) -> int:
        if not self.least <= ms <= self.most:
            raise RefusedError(f"a time from {spell(self.least)} to {spell(self.most)} is expected (got {shown(value)})")
        return ms

    def schema(self) -> Schema:
        return {"type": "string", "anyOf": [{"pattern": DURATION}, {"pattern": COLONS}]}

    def words(self) -> str:
        return f"a time, {spell(self.least)} to {spell(self.most)}"


class RuleTime(Time):
    """A time, or the name of a count in the rules that the session plays by, such as "shot clock"."""

    def take(self, value: object, notes: Notes) -> int:
        if not isinstance(value, str) or any(char.isdigit() for char in value):
            return super().take(value, notes)
        try:
            return self.within(count(notes.rules, value), value)
        except NoSuchCountError as why:
            raise RefusedError(str(why)) from None

    def schema(self) -> Schema:
        return {"anyOf": [super().schema(), {"enum": list(NAMES)}]}

    def words(self) -> str:
        return f"{super().words()}, or a count of the rules: {ticked(NAMES)}"


class Degrees(Kind):
    """A temperature with its scale, as °C, from `least` to `most` °C."""

    pattern = "^ *(-?[0-9]{1,3}(?:\\.[0-9]{1,2})?) *°? *([CF]) *$"

    def __init__(self, least: int, most: int) -> None:
        self.least, self.most = least, most

    def take(self, value: object, notes: Notes) -> float:
        found = re.fullmatch(self.pattern, value) if isinstance(value, str) and len(value) <= 20 else None
        if not found:
            raise RefusedError(f'a temperature with its scale is expected (got {shown(value)}); write "31 C" or "88 F"')
        celsius = float(found[1]) if found[2] == "C" else (float(found[1]) - 32) / 1.8
        if not self.least <= celsius <= self.most:
            raise RefusedError(f"a temperature from {self.least} to {self.most} °C is expected (got {shown(value)})")
        return celsius

    def schema(self) -> Schema:
        return {"type": "string", "pattern": self.pattern}

    def words(self) -> str:
        return f'a temperature, {self.least} to {self.most} °C, such as `"31 C"` or `"88 F"`'


class FloorTime(Kind):
    """Two times of day, as milliseconds of the day."""

    def take(self, value: object, notes: Notes) -> tuple[int, int]:
        floor = parse_floor(value) if isinstance(value, str) else None
        if floor is None:
            raise RefusedError(f'not a floor time (got {shown(value)}); write it like "18:00-19:15"')
        if floor[1] <= floor[0] or floor[1] > 86_400_000:
            raise RefusedError(f'the floor time ends before it starts (got {shown(value)}); write it like "18:00-19:15"')
        return floor

    def schema(self) -> Schema:
        return {"type": "string", "pattern": FLOOR}

    def words(self) -> str:
        return 'two times of day, such as "18:00-19:15"'


class AnyOf(Kind):
    """The first of several kinds that takes the value."""

    def __init__(self, *kinds: Kind) -> None:
        self.kinds = kinds

    def take(self, value: object, notes: Notes) -> Any:
        for kind in self.kinds:
            try:
                return kind.take(value, notes)
            except RefusedError:
                continue
        raise RefusedError(f"{self.words().replace('`', '')} is expected (got {shown(value)})")

    def schema(self) -> Schema:
        return {"anyOf": [kind.schema() for kind in self.kinds]}

    def words(self) -> str:
        return ", or ".join(kind.words() for kind in self.kinds)
