"""What became true, in the past tense, for ever: one class an event, each a line of the journal.

Names and fields never change their meaning; a new field has a default, so that every old journal still opens.
`at` is the practice time in ms, `lane` whom it concerns (-1: the floor), `by` who made it. `starts` is when what a call
starts is heard, `since` the true moment when it was known. What a call makes can be taken back; facts cannot.
"""

from dataclasses import dataclass, fields
from functools import cache
from typing import Any, ClassVar, Literal

from courttimer.practice.cue import FLOOR

Source = Literal["call", "time", "fact"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """The base: when, for whom, by whom."""

    source: ClassVar[Source] = "time"
    at: int
    lane: int = FLOOR
    by: str = "time"


# What a call makes.


class _Called(Event):
    __slots__ = ()
    source: ClassVar[Source] = "call"


@dataclass(frozen=True, slots=True, kw_only=True)
class Went(_Called):
    """What waited was started, or what stood goes on; it is heard at `starts`."""

    starts: int
    floor_ends: int | None = None
    """At the first go: the practice time at which the gym is no longer ours, with `clear` already taken off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held(_Called):
    """The clock stands. `why` is "call", "cut off" (found so by resume) or "asleep" (the machine was suspended)."""

    why: str = "call"
    since: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Halted(_Called):
    """Everything stands, in silence: someone may be hurt."""

    since: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OutcomeHappened(_Called):
    """An outcome was called; its tone, if any, is heard at `starts`."""

    outcome: str
    starts: int
    since: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowCalled(_Called):
    """A window was asked for; it opens when it is heard, at `starts`."""

    window: str
    starts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LastCalled(_Called):
    """After this rep comes the next segment."""

    starts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved(_Called):
    """Another segment was asked for (or this one afresh); it begins when it is heard, at `starts`."""

    to: int
    starts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengthened(_Called):
    """The running segment was made longer (or shorter: negative) by so many ms."""

    ms: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterTaken(_Called):
    """The hold that is, or just was, counted as the water."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VoiceSwitched(_Called):
    """Speech is on or off, until the next segment."""

    on: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked(_Called):
    """A mark for afterwards."""

    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CalledOff(_Called):
    """The practice was ended by a call."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenBack(_Called):
    """The last call was taken back: the practice is where it would be had it never been made. `call` says which."""

    call: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PutBack(_Called):
    """What was taken back last stands again."""


# What time alone brings.


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldEnded(Event):
    """The clock goes again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SegmentBegan(Event):
    """A segment began; it lasts `lasts` ms of the floor's own clock."""

    segment: int
    lasts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SegmentEnded(Event):
    """A segment ended. `why` is "time", "moved" or "last"."""

    segment: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StretchBegan(Event):
    """A lane's clock does something else now: "set-up", "ready", "waiting", "off", "spare", or "on": the segment's time."""

    stretch: str
    lasts: int | None = None
    """In ms of the lane's own clock; None: until something else happens."""
    starts: int | None = None
    """When its tone is heard, if a call brought it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RepBegan(Event):
    """The ball is live."""

    rep: int
    lasts: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RepEnded(Event):
    """The rep is over. `why` is "time", "moved", "held", or the outcome that ended it."""

    rep: int
    why: str
    starts: int | None = None
    """When the tone of an early end is heard."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowOpened(Event):
    """A window opened; it lasts `lasts` ms of its lane's own clock."""

    window: str
    lasts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowClosed(Event):
    """A window closed. `why` is "time", "held", "moved", "rep", or the outcome that closed it."""

    window: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeEnded(Event):
    """The last segment is over, or the practice was ended by a call."""


# Facts: they change nothing in the practice.


class _Fact(Event):
    __slots__ = ()
    source: ClassVar[Source] = "fact"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened(_Fact):
    """The journal begins. `day_ms` is the time of day in ms since midnight, `wall` the same with date and zone."""

    wall: str
    day_ms: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Woke(_Fact):
    """The program started again on this journal, or the machine woke; `away` is how long nobody kept the time, in ms."""

    wall: str
    away: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Still(_Fact):
    """Nothing else happened for a second."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused(_Fact):
    """A call that makes no sense now, and why."""

    call: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkWorded(_Fact):
    """Words were put to the mark made at `at`."""

    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LeadChanged(_Fact):
    """From a press to its sound it takes `lead` ms from now on."""

    lead: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CueHeard(_Fact):
    """A cue has sounded: asked for at `asked`, played at `played` (ms of practice time, to the microsecond)."""

    cue: str
    asked: int
    played: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CueDropped(_Fact):
    """A cue was not heard, and why."""

    cue: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundChanged(_Fact):
    """A speaker was lost, taken, slipped or found again, in words."""

    speaker: str
    change: str


_VALUES: dict[str, type | tuple[type, ...]] = {
    "<class 'int'>": int, "<class 'str'>": str, "<class 'bool'>": bool, "<class 'float'>": (int, float),
    "int | None": (int, type(None)),
}  # fmt: skip
"""What each sort of field may hold, by the name of its type."""


@cache
def names() -> dict[str, type[Event]]:
    """Every event by its name in the journal: the class's words in small letters."""
    kinds = [k for k in globals().values() if isinstance(k, type) and issubclass(k, Event)]
    return {name(k): k for k in kinds if k is not Event and not k.__name__.startswith("_")}


def name(kind: type[Event]) -> str:
    """`RepBegan` is "rep began" in the journal."""
    return "".join(" " + c.lower() if c.isupper() else c for c in kind.__name__).strip()


def record(event: Event) -> dict[str, Any]:
    """The event as the journal keeps it: what, at, lane, by, and its other fields."""
    return {"what": name(type(event))} | {f.name: getattr(event, f.name) for f in fields(event)}


def event(record: dict[str, Any]) -> Event:
    """The event that `record` made. Raises ValueError for a name or a field that this program does not know."""
    kind = names().get(record.get("what", ""))
    if kind is None:
        raise ValueError(f'"{record.get("what")}" is no event of this program; was it written by a newer one?')
    for f in fields(kind):
        if f.name in record and not isinstance(record[f.name], _VALUES[str(f.type)]):
            raise ValueError(f'"{f.name}" of "{record["what"]}" is no {f.type} (got {record[f.name]!r})')
    try:
        return kind(**{k: v for k, v in record.items() if k != "what"})
    except TypeError as fault:
        raise ValueError(f'"{record["what"]}" has other fields than this program knows') from fault
