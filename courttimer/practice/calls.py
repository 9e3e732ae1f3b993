"""What the program can be told: by key, clicker, line or phone, all the same calls."""

from dataclasses import dataclass
from typing import Literal, get_args

from courttimer.practice.cue import FLOOR

What = Literal[
    "go", "hold", "space", "forward", "back", "outcome", "open", "turn", "last", "next", "before", "longer", "shorter", "score",
    "take back", "put back", "halt", "water", "voice", "mark", "here", "late", "out", "station", "makes", "heat", "thunder",
    "effort", "end",
]  # fmt: skip
WHATS: tuple[What, ...] = get_args(What)
DIGITS = 9
"""A number that is typed has so many at most."""
By = Literal["key", "clicker", "line", "phone", "program"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """One call. `space` is go or hold, whichever makes sense; `forward` and `back` are the clicker's two buttons."""

    what: What
    by: By = "key"
    lane: int = FLOOR
    number: int = 0
    """For outcome and station: the number on the board; 0 is over, or all stations. For makes: how many went in."""
    who: str = ""
    """For score, here, late, out: whom it is about. For makes: the spot."""
    amount: int = 0
    """For score: how much more or less. For makes: the round, 0 for the one being shot."""
    words: str = ""
    """For mark and heat."""
    since: int | None = None
    """The true moment when it is known, such as a whistle's; the call is dated when it arrives."""


def spoken(call: Call) -> str:
    """The call in words, for the board and the journal."""
    tail = {"outcome": str(call.number), "station": str(call.number), "mark": call.words}.get(call.what, call.who)
    return f"{call.what} {tail}".strip()


def parse(line: str) -> Call:
    """A call from a line such as `outcome 2` or `mark good passing`. Raises ValueError in words for the coach."""
    words = line.strip()
    low = words.lower()
    if whole(low) and len(low) == 1:
        return Call(what="outcome", number=int(low), by="line")
    if low == "over":
        return Call(what="outcome", by="line")
    what = next((w for w in sorted(WHATS, key=len, reverse=True) if low == w or low.startswith(w + " ")), None)
    if what is None:
        raise ValueError(f'"{words}" is not a call; the calls are: over, {", ".join(WHATS)}')
    return _with(what, words[len(what) :].strip())


def _with(what: What, rest: str) -> Call:
    if what in ("outcome", "station"):
        if not whole(rest):
            raise ValueError(f'{what} wants a number, such as "{what} 1" (got "{rest}")')
        return Call(what=what, number=int(rest), by="line")
    if what == "effort":
        return _effort(rest)
    if what in ("mark", "heat"):
        return Call(what=what, words=rest[:200], by="line")
    if what == "score":
        who, _, amount = rest.rpartition(" ")
        if not who or not whole(amount[1:] if amount[:1] in ("+", "-") else amount):
            raise ValueError(f'score wants who and how much, such as "score Ada +1" (got "{rest}")')
        return Call(what=what, who=who, amount=int(amount), by="line")
    if what == "makes":
        return _makes(rest)
    if what in ("here", "late", "out"):
        if not rest:
            raise ValueError(f'{what} wants a name, such as "{what} Ada"')
        return Call(what=what, who=rest, by="line")
    if rest:
        raise ValueError(f'"{what}" stands alone (got "{rest}" after it)')
    return Call(what=what, by="line")


def whole(text: str) -> bool:
    """A whole number that int() can read: a raised 2 is a digit, but no number."""
    return text.isdecimal() and len(text) <= DIGITS


def _makes(rest: str) -> Call:
    """`left corner 7`, or `left corner 7 round 2`."""
    words, _, turn = rest.partition(" round ")
    spot, _, count = words.strip().rpartition(" ")
    if not spot or not whole(count) or not whole((turn or "0").strip()):
        raise ValueError(f'makes wants a spot and how many went in, such as "makes left corner 7" (got "{rest}")')
    return Call(what="makes", who=spot, number=int(count), amount=int(turn or 0), by="line")


def _effort(rest: str) -> Call:
    """`Ada 7`, or `7` for the coach's own word."""
    who, _, effort = rest.rpartition(" ")
    if not whole(effort) or int(effort) > 10:
        raise ValueError(f'effort wants who and 0 to 10, such as "effort Ada 7" (got "{rest}")')
    return Call(what="effort", who=who.strip(), number=int(effort), by="line")
