"""Where the practice stands: one frozen value, from which everything else is computed.

Clocks are nested: practice time runs always; the floor's own clock stands in a hold; a lane's own clock stands in that lane's
hold too. Deadlines stand on the innermost clock that matters, so a hold changes one field and moves no deadline.
"""

from dataclasses import dataclass

from courttimer.care.bouts import Bout
from courttimer.plan.derived import BROKEN, REACHED, rep_of
from courttimer.plan.hot import answer, ask_week
from courttimer.plan.model import Outcome, Rep, Segment, Session, Station, Window
from courttimer.practice.cue import Saying
from courttimer.practice.event import Names, Sums
from courttimer.practice.lane import Lane, Nested, altered
from courttimer.squad.fair import Past

READY_MS = 2_000
"""After a hold: from the go press being heard to the go tone, with "Ready" in it."""


STANDING = Nested(held=0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """Something to be said as soon as the ball is not live."""

    lane: int
    at: int
    name: str
    says: Saying


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """Makes entered for a spot in a round."""

    segment: int
    spot: str
    round: int
    makes: int
    shots: int | None


@dataclass(frozen=True, kw_only=True)
class State:
    """The whole practice. `at` is the moment of the last event folded in."""

    plan: Session
    day_ms: int = 0
    """Time of day at practice time 0, in ms since midnight."""
    at: int = 0
    went: int | None = None
    """Practice time of the first go."""
    ended: bool = False
    clock: Nested = STANDING
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
    """When the last water ended; of one that goes on, when it began."""
    voice: bool = True
    marks: int = 0
    here: Names = ()
    late_ones: Names = ()
    """Who came late today: no consequence for them."""
    expected: Names = ()
    """Who is late: not here, but will come."""
    warming: Sums = ()
    """Who has just come, and when they are warm."""
    staff_out: Names = ()
    past: Past | None = None
    """Who played when, over the drills so far: who sat out goes first."""
    wins: Sums = ()
    """Races and rows won this evening, by player and team."""
    paid: Sums = ()
    """ms of consequences done, by player."""
    says: tuple[Said, ...] = ()
    chosen: int = 0
    """The station to which calls go; 0: the floor."""
    entries: tuple[Entry, ...] = ()
    work: tuple[tuple[str, tuple[Bout, ...]], ...] = ()
    """What of each player's work their rest still depends on."""
    by_hand: tuple[tuple[int, int], ...] = ()
    """Segments that the coach has made longer or shorter, and how long in ms: that stands."""
    owed: int = 0
    """What the running segment's own holds have cost, in ms."""
    fit_at: int | None = None
    """The moment at which the rest is to be made to fit."""
    setup_more: tuple[int, int] = (-1, 0)
    """The segment whose set-up is longer than written, by how many ms."""
    short: int = 0
    early: int = 0
    fit_was: tuple[int, ...] = ()
    """The lengths as everyone knows them: as they were planned, then as they were when the last break told of them."""
    fit_seen: tuple[int, ...] = ()
    """The lengths at the beginning of the last break: what is said in it."""
    heat: int = 0
    heat_told: str = ""
    ask_week: bool = False
    """Whether it is the players' first hot week was not said, and would matter."""
    anyway: bool = False
    """The coach has confirmed to practise above the last level."""
    thunder: tuple[int, ...] = ()
    """When thunder was heard or lightning seen."""

    @property
    def held(self) -> bool:
        return self.clock.held is not None

    @property
    def running(self) -> Segment | None:
        return self.plan.segment[self.segment] if 0 <= self.segment < len(self.plan.segment) else None


def opening(plan: Session, day_ms: int) -> State:
    """The practice before its first go, opened at this time of day, with everyone here."""
    hot = answer(plan.heat, plan.region)
    times = tuple(s.time for s in plan.segment)
    return State(
        plan=plan, day_ms=day_ms, times=times, fit_was=times, fit_seen=times, here=plan.squad.players,
        heat=hot.level if hot else 0, heat_told=hot.told if hot else "", ask_week=ask_week(plan.heat, hot.level if hot else 0),
    )  # fmt: skip


def play_of(s: State, n: int) -> Segment | Station:
    """What a lane plays: lane 0 the segment, the others its stations, to which lane 0 is the common clock."""
    segment = s.plan.segment[s.segment]
    return segment.station[n - 1] if n > 0 else segment


def rep_in(s: State, n: int) -> Rep | None:
    """The reps of a lane."""
    play = play_of(s, n)
    return play.rep if isinstance(play, Station) else rep_of(play)


def played_again(rep: Rep) -> bool:
    """Is a rep that was held played again from its start? Play that never stops is not: it would begin its whole time anew."""
    return rep.after_hold == "again" and rep.starts != "at once"


def window_of(play: Segment | Station, name: str) -> Window:
    return next(w for w in play.window if w.name == name)


def outcome_of(play: Segment | Station, name: str) -> Outcome | None:
    """The outcome of this name; None for `over`."""
    return next((one for one in (*play.outcome, REACHED, BROKEN) if one.name == name), None)


def stands(s: State, lane: Lane) -> bool:
    """Does this lane's clock stand, with the floor or by itself?"""
    return s.held or lane.clock.held is not None


def own(s: State, lane: Lane, at: int) -> int:
    """A moment of practice time on the lane's own clock."""
    return lane.clock.own(s.clock.own(at))


def moment(s: State, lane: Lane, mine: int) -> int:
    """The practice time of a moment of the lane's own clock, if nothing stands from now on."""
    return s.clock.outer(lane.clock.outer(mine))


def left(s: State, at: int) -> int:
    """What is left of the running segment at a moment of practice time, in ms."""
    return s.ends - s.clock.own(at)


def left_in(s: State, n: int, at: int) -> int:
    """What is left for a lane: of its segment, or for a station until the common change."""
    if n == 0:
        return left(s, at)
    common = s.lanes[0]
    return min(left(s, at), (common.ends or 0) - own(s, common, at))


def with_lane(s: State, n: int, **changes: object) -> State:
    """The state with some fields of one lane changed."""
    return altered(s, lanes=(*s.lanes[:n], altered(s.lanes[n], **changes), *s.lanes[n + 1 :]))


def following(s: State, i: int) -> int:
    """The segment from `i` on that is not left out; the number of segments when there is none."""
    return next((n for n in range(i, len(s.times)) if s.times[n] >= 0), len(s.times))
