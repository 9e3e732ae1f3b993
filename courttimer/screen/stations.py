"""Stations side by side: a column each, its clock as large as it fits; the one that calls go to is marked by shape and word."""

from typing import NamedTuple

from courttimer.practice.view import Inside, StationView, WindowView
from courttimer.screen import digits
from courttimer.screen.ink import Line, clip, fill, line
from courttimer.screen.places import listed
from courttimer.screen.say import short
from courttimer.screen.score import words
from courttimer.screen.state import shape_of

HERE = ("  calls go here", "  CHOSEN", " <")
LEAST = 18
"""A column narrower than this tells nothing: then a line each."""


def stations(inside: Inside, cells: int, rows: int) -> list[Line]:
    """All stations in exactly so many rows, columns or lines."""
    each = (cells + 2) // max(1, len(inside.stations)) - 2
    if each < LEAST or rows < 6:
        return ([_row(one, cells) for one in inside.stations] + [()] * rows)[:rows]
    slots = _slots(inside.stations)
    columns = [_column(one, each, rows, slots) for one in inside.stations]
    return [tuple(piece for part in row for piece in (*part, ("  ", "plain")))[:-1] for row in zip(*columns, strict=True)]


def title(one: StationView, cells: int) -> str:
    """Number and name; an arrow and a word when calls go there."""
    name = f"{'►' if one.chosen else ' '} {one.number} {one.name.upper()}"
    return next((whole for word in HERE if len(whole := name + word) <= cells), name) if one.chosen else name


def leads(one: StationView) -> tuple[str, str]:
    """Who leads it, in which style."""
    return (f"! {one.lead} is out", "warn") if one.lead_out else (f"lead {one.lead}" if one.lead else "", "plain")


def who(one: StationView, cells: int) -> str:
    """The group that is there, and its players."""
    players = listed(one.players, max(0, cells - len(one.group) - 2))
    return f"{one.group}: {players}" if one.players and one.players != (one.group,) else one.group


def state(one: StationView) -> tuple[str, str]:
    """Shape and word of what its clock does, and the style."""
    shape, style = shape_of(one.word, one.live)
    rep = f"  rep {one.rep}" if one.rep else ""
    return f"{shape} {one.word.upper()}{rep}" if one.word else "", style


def _score(one: StationView) -> str:
    return words(Inside(score=one.score)).removeprefix("score: ")


class Slots(NamedTuple):
    """How many lines each part takes in every column, so that the same stands beside the same."""

    windows: int
    outcomes: int
    score: int
    who: int
    lead: int


def _slots(of: tuple[StationView, ...]) -> Slots:
    return Slots(
        windows=min(2, max(len(one.windows) for one in of)), outcomes=any(one.outcomes for one in of),
        score=any(one.score for one in of), who=any(one.group for one in of), lead=any(one.lead for one in of),
    )  # fmt: skip


def _column(one: StationView, cells: int, rows: int, slots: Slots) -> list[Line]:
    """Top to bottom: where calls go, its clock, its windows, its outcomes and score, who is there and who leads."""
    told, style = state(one)
    head = [fill(line((title(one, cells), "pick" if one.chosen else "strong")), cells, "pick" if one.chosen else "plain")]
    head.append(fill(line((f" {told}", style)), cells, "live" if style == "live" else "plain"))
    below = ([_bar(w, cells) for w in one.windows] + [()] * slots.windows)[: slots.windows]
    below += [_outcomes(one, cells)] * slots.outcomes
    below += [line((clip(_score(one), cells), "strong"))] * slots.score
    below += [line((clip(who(one, cells), cells), "plain"))] * slots.who
    below += [line((clip(leads(one)[0], cells), leads(one)[1]))] * slots.lead
    room = max(0, rows - len(head) - len(below))
    return [fill(of, cells) for of in (head + _clock(one, cells, room, style) + below)[:rows]]


def _clock(one: StationView, cells: int, rows: int, style: str) -> list[Line]:
    ground = "live" if style == "live" else "plain"
    number = "" if one.left is None or not one.word else short(one.left)
    scale = digits.fit(number, cells - 2, min(rows, 9)) if number else None
    drawn = digits.draw(number, scale) if scale else [number] if rows else []
    told = [fill(line((f" {row}", style)), cells, ground) for row in drawn]
    return (told + [fill((), cells, ground if len(told) < min(rows, 9) else "plain")] * rows)[:rows]


def _outcomes(one: StationView, cells: int) -> Line:
    told: Line = ()
    for key, name in one.outcomes:
        told = (*told, (f" {key} ", "key" if one.chosen else "quiet"), (f" {name}  ", "strong" if one.chosen else "quiet"))
    return fill(told, cells)


def _bar(window: WindowView, cells: int) -> Line:
    number = f" {short(window.left)} "
    room = max(1, cells - len(window.name) - 1 - len(number))
    whole = min(room, -(-room * window.left // max(1, window.lasts)))
    return line((f"{window.name} ", "window"), ("█" * whole, "window"), ("·" * (room - whole), "quiet"), (number, "window"))


def _row(one: StationView, cells: int) -> Line:
    """One line, when there is no room for columns."""
    told, style = state(one)
    left = "" if one.left is None or not one.word else short(one.left)
    head = line((title(one, len(one.name) + 14) + " ", "pick" if one.chosen else "strong"))
    rest = line((f" {told} {left} ", style), (f" {one.group} ", "plain"), (f" {_score(one)}", "strong"))
    out = line((f"  {leads(one)[0]}", "warn")) if one.lead_out else ()
    return fill((*head, *rest, *out), cells)
