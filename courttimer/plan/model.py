"""The vocabulary of the session file: one dataclass a table, one key a field, each with its kind, its meaning and its default.

The reader, the JSON Schema and the reference page are all made from these definitions, so the three cannot disagree.
Times are whole milliseconds. Rules that bind two keys together are in `checks.py`.
"""
# ruff: noqa: RUF009 - key() is dataclasses.field(), which the rule knows only by its own name

from dataclasses import dataclass
from typing import Any, Literal

from courttimer.plan.kinds import AnyOf, Clip, Degrees, FloorTime, Name, OneOf, Prose, RuleTime, Time, Whole, YesNo
from courttimer.plan.record import Record
from courttimer.plan.tables import ListOf, MapOf, TableOf, TurnKind, WordOr, key

KINDS = ("warm-up", "drill", "stations", "spots", "scrimmage", "talk", "rest", "water", "cool-down")
Kind = Literal["warm-up", "drill", "stations", "spots", "scrimmage", "talk", "rest", "water", "cool-down"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Role(Record):
    """What a group does now: attack, defend, off."""

    name: str = key(Name(), "attack, defend, off, …")
    size: tuple[int, int] = key(Clip(1, 12), 'how many players, or a range such as "2-4"', default=(1, 1))
    plays: bool = key(YesNo(), "false for those who wait", default=True)
    does: str = key(Prose(), "what those who wait do meanwhile", default="")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Turn(Record):
    """Who goes where next: a named way, or a table from role to role (then `how` is "table")."""

    how: str = ""
    moves: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Rep(Record):
    """One go inside a drill: live time, then off time."""

    live: int | None = key(Time("1 s", "30 min"), "how long it is live; without it, until it is called over", default=None)
    off: int = key(Time("0 s", "30 min"), "the time between two reps", default=0)
    starts: str = key(
        OneOf("by itself", "on call", "at once"), "by itself after the off time, on call, or at once: play never stops",
        default="by itself",
    )
    turn: Turn = key(TurnKind(Turn), "who goes where after each rep", default=Turn())
    turn_every: int | None = key(Time("5 s", "30 min"), "play that never stops: the turn comes every so long", default=None)
    after_hold: str = key(OneOf("again", "goes on"), "after a hold the rep is played again, or goes on", default="again")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Window(Record):
    """A short limit inside a rep: three seconds to break through."""

    name: str = key(Name(), "what the limit is for")
    time: int = key(RuleTime("100 ms", "10 min"), 'how long it is open, or a count of the rules such as "shot clock"')
    opens: str = key(
        Prose(), '"with the rep", "on call", "every 15 s", "on OUTCOME" or "when WINDOW closes"', default="with the rep"
    )
    warning: int = key(Time("0 s", "5 min"), "a tone so long before it closes; 0 for none", default=0)
    runs_out: str = key(Name(), "the outcome that is called by itself when its time is over", default="")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Outcome(Record):
    """A named thing that happens in a rep; the first one has key 1."""

    name: str = key(Name(), "paint, basket, stop, …")
    points: int = key(Whole(-20, 20), "what it is worth", default=0)
    to: str = key(Name(), "the role that gets the points", default="")
    only_in: str = key(Name(), "counts only while this window is open", default="")
    only_after: str = key(Name(), "counts only after this outcome in the same rep", default="")
    opens: str = key(Name(), "the window that it opens", default="")
    resets: str = key(Name(), "the window that it starts afresh", default="")
    closes: str = key(Name(), "the window that it closes", default="")
    breaks: bool = key(YesNo(), "breaks a row", default=False)
    ends: str = key(OneOf("", "rep", "segment"), "what it ends", default="")
    turn: Turn = key(TurnKind(Turn), "who goes where after it", default=Turn())
    clicker: str = key(OneOf("", "forward", "back"), "the clicker's button that makes this call", default="")
    say: str = key(Prose(), "said in the next off time", default="")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Score(Record):
    """What outcomes add up to."""

    race: int | None = key(Whole(1, 999), "first to so many", default=None)
    row: int | None = key(Whole(2, 999), "so many in a row", default=None)
    of: tuple[str, ...] = key(ListOf(Name(), 9), "the outcomes that count for the row; else every one with points", default=())
    tally: bool = key(YesNo(), "makes out of attempts", default=False)
    win_by: int = key(Whole(1, 20), "a race is won by so many", default=1)
    cap: int | None = key(Time("10 s", "60 min"), "the race ends after so long; the leader wins", default=None)
    by: str = key(OneOf("player", "group", "team", "spot", "rival"), "who scores", default="group")
    rival: int | None = key(Whole(1, 999), "what an imagined rival scores for each miss", default=None)
    counted: str = key(OneOf("keys", "players"), "counted with keys, or by the players aloud", default="keys")
    then: str = key(OneOf("", "again", "end drill", "turn"), "what reaching the target does", default="")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Consequence(Record):
    """What the losers do, short and timed; counted as work."""

    pays: str = key(OneOf("others", "losers", "last"), "who does it", default="losers")
    time: int = key(Time("5 s", "60 s"), "how long it lasts, 60 s at most", default=20_000)
    say: str = key(Prose(), "what is said", default="")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Station(Record):
    """One of several drills side by side."""

    name: str = key(Name(), "what it is called")
    lead: str = key(Name(), "who leads it", default="")
    heard: bool = key(YesNo(), "its own tones sound too", default=False)
    rule: str = key(Prose(), "the rule, kept on the board", default="")
    gear: tuple[tuple[str, int], ...] = key(MapOf(Whole(1, 99)), "what to fetch, and how many", default=())
    rep: Rep | None = key(TableOf(Rep), "its reps", default=None)
    roles: tuple[Role, ...] = key(ListOf(TableOf(Role), 8), "its roles", default=())
    window: tuple[Window, ...] = key(ListOf(TableOf(Window), 6), "its windows", default=())
    outcome: tuple[Outcome, ...] = key(ListOf(TableOf(Outcome), 9), "its outcomes", default=())
    score: Score | None = key(TableOf(Score), "its score", default=None)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Game(Record):
    """A situation of a game: a clock, a score to start from, who has the ball."""

    clock: int = key(Time("1 s", "20 min"), "the game clock at its start")
    stops: bool = key(YesNo(), "the game clock is stopped and started", default=False)
    score: tuple[tuple[str, int], ...] = key(MapOf(Whole(0, 999)), "the score at its start", default=())
    ball: str = key(Name(), "who has the ball", default="")
    repeat: bool = key(YesNo(), "starts afresh when it is over", default=False)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Segment(Record):
    """One timed part of the practice."""

    kind: Kind = key(OneOf(*KINDS), "what sort of segment it is")
    name: str = key(Name(), "what it is called; without it, its kind", default="")
    use: str = key(Prose(), "a drill file to read this segment from; lines written here go first", default="")
    time: int = key(Time("5 s", "180 min"), "how long it lasts, set-up included", default=0)
    at_least: int | None = key(Time("5 s", "180 min"), "may shrink to this when time runs short", default=None)
    at_most: int | None = key(Time("5 s", "180 min"), "may grow to this when there is time in hand", default=None)
    optional: bool = key(YesNo(), "dropped when nothing else helps", default=False)
    setup: int = key(Time("0 s", "20 min"), "walking, bibs, showing it: before the first rep; ends early on go", default=0)
    effort: int | None = key(Whole(0, 10), "how hard it is, 0 to 10", default=None)
    rest: str = key(OneOf("", "auto"), '"auto": the off time grows to the rest that those who come on still need', default="")
    court: str = key(OneOf("", "full", "half"), "how much of the court it takes", default="")
    places: int = key(Whole(1, 12), "the same drill at so many baskets, on one clock", default=1)
    gear: tuple[tuple[str, int], ...] = key(MapOf(Whole(1, 99)), "what to fetch, and how many", default=())
    announce: str = key(Prose(), "said in the set-up", default="")
    reminders: tuple[str, ...] = key(ListOf(Prose(), 8), "said now and then in the off time", default=())
    rule: str = key(Prose(), "the drill's rule: stays on the board, said once", default="")
    teams: str | int = key(AnyOf(OneOf("", "squad"), Whole(2, 12)), '"squad" for their bibs, or how many teams', default="")
    roles: tuple[Role, ...] = key(ListOf(TableOf(Role), 8), "who does what", default=())
    rep: Rep | None = key(TableOf(Rep), "one go: live time, then off time", default=None)
    window: tuple[Window, ...] = key(ListOf(TableOf(Window), 6), "short limits inside a rep", default=())
    outcome: tuple[Outcome, ...] = key(ListOf(TableOf(Outcome), 9), "what can happen in a rep, keys 1 to 9", default=())
    grace: int = key(Time("0 s", "5 s"), "an outcome of a window is good so long after it closed", default=1000)
    score: Score | None = key(TableOf(Score), "what outcomes add up to", default=None)
    consequence: Consequence | None = key(TableOf(Consequence), "what the losers do", default=None)
    each: int | None = key(Time("10 s", "60 min"), "stations: the time at each", default=None)
    change: int = key(Time("0 s", "10 min"), "stations: the time to change over", default=0)
    station: tuple[Station, ...] = key(ListOf(TableOf(Station), 8), "stations side by side", default=())
    game: Game | None = key(TableOf(Game), "scrimmage: the situation played", default=None)
    spots: tuple[str, ...] = key(ListOf(Name(), 24), "spots: where to shoot from, in order", default=())
    shots: int | None = key(Whole(1, 999), "spots: shots from each", default=None)
    within: int | None = key(Time("5 s", "60 min"), "spots: the time at each", default=None)
    rounds: int = key(Whole(1, 20), "spots: how often round", default=1)
    enter: str = key(
        OneOf("after the spot", "after the round", "at the end"), "spots: when makes are entered", default="after the round"
    )
    shuffled: int | None = key(Whole(0, 999_999), "spots: shuffled with this seed", default=None)

    @property
    def title(self) -> str:
        """The name, or the kind with a capital."""
        return self.name or self.kind.capitalize()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Voice(Record):
    """How much is said, and in which language."""

    language: str = key(Name(), 'language code, such as "en"', default="en")
    say: str = key(OneOf("all", "few", "horns"), "all, few words (times, where to go, targets), or horns only", default="few")
    pace: int = key(Whole(80, 260), "words a minute", default=160)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Gym(Record):
    """Shown large on a halt."""

    address: str = key(Prose(), "where help must come", default="")
    aed: str = key(Prose(), "where the defibrillator hangs", default="")
    call: str = key(Prose(), "whom to call", default="")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Staff(Record):
    """Who leads."""

    coaches: tuple[str, ...] = key(ListOf(Name(), 20), "given names", default=())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Squad(Record):
    """Everyone who may be here, and the bibs they wear."""

    players: tuple[str, ...] = key(ListOf(Name(), 40), "given names, all different", default=())
    teams: tuple[tuple[str, tuple[str, ...]], ...] = key(MapOf(ListOf(Name(), 20)), "a list of names a bib colour", default=())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Heat(Record):
    """How hot it is in the gym: air and humidity, or a measured WBGT (which then is the only answer)."""

    air: float | None = key(Degrees(-10, 55), "the air, in the shade", default=None)
    humidity: int | None = key(Whole(1, 100), "relative humidity in percent", default=None)
    wbgt: float | None = key(Degrees(-10, 50), "WBGT, measured in the gym", default=None)
    first_week: bool = key(YesNo(), "the players are not yet used to the heat", default=False)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Session(Record):
    """One practice, as its file tells it."""

    title: str = key(Name(), "what the practice is called", default="Practice")
    age: int | None = key(Whole(5, 99), "of the youngest: picks rest, water and length rules", default=None)
    floor: tuple[int, int] | None = key(FloorTime(), 'the gym is ours, such as "18:00-19:15"', default=None)
    clear: int = key(Time("0 s", "30 min"), "balls in, bibs in, off the floor: inside the floor time", default=0)
    heat: Heat | str | None = key(
        WordOr("hot", Heat), 'how hot it is: `{ air = "31 C", humidity = 60 }`, `{ wbgt = "28 C" }`, or "hot" when nothing is measured',
        default=None,
    )
    region: int | None = key(
        Whole(1, 3), "how hot your summers are, 3 the hottest, as the heat tables count; without it the strictest, 1, is taken",
        default=None,
    )
    outdoor: bool = key(YesNo(), "under the sky: thunder and lightning stop the practice", default=False)
    aside: str = key(Prose(), "something quiet for the others when someone is hurt", default="")
    rules: str = key(OneOf("", "fiba", "nfhs", "ncaa", "nba"), 'whose counts "shot clock", "backcourt", … are', default="")
    voice: Voice = key(TableOf(Voice), "the voice", default=Voice())
    speakers: tuple[str, ...] = key(ListOf(Prose(), 8), "speakers, tried in this order", default=())
    gym: Gym = key(TableOf(Gym), "the gym's card", default=Gym())
    staff: Staff = key(TableOf(Staff), "who leads", default=Staff())
    squad: Squad = key(TableOf(Squad), "who plays", default=Squad())
    segment: tuple[Segment, ...] = key(ListOf(TableOf(Segment), 200), "the parts of the practice, in order", default=())


Table = type[Any]
