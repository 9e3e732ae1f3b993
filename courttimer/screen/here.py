"""Who is here: everyone of squad and staff with a tick, to be changed with keys or with the mouse."""

from collections.abc import Callable
from dataclasses import dataclass

from courttimer.practice.calls import Call, What
from courttimer.practice.view import Attendance
from courttimer.screen.ink import Line, clip, line

WIDE = 28
"""A name with its tick and its word takes at most so many cells."""
MARKS: dict[str, str] = {"here": "[x]", "warm": "[x]", "late": "[~]", "out": "[ ]"}
WORDS: dict[str, str] = {"here": "", "warm": "warms up", "late": "late", "out": "out"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody, and how they stand: "here", "warm" (has just come), "late" or "out"."""

    name: str
    stands: str
    leads: bool = False


def everyone(of: Attendance, squad: tuple[str, ...]) -> tuple[Person, ...]:
    """Players in the order of the squad, then the staff."""
    known = dict.fromkeys((*squad, *of.here, *of.warming, *of.away))
    players = tuple(Person(name=name, stands=_stands(of, name)) for name in known if name not in of.staff)
    return players + tuple(Person(name=n, stands="out" if n in of.staff_out else "here", leads=True) for n in of.staff)


def _stands(of: Attendance, name: str) -> str:
    if name in of.warming:
        return "warm"
    return "here" if name in of.here else "late" if name in of.late else "out"


def changed(one: Person, *, late: bool = False) -> Call:
    """Out who is here, here who is not; or late, and here who was late."""
    there = one.stands in ("here", "warm")
    what: What = ("late" if one.stands != "late" else "here") if late and not one.leads else "out" if there else "here"
    return Call(what=what, who=one.name)


def cell(one: Person) -> str:
    """The one piece of a line that stands for somebody."""
    word = f" {WORDS[one.stands]}" if WORDS[one.stands] else ""
    lead = " (staff)" if one.leads else ""
    return clip(f"{MARKS[one.stands]} {one.name}{lead}{word}", WIDE)


def columns(people: tuple[Person, ...], cells: int) -> int:
    """How many stand side by side."""
    return max(1, min(6, (cells + 2) // (max(map(len, map(cell, people)), default=1) + 2)))


def ticks(people: tuple[Person, ...], cells: int, rows: int, at: int | None = None) -> list[Line]:
    """Everyone, row by row, in at most so many rows; the one at `at` is pointed at, and always in view."""
    across = columns(people, cells)
    each = (cells + 2) // across - 2
    told = [people[n : n + across] for n in range(0, len(people), across)]
    first = 0 if at is None or len(told) <= rows else min(max(0, at // across - rows // 2), len(told) - rows)
    shown = told[first : first + rows]
    lines = [_row(row, (first + n) * across, each, at) for n, row in enumerate(shown)]
    left = len(people) - sum(map(len, shown))
    if left and at is None and lines:
        lines[-1] = line((f"and {left + len(shown[-1])} more: key i", "quiet"))
    return lines


def _row(row: tuple[Person, ...], first: int, each: int, at: int | None) -> Line:
    pieces: list[tuple[str, str]] = []
    for n, one in enumerate(row, first):
        style = "pick" if n == at else "strong" if one.stands in ("here", "warm") else "warn"
        text = clip(cell(one), each)
        pieces += [(text, style), (" " * (each - len(text) + 2), "plain")]
    return tuple(pieces)


def pressed(of: Line, x: int, people: tuple[Person, ...]) -> Person | None:
    """Who stands in a line at the cell `x`; nobody where no name is."""
    begins = 0
    for text, _ in of:
        if begins <= x < begins + len(text):
            return next((one for one in people if cell(one) == text), None)
        begins += len(text)
    return None


def press(key: str, at: int, people: tuple[Person, ...], cells: int, call: Callable[[Call], None]) -> tuple[int, bool]:
    """Take a key of the page: where the pointer is then, and whether it was one of ours."""
    at = max(0, min(at, len(people) - 1))
    down = columns(people, cells)
    step = {"left": -1, "right": 1, "up": -down, "down": down}.get(key)
    if step is not None:
        return (at + step if 0 <= at + step < len(people) else at), True
    if key not in ("space", "l") or not people:
        return at, False
    call(changed(people[at], late=key == "l"))
    return at, True


def summary(of: Attendance, squad: tuple[str, ...]) -> str:
    """In one sentence: how many are here, and who is not."""
    people = everyone(of, squad)
    players = [one for one in people if not one.leads]
    here = sum(one.stands in ("here", "warm") for one in players)
    told = [f"{here} of {len(players)} here"]
    for stands, word in (("warm", "warming up"), ("late", "late"), ("out", "out")):
        names = [one.name for one in people if one.stands == stands]
        told += [f"{word}: {', '.join(names)}"] if names else []
    return "; ".join(told)


def page(people: tuple[Person, ...], cells: int, rows: int, at: int, said: tuple[str, ...] = ()) -> list[Line]:
    """The body of the page: the ticks, what the keys do; then the last answer and whatever else is `said`, where there is room."""
    legend = [
        (),
        line((" space ", "key"), " here or out  ", (" l ", "key"), " late  ", (" arrows ", "key"), " move  ", (" i ", "key"), " back"),
        line(("a click is space, a click with the right button is l", "quiet")),
    ]
    told = [line((f"» {text}" if not n else text, "said")) for n, text in enumerate(said) if text]
    none = [line(("Nobody is named in the session file: players go into [squad].", "warn"))]
    shown = ticks(people, cells, max(1, rows - len(legend) - bool(told)), at) or none
    return [*shown, *legend, *told][: max(rows, len(shown) + len(legend))]
