"""What a call makes: each can be taken back, but for the choice of a station."""

from dataclasses import dataclass
from typing import ClassVar

from courttimer.practice.event import Event, Source


class _Called(Event):
    __slots__ = ()
    source: ClassVar[Source] = "call"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Went(_Called):
    """What waited was started, or what stood goes on; it is heard at `starts`."""

    starts: int
    floor_ends: int | None = None
    """At the first go: the practice time at which the gym is no longer ours, with `clear` already taken off."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Held(_Called):
    """The clock stands. `why` is "call", "cut off" (found so by resume) or "asleep" (the machine was suspended)."""

    why: str = "call"
    since: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Halted(_Called):
    """Everything stands, in silence: someone may be hurt."""

    since: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class OutcomeHappened(_Called):
    """An outcome was called; its tone, if any, is heard at `starts`."""

    outcome: str
    starts: int
    since: int | None = None
    counts: bool = True
    """It gives its points and moves its turn."""
    why: str = ""
    """Why it does not count ("late", or what is missing), or "accepted" when it does all the same."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class WindowCalled(_Called):
    """A window was asked for; it opens when it is heard, at `starts`."""

    window: str
    starts: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class TurnCalled(_Called):
    """Everyone moves on by one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class ScoreCorrected(_Called):
    """A score was put right by so many; where players count for themselves: who has won."""

    side: str
    amount: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class HereChanged(_Called):
    """Somebody of the squad or the staff is "here", "late" or "out" from now on."""

    who: str
    now: str
    warm: int = 0
    """A late one is ready to play so many ms after coming."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class MakesEntered(_Called):
    """How many went in at a spot in a round (from 1); what is never entered is unknown, not nought."""

    segment: int
    spot: str
    round: int
    makes: int
    shots: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class HeatChanged(_Called):
    """How hot it is now, as it was said, and the level from 0 to 4 that follows. `anyway`: practised in spite of the last level."""

    said: str
    level: int
    told: str = ""
    anyway: bool = False
    ask_week: bool = False
    """Whether it is the players' first hot week was not said, and would matter."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class ThunderHeard(_Called):
    """Thunder was heard or lightning seen: everything stands until it is safe."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class EffortGiven(_Called):
    """How hard it was, 0 to 10, as a player says it; without a name, as the coach says it."""

    who: str
    effort: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class LastCalled(_Called):
    """After this rep comes the next segment."""

    starts: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Moved(_Called):
    """Another segment was asked for (or this one afresh); it begins when it is heard, at `starts`."""

    to: int
    starts: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Lengthened(_Called):
    """The running segment was made longer (or shorter: negative) by so many ms."""

    ms: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class WaterTaken(_Called):
    """The hold that is, or just was, counted as the water."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class VoiceSwitched(_Called):
    """Speech is on or off, until the next segment."""

    on: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Marked(_Called):
    """A mark for afterwards."""

    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class CalledOff(_Called):
    """The practice was ended by a call."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class TakenBack(_Called):
    """The last call was taken back: the practice is where it would be had it never been made. `call` says which."""

    call: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class PutBack(_Called):
    """What was taken back last stands again."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class StationChosen(Event):
    """From now on calls go to this station; 0: to the floor. No take back undoes it."""

    source: ClassVar[Source] = "choice"
    station: int
