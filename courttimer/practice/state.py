"""Where the practice stands: one frozen value, from which everything else is computed.

Clocks are nested: practice time runs always; the floor's own clock stands in a hold; a lane's own clock stands in that lane's
hold too. Deadlines stand on the innermost clock that matters, so a hold changes one field and moves no deadline.
"""

from dataclasses import dataclass, replace

from courttimer.plan.model import Rep, Segment, Session, Window

READY_MS = 2_000
"""After a hold: from the go press being heard to the go tone, with "Ready" in it."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """An open window; `began` is practice time, `ends` the lane's own."""

    name: str
    began: int
    ends: int
    lasts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """What one lane of the floor does. A drill has one, stations have one each."""

    clock: Nested = Nested()
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
    to_open: tuple[tuple[str, int], ...] = ()
    """Windows that open at a moment of practice time."""
    closing: tuple[tuple[str, str], ...] = ()
    """Windows that close now, and why."""
    ending: tuple[str, int] | None = None
    """The rep ends now: why, and when its tone is heard."""
    tone: tuple[str, int] | None = None
    """A tone that a call has brought, and when it is heard."""

    @property
    def live(self) -> bool:
        return self.stretch == "live"


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """The whole practice. `at` is the moment of the last event folded in."""

    plan: Session
    day_ms: int = 0
    """Time of day at practice time 0, in ms since midnight."""
    at: int = 0
    went: int | None = None
    """Practice time of the first go."""
    ended: bool = False
    clock: Nested = Nested(held=0)
    halted: bool = False
    hold_was: int | None = None
    """When the last hold ended."""
    going: int | None = None
    """The moment at which go is heard."""
    moving: tuple[int, int] | None = None
    """Another segment begins: which, and when it is heard."""
    called_off: bool = False
    segment: int = -1
    on: bool = False
    """A segment runs: false for the instant between two of them."""
    next: int = 0
    """The segment that begins when none runs."""
    began: int = 0
    """Practice time at which the segment began."""
    by_itself: bool = False
    """It began because the one before it was over."""
    since: int = 0
    ends: int = 0
    """The segment on the floor's own clock."""
    times: tuple[int, ...] = ()
    """How long each segment is to last, as changed so far, in ms."""
    played: tuple[tuple[int, int], ...] = ()
    """Segments that are over, and how long they lasted on the floor's own clock."""
    lanes: tuple[Lane, ...] = ()
    last: tuple[int, int] | None = None
    """After this rep comes the next segment: its number, and when that was said."""
    floor_ends: int | None = None
    """Practice time at which we must begin to clear the floor."""
    water: int | None = None
    """When the last water began."""
    voice: bool = True
    marks: int = 0

    @property
    def held(self) -> bool:
        return self.clock.held is not None

    @property
    def running(self) -> Segment | None:
        return self.plan.segment[self.segment] if 0 <= self.segment < len(self.plan.segment) else None


def opening(plan: Session, day_ms: int) -> State:
    """The practice before its first go, opened at this time of day."""
    return State(plan=plan, day_ms=day_ms, times=tuple(s.time for s in plan.segment))


def most_reps(segment: Segment) -> int | None:
    """How many reps there are at the most; None: as many as fit."""
    if segment.kind == "stations":
        return len(segment.station)
    if segment.kind == "spots" and segment.within:
        return len(segment.spots) * segment.rounds
    return None


def played_again(rep: Rep) -> bool:
    """Is a rep that was held played again from its start? Play that never stops is not: it would begin its whole time anew."""
    return rep.after_hold == "again" and rep.starts != "at once"


def window_of(segment: Segment, name: str) -> Window:
    return next(w for w in segment.window if w.name == name)


def left(s: State, at: int) -> int:
    """What is left of the running segment at a moment of practice time, in ms."""
    return s.ends - s.clock.own(at)
