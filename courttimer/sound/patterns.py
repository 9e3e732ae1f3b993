"""Rhythms that mean danger in a building, which no cue of ours may be taken for: pitch does not matter, only the timing.

A rhythm is told as runs: ms of sound, ms of silence, ms of sound, and so on. If it ends with silence, it begins again after it.
"""

from collections.abc import Sequence
from itertools import pairwise

TOLERANCE = 0.1

_ROWS = (
    ("temporal-three, the evacuation signal of ISO 8201", 500, 500, 3),
    ("temporal-four, the carbon-monoxide signal", 100, 100, 4),
    ("a fire panel's slow code of 5 s in 15 s", 5000, 10_000, 2),
    ("a fire panel's alert of 0.5 s in 3 s", 500, 2500, 2),
)
"""Each: its name, ms of sound, ms of silence, and how many of these in a row are enough to be taken for it.

A march (0.5 s on, 0.5 s off, for ever) begins like temporal-three, and is found with it.
"""
_BELL = "the three strokes a second apart of an evacuation bell"


def taken_for(runs: Sequence[int]) -> str:
    """The danger signal that this rhythm may be taken for, in words; nothing if it is harmless. Runs match within ±10 %."""
    played = list(runs) if len(runs) % 2 else list(runs) * 4
    found = (name for name, on, off, times in _ROWS if _row(played, on, off) >= times)
    return next(found, _BELL if _bell(played) else "")


def _like(ms: int, wanted: int) -> bool:
    return abs(ms - wanted) <= wanted * TOLERANCE


def _row(runs: Sequence[int], on: int, off: int) -> int:
    """How many sounds of `on` ms follow one another at most with silences of `off` ms between them."""
    longest = row = 0
    for i in range(0, len(runs), 2):
        joined = row > 0 and _like(runs[i - 1], off)
        row = (row + 1 if joined else 1) if _like(runs[i], on) else 0
        longest = max(longest, row)
    return longest


def _bell(runs: Sequence[int]) -> bool:
    """Exactly three strokes a second apart, and then silence for two, or for good."""
    onsets = [sum(runs[:i]) for i in range(0, len(runs), 2)]
    gaps = [0, *(b - a for a, b in pairwise(onsets)), 0]
    groups = zip(gaps, gaps[1:], gaps[2:], gaps[3:], strict=False)
    return any(not _like(a, 1000) and _like(b, 1000) and _like(c, 1000) and (d == 0 or _like(d, 2000)) for a, b, c, d in groups)
