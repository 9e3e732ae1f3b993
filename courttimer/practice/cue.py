"""What is to be heard, as the practice wishes it: before anyone asks how long a phrase is or which speaker is there."""

from dataclasses import dataclass
from typing import Literal

FLOOR = -1
"""The lane of what concerns everyone; stations have lanes 0, 1, …, a single drill lane 0."""

Sort = Literal["tone", "speech"]
Late = Literal["play", "drop", "expire"]
"""If late: horns play, counted words drop, reminders expire."""

RIGHT_OF_WAY = ("halt", "horn", "countdown", "warning", "where", "turn", "score", "reminder")
"""Who goes first when two cues want the same moment, strongest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saying:
    """A phrase of ours, to be put into the session's language, and what stands in it."""

    phrase: str
    what: str = ""
    """The name of a segment."""
    then: str = ""
    time: int = 0
    """A length in ms."""
    n: int = 0
    m: int = 0
    """Numbers: how many, and against how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cue:
    """One wish. A tone begins at `at`. Speech lies between `at` and `until`, as early as it can or, with `ends`, as late.

    Its identity is (lane, stretch, name, n): what has begun is never repeated.
    """

    lane: int
    stretch: int
    """The practice time, in ms, at which its stretch began."""
    name: str
    """A tone of `sounds/`, or the name of what is said."""
    n: int = 0
    sort: Sort
    at: int
    until: int
    """The moment before which speech must have ended; for a tone the same as `at`."""
    ends: bool = False
    says: Saying | None = None
    """What is said, when it is a phrase of ours."""
    text: str = ""
    """What is said, when it is the coach's own words; nothing for a tone."""
    short: str = ""
    """What is said instead when `text` does not fit; nothing: then it is left out."""
    segment: int
    right: str
    """Its place in RIGHT_OF_WAY."""
    if_late: Late
    group: str
    """Cues of one group share one mapping to the sound card: their spacing is exact to the frame."""

    @property
    def id(self) -> str:
        return f"{self.lane}.{self.stretch}.{self.name}.{self.n}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A cue with its place on the time line, in ms of practice time: it sounds from `at` to `until`."""

    cue: Cue
    at: int
    until: int
    text: str = ""
    """What is really said: the cue's text, or its short form."""
    also: tuple[str, ...] = ()
    """Names of the cues that this one sounds for too: those of the same instant."""
    duck: tuple[tuple[int, int], ...] = ()
    """From when to when it steps back for a tone, in ms."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """A cue that found no place, and why, in words."""

    cue: Cue
    why: str
