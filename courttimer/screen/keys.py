"""The one table of calls: which key and which clicker's button makes which call, and how board and help tell it.

Bindings, footer, help and the README's list are made from it. Keys are named as the terminal library names them. No key that is
needed in a hurry wants Shift, and Escape never quits: a clicker's hold button alternates F5 and Escape.
"""

from dataclasses import dataclass
from typing import Literal, cast, get_args

from courttimer.practice.calls import WHATS, By, Call, What
from courttimer.practice.view import View

Own = Literal["more", "far", "colours", "help"]
"""What the screen does by itself: no call."""
OWNS: tuple[Own, ...] = get_args(Own)
ASKED = ("score", "here", "station", "end")
"""Calls that want a second word before they are made."""

REPEAT_MS = 700
"""A key held down repeats, the first time after up to 660 ms: the same key again within this time is not a second call."""
BUTTON_MS = 300
"""The same for a clicker's button."""
ASKED_MS = 1_000
"""The same for a key that ends the practice when it is pressed twice."""
TAP_MS = 90
"""The same for what a finger may tap fast, such as take back: quicker than a tap, slower than a keyboard's repeat."""
TWICE_MS = 800
"""The clicker's hold button twice within this time is a halt."""
GUARDED: frozenset[str] = frozenset(("space", "next", "turn", "halt", "forward", "last", "before"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One call of the table."""

    does: What | Own
    keys: tuple[str, ...] = ()
    clicker: tuple[str, ...] = ()
    shown: str = ""
    """The keys, as a person reads them."""
    button: str = ""
    """The clicker's button, as a person reads it."""
    foot: str
    """In a word, below the board."""
    tells: str
    """In a sentence, for the help."""


TABLE = (
    Row(does="space", keys=("space",), clicker=("f5", "escape"), shown="space", button="hold button (F5, Esc)",
        foot="go or hold", tells="Starts what waits; holds what runs; goes on."),
    Row(does="forward", keys=("enter",), clicker=("pagedown", "right", "down"),
        shown="Enter", button="forward (PageDown, →, ↓)",
        foot="next here",
        tells="What comes next here: starts the waiting rep; in a live rep the outcome that the drill puts there."),
    Row(does="back", clicker=("pageup", "up"), shown="", button="back (PageUp, ↑)",
        foot="the other", tells="The other outcome, if the drill puts one there; else takes back."),
    Row(does="outcome", keys=tuple("1234567890"), shown="1–9, 0",
        foot="outcome", tells="What happened in the rep, as numbered on the board; 0 is over: it ended, nothing happened."),
    Row(does="open", keys=("w",), clicker=("full_stop", "b"), shown="w", button=". or b",
        foot="window", tells="Opens the window."),
    Row(does="turn", keys=("t",), shown="t", foot="turn", tells="Everyone moves on by one."),
    Row(does="last", keys=("l",), shown="l", foot="last one",
        tells="Last one: after this rep comes the next segment."),
    Row(does="next", keys=("n",), shown="n", foot="next segment", tells="The next segment, now."),
    Row(does="before", keys=("left",), shown="←", foot="from its start",
        tells="This segment from its start, or the one before."),
    Row(does="longer", keys=("plus", "equals_sign"), shown="+", foot="longer",
        tells="The running segment by a minute more (talk, water, rest: 30 s)."),
    Row(does="shorter", keys=("minus",), shown="−", foot="shorter",
        tells="The running segment by a minute less (talk, water, rest: 30 s)."),
    Row(does="score", keys=("e",), shown="e, who, + or −", foot="score",
        tells="Corrects a score: who, by number or first letters, then + or −."),
    Row(does="makes", shown="numbers, Enter", foot="makes",
        tells="After a round of spots: how many went in; Tab goes to another spot, e puts one right later."),
    Row(does="take back", keys=("u", "backspace"), shown="u, Backspace", foot="take back",
        tells="The last call was never made; as often as wanted."),
    Row(does="put back", keys=("U",), shown="U", foot="put back", tells="What was taken back last stands again."),
    Row(does="halt", keys=("x",), shown="x", button="hold, twice", foot="HALT: injury",
        tells="Someone is hurt: silence at once, everything stands, the gym's card is shown."),
    Row(does="water", keys=("d",), shown="d", foot="was water", tells="The hold that just was, or is, counts as the water."),
    Row(does="voice", keys=("v",), shown="v", foot="voice", tells="Speech off until the next segment; horns stay."),
    Row(does="mark", keys=("m",), shown="m", foot="mark",
        tells="A mark in the record with its time; words can wait for the end."),
    Row(does="here", keys=("i",), shown="i", foot="who is here",
        tells="Who is here, late or out: space ticks, l is late, a click does it too."),
    Row(does="station", keys=("s",), shown="s, its number", foot="station",
        tells="Chooses a station: outcomes count there, space starts or holds it; 0 is all."),
    Row(does="more", keys=("o",), shown="o", foot="more",
        tells="Volumes (+ and −), heat, speaker; the clock stays in view."),
    Row(does="heat", shown="o, then h", foot="heat", tells="How hot it is now, in your words: 31 C, 60 %; WBGT 28 C; hot."),
    Row(does="thunder", shown="o, then t", foot="thunder",
        tells="Out of doors: thunder or lightning; everything stands until it is safe."),
    Row(does="effort", shown="o, then e", foot="effort", tells="How hard it was, 0 to 10: a name and a number, or the number alone."),
    Row(does="far", keys=("f",), shown="f", foot="far view",
        tells="To be read from across the gym: minutes (8′), then seconds."),
    Row(does="colours", keys=("c",), shown="c", foot="colours", tells="Dark or light."),
    Row(does="help", keys=("question_mark", "f1"), shown="?", foot="help", tells="This list."),
    Row(does="end", keys=("ctrl+q", "ctrl+c"), shown="Ctrl+Q", foot="end",
        tells="Ends the practice, asked once. The journal is whole at any moment anyway."),
)  # fmt: skip

_BY_KEY: dict[str, tuple[Row, By]] = {k: (r, "key") for r in TABLE for k in r.keys} | {
    k: (r, "clicker") for r in TABLE for k in r.clicker
}


def row_for(key: str) -> Row | None:
    """The row of a key, or None. With the capitals lock on, a letter still means what it means, except U."""
    found = _BY_KEY.get(key) or _BY_KEY.get(key.lower() if len(key) == 1 else key)
    return found[0] if found else None


def call_for(key: str) -> Call | None:
    """The call that a key makes at once; None when it makes none, or wants a second word first."""
    row = row_for(key)
    if row is None or row.does in OWNS or row.does in ASKED:
        return None
    by = (_BY_KEY.get(key) or _BY_KEY[key.lower()])[1]
    return Call(what=cast(What, row.does), by=by, number=int(key) if row.does == "outcome" else 0)


class Presses:
    """Tells a press from the repeat of a held key, and the clicker's hold button pressed twice. Lives as long as the screen."""

    def __init__(self) -> None:
        self._last = ("", 0)
        self._hold = -TWICE_MS - 1

    def press(self, key: str, now: int) -> Call | None:
        """The call of a key pressed at `now` (ms of any clock that does not go back), or None."""
        call = call_for(key)
        guard = BUTTON_MS if call is not None and call.by == "clicker" else REPEAT_MS
        if call is None or self._repeats(key, now, guard if call.what in GUARDED else TAP_MS):
            return None
        if call.what == "space" and call.by == "clicker":
            before, self._hold = self._hold, now
            if now - before <= TWICE_MS:
                return Call(what="halt", by="clicker")
        return call

    def held(self, key: str, now: int, within: int = REPEAT_MS) -> bool:
        """Whether a key is only held down; if not, whoever takes it tells `elsewhere`."""
        held = self._last[0] == key and now - self._last[1] < within
        self._last = (key, now) if held else self._last
        return held

    def elsewhere(self, key: str, now: int) -> None:
        """A key that was taken elsewhere: whatever was held down before it is no longer."""
        self._last = (key, now)

    def own(self, row: Row, key: str, now: int) -> bool:
        """Whether a key of the screen's own is only held down: a page that opens must not close by itself, nor an end be confirmed."""
        if row.does not in OWNS and row.does not in ASKED:
            return False
        within = ASKED_MS if row.does == "end" else TAP_MS if row.does == "help" else REPEAT_MS
        return self._repeats(key, now, within)

    def _repeats(self, key: str, now: int, within: int) -> bool:
        before, self._last = self._last, (key, now)
        return before[0] == key and now - before[1] < within


def foot(view: View) -> tuple[tuple[str, str], ...]:
    """Key and word of what means something now, the weightiest first."""
    return tuple((_key(row), _word(row, view)) for row in sorted(TABLE, key=_weight) if _means(row, view))


_FIRST = (
    "halt", "space", "forward", "help", "outcome", "open", "last", "next", "take back", "far", "turn", "station", "score",
    "longer", "shorter", "mark", "water", "voice", "put back", "before", "here", "more", "end", "colours",
)  # fmt: skip


def _weight(row: Row) -> int:
    return _FIRST.index(row.does) if row.does in _FIRST else len(_FIRST)


def _means(row: Row, view: View) -> bool:
    if not row.keys or row.does == "outcome":
        return False  # outcomes stand on the board with their names; a clicker's button is no key
    if row.does in OWNS or row.does == "end":
        return True
    names = {row.does, "go", "hold"} if row.does == "space" else {row.does}
    return bool(names & view.allowed)


def _key(row: Row) -> str:
    return row.shown.split(",")[0]


def _word(row: Row, view: View) -> str:
    if row.does == "space":
        if view.phase in ("held", "halted"):
            return "go on"
        chosen = next((one for one in view.inside.stations if one.chosen), None)
        if chosen is not None:
            return f"{'go' if chosen.word in ('stopped', 'waiting') else 'hold'} station {chosen.number}"
        if view.word == "spare":
            return "next segment"
        return "go" if view.phase == "start" or view.word in ("waiting", "set-up") else "hold"
    if row.does == "forward" and view.word == "waiting":
        return "start the rep"
    return row.foot


def listing() -> str:
    """The table as Markdown, for the README."""
    rows = [f"| {r.foot} | {r.shown} | {r.button} | {r.tells} |" for r in TABLE]
    return "\n".join(["| call | key | clicker | what it does |", "|---|---|---|---|", *rows])


def missing() -> frozenset[str]:
    """Calls that no row of the table makes; go and hold are both the space bar's, late and out belong to here."""
    return frozenset(WHATS) - {r.does for r in TABLE} - {"go", "hold", "late", "out"}
