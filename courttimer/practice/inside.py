"""What may be seen inside a drill: its score, who is where, its stations and its spots."""

from collections.abc import Iterator

from courttimer.plan.derived import outcomes_of
from courttimer.plan.model import Score, Segment, Station
from courttimer.plan.times import spell
from courttimer.practice.lane import Lane
from courttimer.practice.played import ACCEPT_MS
from courttimer.practice.rules import situation
from courttimer.practice.scoring import Sheet, members
from courttimer.practice.sides import scored_sides
from courttimer.practice.spots import round_over, spot_now
from courttimer.practice.state import State, own, play_of
from courttimer.practice.view import Attendance, Inside, RoleView, ScoreLine, SpotView, StationView, WindowView


def inside(s: State, at: int) -> Inside:
    """The inside of what runs now, or the wins alone when nothing does."""
    if not s.on or not s.lanes:
        return Inside(wins=s.wins)
    play, lane = play_of(s, s.chosen if s.chosen < len(s.lanes) else 0), s.lanes[s.chosen if s.chosen < len(s.lanes) else 0]
    segment = s.plan.segment[s.segment]
    late = lane.late[0] if lane.late is not None and at - lane.late[1] <= ACCEPT_MS else ""
    return Inside(
        target=target(play.score), score=lines(lane.sheet), sides=scored_sides(s, s.chosen if s.chosen < len(s.lanes) else 0),
        roles=tuple(roles(play, lane)), told=lane.told, late=late, stations=tuple(_stations(s, at)), chosen=s.chosen,
        spot=spot_now(s), spots=tuple(_spots(s)), enter=round_over(s), shots=segment.shots, wins=s.wins,
        ball=segment.game.ball if segment.game else "",
    )  # fmt: skip


def target(score: Score | None) -> str:
    """What a score is about, in words."""
    if score is None:
        return ""
    if score.row:
        return f"{score.row} in a row"
    if score.race:
        by = f", by {score.win_by}" if score.win_by > 1 else ""
        return f"first to {score.race}{by}{f', {spell(score.cap)} at most' if score.cap else ''}"
    return "makes of attempts"


def lines(sheet: Sheet) -> tuple[ScoreLine, ...]:
    """The score, a line a side."""
    points, rows, best = dict(sheet.points), dict(sheet.rows), dict(sheet.best)
    makes = {side: (made, tried) for side, made, tried in sheet.makes}
    return tuple(
        ScoreLine(side=side, points=points.get(side, 0), row=rows.get(side, 0), best=best.get(side, 0),
                  makes=makes.get(side, (0, 0))[0], attempts=makes.get(side, (0, 0))[1])
        for side in dict.fromkeys((*points, *rows, *makes))
    )  # fmt: skip


def roles(play: Segment | Station, lane: Lane) -> Iterator[RoleView]:
    """Who is where, place by place."""
    known = {role.name: role for role in play.roles}
    for place, standing in enumerate(lane.standing, 1):
        for role, names in standing:
            plays, does = (known[role].plays, known[role].does) if role in known else (False, "")
            yield RoleView(place=place, role=role, names=names, plays=plays, does=does)


def _stations(s: State, at: int) -> Iterator[StationView]:
    segment, common = s.plan.segment[s.segment], s.lanes[0]
    for n, station in enumerate(segment.station, 1):
        lane = s.lanes[n] if n < len(s.lanes) else Lane()
        group = common.standing[n - 1][0][1] if n <= len(common.standing) else ()
        ends = lane.ends if lane.stretch else None
        mine = own(s, lane, at)
        yield StationView(
            number=n, name=station.name, lead=station.lead, lead_out=station.lead in s.staff_out, group=", ".join(group),
            players=members(common.units, group), word=situation(s, n) if n < len(s.lanes) else "", live=lane.live,
            left=None if ends is None else max(ends - mine, 0), rep=lane.rep,
            windows=tuple(WindowView(name=w.name, left=max(w.ends - mine, 0), lasts=w.lasts) for w in lane.windows),
            outcomes=tuple(enumerate((one.name for one in outcomes_of(station)), 1)), score=lines(lane.sheet), chosen=s.chosen == n,
        )  # fmt: skip


def _spots(s: State) -> Iterator[SpotView]:
    segment = s.plan.segment[s.segment]
    entered = {(x.spot, x.round): x.makes for x in s.entries if x.segment == s.segment}
    for turn in range(1, segment.rounds + 1) if segment.spots else ():
        for spot in segment.spots:
            yield SpotView(spot=spot, round=turn, makes=entered.get((spot, turn)), shots=segment.shots)


def attendance(s: State) -> Attendance:
    """Who is here, who warms up, who is not here."""
    warming = tuple(who for who, _ in s.warming)
    away = tuple(one for one in s.plan.squad.players if one not in s.here and one not in warming)
    return Attendance(here=s.here, warming=warming, away=away, staff_out=s.staff_out)
