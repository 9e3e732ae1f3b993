"""The choice of a session, when none was named."""

from textual import events
from textual.app import App, ComposeResult

from courttimer.screen import app, pages
from courttimer.screen.canvas import Canvas
from courttimer.screen.colours import Theme

_MOVES = {"down": 1, "pagedown": 1, "up": -1, "pageup": -1}


class Picker(App[str], inherit_bindings=False):
    """Shows titles and paths; `run` returns the chosen path, or None."""

    CSS_PATH = app.Board.CSS_PATH
    ENABLE_COMMAND_PALETTE = False

    def __init__(self, sessions: tuple[tuple[str, str], ...], theme: Theme = "dark") -> None:
        super().__init__()
        self.sessions = sessions
        self.at = 0
        self.canvas = Canvas(theme, self.paint)

    def compose(self) -> ComposeResult:
        yield self.canvas

    def on_mount(self) -> None:
        self.canvas.focus()

    def paint(self) -> None:
        """Show the list with the chosen line."""
        self.canvas.show(pages.choice(self.sessions, self.at, *self.canvas.size))

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if event.key in ("ctrl+q", "ctrl+c"):
            self.exit(None)
        elif event.key in ("enter", "space") and self.sessions:
            self.exit(self.sessions[self.at][1])
        elif event.key in _MOVES and self.sessions:
            self.at = (self.at + _MOVES[event.key]) % len(self.sessions)
            self.paint()


def pick(sessions: tuple[tuple[str, str], ...], *, theme: Theme = "dark") -> str | None:
    """The path of the session that is chosen from (title, path); None when none is."""
    return Picker(sessions, theme).run(mouse=False)
