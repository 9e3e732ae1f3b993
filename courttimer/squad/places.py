"""The chosen of one turn, dealt out among baskets: as many at each, and with others than before if that can be."""

from collections.abc import Iterable, Mapping
from itertools import combinations

from courttimer.squad.fair import assigned

Dealt = tuple[dict[str, tuple[str, ...]], ...]
"""Place by place, who is in each role."""
Met = Mapping[tuple[str, str], int]
"""How often two players, in the order of their names, have been at one basket."""

_TOGETHER = 10**4


def shared(on: Mapping[str, tuple[str, ...]], places: int, met: Met | None = None) -> Dealt:
    """Each role dealt out over the places; the first ones take one more where a role cannot be divided.

    One player a place at a time is dealt, so that those dealt in one go have met the fewest of those already there; equals go in
    order. With one against one no other way repeats fewer meetings; with more it is a good way, not always the best.
    """
    known = met or {}
    dealt: list[dict[str, tuple[str, ...]]] = [{} for _ in range(places)]
    for role, players in on.items():
        rest = list(players)
        for place in dealt:
            place[role] = ()
        while rest:
            row = dealt[: len(rest)]
            goes = assigned([[_again(place, one, known) * _TOGETHER + at for at, one in enumerate(rest)] for place in row])
            for place, at in zip(row, goes, strict=True):
                place[role] = (*place[role], rest[at])
            rest = [one for at, one in enumerate(rest) if at not in goes]
    return tuple(dealt)


def met_again(met: Met, dealt: Iterable[Mapping[str, tuple[str, ...]]]) -> dict[tuple[str, str], int]:
    """The meetings after one more rep."""
    after = dict(met)
    for place in dealt:
        for one, other in combinations(sorted(one for players in place.values() for one in players), 2):
            after[one, other] = after.get((one, other), 0) + 1
    return after


def _again(place: Mapping[str, tuple[str, ...]], one: str, met: Met) -> int:
    """How often a player has met those who are at a place."""
    return sum(met.get((min(one, other), max(one, other)), 0) for players in place.values() for other in players)
