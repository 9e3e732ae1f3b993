"""What became true, in the past tense, for ever: one class an event, each a line of the journal.

Names and fields never change their meaning; a new field has a default, so that every old journal still opens.
`at` is the practice time in ms, `lane` whom it concerns (-1: the floor), `by` who made it. `starts` is when what a call
starts is heard, `since` the true moment when it was known. What a call makes can be taken back; facts cannot.
"""

from dataclasses import dataclass

from courttimer.practice.called import (
    CalledOff as CalledOff,
    EffortGiven as EffortGiven,
    Halted as Halted,
    HeatChanged as HeatChanged,
    Held as Held,
    HereChanged as HereChanged,
    LastCalled as LastCalled,
    Lengthened as Lengthened,
    MakesEntered as MakesEntered,
    Marked as Marked,
    Moved as Moved,
    OutcomeHappened as OutcomeHappened,
    PutBack as PutBack,
    ScoreCorrected as ScoreCorrected,
    StationChosen as StationChosen,
    TakenBack as TakenBack,
    ThunderHeard as ThunderHeard,
    TurnCalled as TurnCalled,
    VoiceSwitched as VoiceSwitched,
    WaterTaken as WaterTaken,
    Went as Went,
    WindowCalled as WindowCalled,
)
from courttimer.practice.event import Event as Event, Lengths, Makes, Names, Standing, Sums, Units
from courttimer.practice.facts import (
    CueDropped as CueDropped,
    CueHeard as CueHeard,
    CueMoved as CueMoved,
    LeadChanged as LeadChanged,
    MarkWorded as MarkWorded,
    Opened as Opened,
    Refused as Refused,
    SoundChanged as SoundChanged,
    Still as Still,
    Woke as Woke,
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class HoldEnded(Event):
    """The clock goes again."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class SegmentBegan(Event):
    """A segment began; it lasts `lasts` ms of the floor's own clock."""

    segment: int
    lasts: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Refitted(Event):
    """The rest of the practice was made to fit the time that is left: the new length of each segment."""

    times: Lengths
    setup: int = -1
    """The segment whose set-up is `more` ms longer, which is in its time already; -1: none."""
    more: int = 0
    short: int = 0
    """Even at the least it takes so much more than there is."""
    early: int = 0
    """Even at the most it takes so much less."""
    told: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class SegmentEnded(Event):
    """A segment ended. `why` is "time", "moved", "last", "target" or "called off"."""

    segment: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class StretchBegan(Event):
    """A lane's clock does something else now: "set-up", "ready", "waiting", "off", "consequence", "spare", or "on": its time."""

    stretch: str
    lasts: int | None = None
    """In ms of the lane's own clock; None: until something else happens."""
    starts: int | None = None
    """When its tone is heard, if a call brought it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class RepBegan(Event):
    """The ball is live."""

    rep: int
    lasts: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class RepEnded(Event):
    """The rep is over. `why` is "time", "moved", "held", or the outcome that ended it."""

    rep: int
    why: str
    starts: int | None = None
    """When the tone of an early end is heard."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class WindowOpened(Event):
    """A window opened; it lasts `lasts` ms of its lane's own clock."""

    window: str
    lasts: int
    quiet: bool = False
    """It was started afresh by an outcome: no tone."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class WindowClosed(Event):
    """A window closed. `why` is "time", "held", "moved", "rep", "reset", or the outcome that closed it."""

    window: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class OutcomeCame(Event):
    """A window ran out, and the outcome that it stands for came by itself."""

    outcome: str
    window: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Scored(Event):
    """What an outcome added up to: points, how long each row is now, and makes out of attempts, for the sides it concerns."""

    outcome: str
    points: Sums = ()
    rows: Sums = ()
    makes: Makes = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class TargetReached(Event):
    """A race or a row was won. `side` is nothing for a tie, or when the players know. `why` is "race", "row", "cap" or "called"."""

    side: str
    why: str
    n: int = 0
    m: int = 0
    """The score of the winner and of the next best; for a row its length."""
    winners: Names = ()
    pays: Names = ()
    """Who does the consequence; nothing: nobody."""
    owes: int = 0
    """How long it lasts, in ms."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class LinedUp(Event):
    """Who stands where. `why` is "segment", "out" or "joined"; `units` are the teams or groups that turn together."""

    standing: Standing
    units: Units = ()
    why: str = "segment"
    told: str = ""
    """What does not fit, in words."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Turned(Event):
    """Everyone stands elsewhere. `why` is "rep", "call", "time", "target", "relief", "change", or the outcome that moved them."""

    standing: Standing
    why: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Joined(Event):
    """Somebody who came late is warm now."""

    who: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class StationEnded(Event):
    """The common change has come; this station has stood still for `lost` ms of its time."""

    lost: int = 0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class SpotsOrdered(Event):
    """The order of the spots, all rounds after one another."""

    order: Names


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class PracticeEnded(Event):
    """The last segment is over, or the practice was ended by a call."""
