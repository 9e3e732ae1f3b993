"""Sounds that mean danger in a building, which no cue of ours may be taken for: in one tone, and in all that a session sounds.

A rhythm is told as runs: ms of sound, ms of silence, ms of sound, and so on. If it ends with silence, it begins again after it.
Pitch does not matter for a rhythm, nor does what happens inside its sounds: an alarm may warble or stutter. So each rhythm is also
looked at with its short gaps closed.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, pairwise

TOLERANCE = 0.1
STUTTER = 300
"""Gaps up to so many ms may lie inside one sound of an alarm."""
LOW_HZ = 520
"""A measured pitch is right within 2 Hz."""

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
_LOW = "the low-frequency alarm of 520 Hz that wakes sleepers"

Runs = Sequence[int]


def taken_for(runs: Runs, blur: int = 0) -> str:
    """The danger signal that this rhythm may be taken for, in words; nothing if it is harmless.

    Runs match within ±10 %, and within `blur` ms more if they were measured.
    """
    played = tuple(runs) if len(runs) % 2 else tuple(runs) * 4
    return next((name for _, name in _found(played, blur)), "")


def alarming(heard: Iterable[tuple[int, int, Runs]]) -> tuple[tuple[int, str], ...]:
    """Where the tones of a session, one after another, may be taken for a danger signal: the ms at which it begins, and its name.

    Of each tone: the ms at which it begins, the ms at which it is over or cut off, and its rhythm.
    """
    spans = sorted(span for at, until, runs in heard for span in _spans(at, until, runs))
    if not spans:
        return ()
    ends = list(accumulate((end for _, end in spans), max))
    runs = [ends[0] - spans[0][0]]
    for (begin, _), before, end in zip(spans[1:], ends, ends[1:], strict=False):
        if begin > before:
            runs += [begin - before, end - begin]
        else:
            runs[-1] += end - before
    found = dict.fromkeys((spans[0][0] + at, name) for at, name in _found(tuple(runs), 0))
    return tuple(sorted(found))


def low_alarm(partials: Iterable[tuple[float, float]]) -> str:
    """The danger signal that a sound of these partials, each (Hz, share), may be taken for by its pitch; nothing if it is harmless.

    It is a square wave of 520 Hz within ±10 % (NFPA 72, 18.4.5.3): its third partial is a third of the first, and it has no second.
    """
    heard = list(partials)
    base, strongest = max(heard, key=lambda p: p[1])
    if abs(base - LOW_HZ) > LOW_HZ * TOLERANCE + 2:
        return ""
    second, third, fourth = (
        max((share for hz, share in heard if abs(hz - n * base) < 0.1 * base), default=0.0) / strongest for n in (2, 3, 4)
    )
    return _LOW if 0.2 <= third <= 0.5 and max(second, fourth) < 0.1 else ""


def _spans(at: int, until: int, runs: Runs) -> Iterator[tuple[int, int]]:
    edges = [at, *accumulate(runs, initial=at)][1:]
    for begin, end in zip(edges[::2], edges[1::2], strict=False):
        if begin < until:
            yield begin, min(end, until)


def _found(runs: tuple[int, ...], blur: int) -> Iterator[tuple[int, str]]:
    """When each signal begins, in ms after the first sound, and its name."""
    gaps = sorted({gap for gap in runs[1::2] if gap <= STUTTER})
    for closed in (0, *gaps):
        sounds = _closed(runs, closed)
        for name, on, off, times in _ROWS:
            yield from ((at, name) for at in _row(sounds, on, off, times, blur))
        yield from ((at, _BELL) for at in _bell(sounds, blur))


def _closed(runs: tuple[int, ...], gap: int) -> list[tuple[int, int]]:
    """When each sound begins and ends, if gaps up to `gap` ms are none."""
    edges = list(accumulate(runs, initial=0))
    sounds: list[tuple[int, int]] = []
    for begin, end in zip(edges[::2], edges[1::2], strict=False):
        if sounds and begin - sounds[-1][1] <= gap:
            sounds[-1] = (sounds[-1][0], end)
        else:
            sounds.append((begin, end))
    return sounds


def _like(ms: int, wanted: int, blur: int) -> bool:
    return abs(ms - wanted) <= wanted * TOLERANCE + blur


def _row(sounds: list[tuple[int, int]], on: int, off: int, times: int, blur: int) -> Iterator[int]:
    """When `times` sounds of `on` ms begin to follow one another with `off` ms between them."""
    row: list[int] = []
    before = 0
    for begin, end in sounds:
        if not (row and _like(begin - before, off, blur)):
            row = []
        row = [*row, begin] if _like(end - begin, on, blur) else []
        before = end
        if len(row) == times:
            yield row[0]


def _bell(sounds: list[tuple[int, int]], blur: int) -> Iterator[int]:
    """When exactly three strokes a second apart begin, with silence for two seconds, or more, after the last."""
    onsets = [begin for begin, _ in sounds]
    gaps = [0, *(b - a for a, b in pairwise(onsets)), 0]
    for n in range(len(onsets) - 2):
        apart = _like(gaps[n + 1], 1000, blur) and _like(gaps[n + 2], 1000, blur)
        alone = not _like(gaps[n], 1000, blur) and (gaps[n + 3] == 0 or gaps[n + 3] >= 2000 * (1 - TOLERANCE) - blur)
        if apart and alone:
            yield onsets[n]
