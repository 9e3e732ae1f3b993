"""The page for what is turned now and then: volumes, heat, the speaker; the clock stays in view above it."""

from collections.abc import Callable
from typing import NamedTuple

from courttimer.practice.calls import Call
from courttimer.practice.view import View
from courttimer.screen.board import keys, said, troubles
from courttimer.screen.entry import whom
from courttimer.screen.given import Given, Volume
from courttimer.screen.ink import Line, line, wrap

STEP = 2
LOWEST, HIGHEST = -40, 12
LOUDER, SOFTER = ("right", "plus", "equals_sign"), ("left", "minus", "underscore")
BAR = 26


class Asked(NamedTuple):
    """A question of the page, and how its answer becomes a call; None when it is none."""

    question: str
    read: Callable[[str, tuple[str, ...]], Call | None]


def heat_call(text: str, names: tuple[str, ...]) -> Call | None:
    """Whatever was typed: the practice reads it."""
    return Call(what="heat", words=text) if text else None


def effort_call(text: str, names: tuple[str, ...]) -> Call | None:
    """`7`, or `Ada 7`; None for what is no number from 0 to 10."""
    who, _, number = text.rpartition(" ")
    if not (number.isascii() and number.isdigit() and int(number) <= 10):
        return None
    return Call(what="effort", who=whom(who.strip(), names), number=int(number))


_ASKS = {
    "h": Asked("How hot is it? Such as 31 C, 60 %; WBGT 28 C; hot", heat_call),
    "e": Asked("How hard was it, 0 to 10? A number, or a name and a number", effort_call),
}


def asks(key: str) -> Asked | None:
    """The question that a key of the page opens."""
    return _ASKS.get(key)


def lines(view: View, given: Given, at: int, cells: int) -> list[Line]:
    """The body of the page."""
    volumes = given.volumes()
    told = [_volume(one, n == at % len(volumes)) for n, one in enumerate(volumes)]
    if volumes:
        told += [line((" + ", "key"), " ", (" − ", "key"), " louder, softer   ", (" ↑ ↓ ", "key"), " the other one"), ()]
    told += [line(part) for text in _heat(view) for part in wrap(text, cells)]
    told += [line((" h ", "key"), " how hot it is   ", (" e ", "key"), " how hard it was   ", (" t ", "key"), " thunder"), ()]
    told += [line(part) for text in given.more() for part in wrap(text, cells)]
    return [*troubles(given.trouble(), cells, 9), *told, said(view), *keys(view, cells, 9)]


def _volume(one: Volume, chosen: bool) -> Line:
    share = BAR * (one.db - LOWEST) // (HIGHEST - LOWEST)
    style = "pick" if chosen else "plain"
    bar = line((" " + "█" * share, "strong"), ("·" * (BAR - share), "quiet"), f" {one.db:+d} dB")
    return (*line((f"{'►' if chosen else ' '} {one.of:<12}", style)), *bar)


def _heat(view: View) -> tuple[str, ...]:
    care = view.care
    return tuple(f"Heat: {text}" for text in (care.heat_told,) if text) + care.heat_asks


def press(key: str, at: int, given: Given) -> tuple[int, bool]:
    """Take a key of the page: which volume is pointed at then, and whether it was one of ours."""
    volumes = given.volumes()
    if not volumes or key not in ("up", "down", *LOUDER, *SOFTER):
        return at, False
    if key in ("up", "down"):
        return (at + (1 if key == "down" else -1)) % len(volumes), True
    one = volumes[at % len(volumes)]
    given.turn(one.of, max(LOWEST, min(HIGHEST, one.db + (STEP if key in LOUDER else -STEP))))
    return at, True
