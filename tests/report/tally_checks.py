"""The report against the second count, table by table: each check fails with both answers when they differ."""

from collections import Counter
from itertools import pairwise
from typing import Any

from courttimer.plan.model import Session
from courttimer.report.tally import Tally
from tests.report.tally_count import Count

HELD = ("hold", "halt")


def everything(plan: Session, read: list[dict[str, Any]], ours: Tally, count: Count) -> None:
    for one in (times, course, segments, holds, head, players, roles, scores, outcomes, targets, shots, stations):
        one(plan, ours, count)
    facts(read, ours, count)


def _numbers(plan: Session) -> dict[str, int]:
    """The lane of each station; 0 is the floor."""
    return {"": 0} | {one.name: n for segment in plan.segment for n, one in enumerate(segment.station, 1)}


def _loaded(effort_ms: int) -> int:
    """Effort times minutes, halves up."""
    return int(effort_ms / 60_000 + 0.5)


def times(plan: Session, ours: Tally, count: Count) -> None:
    assert {(one.n - 1, one.sort): one.ms for one in ours.spent} == dict(count.ms)
    by_sort: Counter[str] = Counter()
    for (_, sort), ms in count.ms.items():
        by_sort[sort] += ms
    assert {one.sort: one.ms for one in ours.times} == dict(by_sort)


def course(plan: Session, ours: Tally, count: Count) -> None:
    """What ran when leaves no gap between the segments, and adds up to the times."""
    ms: Counter[tuple[int, bool]] = Counter()
    for one in ours.course:
        ms[one.n - 1, one.what in HELD] += one.ms
    for i, part in enumerate(ours.segments):
        assert (ms[i, False], ms[i, True]) == (part.played, part.held)
    assert all(one.at + one.ms == then.at for one, then in pairwise(ours.course))
    began = [at - (count.went or 0) for at, _ in count.began]
    assert {one.at for one in ours.course} >= {at for at, then in pairwise(began) if then > at}


def segments(plan: Session, ours: Tally, count: Count) -> None:
    assert [one.segment for one in ours.segments] == [one.title for one in plan.segment]
    for i, one in enumerate(ours.segments):
        mine = Counter({sort: ms for (n, sort), ms in count.ms.items() if n == i})
        held = mine["hold"] + mine["halt"]
        assert (one.planned, one.played, one.held, one.reps) == (plan.segment[i].time, mine.total() - held, held, count.reps[i])
        assert (one.live, one.off, one.setup) == (mine["live"], mine["off"], mine["set-up"])
        assert one.live + one.off + one.setup + one.other == one.played
        assert one.why == (count.ended.get(i, "still on") if i in count.begun else "not played")
        changed = [change for change in ours.changes if change.n == i + 1]
        assert one.planned + sum(change.ms for change in changed) == one.played
        assert sum(change.ms for change in changed if change.why == "called") == count.lengthened[i]


def holds(plan: Session, ours: Tally, count: Count) -> None:
    floor = [(one.at, one.n - 1, one.sort, one.ms) for one in ours.holds if not one.station]
    assert floor == [(at - (count.went or 0), n, sort, ms) for at, n, sort, ms in count.holds if ms]
    assert (ours.head.holds, ours.head.held) == (len(floor), sum(one[3] for one in floor))


def head(plan: Session, ours: Tally, count: Count) -> None:
    told = ours.head
    assert (told.ended, told.segments, told.reps) == (count.over, len(count.begun), count.reps.total())
    assert told.early == count.early
    assert told.planned == sum(one.time for one in plan.segment)
    assert told.played == sum(ms for (_, sort), ms in count.ms.items() if sort not in HELD)
    assert told.live == sum(ms for (_, sort), ms in count.ms.items() if sort == "live")
    played = [(plan.segment[i].effort, ms) for (i, sort), ms in count.ms.items() if sort not in HELD]
    assert told.load == _loaded(sum(effort * ms for effort, ms in played if effort is not None))
    assert told.unknown == sum(ms for effort, ms in played if effort is None)
    assert told.effort == count.efforts.get("")


def players(plan: Session, ours: Tally, count: Count) -> None:
    assert [one.player for one in ours.players][: len(plan.squad.players)] == list(plan.squad.players)
    assert {one.player for one in ours.players} >= {player for player, _ in count.here_ms}
    for one in ours.players:
        here = {n: ms for (player, n), ms in count.here_ms.items() if player == one.player}
        on, waits = _shares(plan, count.role_ms, one.player)
        assert (one.here, one.played, one.standing) == (sum(here.values()), on, waits)
        assert one.reps == _shares(plan, count.role_reps, one.player)[0]
        points = sum(n for (_, _, side), n in count.points.items() if side == one.player)
        assert (one.paid, one.points, one.wins) == (count.paid[one.player], points, count.wins[one.player])
        assert one.load == _loaded(sum((plan.segment[n].effort or 0) * ms for n, ms in here.items()))
        assert one.effort == count.efforts.get(one.player)
        assert one.own_load == (None if one.effort is None else _loaded(one.effort * one.here))


def _shares(plan: Session, counts: Counter[tuple[str, int, int, str]], player: str) -> tuple[int, int]:
    """What of a player's counts was in roles that play, and what was not."""
    on = off = 0
    for (who, n, lane, role), count in counts.items():
        if who == player:
            play = plan.segment[n].station[lane - 1] if lane else plan.segment[n]
            plays = not role or any(one.plays for one in play.roles if one.name == role)
            on, off = on + count * plays, off + count * (not plays)
    return on, off


def roles(plan: Session, ours: Tally, count: Count) -> None:
    lanes = _numbers(plan)
    of = {(one.player, one.n - 1, lanes[one.station], one.role): (one.reps, one.ms) for one in ours.roles}
    assert of == {key: (count.role_reps[key], count.role_ms[key]) for key in {*count.role_ms, *count.role_reps}}


def scores(plan: Session, ours: Tally, count: Count) -> None:
    count.read_board()
    lanes = _numbers(plan)
    of = {(one.n - 1, lanes[one.station], one.side): one for one in ours.scores}
    for counted, field in ((count.points, "points"), (count.rows, "row"), (count.won, "wins"), (count.last, "last")):
        told = {key: n for key, one in of.items() if (n := getattr(one, field))}
        assert told == {key: n for key, n in counted.items() if n}, field
    tried = {key: (one.makes, one.attempts) for key, one in of.items() if one.attempts}
    assert tried == {key: (count.makes[key], n) for key, n in count.tried.items()}
    assert {one.who: one.wins for one in ours.wins} == {who: n for who, n in count.wins.items() if n}


def outcomes(plan: Session, ours: Tally, count: Count) -> None:
    lanes = _numbers(plan)
    of = {(one.n - 1, lanes[one.station], one.outcome): (one.counted, one.by_itself, one.not_counted) for one in ours.outcomes}
    keys = {key[:3] for key in count.outcomes}
    assert of == {key: tuple(count.outcomes[(*key, how)] for how in ("counted", "itself", "not")) for key in keys}


def targets(plan: Session, ours: Tally, count: Count) -> None:
    lanes, went = _numbers(plan), count.went or 0
    told = [(o.at + went, o.n - 1, lanes[o.station], o.side, o.why, o.score, o.next_best, o.pays) for o in ours.targets]
    assert told == [(*one[:7], ", ".join(one[7])) for one in count.targets]


def shots(plan: Session, ours: Tally, count: Count) -> None:
    known = {(one.n - 1, one.spot, one.round): (one.makes, one.attempts) for one in ours.shots if one.makes is not None}
    assert known == {key: (makes, of or plan.segment[key[0]].shots) for key, (makes, of) in count.shots.items()}
    wanted = {i for i in count.begun if plan.segment[i].spots} | {i for i, _, _ in count.shots}
    assert len(ours.shots) == sum(len(plan.segment[i].spots) * plan.segment[i].rounds for i in wanted)


def stations(plan: Session, ours: Tally, count: Count) -> None:
    lanes = _numbers(plan)
    of = {(one.n - 1, lanes[one.station]): (one.reps, one.live, one.held, one.lost) for one in ours.stations}
    known = {key[:2] for key, n in count.station.items() if key[1] and n}
    assert {key for key, counts in of.items() if any(counts)} == known
    assert all(of[key] == tuple(count.station[(*key, what)] for what in ("reps", "live", "held", "lost")) for key in known)


def facts(read: list[dict[str, Any]], ours: Tally, count: Count) -> None:
    went, told = count.went or 0, ours.head
    of = {what: [one for one in read if one["what"] == what] for what in ("cue heard", "cue dropped", "refused", "sound changed")}
    late = [one for one in of["cue heard"] if one["played"] - one["asked"] > 20]
    assert (told.cues, told.late, told.dropped) == (len(of["cue heard"]), len(late), len(of["cue dropped"]))
    assert [one.at + went for one in ours.cues if one.late is not None] == [one["asked"] for one in late]
    assert [one.late for one in ours.cues if one.late is not None] == [round(one["played"] - one["asked"]) for one in late]
    dropped = [(one.at + went, one.why) for one in ours.cues if one.late is None]
    assert dropped == [(one["at"], one["why"]) for one in of["cue dropped"]]
    refused = [(one.at + went, one.by, one.call, one.why) for one in ours.refused]
    assert refused == [(one["at"], one["by"], one["call"], one["why"]) for one in of["refused"]]
    assert (told.refused, told.taken_back, len(ours.sound)) == (len(refused), len(count.struck), len(of["sound changed"]))
    assert [(one.at + went, one.put_back) for one in ours.taken_back] == count.struck
    words = {one["at"]: one["words"] for one in read if one["what"] == "mark worded"}
    assert [(one.at + went, one.words) for one in ours.marks] == [(at, words.get(at, said)) for at, said in count.marks]
