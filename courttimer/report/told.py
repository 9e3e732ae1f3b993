"""One piece of advice: what is said, where in the file, and on whose authority."""

from collections.abc import Mapping
from typing import NamedTuple

from courttimer.plan.kinds import Path
from courttimer.plan.model import Segment
from courttimer.plan.words import shown

Lines = Mapping[Path, str]
FILE = "worked out from the file itself"
"""The source of what is plain arithmetic with the coach's own figures; not printed."""


class Advice(NamedTuple):
    """`line` is "file:line", or empty when the session was not read from a file; `where` is empty for the whole session.

    Every piece has a `source`; `care`: it is about what keeps the players safe, and the cautions belong beside it.
    """

    text: str
    line: str = ""
    where: str = ""
    source: str = FILE
    care: bool = False

    def __str__(self) -> str:
        told = ": ".join(part for part in (self.line, self.where, self.text) if part)
        return told if self.source == FILE else f"{told} ({self.source})"


def called(segment: Segment) -> str:
    """segment "Paint touch" """
    return f"segment {shown(segment.title)}"


def line_of(path: Path, lines: Lines) -> str:
    """ "file:line" of a path, or of the nearest table around it that has one."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, "")
