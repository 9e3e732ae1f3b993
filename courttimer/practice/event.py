"""An event of the practice: its base, and what its fields may hold."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from courttimer.plan.record import Record
from courttimer.practice.cue import FLOOR

Source = Literal["call", "choice", "time", "fact"]
"""Who brings it. A call can be taken back; a choice of where calls go, time and facts cannot, and facts change nothing."""

Names = tuple[str, ...]
Lengths = tuple[int, ...]
"""ms of each segment; -1 for one that is left out."""
Sums = tuple[tuple[str, int], ...]
"""How many for each side, role or spot."""
Units = tuple[tuple[str, Names], ...]
"""Who belongs to each team or group."""
Place = tuple[tuple[str, Names], ...]
"""Who is in each role at one basket, longest in first: players, or teams and groups by their names."""
Standing = tuple[Place, ...]
Makes = tuple[tuple[str, int, int], ...]
"""Makes and attempts of each side."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Event(Record):
    """The base: when, for whom, by whom."""

    source: ClassVar[Source] = "time"
    at: int
    lane: int = FLOOR
    by: str = "time"
