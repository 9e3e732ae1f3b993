"""The lines of the report on one practice: one class for each of its tables, its fields the columns, which `columns.py` explains.

Times are whole ms; `at` is counted from the first go, as on the board; `n` numbers the segments from 1.
"""

from typing import NamedTuple


class Head(NamedTuple):
    """The practice in one line."""

    wall: str
    title: str
    ended: bool
    planned: int
    played: int
    live: int
    reps: int
    segments: int
    holds: int
    held: int
    early: int | None
    load: int
    unknown: int
    effort: int | None
    cues: int
    late: int
    dropped: int
    refused: int
    taken_back: int


class Part(NamedTuple):
    """One segment, planned against played."""

    n: int
    segment: str
    kind: str
    planned: int
    played: int
    live: int
    off: int
    setup: int
    other: int
    held: int
    reps: int
    why: str


class Time(NamedTuple):
    """The time of one sort in the whole practice."""

    sort: str
    ms: int


class Spent(NamedTuple):
    """The time of one sort in one segment."""

    n: int
    segment: str
    sort: str
    ms: int


class Ran(NamedTuple):
    """A segment ran, or the clock stood in it, from `at` on."""

    at: int
    n: int
    segment: str
    what: str
    ms: int


class Change(NamedTuple):
    """What made a segment longer or shorter; those of one segment add up to played less planned."""

    at: int | None
    n: int
    segment: str
    ms: int
    what: str
    why: str


class Hold(NamedTuple):
    """The clock stood."""

    at: int
    n: int
    segment: str
    station: str
    sort: str
    ms: int
    why: str


class Score(NamedTuple):
    """What one side did in one drill. Empty where that was not counted."""

    n: int
    segment: str
    station: str
    side: str
    points: int
    row: int | None
    makes: int | None
    attempts: int | None
    share: float | None
    low: float | None
    high: float | None
    wins: int
    last: int | None


class Happened(NamedTuple):
    """How often an outcome happened in one drill."""

    n: int
    segment: str
    station: str
    outcome: str
    counted: int
    by_itself: int
    not_counted: int


class Target(NamedTuple):
    """A race or a row that was decided."""

    at: int
    n: int
    segment: str
    station: str
    side: str
    why: str
    score: int
    next_best: int
    pays: str


class Win(NamedTuple):
    """How often somebody won."""

    who: str
    sort: str
    wins: int


class Made(NamedTuple):
    """Shots from one spot in one round."""

    n: int
    segment: str
    spot: str
    round: int
    makes: int | None
    attempts: int | None
    share: float | None
    low: float | None
    high: float | None


class Person(NamedTuple):
    """One player's practice."""

    player: str
    here: int
    reps: int
    played: int
    standing: int
    paid: int
    points: int
    wins: int
    load: int
    effort: int | None
    own_load: int | None


class InRole(NamedTuple):
    """One player in one role of one drill."""

    player: str
    n: int
    segment: str
    station: str
    role: str
    reps: int
    ms: int


class AtStation(NamedTuple):
    """One station."""

    n: int
    segment: str
    station: str
    reps: int
    live: int
    held: int
    lost: int


class Cue(NamedTuple):
    """A cue that came late or not at all."""

    at: int
    cue: str
    late: int | None
    why: str


class Sound(NamedTuple):
    """A speaker that was lost, taken or found again."""

    at: int
    speaker: str
    change: str


class No(NamedTuple):
    """A call that was refused."""

    at: int
    by: str
    call: str
    why: str


class Mark(NamedTuple):
    """A mark of the coach."""

    number: int
    at: int
    n: int
    segment: str
    words: str


class Struck(NamedTuple):
    """A call that was taken back."""

    at: int
    call: str
    put_back: bool


class Advised(NamedTuple):
    """What care says of it afterwards."""

    about: str
    text: str
    source: str
