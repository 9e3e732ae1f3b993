"""What the senses may see of a practice at one moment: everything a board or a line of text needs, and nothing to change."""

from dataclasses import dataclass
from typing import Literal

from courttimer.plan.model import Gym

When = Literal["done", "now", "ahead"]
Phase = Literal["start", "running", "held", "halted", "ended"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowView:
    """An open window: how long it still is, of how much, in ms."""

    name: str
    left: int
    lasts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One segment on the strip. `time` is its length in ms as it is planned or was really played."""

    name: str
    kind: str
    time: int
    when: When


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
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
