"""Facts: what became true without changing anything in the practice."""

from dataclasses import dataclass
from typing import ClassVar

from courttimer.practice.event import Event, Source


class _Fact(Event):
    __slots__ = ()
    source: ClassVar[Source] = "fact"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Opened(_Fact):
    """The journal begins. `day_ms` is the time of day in ms since midnight, `wall` the same with date and zone."""

    wall: str
    day_ms: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Woke(_Fact):
    """The program started again on this journal, or the machine woke; `away` is how long nobody kept the time, in ms."""

    wall: str
    away: int = 0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Still(_Fact):
    """Nothing else happened for a second."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Refused(_Fact):
    """A call that makes no sense now, and why."""

    call: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class MarkWorded(_Fact):
    """Words were put to the mark made at `at`."""

    words: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class LeadChanged(_Fact):
    """From a press to its sound it takes `lead` ms from now on."""

    lead: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class CueHeard(_Fact):
    """A cue has sounded: asked for at `asked`, played at `played` (ms of practice time, to the microsecond)."""

    cue: str
    asked: int
    played: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class CueDropped(_Fact):
    """A cue was not heard, and why."""

    cue: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class CueMoved(_Fact):
    """Speech began `off` ms away from its calm moment, because something stronger had its place; `short`: in its short form."""

    cue: str
    off: int
    short: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class SoundChanged(_Fact):
    """A speaker was lost, taken, slipped or found again, in words."""

    speaker: str
    change: str
