"""The screen as one application: keys become calls, and ten times a second the look of this moment becomes lines.

ESCDELAY must be in the environment before the terminal library is imported, or Escape is held back 100 ms: this file sets it.
"""

import asyncio
import contextlib
import os
import signal
from collections.abc import Callable, Iterator
from typing import Literal

os.environ.setdefault("ESCDELAY", "25")

from textual import events
from textual.app import App, ComposeResult

from courttimer.practice.calls import Call
from courttimer.practice.view import View
from courttimer.screen import far, pages
from courttimer.screen.board import board, keys, said, troubles
from courttimer.screen.canvas import Canvas
from courttimer.screen.colours import Theme
from courttimer.screen.entry import Entry, here_call, score_call
from courttimer.screen.flash import Flash, reverse
from courttimer.screen.given import Given
from courttimer.screen.ink import Line, fill, line, wrap
from courttimer.screen.keys import Presses, row_for

BEAT_S = 0.1
ANSWER_S = 0.015
"""A call is answered on another thread, within this."""
QUESTIONS = {
    "end": "End the practice? Ctrl+Q again ends it, other keys do not.",
    "station": "Which station? Its number, 0 for all.",
}
Ended = Literal["ended", "gone"]
Over = Literal["", "help", "more"]


class Board(App[Ended], inherit_bindings=False):
    """Lives as long as the terminal. `run` returns "ended" when it was closed by a key, anything else when the screen died."""

    CSS_PATH = "board.tcss"
    ENABLE_COMMAND_PALETTE = False

    def __init__(self, given: Given, *, theme: Theme = "dark", beats: bool = True) -> None:
        super().__init__(ansi_color="NO_COLOR" in os.environ or None)  # else the library turns no colour into greys
        self.given = given
        self.colours: Theme = theme
        self.canvas = Canvas(theme, self.paint)
        self.far = False
        self.over: Over = ""
        self.at = 0
        self.asked: Literal["", "end", "station"] = ""
        self.entry: Entry | None = None
        self.note = ""
        self.fault = ""
        self._presses = Presses()
        self._flash = Flash()
        self._beats = beats

    def compose(self) -> ComposeResult:
        yield self.canvas

    def on_mount(self) -> None:
        self.canvas.focus()
        if self._beats:
            self.set_interval(BEAT_S, self.paint)
        _outlive_the_terminal(self)

    def paint(self) -> None:
        """Show this moment. Whatever is wrong with a look ends the screen, never the practice."""
        with self._safely():
            if self._terminal_died():
                self.exit("gone")
                return
            cells, rows = self.canvas.size
            view = self.given.view()
            lines = self._lines(view, cells, rows)
            self.canvas.show(reverse(lines) if self._flash.now(view, deaf=self.given.deaf()) else lines)

    def _terminal_died(self) -> bool:
        """The library writes in a thread, which ends at the first write that fails and tells nobody; waiting for it would hang us."""
        writer = getattr(self._driver, "_writer_thread", None)
        return writer is not None and not writer.is_alive()

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
            return pages.page(view, "more: o closes", self._more(view, cells), cells, rows)
        if view.phase == "start":
            return pages.start(view, self.given.start(), cells, rows)
        if view.phase == "ended":
            return pages.over(view, self.given.over(), cells, rows)
        if view.phase == "halted":
            return far.halt(view, cells, rows)
        return far.far(view, cells, rows) if self.far else board(view, cells, rows, self.given.trouble())

    def _more(self, view: View, cells: int) -> list[Line]:
        told = [line(part) for text in self.given.more() for part in wrap(text, cells)]
        return [*troubles(self.given.trouble(), cells, 9), *told, said(view), *keys(view, cells, 9)]

    def _question(self, cells: int) -> list[Line]:
        if self.entry is not None:
            return [self.entry.line(cells)]
        said = QUESTIONS.get(self.asked, self.note)
        return [fill(line((f" {said}", "alarm")), cells, "alarm")] if said else []

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        letter = event.character if event.character and len(event.character) == 1 and event.character.isalnum() else None
        with self._safely():
            self.press(letter or event.key, event.character, int(event.time * 1000))
        self.paint()
        if self._beats:
            self.set_timer(ANSWER_S, self.paint)

    def press(self, key: str, character: str | None, now: int) -> None:
        """One key, pressed at `now` ms: into the open line, as an answer, as a page of ours, or as a call."""
        row = row_for(key)
        if row is None and character is None and key != "tab":
            return  # some terminals report Shift and Ctrl by themselves: they answer no question
        self.note = ""
        if self.entry is not None and self._typed(self.entry, key, character):
            return
        asked, self.asked = self.asked, ""
        if asked == "station" and key.isdigit():
            self.given.call(Call(what="station", number=int(key)))
            return
        if key == "escape" and self.over and self.given.view().phase == "start":
            self.over = ""  # whoever wants to leave a page must not begin the practice unseen
            return
        act = self._acts().get(row.does) if row else None
        if act is not None:
            act(asked)
            return
        call = self._presses.press(key, now)
        if call is not None:
            self.given.call(call)

    def _typed(self, entry: Entry, key: str, character: str | None) -> bool:
        took = entry.press(key, character)
        if not entry.open and self.entry is entry:
            self.entry = None
        return took

    def _acts(self) -> dict[str, Callable[[str], None]]:
        acts: dict[str, Callable[[str], None]] = {
            "help": self._help, "more": self._toggle_more, "far": self._toggle_far, "colours": self._wear, "end": self._end,
            "score": self._score, "here": self._here, "station": self._station,
        }  # fmt: skip
        if self.given.view().phase == "ended":
            acts["mark"] = self._words
        return acts

    def _help(self, asked: str) -> None:
        count = pages.page_count(pages.help_lines(self.canvas.size.width), self.canvas.size.height)
        self.at = self.at + 1 if self.over == "help" else 0
        self.over = "help" if self.at < count else ""

    def _toggle_more(self, asked: str) -> None:
        self.over = "" if self.over == "more" else "more"

    def _toggle_far(self, asked: str) -> None:
        self.far, self.over = not self.far, ""

    def _wear(self, asked: str) -> None:
        self.colours = "light" if self.colours == "dark" else "dark"
        self.canvas.wear(self.colours)

    def _end(self, asked: str) -> None:
        phase = self.given.view().phase
        if phase == "ended":
            self.exit("ended")
        elif asked != "end":
            self.asked = "end"
        else:
            self.given.call(Call(what="end"))
            if phase == "start":
                self.exit("ended")

    def _station(self, asked: str) -> None:
        if self._allows("station"):
            self.asked = "station"

    def _score(self, asked: str) -> None:
        if self._allows("score"):
            self._ask("Score: who, then + or -", score_call)

    def _here(self, asked: str) -> None:
        if self._allows("here"):
            self._ask("Who is here? A name; or a name and late, or out", here_call)

    def _ask(self, question: str, read: Callable[[str, tuple[str, ...]], Call | None]) -> None:
        self.entry = Entry(question, lambda text: self._typed_call(read(text, self._names())))

    def _allows(self, what: Literal["score", "here", "station"]) -> bool:
        """Else the call is made bare, so that the practice answers why not."""
        allowed = what in self.given.view().allowed
        if not allowed:
            self.given.call(Call(what=what))
        return allowed

    def _typed_call(self, call: Call | None) -> None:
        if call is None:
            self.note = "Nothing was changed: a name and what to do, such as Ada +"
        else:
            self.given.call(call)

    def _names(self) -> tuple[str, ...]:
        return self.given.start().squad

    def _words(self, asked: str) -> None:
        wordless = [n for n, (_, text) in enumerate(self.given.over().marks) if not text]
        if wordless:
            self._ask_words(wordless)

    def _ask_words(self, wordless: list[int]) -> None:
        """The marks one after the other; a mark left empty is left alone."""

        def answer(text: str) -> None:
            if text:
                self.given.note(wordless[0], text)
            self.entry = None
            if wordless[1:]:
                self._ask_words(wordless[1:])

        self.entry = Entry(f"Mark {wordless[0] + 1}: its words", answer)


def _outlive_the_terminal(board: Board) -> None:
    """A closed terminal hangs up on every process in it: from now on that ends the screen, and the process lives on."""
    loop = asyncio.get_running_loop()

    def hung_up(*_: object) -> None:
        with contextlib.suppress(RuntimeError):
            loop.call_soon_threadsafe(board.exit, "gone")

    with contextlib.suppress(AttributeError, ValueError):  # Windows has no such signal; only the main thread may ask for it
        signal.signal(signal.SIGHUP, hung_up)


def run(given: Given, *, theme: Theme = "dark") -> Ended:
    """Show the practice until a key closes the screen ("ended") or the screen dies ("gone"): then go on without it.

    Runs in the main thread. After "gone" the terminal may not be there any more: expect OSError from writing to it.
    """
    try:
        result = Board(given, theme=theme).run(mouse=False)
    except Exception:
        return "gone"
    return result or "gone"
