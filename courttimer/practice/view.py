"""What the senses may see of a practice at one moment: everything a board or a line of text needs, and nothing to change."""

from dataclasses import dataclass
from typing import Literal

from courttimer.plan.model import Gym
from courttimer.plan.record import Record

When = Literal["done", "now", "ahead"]
Phase = Literal["start", "running", "held", "halted", "ended"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class WindowView(Record):
    """An open window: how long it still is, of how much, in ms."""

    name: str
    left: int
    lasts: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class ScoreLine(Record):
    """One side of a score. `row` is how long its row is now, `best` the longest; makes out of attempts where they are kept."""

    side: str
    points: int = 0
    row: int = 0
    best: int = 0
    makes: int = 0
    attempts: int = 0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class RoleView(Record):
    """Who is in one role at one place (from 1): names, or teams and groups."""

    place: int
    role: str
    names: tuple[str, ...]
    plays: bool
    does: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class StationView(Record):
    """One station, as a column of the board. All times in ms."""

    number: int
    name: str
    lead: str
    lead_out: bool
    """Who leads it is not here."""
    group: str
    """The team or group that is there, and its players."""
    players: tuple[str, ...]
    word: str
    live: bool
    left: int | None
    rep: int
    windows: tuple[WindowView, ...]
    outcomes: tuple[tuple[int, str], ...]
    score: tuple[ScoreLine, ...]
    chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class SpotView(Record):
    """Makes entered at a spot in a round (from 1); None: not entered, which is unknown and not nought."""

    spot: str
    round: int
    makes: int | None
    shots: int | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Attendance(Record):
    """Who is here, in the order of the squad; who has come late and is not warm yet; who is not here."""

    here: tuple[str, ...] = ()
    warming: tuple[str, ...] = ()
    away: tuple[str, ...] = ()
    late: tuple[str, ...] = ()
    """Those away who will come."""
    staff: tuple[str, ...] = ()
    """Everyone who leads, here or not."""
    staff_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Inside(Record):
    """What is inside the running drill: score, roles, stations, spots."""

    target: str = ""
    """What the score is about, in words: "first to 5", "6 in a row", …"""
    score: tuple[ScoreLine, ...] = ()
    sides: tuple[str, ...] = ()
    """Everyone whose score can be put right."""
    roles: tuple[RoleView, ...] = ()
    told: str = ""
    """What does not fit: too few players, fewer places."""
    next: tuple[RoleView, ...] = ()
    """The same after the turn that this rep brings, unless an outcome brings another one."""
    late: str = ""
    """The outcome that did not count, while the same key again accepts it."""
    outcomes: tuple[tuple[int, str], ...] = ()
    """Every outcome with its key, also while none can happen; without "over"."""
    windows: tuple[str, ...] = ()
    """Every window by name, open or not."""
    won: str = ""
    """Who has reached the target last."""
    does: str = ""
    """What is to be done in a consequence, in words."""
    stations: tuple[StationView, ...] = ()
    chosen: int = 0
    """The station to which calls go; 0: the floor."""
    spot: str = ""
    """Where is shot, or was last."""
    spot_next: str = ""
    spots: tuple[SpotView, ...] = ()
    enter: bool = False
    """Makes are to be entered now, of `round`; also just after the spots are over."""
    round: int = 0
    shots: int | None = None
    wins: tuple[tuple[str, int], ...] = ()
    """Won this evening, by player and team."""
    ball: str = ""
    """Who has the ball at the start of a situation of a game."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Block(Record):
    """One segment on the strip. `time` is its length in ms as it is planned or was really played."""

    name: str
    kind: str
    time: int
    when: When


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Care(Record):
    """What keeps players safe and ends the practice on the minute."""

    heat: int = 0
    """The level, 0 to 4."""
    heat_told: str = ""
    heat_asks: tuple[str, ...] = ()
    """What the level asks for, a line each."""
    too_hot: bool = False
    """Above the last level, and nobody has confirmed to practise all the same: nothing goes."""
    water_in: int | None = None
    """ms until there is to be water; negative: overdue; None before go."""
    water_card: str = ""
    """How much each drinks."""
    lightning: str = ""
    aside: str = ""
    """Something quiet for the others in a halt."""
    cautions: tuple[str, ...] = ()
    """What is worth reading while everything stands."""
    fitted: str = ""
    """Which lengths from here on are others than when they were last told, in words."""
    short: int = 0
    """Even at the least it takes so much more than there is, in ms."""
    early: int = 0
    """The practice ends so much early, in ms."""


INSIDE, ATTENDANCE, CARE = Inside(), Attendance(), Care()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class View(Record):
    """One look. All times in ms."""

    title: str
    phase: Phase
    now: int
    since_go: int | None
    """What the board shows as the time of the practice; None before go."""
    segment: int
    """Index of the running segment; -1 before go."""
    name: str
    kind: str
    rule: str
    """The running segment."""
    word: str
    """What the clock is doing, in one word: "set-up", "ready", "waiting", "live", "off", "spare", "water", "talk", …"""
    live: bool
    """The ball is live."""
    left: int | None
    """Time left of this stretch; None: it waits for a call, or lasts until one."""
    lasts: int | None
    """Of how much."""
    gone: int
    """Time since this stretch began, on its own clock."""
    segment_left: int
    segment_lasts: int
    rep: int
    """The running rep, or the last one; 0 before the first."""
    again: bool
    """After this hold the rep is played again."""
    windows: tuple[WindowView, ...]
    outcomes: tuple[tuple[int, str], ...]
    """Key and name, "over" with key 0."""
    then: tuple[str, ...]
    """What comes after, nearest first, in words."""
    strip: tuple[Block, ...]
    to_go: int
    """Planned time still to play, to the end of the last segment."""
    in_hand: int | None
    """Time in hand before we must clear the floor; negative: late by so much; None: no floor time is known."""
    floor_left: int | None
    """Until the floor must be cleared."""
    stands: int
    """How long this hold has lasted; 0 when nothing stands."""
    water_ago: int | None
    """Since the last water, or since go."""
    said: str
    """The last thing the program answered to a call, in words; empty after a while."""
    allowed: frozenset[str]
    """Calls that mean something now."""
    last: bool
    """This is the last rep of the segment."""
    voice: bool
    marks: int
    gym: Gym
    lanes: int = 1
    by_length: bool = False
    """It is another time of day than the floor time in the file: only its length counts."""
    inside: Inside = INSIDE
    care: Care = CARE
    attendance: Attendance = ATTENDANCE
    before: str = ""
    """What was reached in this drill last time and at best, in words; filled in by who knows the history."""
    stood: str = ""
    """Why it stands, when nobody called the hold: "cut off" or "asleep"."""
