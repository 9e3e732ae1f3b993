"""What a practice leaves in the history, counted from the events of its journal that stand."""

from collections import Counter
from collections.abc import Iterable, Iterator

from courttimer.care.load import Work as LoadWork, guessed
from courttimer.plan.model import Session
from courttimer.practice import events as ev
from courttimer.practice.events import Event
from courttimer.practice.scoring import RIVAL
from courttimer.practice.state import opening, play_of
from courttimer.report.parts import reps as reps_of
from courttimer.report.persons import People
from courttimer.report.rows import Player, Practice, Result, Rows, Shot, Work
from courttimer.report.scored import Scores
from courttimer.report.spans import HELD, Step, steps
from courttimer.report.stands import Stood, stands

COUNTED = 3
"""Raise it whenever this file counts otherwise: the history is then made anew from the journals."""


def rows(wall: str, session: Session, events: Iterable[Event]) -> Rows:
    """The rows of a practice that was begun at `wall`. Raises what `stands` raises."""
    told = tuple(events)
    day = next((e.day_ms for e in told if isinstance(e, ev.Opened)), 0)
    stood = stands(opening(session, day), told)
    walk = steps(stood, max((e.at for e in told), default=0))
    played, live = _times(walk)
    reps = reps_of(walk)
    load = guessed(LoadWork(effort=segment.effort, played=played[at]) for at, segment in enumerate(session.segment)).units
    practice = Practice(
        wall=wall, title=session.title, planned=sum(segment.time for segment in session.segment), played=sum(played.values()),
        live=sum(live.values()), reps=reps.total(), load=load, ended=bool(stood) and stood[-1].after.ended,
    )  # fmt: skip
    scores = Scores(session, 0).count(walk)
    shots = (*_shots(session, stood), *_tallied(session, scores))
    results = (*_reached(session, stood), *_made(session, stood))
    return Rows(
        practice=practice, work=tuple(_work(session, played, live, reps)), shots=shots, results=results,
        players=tuple(_players(session, walk, scores)),
    )  # fmt: skip


def _times(walk: tuple[Step, ...]) -> tuple[Counter[int], Counter[int]]:
    """ms that each segment ran, and that the ball was live in it, until the last known moment; holds left out."""
    played, live = Counter[int](), Counter[int]()
    for step in walk:
        if step.sort and step.sort not in HELD:
            played[step.after.segment] += step.ms
            live[step.after.segment] += step.ms * (step.sort == "live")
    return played, live


def _work(session: Session, played: Counter[int], live: Counter[int], reps: Counter[int]) -> Iterator[Work]:
    for kind in dict.fromkeys(segment.kind for segment in session.segment):
        of = [at for at, segment in enumerate(session.segment) if segment.kind == kind]
        planned = sum(session.segment[at].time for at in of)
        yield Work(kind=kind, planned=planned, **{n: sum(c[at] for at in of) for n, c in _named(played, live, reps)})


def _named(played: Counter[int], live: Counter[int], reps: Counter[int]) -> tuple[tuple[str, Counter[int]], ...]:
    return ("played", played), ("live", live), ("reps", reps)


def _entries(session: Session, stood: tuple[Stood, ...]) -> Iterator[tuple[str, str, int, int]]:
    """Drill, spot, makes and attempts of every round that was entered; entered again, the last entry counts."""
    entered = {(e.segment, e.spot, e.round): e for e, _ in stood if isinstance(e, ev.MakesEntered)}
    for e in entered.values():
        segment = session.segment[e.segment]
        yield segment.title, e.spot, e.makes, e.shots if e.shots is not None else segment.shots or e.makes


def _shots(session: Session, stood: tuple[Stood, ...]) -> Iterator[Shot]:
    makes, attempts = Counter[str](), Counter[str]()
    for _, spot, made, tried in _entries(session, stood):
        makes[spot] += made
        attempts[spot] += tried
    yield from (Shot(player=_alone(session), spot=spot, makes=makes[spot], attempts=attempts[spot]) for spot in attempts)


def _tallied(session: Session, scores: Scores) -> Iterator[Shot]:
    """The shots of a drill in which makes are counted for each player: where from is the drill."""
    makes, attempts = Counter[tuple[str, str]](), Counter[tuple[str, str]]()
    for one in scores.scores():
        if one.attempts and one.side in session.squad.players:
            makes[one.side, one.station or one.segment] += one.makes or 0
            attempts[one.side, one.station or one.segment] += one.attempts
    yield from (Shot(player=who, spot=where, makes=makes[who, where], attempts=n) for (who, where), n in attempts.items())


def _made(session: Session, stood: tuple[Stood, ...]) -> Iterator[Result]:
    makes = Counter[str]()
    for drill, _, made, _ in _entries(session, stood):
        makes[drill] += made
    yield from (Result(drill=drill, who=_alone(session), sort="makes", value=value) for drill, value in makes.items())


def _alone(session: Session) -> str:
    """Whose shots they are: the squad of one; nobody's by name when the file names no player, or several."""
    players = session.squad.players
    return players[0] if len(players) == 1 else ""


def _reached(session: Session, stood: tuple[Stood, ...]) -> Iterator[Result]:
    for e, after in stood:
        if isinstance(e, ev.TargetReached) and e.side:
            score, title = play_of(after, e.lane).score, session.segment[after.segment].title
            if score is not None and score.by == "rival":  # nobody's best is the rival's: ours, won or lost, is the drill's
                yield Result(drill=title, who="", sort="race", value=e.m if e.side == RIVAL else e.n)
            elif e.n:
                yield Result(drill=title, who=e.side, sort="row" if e.why == "row" else "race", value=e.n)


def _players(session: Session, walk: tuple[Step, ...], scores: Scores) -> Iterator[Player]:
    """Whoever was here while a segment ran, with what they really did."""
    for one in People(session).count(walk).persons(scores.points(), scores.wins, {}):
        if one.here:
            yield Player(player=one.player, played=one.played, reps=one.reps, load=one.load, wins=one.wins)
