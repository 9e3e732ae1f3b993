"""The screen as one application: keys become calls, and ten times a second the look of this moment becomes lines.

ESCDELAY must be in the environment before the terminal library is imported, or Escape is held back 100 ms: this file sets it.
"""

import contextlib
import os
from collections.abc import Callable, Iterator
from typing import Literal

os.environ.setdefault("ESCDELAY", "25")

from textual import events
from textual.app import App, ComposeResult

from courttimer.practice.calls import Call, What
from courttimer.practice.view import View
from courttimer.screen import far, here, more, pages
from courttimer.screen.board import board
from courttimer.screen.canvas import Canvas
from courttimer.screen.colours import Theme
from courttimer.screen.entry import Ask, Choice, Entry, Makes, Marks, Whose
from courttimer.screen.flash import Flash, reverse
from courttimer.screen.given import Given
from courttimer.screen.hangup import outlive_the_terminal, outlive_the_writer, terminal_died
from courttimer.screen.ink import Line, fill, line
from courttimer.screen.keys import TAP_MS, Presses, Row, row_for

BEAT_S = 0.1
ANSWER_S = 0.015
"""A call is answered on another thread, within this."""
LEFT_MS = 20_000
"""A page on which the space bar means something else closes by itself so long after its last key."""
END = "End the practice? Ctrl+Q again ends it, other keys do not."
RIGHT_BUTTON = 3
Ended = Literal["ended", "gone"]
Over = Literal["", "help", "more", "here"]


def stamp(event: events.Key) -> int:
    """When a key was pressed, in ms of a clock that does not go back."""
    return int(event.time * 1000)


class Board(App[Ended], inherit_bindings=False):
    """Lives as long as the terminal. `run` returns "ended" when it was closed by a key, anything else when the screen died."""

    CSS_PATH = "board.tcss"
    ENABLE_COMMAND_PALETTE = False

    def __init__(self, given: Given, *, theme: Theme = "dark", beats: bool = True, stamp: Callable[[events.Key], int] = stamp) -> None:
        super().__init__(ansi_color="NO_COLOR" in os.environ or None)  # else the library turns no colour into greys
        self.given = given
        self.colours: Theme = theme
        self.canvas = Canvas(theme, self.paint)
        self.far = False
        self.over: Over = ""
        self.at = 0
        self.ending = False
        """The end was asked for, and not yet once more."""
        self.ask: Ask | None = None
        self.note = ""
        self.fault = ""
        self._opened = 0
        self._opened_by = ""
        """The key that opened the question, until another one is pressed."""
        self._view = given.view()
        self._makes = Makes(lambda: self._view.inside, given.call)
        self._presses = Presses()
        self._flash = Flash()
        self._beats = beats
        self._stamp = stamp

    def compose(self) -> ComposeResult:
        yield self.canvas

    def on_mount(self) -> None:
        self.canvas.focus()
        if self._beats:
            self.set_interval(BEAT_S, self.paint)
        outlive_the_terminal(lambda: self.exit("gone"))
        outlive_the_writer(self._driver)

    def paint(self) -> None:
        """Show this moment. Whatever is wrong with a look ends the screen, never the practice."""
        with self._safely():
            if terminal_died(self._driver):
                self.exit("gone")
                return
            cells, rows = self.canvas.size
            view = self._view = self.given.view()
            if self.over == "here" and view.phase == "running" and view.now - self._opened > LEFT_MS:
                self.over = ""
            lines = self._lines(view, cells, rows)
            self.canvas.show(reverse(lines) if self._flash.now(view, deaf=self.given.deaf()) else lines)

    @contextlib.contextmanager
    def _safely(self) -> Iterator[None]:
        try:
            yield
        except Exception as fault:
            self.fault = repr(fault)
            self.exit("gone")

    def _lines(self, view: View, cells: int, rows: int) -> list[Line]:
        ask = self._question(cells)
        lines = self._screen(view, cells, rows - len(ask))
        return lines[: rows - len(ask)] + ask

    def _screen(self, view: View, cells: int, rows: int) -> list[Line]:
        if self.over == "help":
            return pages.page(view, "help: ? turns the page", pages.help_lines(cells), cells, rows, self.at)
        if self.over == "more":
            return pages.page(view, "more: o closes", more.lines(view, self.given, self.at, cells)[: rows - 2], cells, rows)
        if self.over == "here":
            stands = self.given.start().stands if view.phase == "start" else ()
            told = here.page(self._people(), cells, rows - 2, self.at, (view.said, *stands))
            return pages.page(view, "who is here: i closes", told, cells, rows)
        if view.phase == "start":
            return pages.start(view, self.given.start(), cells, rows)
        if view.phase == "ended":
            return pages.over(view, self.given.over(), cells, rows)
        if view.phase == "halted":
            return far.halt(view, cells, rows)
        return far.far(view, cells, rows) if self.far else board(view, cells, rows, self.given.trouble())

    def _people(self) -> tuple[here.Person, ...]:
        return here.everyone(self._view.attendance, self.given.start().squad)

    def _asks(self) -> Ask | None:
        """The question that is open: one that was asked for, else the makes of a round that is over, unless numbers are outcomes."""
        if self.ask is not None and not self.ask.open:
            self.ask = None
        counting = self._view.live and bool(self._view.inside.outcomes)
        return self.ask or (self._makes if self._makes.open and not counting else None)

    def _question(self, cells: int) -> list[Line]:
        said = END if self.ending else self.note
        if said:
            return [fill(line((f" {said}", "alarm")), cells, "alarm")]
        ask = self._asks()
        return [ask.line(cells)] if ask is not None else []

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        letter = event.character if event.character and len(event.character) == 1 and event.character.isalnum() else None
        with self._safely():
            self.press(letter or event.key, event.character, self._stamp(event))
        self._answer()

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """A click on somebody's tick."""
        with self._safely():
            shown = self.over == "here" or (not self.over and self.given.view().phase == "start")
            if shown and event.screen_y < len(self.canvas.lines):
                self._opened = self.given.view().now
                one = here.pressed(self.canvas.lines[event.screen_y], event.screen_x, self._people())
                if one is not None:
                    self.given.call(here.changed(one, late=event.button == RIGHT_BUTTON))
        self._answer()

    def _answer(self) -> None:
        self.paint()
        if self._beats:
            self.set_timer(ANSWER_S, self.paint)

    def press(self, key: str, character: str | None, now: int) -> None:
        """One key, pressed at `now` ms: into the open line, as an answer, on a page of ours, or as a call."""
        self._view = self.given.view()
        row = row_for(key)
        if row is None and character is None and key not in ("tab", "up", "down", "left", "right"):
            return  # some terminals report Shift and Ctrl by themselves: they answer no question
        self.note = ""
        before = self._asks()
        if before is not None and key == self._opened_by and self._presses.held(key, now):
            return  # the key that opened the question is still down: it is no answer
        if isinstance(before, Whose | Makes) and self._presses.held(key, now, TAP_MS):
            return
        self._pressed(key, character, now, row, before)
        self._opened_by = key if self._asks() is not before else ""

    def _pressed(self, key: str, character: str | None, now: int, row: Row | None, ask: Ask | None) -> None:
        if (ask is not None and ask.press(key, character)) or self._on_page(key):
            self._presses.elsewhere(key, now)
            return
        if row is not None and self._presses.own(row, key, now):
            return
        ending, self.ending = self.ending, False
        act = self._acts().get(row.does) if row else None
        if act is not None:
            act(ending)
            return
        call = self._presses.press(key, now)
        if call is not None:
            if call.what == "halt":
                self.over = ""  # the gym's card, whatever page is open
            self.given.call(call)

    def _on_page(self, key: str) -> bool:
        """A key that means something of its own on the page that is open."""
        self._opened = self._view.now
        if self.over and self._view.phase == "start" and key in ("escape", "enter"):
            self.over = ""  # whoever wants to leave a page must not begin the practice unseen
            return True
        if self.over == "here":
            self.at, took = here.press(key, self.at, self._people(), self.canvas.size.width, self.given.call)
            return took
        if self.over == "more":
            return self._on_more(key)
        return False

    def _on_more(self, key: str) -> bool:
        self.at, took = more.press(key, self.at, self.given)
        asked = more.asks(key)
        if asked is not None:
            self.ask = Entry(asked.question, lambda text: self._typed(asked.read(text, self.given.start().squad)))
        elif key == "t":
            self.over = ""
            self.given.call(Call(what="thunder"))
        return took or asked is not None or key == "t"

    def _typed(self, call: Call | None) -> None:
        if call is None:
            self.note = "Nothing was changed."
        else:
            self.given.call(call)

    def _acts(self) -> dict[str, Callable[[bool], None]]:
        acts: dict[str, Callable[[bool], None]] = {
            "help": self._help, "more": self._toggle_more, "far": self._toggle_far, "colours": self._wear, "end": self._end,
            "score": self._score, "here": self._here, "station": self._station,
        }  # fmt: skip
        if self._view.phase == "ended":
            acts["mark"] = self._words
        return acts

    def _help(self, ending: bool) -> None:
        count = pages.page_count(pages.help_lines(self.canvas.size.width), self.canvas.size.height)
        self.at = self.at + 1 if self.over == "help" else 0
        self.over = "help" if self.at < count else ""

    def _toggle_more(self, ending: bool) -> None:
        self.over, self.at = "" if self.over == "more" else "more", 0

    def _toggle_far(self, ending: bool) -> None:
        self.far, self.over = not self.far, ""
        if self._view.phase == "start":  # where neither can be seen yet
            self.note = f"{'The far view' if self.far else 'The board'} comes with go."

    def _wear(self, ending: bool) -> None:
        self.colours = "light" if self.colours == "dark" else "dark"
        self.canvas.wear(self.colours)

    def _end(self, ending: bool) -> None:
        phase = self._view.phase
        if phase == "ended":
            self.exit("ended")
        elif not ending:
            self.ending = True
        else:
            self.given.call(Call(what="end"))
            if phase == "start":
                self.exit("ended")

    def _station(self, ending: bool) -> None:
        if self._allows("station"):
            names = "  ".join(f"{one.number} {one.name}" for one in self._view.inside.stations)
            self.ask = Choice(f"Which station? {names}  0 all", lambda n: self.given.call(Call(what="station", number=n)))

    def _score(self, ending: bool) -> None:
        """Makes are put right with the same key where there is no score."""
        view = self._view
        if view.inside.spots and "score" not in view.allowed and "makes" in view.allowed:
            self.ask = Makes(lambda: self._view.inside, self.given.call, whole=True)
        elif self._allows("score"):
            self.ask = Whose(lambda: self._view.inside.sides, self.given.call)

    def _here(self, ending: bool) -> None:
        self.over, self.at = "" if self.over == "here" else "here", 0

    def _allows(self, what: What) -> bool:
        """Else the call is made bare, so that the practice answers why not."""
        allowed = what in self._view.allowed
        if not allowed:
            self.given.call(Call(what=what))
        return allowed

    def _words(self, ending: bool) -> None:
        wordless = [n for n, (_, text) in enumerate(self.given.over().marks) if not text]
        self.ask = Marks(wordless, self.given.note) if wordless else None


def run(given: Given, *, theme: Theme = "dark") -> Ended:
    """Show the practice until a key closes the screen ("ended") or the screen dies ("gone"): then go on without it.

    Runs in the main thread. After "gone" the terminal may not be there any more: expect OSError from writing to it.
    """
    try:
        result = Board(given, theme=theme).run()
    except Exception:
        return "gone"
    return result or "gone"
