"""What rest one player still needs or has missed, from the work that the turns really gave them, consequences included."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from courttimer.care.rest import GAME_LIKE, Rest, rest

EASY = 3
"""Work up to this effort, "moderate", is rest for who comes from harder work: walking, stretching, free throws. Source: `COMMON`."""


class Bout(NamedTuple):
    """One player's work on the floor, in practice time: a live stretch, a consequence. `effort` None: nobody said how hard.

    `paced`: play that never stops, in which those who play find their own rest; of its game-like efforts none is asked for.
    """

    start: int
    end: int
    effort: int | None
    paced: bool = False


class Missing(NamedTuple):
    """A bout after which the rest until `until`, when work went on, was short by `ms`."""

    bout: Bout
    until: int
    asked: Rest

    @property
    def ms(self) -> int:
        return self.asked.least - (self.until - self.bout.end)


def missing(work: Iterable[Bout]) -> tuple[Missing, ...]:
    """Where one player's rest was short, from their work as it really was, in any order."""
    runs = _runs(work)
    found = (_missing(run, after[0].start) for run, after in pairwise(runs))
    return tuple(one for one in found if one is not None and one.ms > 0)


def rested_at(work: Iterable[Bout]) -> int:
    """The moment from which one player has had the rest that their last work asks for; 0 for who has not worked."""
    runs = _runs(work)
    if not runs:
        return 0
    asked = _asked(runs[-1])
    return _whole(runs[-1]).end + (asked.least if asked else 0)


def still_resting(at: int, coming: Iterable[Sequence[Bout]]) -> int:
    """How many ms more, from `at`, those who come on next have to rest: the most that one of them has."""
    return max((max(0, rested_at(work) - at) for work in coming), default=0)


def carried(work: Sequence[Bout], more: Bout) -> tuple[Bout, ...]:
    """What of a player's work still matters after `more`, which is the latest: enough for `rested_at`."""
    runs = _runs((*work, more))
    return tuple(runs[-1]) if runs else ()


def _runs(work: Iterable[Bout]) -> list[list[Bout]]:
    """Work in the order of time, what touches or overlaps together: there was no rest between. Easy work is left out."""
    runs: list[list[Bout]] = []
    until = 0
    for one in sorted((one for one in work if one.end > one.start and not _is_easy(one)), key=lambda one: one.start):
        if runs and one.start <= until:
            runs[-1].append(one)
        else:
            runs.append([one])
        until = max(until, one.end)
    return runs


def _is_easy(one: Bout) -> bool:
    return one.effort is not None and one.effort <= EASY


def _whole(run: Sequence[Bout]) -> Bout:
    """The run as one bout, as hard as its hardest."""
    efforts = [one.effort for one in run if one.effort is not None]
    return Bout(run[0].start, max(one.end for one in run), max(efforts, default=None), all(one.paced for one in run))


def _asked(run: Sequence[Bout]) -> Rest | None:
    """What the hard work of the run asks for together, or one bout of it when that is more, as after a short sprint."""
    hard = [one for one in run if one.effort is not None and rest(one.effort, 1) and not (one.paced and one.effort in GAME_LIKE)]
    together = [rest(_whole(hard).effort, _length(hard))] if hard else []
    asked = [*together, *(rest(one.effort, one.end - one.start) for one in hard)]
    return max((one for one in asked if one), key=lambda one: one.least, default=None)


def _length(bouts: Sequence[Bout]) -> int:
    """The ms that they cover, in the order of time; what overlaps counts once."""
    covered = until = 0
    for one in bouts:
        covered += max(0, one.end - max(one.start, until))
        until = max(until, one.end)
    return covered


def _missing(run: Sequence[Bout], until: int) -> Missing | None:
    asked = _asked(run)
    return Missing(_whole(run), until, asked) if asked else None
