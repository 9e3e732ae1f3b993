"""Every table of the report on one practice: its heading, and what each of its columns means; the same for text, CSV and JSON."""

from collections.abc import Sequence

from courttimer.report.tables import Column, Sort, Table
from courttimer.report.tally import Tally

AT = Column("at", "at", "ms since the first go", "time")
N = Column("n", "no.", "number of the segment, from 1", "whole")
SEGMENT = Column("segment", "segment", "name of the segment")
STATION = Column("station", "station", "name of the station; empty elsewhere")
SHARES = (
    Column("share", "in", "makes out of attempts, 0 to 1", "share"),
    Column("low", "from", "lower end of the 95 % Wilson score interval", "share"),
    Column("high", "to", "upper end of the 95 % Wilson score interval", "share"),
)


def _time(name: str, head: str, meaning: str, sort: Sort = "time") -> Column:
    return Column(name, head, f"ms {meaning}", sort)


def _whole(name: str, head: str, meaning: str) -> Column:
    return Column(name, head, meaning, "whole")


COLUMNS: dict[str, tuple[str, tuple[Column, ...]]] = {
    "practice": ("The practice", (
        Column("wall", "begun", "day and time of the journal's first line, ISO 8601", "day"),
        Column("title", "practice", "what the practice is called"),
        Column("ended", "ended", "1 when it came to its end, 0 when the journal ends before", "whole"),
        _time("planned", "planned", "planned, all segments"),
        _time("played", "played", "played; holds and halts left out"),
        _time("live", "live", "in which a rep was live"),
        _whole("reps", "reps", "reps played; one played again after a hold counts once"),
        _whole("segments", "segments", "segments that were begun"),
        _whole("holds", "holds", "holds and halts of the whole floor"),
        _time("held", "held", "for which the clock stood"),
        _time("early", "early", "from the end to the moment at which the floor had to be cleared; negative: late; empty: not known"),
        _whole("load", "load", "the coach's guess: effort times minutes played, summed over the segments"),
        _time("unknown", "no effort", "played in segments without an effort, which are not in the load"),
        _whole("effort", "effort", "how hard the coach says it was, 0 to 10"),
        _whole("cues", "cues", "cues that sounded"),
        _whole("late", "late", "of these, more than 20 ms late"),
        _whole("dropped", "dropped", "cues that did not sound"),
        _whole("refused", "refused", "calls that made no sense when they were made"),
        _whole("taken_back", "taken back", "calls that were taken back"),
    )),
    "segments": ("Planned and played", (
        N, SEGMENT,
        Column("kind", "kind", "warm-up, drill, stations, …"),
        _time("planned", "planned", "planned"),
        _time("played", "played", "played; holds and halts left out"),
        _time("live", "live", "in which a rep was live"),
        _time("off", "off", "of off time, with the ready after a hold"),
        _time("setup", "set-up", "of set-up"),
        _time("other", "other", "of all else: play without reps, water, talk, waiting for a call, consequences, time left over"),
        _time("held", "held", "for which the clock stood"),
        _whole("reps", "reps", "reps played, those at the stations too"),
        Column("why", "ended by", "time, moved (called on), last (called), target (reached), called off; still on; not played"),
    )),
    "times": ("Where the time went", (
        Column("sort", "sort", "live, off, waiting (for a call), set-up, consequence, stopped (a game clock that stands), spare (no rep"
               " fits any more), on (play without reps), water, talk, rest, hold, halt"),
        _time("ms", "time", "of this sort", "time bar"),
    )),
    "spent": ("Where the time went, segment by segment", (
        N, SEGMENT, Column("sort", "sort", "as in the table times"), _time("ms", "time", "of this sort in this segment"),
    )),
    "course": ("What ran when", (
        AT, N, SEGMENT, Column("what", "what", "played, hold or halt"), _time("ms", "time", "until something else ran"),
    )),
    "changes": ("Cut and added", (
        AT, N, SEGMENT,
        _time("ms", "by", "more (less: negative); those of one segment add up to played less planned"),
        Column("what", "what", "longer, shorter, left out, again, not played"),
        Column("why", "why", "what brought it"),
    )),
    "holds": ("Holds", (
        AT, N, SEGMENT, STATION,
        Column("sort", "sort", "hold or halt"),
        _time("ms", "time", "for which it stood"),
        Column("why", "why", "called, cut off, asleep (the machine), thunder; whether it counted as the water"),
    )),
    "scores": ("Scores", (
        N, SEGMENT, STATION,
        Column("side", "side", "player, team, group or role; all: everyone together"),
        _whole("points", "points", "points made in all, corrections included"),
        _whole("row", "best row", "the longest row"),
        _whole("makes", "makes", "makes"),
        _whole("attempts", "tries", "makes and misses"),
        *SHARES,
        _whole("wins", "wins", "races and rows won in this drill"),
        _whole("last", "at the end", "the points on the board when the segment ended"),
    )),
    "outcomes": ("Outcomes", (
        N, SEGMENT, STATION,
        Column("outcome", "outcome", "name of the outcome; over: the rep ended, nothing happened"),
        _whole("counted", "times", "how often it counted"),
        _whole("by_itself", "by itself", "of these, how often a window ran out and brought it"),
        _whole("not_counted", "late", "called, but late or without what it needs before it"),
    )),
    "targets": ("Targets", (
        AT, N, SEGMENT, STATION,
        Column("side", "won by", "who reached it; empty for a tie, or when only the players know"),
        Column("why", "by", "race, row, cap (time was up), called"),
        _whole("score", "score", "the winner's score; for a row its length"),
        _whole("next_best", "against", "the next best score"),
        Column("pays", "consequence for", "who had the consequence to do"),
    )),
    "wins": ("Wins of the evening", (
        Column("who", "who", "player, team or group"),
        Column("sort", "sort", "player, team (their bibs) or group (of one drill)"),
        Column("wins", "wins", "races and rows won", "bar"),
    )),
    "shots": ("Shooting", (
        N, SEGMENT,
        Column("spot", "spot", "where from"),
        _whole("round", "round", "which round, from 1"),
        _whole("makes", "makes", "shots that went in; empty when nobody entered it, which is unknown and not nought"),
        _whole("attempts", "shots", "shots taken"),
        *SHARES,
    )),
    "players": ("Players", (
        Column("player", "player", "given name"),
        _time("here", "here", "of the practice for which the player was here"),
        _whole("reps", "reps", "reps in a role that plays"),
        _time("played", "played", "on the floor while it was live, play without reps included", "time bar"),
        _time("standing", "standing", "waiting while others played"),
        _time("paid", "consequence", "of consequences done"),
        _whole("points", "points", "points made in the player's own name"),
        _whole("wins", "wins", "races and rows won, alone or with a team"),
        _whole("load", "load", "the coach's guess: effort times minutes of the segments for which the player was here"),
        _whole("effort", "effort", "how hard the player says it was, 0 to 10"),
        _whole("own_load", "own load", "that effort times the minutes for which the player was here"),
    )),
    "roles": ("Players by role", (
        Column("player", "player", "given name"),
        N, SEGMENT, STATION,
        Column("role", "role", "attack, defend, off, …; empty in a drill without roles"),
        _whole("reps", "reps", "reps in this role; a turn inside a rep begins another one"),
        _time("ms", "time", "in this role while it was live"),
    )),
    "stations": ("Stations", (
        N, SEGMENT, STATION,
        _whole("reps", "reps", "reps played"),
        _time("live", "live", "in which its rep was live"),
        _time("held", "held", "for which it stood by itself"),
        _time("lost", "lost", "of its time that were gone at the common changes"),
    )),
    "marks": ("Marks", (
        _whole("number", "mark", "its number, from 1"), AT, N, SEGMENT, Column("words", "words", "what the coach said of it"),
    )),
    "advice": ("Rest, afterwards", (
        Column("about", "about", "what it is about"), Column("text", "advice", "in words"), Column("source", "source", "who says so"),
    )),
    "cues": ("Cues late or not heard", (
        AT, Column("cue", "cue", "which one"), _whole("late", "ms late", "ms; empty when not heard"),
        Column("why", "why", "late, or why it did not sound"),
    )),
    "sound": ("Speakers", (AT, Column("speaker", "speaker", "its name"), Column("change", "what", "lost, taken, found again"))),
    "refused": ("Calls refused", (
        AT, Column("by", "by", "key, clicker, line, phone, program"), Column("call", "call", "the call"),
        Column("why", "why", "why not"),
    )),
    "taken_back": ("Taken back", (
        AT, Column("call", "call", "the call that does not count any more"),
        _whole("put_back", "put back", "1 when it was put back afterwards, else 0"),
    )),
}  # fmt: skip


def tables(told: Tally) -> tuple[Table, ...]:
    """Every table of the report, also those without rows."""
    return tuple(Table(name, *COLUMNS[name], tuple(tuple(map(_plain, row)) for row in getattr(told, name))) for name in COLUMNS)


def _plain(value: str | int | float | None) -> str | int | float | None:
    return int(value) if isinstance(value, bool) else value


def documented() -> Sequence[Table]:
    """The same tables without rows: what `--columns` and `--schema` tell."""
    return [Table(name, *about, ()) for name, about in COLUMNS.items()]
