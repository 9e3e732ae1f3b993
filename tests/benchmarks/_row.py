"""One line of the table for one figure: ours, what it is measured beside, the ratio, the bar, and whether it is kept."""

import os
import sys
import tempfile
from collections.abc import Mapping

COMPILED = tempfile.mkdtemp()
"""Both programs are compiled once, as installed ones are; a first round fills this folder and is not counted."""


def row(name: str, ours: float, beside: str, theirs: float, bar: float, *, unit: str = "ms") -> str:
    """The line; both figures in `unit`."""
    ratio = ours / theirs
    kept = "ok" if ratio <= bar else "OVER"
    return f"{name:<34} {ours:8.1f} {unit:<3} beside {beside:<42} {theirs:8.1f} {unit:<3} {ratio:6.2f} x  bar {bar:4.2f}  {kept}"


def compiled(env: Mapping[str, str] = os.environ) -> dict[str, str]:
    """This environment, in which every program finds its modules compiled."""
    return {k: v for k, v in env.items() if k != "PYTHONDONTWRITEBYTECODE"} | {"PYTHONPYCACHEPREFIX": COMPILED}


def python(script: str) -> tuple[str, ...]:
    """The command that runs a script."""
    return (sys.executable, "-c", script)
