"""What the history tells: each view one question to the tables, answered as a table."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from courttimer.memory.history import History
from courttimer.report.tables import Column, Table, Value
from courttimer.report.wilson import wilson


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Only practices from the day `since` on ("2026-09-01"), only what concerns `player`; empty: all."""

    since: str = ""
    player: str = ""


Rows = Sequence[tuple[Value, ...]]

# Of each practice the copy that counts, if it is late enough and the player was there.
_TOLD = """
WITH told AS (
  SELECT practice.*, substr(wall, 1, 10) AS day FROM practice JOIN journal ON journal.name = practice.journal AND journal.counts
  WHERE substr(wall, 1, 10) >= :since
    AND (:player = '' OR EXISTS (SELECT 1 FROM players WHERE players.journal = practice.journal AND player = :player))
)
"""
_MINUTES = "cast(round({} / 60000.0) AS INTEGER)"


def sessions(history: History, asked: Asked) -> Table:
    """Every practice, the latest first."""
    rows = _rows(history, asked, f"""
        SELECT day, substr(wall, 12, 5), title, {_MINUTES.format("played")}, {_MINUTES.format("planned")}, {_MINUTES.format("live")},
          reps, load FROM told ORDER BY wall DESC, journal DESC""")  # fmt: skip
    return Table("sessions", "Practices", (
        Column("day", "day", "the day of the practice, ISO 8601", "day"),
        Column("at", "at", "the time of day of its first line, hours and minutes"),
        Column("title", "practice", "what the practice is called"),
        Column("minutes", "min", "minutes played, holds left out", "whole"),
        Column("planned", "planned", "minutes planned", "whole"),
        Column("live", "live", "minutes in which the ball was live in a rep", "whole"),
        Column("reps", "reps", "reps that were played", "whole"),
        Column("load", "load", "effort times minutes, summed over the segments; arbitrary units", "bar"),
    ), tuple(rows))  # fmt: skip


def load(history: History, asked: Asked) -> Table:
    """Minutes and load of every week in which there was a practice, the latest first."""
    rows = _rows(history, asked, f"""
        SELECT date(day, '-6 days', 'weekday 1') AS week, count(*), count(DISTINCT day), {_MINUTES.format("sum(played)")}, sum(load)
        FROM told GROUP BY week ORDER BY week DESC""")  # fmt: skip
    return Table("load", "Load by week", (
        Column("week", "week of", "the Monday of the week, ISO 8601", "day"),
        Column("practices", "practices", "practices in the week", "whole"),
        Column("days", "days", "days with a practice", "whole"),
        Column("minutes", "min", "minutes played, holds left out", "whole"),
        Column("load", "load", "effort times minutes of the week; arbitrary units", "bar"),
    ), tuple(rows))  # fmt: skip


def shooting(history: History, asked: Asked) -> Table:
    """Makes out of attempts by player and spot, with the 95 % Wilson interval, and the last time of each."""
    rows = _rows(history, asked, """
        SELECT shots.player, spot, sum(makes), sum(attempts), max(wall), count(*) FROM shots JOIN told USING (journal)
        WHERE :player = '' OR shots.player = :player GROUP BY shots.player, spot
        ORDER BY shots.player, sum(attempts) DESC, spot""")  # fmt: skip
    return Table("shooting", "Shooting by player and spot", (
        Column("player", "player", "who shot; empty where the file names no single player"),
        Column("spot", "spot", "where from; the drill where its makes are counted by player"),
        Column("makes", "makes", "shots that went in", "whole"),
        Column("attempts", "shots", "shots taken", "whole"),
        Column("share", "in", "makes out of attempts, 0 to 1", "share"),
        Column("low", "from", "lower end of the 95 % Wilson score interval", "share"),
        Column("high", "to", "upper end of the 95 % Wilson score interval", "share"),
        Column("practices", "times", "practices in which it was entered", "whole"),
        Column("last", "last", "day of the last time, ISO 8601", "day"),
    ), tuple(_shot(*row) for row in rows))  # fmt: skip


def _shot(player: str, spot: str, makes: int, attempts: int, wall: str, times: int) -> tuple[Value, ...]:
    low, high = wilson(makes, attempts) if 0 <= makes <= attempts else (None, None)
    return player, spot, makes, attempts, makes / attempts if attempts else None, low, high, times, wall[:10]


def best(history: History, asked: Asked) -> Table:
    """The last and the best of every drill that was won or counted, by who and what."""
    rows = _rows(history, asked, """
        SELECT drill, who, sort, value, wall FROM results JOIN told USING (journal)
        WHERE :player = '' OR who IN (:player, '')""")  # fmt: skip
    return Table("best", "Last time and best", (
        Column("drill", "drill", "the segment's name"),
        Column("who", "who", "player, team or group; empty for a drill as a whole"),
        Column("sort", "of", "what was counted: makes, race (the points of its winner), row"),
        Column("last", "last", "the most reached in the latest practice with it", "whole"),
        Column("last_day", "on", "day of that practice, ISO 8601", "day"),
        Column("best", "best", "the most ever reached", "whole"),
        Column("best_day", "on", "the latest day on which it was, ISO 8601", "day"),
        Column("practices", "times", "practices with it", "whole"),
    ), tuple(_bests(rows)))  # fmt: skip


def _bests(rows: Rows) -> Iterator[tuple[Value, ...]]:
    """Of each practice the most counts; of equal bests the latest."""
    found: dict[tuple[Value, ...], dict[str, int]] = {}
    for drill, who, sort, value, wall in rows:
        days = found.setdefault((drill, who, sort), {})
        days[str(wall)] = max(int(str(value)), days.get(str(wall), 0))
    for of in sorted(found, key=str):
        days = found[of]
        last, top = max(days), max(days, key=lambda wall, days=days: (days[wall], wall))  # type: ignore[misc]  # bound at once
        yield *of, days[last], last[:10], days[top], top[:10], len(days)


def work(history: History, asked: Asked) -> Table:
    """Where the time went, by kind of segment."""
    rows = _rows(history, asked, f"""
        SELECT kind, {_MINUTES.format("sum(work.played)")}, {_MINUTES.format("sum(work.planned)")},
          {_MINUTES.format("sum(work.live)")}, sum(work.reps), count(*)
        FROM work JOIN told USING (journal) GROUP BY kind ORDER BY sum(work.played) DESC, kind""")  # fmt: skip
    return Table("work", "Time by kind of work", (
        Column("kind", "kind", "warm-up, drill, stations, …"),
        Column("minutes", "min", "minutes played, holds left out", "bar"),
        Column("planned", "planned", "minutes planned", "whole"),
        Column("live", "live", "minutes in which the ball was live in a rep", "whole"),
        Column("reps", "reps", "reps that were played", "whole"),
        Column("practices", "times", "practices with it", "whole"),
    ), tuple(rows))  # fmt: skip


VIEWS: dict[str, Callable[[History, Asked], Table]] = {
    "sessions": sessions, "load": load, "shooting": shooting, "best": best, "work": work,
}  # fmt: skip


def players(history: History) -> list[str]:
    """Every player whom the history knows."""
    return [name for (name,) in history.base.execute("SELECT player FROM players UNION SELECT player FROM shots ORDER BY 1") if name]


def practices(history: History) -> Iterator[tuple[str, int, frozenset[str]]]:
    """When each practice was begun (ISO 8601), the ms it was played, and who of its squad was not out."""
    who: dict[str, set[str]] = {}
    for journal, player in history.base.execute("SELECT journal, player FROM players"):
        who.setdefault(journal, set()).add(player)
    for journal, begun, played in _rows(history, Asked(), "SELECT journal, wall, played FROM told"):
        yield begun, played, frozenset(who.get(journal, ()))


def _rows(history: History, asked: Asked, question: str) -> list[tuple[Any, ...]]:
    return history.base.execute(_TOLD + question, {"since": asked.since, "player": asked.player}).fetchall()
