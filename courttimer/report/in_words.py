"""The report in a terminal: a few lines for the board after the last horn, and all of it as tables with small bars."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from operator import itemgetter

from courttimer.report.columns import tables
from courttimer.report.entries import Change, Score
from courttimer.report.tables import Column, Table, Value, as_text, clock
from courttimer.report.tally import Tally

ASIDE = ("practice", "spent", "course", "roles", "changes")
"""Tables that are told in another way, or only to programs."""
LISTS = ("refused", "cues", "taken_back")
LONGEST = 12
"""So many of them are shown to people."""
MOST = 3
"""So many changes, wins and makes are told in the short form."""


def short(told: Tally) -> tuple[str, ...]:
    """The practice in at most nine lines, each of less than 100 letters unless names are long."""
    return tuple(line for line in _short(told) if line)


def _short(told: Tally) -> Iterator[str]:
    head = told.head
    yield f"Played {clock(head.played)} of {clock(head.planned)}, {clock(head.live)} of it live, in {_count(head.reps, 'rep')}."
    yield _times(told)
    yield _listed("Cut and added: ", [f"{title} {by_hand(ms)}" for title, ms in _sums(told.changes)])
    won = groupby(told.wins, lambda one: one.wins)
    yield _listed("Wins: ", [_equal([one.who for one in equal], wins) for wins, equal in won], "; ")
    yield _listed("Points: ", [_equal([one.side for one in equal], equal[0].points) for equal in best(told.scores)], "; ")
    yield _makes(told)
    yield _minutes(told)
    yield _load(told)
    yield _faults(told)


def _listed(head: str, parts: Sequence[str], between: str = ", ") -> str:
    more = f"{between.rstrip(', ')} and {len(parts) - MOST} more" if len(parts) > MOST else ""
    return f"{head}{between.join(parts[:MOST])}{more}." if parts else ""


def _count(n: int, what: str) -> str:
    return f"{n} {what}{'' if n == 1 else 's'}"


def by_hand(ms: int) -> str:
    """ "+1:00" or "−2:30"."""
    return f"{'−' if ms < 0 else '+'}{clock(abs(ms))}"


def _times(told: Tally) -> str:
    ms = {one.sort: one.ms for one in told.times}
    sorts = [(name, ms.get(sort, 0)) for name, sort in (("off", "off"), ("set-up", "set-up"), ("water", "water"), ("talk", "talk"))]
    sorts.append((_count(told.head.holds, "hold"), told.head.held))
    said = [f"{name} {clock(n)}" for name, n in sorts if n] + [early(told.head.early)] * (told.head.early is not None)
    return ", ".join(said).capitalize() + "." if said else ""


def early(ms: int | None) -> str:
    """When the practice ended, against the moment at which the floor had to be cleared."""
    return "over on the minute" if not ms or abs(ms) < 1_000 else f"over {clock(abs(ms))} {'early' if ms > 0 else 'late'}"


def _sums(changes: Iterable[Change]) -> list[tuple[str, int]]:
    """By how much each segment was changed in all, the most first."""
    sums: dict[tuple[int, str], int] = {}
    for one in changes:
        sums[one.n, one.segment] = sums.get((one.n, one.segment), 0) + one.ms
    return sorted(((title, ms) for (_, title), ms in sums.items() if ms), key=lambda one: -abs(one[1]))


def best(scores: Iterable[Score]) -> list[list[Score]]:
    """The leaders of each drill and station in which there were points: several where they are equal."""
    drills = (list(group) for _, group in groupby(scores, lambda one: (one.n, one.station)))
    return [[one for one in group if one.points == group[0].points] for group in drills if group[0].points]


def _equal(names: Sequence[str], n: int) -> str:
    return f"{_names(names)} {n}{' each' * bool(names[1:])}"


def _names(names: Sequence[str]) -> str:
    """ "Ada", "Ada and Bea", "Ada, Bea, Cleo and 2 more"."""
    more = len(names) - MOST
    if more > 1:
        return f"{', '.join(names[:MOST])} and {more} more"
    return f"{', '.join(names[:-1])} and {names[-1]}" if names[1:] else names[0]


def _makes(told: Tally) -> str:
    known = [(one.makes, one.attempts) for one in told.shots if one.makes is not None and one.attempts]
    tallied = [(one.makes, one.attempts) for one in told.scores if one.makes is not None and one.attempts]
    makes, tried = sum(n for n, _ in (*known, *tallied)), sum(n for _, n in (*known, *tallied))
    return f"Made {makes} of {tried}, {100 * makes / tried:.0f} %." if tried else ""


def _minutes(told: Tally) -> str:
    here = sorted((one.player, clock(one.played), one.played) for one in told.players if one.here)
    if len(here) < 2:
        return ""
    (_, most, _), (_, least, _) = max(here, key=itemgetter(2)), min(here, key=itemgetter(2))
    if most == least:
        return f"On the floor: each {most}."
    first, last = ([player for player, played, _ in here if played == end] for end in (most, least))
    return f"On the floor: {_names(first)} most, {most}; {_names(last)} least, {least}."


def _load(told: Tally) -> str:
    head = told.head
    own = "" if head.effort is None else f"; the coach says {head.effort} of 10"
    asked = [one.effort for one in told.players if one.effort is not None]
    players = f"; players say {sum(asked) / len(asked):.1f} on average" if asked else ""
    return f"Load {head.load} by the efforts in the file{own}{players}." if head.load or own or players else ""


def _faults(told: Tally) -> str:
    head = told.head
    parts = ((head.late, "cue", "late"), (head.dropped, "cue", "not heard"), (head.refused, "call", "refused"))
    said = [f"{_count(n, what)} {how}" for n, what, how in (*parts, (head.taken_back, "call", "taken back")) if n]
    return f"{', '.join(said)}." if said else ""


def report(told: Tally) -> list[str]:
    """All of it that a person wants to read, tables without lines left out."""
    out = [told.head.title, told.head.wall[:16].replace("T", ", ") + (", not ended" if not told.head.ended else "")]
    out += ["", *short(told)]
    for table in shown(told):
        out += ["", *_at_most(as_text(table), table)]
    return [*out, *([""] if told.notes else []), *told.notes]


def _at_most(lines: list[str], table: Table) -> list[str]:
    """Long lists of what went wrong are cut: a program gets all of them."""
    if table.name not in LISTS or len(table.rows) <= LONGEST:
        return lines
    return [*lines[: -(len(table.rows) - LONGEST)], f"  … and {len(table.rows) - LONGEST} more: --csv {table.name}"]


def shown(told: Tally) -> Iterator[Table]:
    """The tables for people, columns without anything in them left out."""
    for table in tables(told):
        if table.name == "segments":
            yield with_changes(told, table)
        elif table.name == "players" and table.rows:
            yield bare(table)
            if told.roles:
                yield by_role(told)
        elif table.name not in ASIDE and table.rows:
            yield bare(table)


def bare(table: Table) -> Table:
    """Without the columns that are empty, or nought, in every line."""
    keep = [at for at, _ in enumerate(table.columns) if at < 1 or any(row[at] not in (None, "", 0) for row in table.rows)]
    return table._replace(
        columns=tuple(table.columns[at] for at in keep), rows=tuple(tuple(row[at] for at in keep) for row in table.rows)
    )


def with_changes(told: Tally, table: Table) -> Table:
    """The segments, with what changed each in words beside it, and no wider than most terminals."""
    keep = [at for at, column in enumerate(table.columns) if column.name not in ("kind", "other", "why")]
    why = [why_of(told.changes, one.n) for one in told.segments]
    columns = (*(table.columns[at] for at in keep), Column("changed", "cut or added", "by how much, and why"))
    rows = tuple((*(row[at] for at in keep), said) for row, said in zip(table.rows, why, strict=True))
    return bare(table._replace(columns=columns, rows=rows))


def why_of(changes: Iterable[Change], n: int) -> str:
    """What changed a segment: "−2:00 made to fit the floor time; −0:30 moved on"."""
    sums: dict[str, int] = {}
    for one in changes:
        if one.n == n:
            why = one.what if one.what in ("not played", "left out") else one.why
            sums[why] = sums.get(why, 0) + one.ms
    return "; ".join(f"{by_hand(ms)} {why}" for why, ms in sums.items() if ms)


def by_role(told: Tally) -> Table:
    """Reps of each player in each role, over all drills."""
    counts: dict[str, dict[str, int]] = {one.player: {} for one in told.players}
    roles: dict[str, None] = {}
    for one in told.roles:
        if one.reps:
            role = one.role or "no roles"
            roles[role] = None
            mine = counts.setdefault(one.player, {})
            mine[role] = mine.get(role, 0) + one.reps
    columns = [Column("player", "player", "given name"), *(Column(role, role, f"reps as {role}", "whole") for role in roles)]
    rows: list[tuple[Value, ...]] = [(player, *(of.get(role, 0) for role in roles)) for player, of in counts.items()]
    return Table("by_role", "Reps by role", tuple(columns), tuple(rows))
