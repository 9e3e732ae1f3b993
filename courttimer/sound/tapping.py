"""How late a speaker is, worked out from taps along with its beats.

People who tap to a steady beat are a little early (some tens of ms: G. Aschersleben, Brain and Cognition 48, 2002, from memory), and a
key is a little late; both are left as they are. What is found is right to about 30 ms, where a wireless speaker is 100 to 400 ms late.
"""

from collections.abc import Sequence
from dataclasses import dataclass

BEAT_MS = 1_000
BEATS = 18
FINDING = 4
"""Beats with which the tapper finds into it; their taps do not count."""
ENOUGH = 8
"""Taps that must count."""
UNEVEN_MS = 60
"""Half of the taps may be no further from the middle than this."""
EARLY_MS = 200
"""A tap so long before a beat is still meant for it; one before that was for the beat before."""
LATEST_MS = BEAT_MS - EARLY_MS


@dataclass(frozen=True, slots=True, kw_only=True)
class Tapped:
    """What the taps say."""

    delay: int
    """How many ms after the card's word a beat was heard; never below 0."""
    spread: int
    """Half of the taps are within so many ms of it."""
    taps: int

    @property
    def trouble(self) -> str:
        """Why they say nothing, in words; empty when they do."""
        if self.taps < ENOUGH:
            return f"{self.taps} taps are too few; {ENOUGH} are wanted, one with each beat"
        if self.spread > UNEVEN_MS:
            return f"the taps were too uneven (half of them more than {self.spread} ms off); try again, without looking"
        return ""


def tapped(taps: Sequence[int], beats: Sequence[int]) -> Tapped:
    """Compare the moments of the taps with those at which the card says that the beats were heard, all in ms."""
    after = []
    for tap in taps:
        before = [beat for beat in beats[FINDING:] if beat - EARLY_MS <= tap < beat + LATEST_MS]
        if before:
            after.append(tap - before[-1])
    if not after:
        return Tapped(delay=0, spread=0, taps=0)
    middle = _median(after)
    return Tapped(delay=max(middle, 0), spread=_median([abs(one - middle) for one in after]), taps=len(after))


def _median(numbers: Sequence[int]) -> int:
    ordered = sorted(numbers)
    return (ordered[(len(ordered) - 1) // 2] + ordered[len(ordered) // 2]) // 2
