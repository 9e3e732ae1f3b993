"""What was scored and made in one practice: points, rows, tallies, outcomes, targets and wins, drill by drill."""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from courttimer.plan.model import Session
from courttimer.practice import events as ev
from courttimer.practice.event import Event
from courttimer.practice.state import State, play_of
from courttimer.report.entries import Happened, Made, Score, Target, Win
from courttimer.report.spans import Step, lane_name
from courttimer.report.wilson import wilson


class _Where(NamedTuple):
    """A drill or a station."""

    segment: int
    lane: int
    station: str


Sided = tuple[_Where, str]


class Scores:
    """The counts of one practice, added up step by step."""

    def __init__(self, session: Session, went: int) -> None:
        self._session = session
        self._went = went
        self._points: Counter[Sided] = Counter()
        self._rows: dict[Sided, int] = {}
        self._makes: Counter[Sided] = Counter()
        self._tried: Counter[Sided] = Counter()
        self._won: Counter[Sided] = Counter()
        self._last: dict[Sided, int] = {}
        self._sides: dict[Sided, None] = {}
        self._outcomes: dict[tuple[_Where, str], list[int]] = {}
        self.targets: list[Target] = []
        self.wins: Counter[str] = Counter()

    def count(self, steps: Iterable[Step]) -> "Scores":
        final = None
        for step in steps:
            self._event(step.event, step.after)
            if step.before is not None and _leaves(step.event, step.before):
                self._keep(step.before)
            final = step.after
        if final is not None and final.on:
            self._keep(final)
        return self

    def _event(self, e: Event, s: State) -> None:
        where = _Where(s.segment, max(e.lane, 0), lane_name(s, e.lane))
        match e:
            case ev.Scored():
                self._scored(e, where)
            case ev.ScoreCorrected():
                self._corrected(e, s, where)
            case ev.TargetReached():
                self._reached(e, where)
            case ev.OutcomeHappened():
                self._outcome(where, e.outcome)[0 if e.counts else 2] += 1
            case ev.OutcomeCame():
                counts = self._outcome(where, e.outcome)
                counts[0] += 1
                counts[1] += 1

    def _outcome(self, where: _Where, name: str) -> list[int]:
        return self._outcomes.setdefault((where, name), [0, 0, 0])

    def _scored(self, e: ev.Scored, where: _Where) -> None:
        for side, more in e.points:
            self._points[self._side(where, side)] += more
        for side, long in e.rows:
            self._longest(self._side(where, side), long)
        for side, made, tried in e.makes:
            self._makes[self._side(where, side)] += made
            self._tried[where, side] += tried

    def _side(self, where: _Where, side: str) -> Sided:
        self._sides[where, side] = None
        return where, side

    def _longest(self, sided: Sided, long: int) -> None:
        self._rows[sided] = max(long, self._rows.get(sided, 0))

    def _corrected(self, e: ev.ScoreCorrected, s: State, where: _Where) -> None:
        score = play_of(s, where.lane).score
        if score is not None and score.counted == "players":
            self.wins[e.side] += e.amount
            self._won[self._side(where, e.side)] += e.amount
        elif score is not None and score.row:
            self._longest(self._side(where, e.side), dict(s.lanes[where.lane].sheet.rows)[e.side])
        else:
            self._points[self._side(where, e.side)] += e.amount

    def _reached(self, e: ev.TargetReached, where: _Where) -> None:
        title = self._session.segment[where.segment].title
        pays = ", ".join(e.pays)
        self.targets.append(Target(e.at - self._went, where.segment + 1, title, where.station, e.side, e.why, e.n, e.m, pays))
        self.wins.update(e.winners)
        if e.side:
            self._won[self._side(where, e.side)] += 1

    def _keep(self, s: State) -> None:
        """The score as it stood on the board at the end of a segment, and when groups leave their stations."""
        for n, lane in enumerate(s.lanes):
            for side, points in lane.sheet.points:
                self._last[self._side(_Where(s.segment, n, lane_name(s, n)), side)] = points

    def points(self) -> Counter[str]:
        """Points by side, over the practice."""
        out: Counter[str] = Counter()
        for (_, side), points in self._points.items():
            out[side] += points
        return out

    def scores(self) -> Iterator[Score]:
        """A line for each side of each drill, the best first."""
        for sided in sorted(self._sides, key=lambda one: (one[0], -self._points[one], -self._makes[one], one[1])):
            where, side = sided
            tried = self._tried.get(sided)
            makes = self._makes[sided] if tried is not None else None
            yield Score(
                where.segment + 1, self._session.segment[where.segment].title, where.station, side, self._points[sided],
                self._rows.get(sided), makes, tried, *shares(makes, tried), self._won[sided], self._last.get(sided),
            )  # fmt: skip

    def happened(self) -> Iterator[Happened]:
        """A line for each outcome of each drill, in the order in which they first happened there."""
        for (where, name), counts in sorted(self._outcomes.items(), key=lambda one: one[0][0]):
            yield Happened(where.segment + 1, self._session.segment[where.segment].title, where.station, name, *counts)

    def won(self) -> Iterator[Win]:
        """Who has won how often, the best first; teams and groups too."""
        squad, teams = self._session.squad.players, dict(self._session.squad.teams)
        for who, wins in sorted(self.wins.items(), key=lambda one: (-one[1], one[0])):
            if wins:
                yield Win(who, "player" if who in squad else "team" if who in teams else "group", wins)


def shares(makes: int | None, tried: int | None) -> tuple[float | None, float | None, float | None]:
    """The share of makes with the ends of its 95 % Wilson interval; nothing where it is not known."""
    if makes is None or not tried or not 0 <= makes <= tried:
        return None, None, None
    return makes / tried, *wilson(makes, tried)


def shots(session: Session, final: State, begun: Iterable[int]) -> Iterator[Made]:
    """Every spot and round of the spots that were begun; what nobody entered is unknown, not nought."""
    entered = {(one.segment, one.spot, one.round): one for one in final.entries}
    for i in sorted({*begun, *(segment for segment, _, _ in entered)}):
        segment = session.segment[i]
        for turn in range(1, segment.rounds + 1):
            for spot in dict.fromkeys(segment.spots):
                one = entered.get((i, spot, turn))
                makes = None if one is None else one.makes
                tried = None if one is None else segment.shots if one.shots is None else one.shots
                yield Made(i + 1, segment.title, spot, turn, makes, tried, *shares(makes, tried))


def _leaves(e: Event, s: State) -> bool:
    """Afterwards the board may show the score of others."""
    stations = s.running is not None and s.running.kind == "stations"
    return isinstance(e, ev.SegmentEnded) or (isinstance(e, ev.RepEnded) and e.lane == 0 and stations)
