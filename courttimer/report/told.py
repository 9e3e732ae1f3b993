"""One piece of advice: what is said, where in the file, and on whose authority."""

from collections.abc import Mapping
from typing import NamedTuple

from courttimer.plan.kinds import Path
from courttimer.plan.model import Segment
from courttimer.plan.words import shown

Lines = Mapping[Path, str]


class Advice(NamedTuple):
    """`line` is "file:line", or empty when the session was not read from a file; `where` is empty for the whole session.

    Advice about care always has a `source`, other advice has none.
    """

    text: str
    line: str = ""
    where: str = ""
    source: str = ""

    def __str__(self) -> str:
        told = ": ".join(part for part in (self.line, self.where, self.text) if part)
        return f"{told} ({self.source})" if self.source else told


def called(segment: Segment) -> str:
    """segment "Paint touch" """
    return f"segment {shown(segment.title)}"


def line_of(path: Path, lines: Lines) -> str:
    """ "file:line" of a path, or of the nearest table around it that has one."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, "")
