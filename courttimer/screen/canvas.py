"""The one widget: it keeps lines of styled text on the terminal and paints only those that changed."""

import os
from collections.abc import Callable

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from courttimer.screen.colours import SETS, STYLES, Theme
from courttimer.screen.ink import Line


def styles(theme: Theme, *, colourless: bool = False) -> dict[str, Style]:
    """Every style of the table as the terminal library wants it; without colours what stands on a ground of its own is reversed."""
    if colourless:
        return {name: Style(reverse=ground != "ground", bold=bold) for name, (_, ground, bold) in STYLES.items()}
    hues = SETS[theme]
    return {name: Style(color=hues[ink], bgcolor=hues[ground], bold=bold) for name, (ink, ground, bold) in STYLES.items()}


class Canvas(Widget, can_focus=True):
    """Fills the terminal and holds the focus, so that no key is taken by anything else."""

    def __init__(self, theme: Theme, sized: Callable[[], None]) -> None:
        """`sized` is told when the terminal has another size, the first one included."""
        super().__init__()
        self._sized = sized
        self.lines: list[Line] = []
        self._colourless = "NO_COLOR" in os.environ
        self._styles = styles(theme, colourless=self._colourless)

    def wear(self, theme: Theme) -> None:
        """Change to the dark or the light colours."""
        self._styles = styles(theme, colourless=self._colourless)
        self.refresh()

    def show(self, lines: list[Line]) -> None:
        """Paint what differs from what is there."""
        before, self.lines = self.lines, lines
        if len(before) != len(lines):
            self.refresh()
            return
        changed = [y for y, (old, new) in enumerate(zip(before, lines, strict=True)) if old != new]
        if changed:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))

    def on_resize(self) -> None:
        self._sized()

    def render_line(self, y: int) -> Strip:
        """The line at `y`, filled up with the ground's colour."""
        of = self.lines[y] if y < len(self.lines) else ()
        strip = Strip([Segment(text, self._styles[style]) for text, style in of if text])
        return strip.adjust_cell_length(self.size.width, self._styles["plain"])
