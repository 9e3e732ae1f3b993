"""What one lane of the floor does now: its clock, its rep, its windows, its score and who stands where."""

from dataclasses import dataclass, replace
from typing import TypeVar

from courttimer.plan.model import Turn
from courttimer.practice.event import Names, Standing, Units
from courttimer.practice.scoring import Floor, Sheet
from courttimer.squad.fair import Past


@dataclass(frozen=True, slots=True)
class Nested:
    """A clock inside another: its own time is the outer time less what it has stood."""

    held: int | None = None
    stood: int = 0

    def own(self, outer: int) -> int:
        return (outer if self.held is None else self.held) - self.stood

    def outer(self, own: int) -> int:
        """The outer moment of an own one, if nothing stands from now on."""
        return own + self.stood

    def stand(self, outer: int) -> "Nested":
        return replace(self, held=outer)

    def go(self, outer: int) -> "Nested":
        return self if self.held is None else Nested(None, self.stood + outer - self.held)


RUNNING, BLANK = Nested(), Sheet()


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """An open window; `began` is practice time, `ends` the lane's own."""

    name: str
    began: int
    ends: int
    lasts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Opens:
    """A window that opens at a moment of practice time; `quiet`: started afresh, without a tone."""

    name: str
    at: int
    quiet: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Coming:
    """The outcome for which a window stands when it has run out: it comes at `at` unless something better is called before."""

    outcome: str
    window: str
    at: int
    since: int
    """When the window closed, which everyone heard."""


# Lane and State have no slots: `altered` copies their dictionaries, four times as fast as a new value field by field.


@dataclass(frozen=True, kw_only=True)
class Lane:
    """What one lane of the floor does. A drill has one, stations have one each."""

    clock: Nested = RUNNING
    stretch: str = ""
    """What its clock is doing; empty for the instant between two stretches."""
    after: str = "segment"
    """What came before: "segment", "rep" or "hold"; it decides what begins when `stretch` is empty."""
    began: int = 0
    """Practice time at which the stretch began: its name for ever."""
    since: int = 0
    ends: int | None = None
    """The stretch on the lane's own clock."""
    rep: int = 0
    again: bool = False
    """The coming rep is the last one played again."""
    windows: tuple[Open, ...] = ()
    to_open: tuple[Opens, ...] = ()
    every: tuple[tuple[str, int], ...] = ()
    """Windows that open again and again, and the next moment of each on the lane's own clock."""
    shut: tuple[tuple[str, int], ...] = ()
    """Windows that have closed in this rep, and when."""
    coming: tuple[Coming, ...] = ()
    closing: tuple[tuple[str, str], ...] = ()
    """Windows that close now, and why."""
    ending: tuple[str, int] | None = None
    """The rep ends now: why, and when its tone is heard."""
    tone: tuple[str, int] | None = None
    """A tone that a call has brought, and when it is heard."""
    going: int | None = None
    """A station that waits or stands goes: when it is heard."""
    happened: Names = ()
    """The outcomes that have counted in this rep."""
    late: tuple[str, int] | None = None
    """The outcome that did not count, and when it was called: once more accepts it."""
    counting: Names = ()
    """Outcomes whose points are to be added up now."""
    sheet: Sheet = BLANK
    race_since: int | None = None
    """When this race began, on the lane's own clock."""
    standing: Standing = ()
    was: Standing = ()
    """Who stood where when this rep began: points go to them."""
    units: Units = ()
    present: Names | None = None
    """Who was here at the last line-up; None: nobody has lined up yet."""
    told: str = ""
    """What does not fit, in words."""
    past: Past | None = None
    turns: int = 0
    """How many turns there were."""
    turning: tuple[str, Turn] | None = None
    """A turn comes now: why, and which way."""
    turned: bool = False
    """This rep has had its turn."""
    won: str = ""
    """The role that scored last in this rep."""
    next_turn: int | None = None
    """On the lane's own clock: when the turn comes in play that never stops."""
    last_won: tuple[str, int] | None = None
    """Who has won last, and when: told for a while when the race begins anew at once."""
    payers: Names = ()
    """Who does the consequence that is to come, or is on."""
    work_since: int = 0
    """Since when those on the floor have worked: the rep's start, or the turn in it."""
    owes: int = 0
    """A consequence is to be done, of so many ms."""
    shortened: int = 0
    """The coming off time is shorter by this: the rep was over before it was known."""
    over: bool = False
    """The target is reached, and the drill is over with it."""
    ended: bool = False
    """The common change has come for this station."""
    order: Names = ()
    """The spots in their order, all rounds after one another."""

    @property
    def floor(self) -> Floor:
        """Who plays, for the score of this rep."""
        return Floor(self.was or self.standing, self.units)

    @property
    def live(self) -> bool:
        return self.stretch == "live"


Value = TypeVar("Value")


def altered(value: Value, **changes: object) -> Value:
    """A Lane or a State with some of its fields changed. Raises AttributeError for a field that it has not."""
    known = vars(value)
    if not changes.keys() <= known.keys():
        raise AttributeError(f"no field {', '.join(changes.keys() - known.keys())}")
    new = object.__new__(type(value))
    vars(new).update(known, **changes)
    return new
