"""When the whole screen flashes in place of a horn that nobody can hear."""

from courttimer.practice.view import View
from courttimer.screen.ink import Line

LASTS_MS = 400
APART_MS = 500
"""At most two flashes in any second: WCAG 2.2, success criterion 2.3.1, allows three."""
_REVERSED = ("live", "halt", "alarm", "key", "pick")


class Flash:
    """Watches look after look for what a horn would have told. Lives as long as the screen."""

    def __init__(self) -> None:
        self._seen: object = None
        self._since = -APART_MS

    def now(self, view: View, *, deaf: bool) -> bool:
        """Whether the screen is to be reversed at this look."""
        seen = (view.segment, view.word, view.rep, view.phase, tuple(w.name for w in view.windows))
        changed, self._seen = self._seen not in (None, seen), seen
        if changed and deaf and view.now - self._since >= APART_MS:
            self._since = view.now
        return deaf and 0 <= view.now - self._since < LASTS_MS


def reverse(lines: list[Line]) -> list[Line]:
    """The same words, light on dark where they were dark on light."""
    return [tuple((text, "plain" if style in _REVERSED else "halt") for text, style in of) for of in lines]
