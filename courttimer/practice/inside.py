"""What may be seen inside a drill: its score, who is where, its stations and its spots."""

from collections.abc import Iterator

from courttimer.plan.derived import outcomes_of
from courttimer.plan.model import Score, Segment, Station, Turn
from courttimer.plan.times import spell
from courttimer.practice import lineup
from courttimer.practice.event import Standing
from courttimer.practice.lane import Lane
from courttimer.practice.play_calls import ACCEPT_MS, round_of
from courttimer.practice.rules import situation
from courttimer.practice.scoring import Sheet, members
from courttimer.practice.sides import scored_sides
from courttimer.practice.spots import next_spot, round_over, spot_now
from courttimer.practice.state import State, own, play_of
from courttimer.practice.view import Attendance, Inside, RoleView, ScoreLine, SpotView, StationView, WindowView
from courttimer.squad.fair import begun

WON_MS = 15_000
"""So long it is told who has won, when the next race has begun at once."""


def inside(s: State, at: int) -> Inside:
    """The inside of what runs now; when nothing does, the wins, and spots that were the last segment."""
    if not s.on or not s.lanes:
        return _afterwards(s)
    n = s.chosen if s.chosen < len(s.lanes) else 0
    play, lane, segment = play_of(s, n), s.lanes[n], s.plan.segment[s.segment]
    late = lane.late[0] if lane.late is not None and at - lane.late[1] <= ACCEPT_MS else ""
    pays = segment.consequence if lane.stretch == "consequence" else None
    shot = spots_of(s)
    return Inside(
        target=target(play.score), score=lines(lane.sheet), sides=scored_sides(s, n), roles=tuple(roles(play, lane.standing)),
        next=tuple(roles(play, after_this(play, lane))), told=lane.told, late=late,
        outcomes=tuple(enumerate((one.name for one in outcomes_of(play)), 1)), windows=tuple(w.name for w in play.window),
        won=lane.sheet.won or (lane.last_won[0] if lane.last_won and at - lane.last_won[1] <= WON_MS else ""),
        does=" ".join(filter(None, (pays.say, ", ".join(_payers(s, lane))))) if pays else "",
        stations=tuple(_stations(s, at)), chosen=s.chosen, spot=spot_now(s), spot_next=next_spot(s),
        spots=tuple(_spots(s, shot)), enter=_entering(s, shot), round=0 if shot is None else round_of(s, shot),
        shots=None if shot is None else s.plan.segment[shot].shots, wins=s.wins, ball=segment.game.ball if segment.game else "",
    )  # fmt: skip


def _payers(s: State, lane: Lane) -> tuple[str, ...]:
    """Who does the consequence, by their teams where there are teams; who is hurt is no more among them."""
    here = tuple(one for one in lane.payers if one in s.here)
    return tuple(name for name, names in lane.units if {*names} & {*here}) or here


def _afterwards(s: State) -> Inside:
    """Makes of the last round can be entered when the practice is over, if it ended at the spots."""
    segment = s.plan.segment[s.segment] if s.ended and s.segment >= 0 else None
    if segment is None or not segment.spots:
        return Inside(wins=s.wins)
    return Inside(wins=s.wins, spots=tuple(_spots(s, s.segment)), enter=True, round=segment.rounds, shots=segment.shots)


def _entering(s: State, shot: int | None) -> bool:
    """Are makes to be entered? Also when the spots are just over, and the next rep has not begun."""
    if shot is None or shot == s.segment:
        return round_over(s)
    return shot == s.segment - 1 and not s.lanes[0].live and not s.lanes[0].rep


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


def after_this(play: Segment | Station, lane: Lane) -> Standing:
    """Who stands where after the turn that the rep brings; nothing when none is known beforehand."""
    turn = play.rep.turn if play.rep is not None else Turn()
    if not lane.standing or turn.how in ("", "winners stay"):
        return ()
    past = lane.past or begun(())
    past = past if lane.live else lineup.played(past, lane.standing, play)
    after = lineup.turned(play, lane.standing, lane.units, past, turn, number=lane.turns)
    return after if turn.how in ("fair", "advance", "round robin") else lineup.relieved(play, after, past)


def roles(play: Segment | Station, standing: Standing) -> Iterator[RoleView]:
    """Who is where, place by place."""
    known = {role.name: role for role in play.roles}
    for place, at_place in enumerate(standing, 1):
        for role, names in at_place:
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


def spots_of(s: State) -> int | None:
    """The segment whose spots are being shot, or were shot just before this one."""
    near = (i for i in (s.segment, s.segment - 1) if i >= 0 and s.plan.segment[i].spots)
    return next(near, None)


def _spots(s: State, shot: int | None) -> Iterator[SpotView]:
    if shot is None:
        return
    segment = s.plan.segment[shot]
    entered = {(x.spot, x.round): x.makes for x in s.entries if x.segment == shot}
    for turn in range(1, segment.rounds + 1):
        for spot in segment.spots:
            yield SpotView(spot=spot, round=turn, makes=entered.get((spot, turn)), shots=segment.shots)


def attendance(s: State) -> Attendance:
    """Who is here, who warms up, who is not here."""
    warming = tuple(who for who, _ in s.warming)
    away = tuple(one for one in s.plan.squad.players if one not in s.here and one not in warming)
    late = tuple(one for one in away if one in s.expected)
    return Attendance(here=s.here, warming=warming, away=away, late=late, staff=s.plan.staff.coaches, staff_out=s.staff_out)
