"""The report on one practice: everything in it counted, from the events of its journal and nothing else."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from courttimer.care.load import Work, guessed
from courttimer.plan.model import Session
from courttimer.practice import events as ev
from courttimer.practice.event import Event
from courttimer.practice.state import State, opening
from courttimer.report import noted
from courttimer.report.changes import changes
from courttimer.report.entries import (
    Advised,
    AtStation,
    Change,
    Cue,
    Happened,
    Head,
    Hold,
    InRole,
    Made,
    Mark,
    No,
    Part,
    Person,
    Ran,
    Score,
    Sound,
    Spent,
    Struck,
    Target,
    Time,
    Win,
)
from courttimer.report.parts import NOT_PLAYED, course, parts, spent, times
from courttimer.report.persons import People, subs
from courttimer.report.rested import rest_advice
from courttimer.report.scored import Scores, shots
from courttimer.report.spans import Step, steps
from courttimer.report.stands import stands


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """The report, table by table. What was taken back counts nowhere but in `taken_back`; facts count in any case."""

    practice: tuple[Head, ...] = ()
    segments: tuple[Part, ...] = ()
    times: tuple[Time, ...] = ()
    spent: tuple[Spent, ...] = ()
    course: tuple[Ran, ...] = ()
    changes: tuple[Change, ...] = ()
    holds: tuple[Hold, ...] = ()
    scores: tuple[Score, ...] = ()
    outcomes: tuple[Happened, ...] = ()
    targets: tuple[Target, ...] = ()
    wins: tuple[Win, ...] = ()
    shots: tuple[Made, ...] = ()
    players: tuple[Person, ...] = ()
    roles: tuple[InRole, ...] = ()
    stations: tuple[AtStation, ...] = ()
    marks: tuple[Mark, ...] = ()
    advice: tuple[Advised, ...] = ()
    cues: tuple[Cue, ...] = ()
    sound: tuple[Sound, ...] = ()
    refused: tuple[No, ...] = ()
    taken_back: tuple[Struck, ...] = ()
    notes: tuple[str, ...] = ()
    """How some of it was counted, a sentence each."""

    @property
    def head(self) -> Head:
        return self.practice[0]


def tally(wall: str, session: Session, events: Iterable[Event]) -> Tally:
    """The report on the practice that was begun at `wall`. Raises what `stands` raises."""
    told = tuple(events)
    first = opening(session, next((e.day_ms for e in told if isinstance(e, ev.Opened)), 0))
    stood = stands(first, told)
    walk = steps(stood, max((e.at for e in told), default=0))
    final = stood[-1].after if stood else first
    advice = tuple(Advised(one.where, one.text, one.source) for one in rest_advice(stood))
    body = replace(_played(session, walk, final), advice=advice, **_noted(told, walk, final.went or 0))
    return replace(body, practice=(_head(wall, session, body, final, walk, told),))


def _played(session: Session, walk: tuple[Step, ...], final: State) -> Tally:
    went = final.went or 0
    scores = Scores(session, went).count(walk)
    people = People(session).count(walk)
    begun = {step.event.segment for step in walk if isinstance(step.event, ev.SegmentBegan)}
    return Tally(
        segments=parts(session, walk), times=times(walk), spent=spent(session, walk), course=course(session, walk, went),
        changes=changes(session, walk, went), holds=tuple(sorted(noted.holds(walk, went))), scores=tuple(scores.scores()),
        outcomes=tuple(scores.happened()), targets=tuple(scores.targets), wins=tuple(scores.won()),
        shots=tuple(shots(session, final, begun)), roles=tuple(people.in_roles()), stations=tuple(noted.stations(session, walk)),
        players=tuple(people.persons(scores.points(), scores.wins, noted.efforts(walk))), notes=tuple(_notes(session, walk)),
    )  # fmt: skip


def _noted(told: tuple[Event, ...], walk: tuple[Step, ...], went: int) -> dict[str, Any]:
    """What was written down beside the play itself."""
    return {
        "marks": tuple(noted.marks(walk, told, went)), "cues": tuple(noted.cues(told, went)), "sound": tuple(noted.sounds(told, went)),
        "refused": tuple(noted.refused(told, went)), "taken_back": noted.taken_back(told, went),
    }  # fmt: skip


def _head(wall: str, session: Session, body: Tally, final: State, walk: tuple[Step, ...], told: tuple[Event, ...]) -> Head:
    load = guessed(Work(segment.effort, part.played) for segment, part in zip(session.segment, body.segments, strict=True))
    floor = [one for one in body.holds if not one.station]
    dropped = sum(one.late is None for one in body.cues)
    return Head(
        wall=wall, title=session.title, ended=final.ended, planned=sum(one.planned for one in body.segments),
        played=sum(one.played for one in body.segments), live=sum(one.live for one in body.segments),
        reps=sum(one.reps for one in body.segments), segments=sum(one.why != NOT_PLAYED for one in body.segments), holds=len(floor),
        held=sum(one.ms for one in floor), early=_early(final, walk), load=load.units, unknown=load.unknown,
        effort=noted.efforts(walk).get(""), cues=sum(isinstance(e, ev.CueHeard) for e in told), late=len(body.cues) - dropped,
        dropped=dropped, refused=len(body.refused), taken_back=len(body.taken_back),
    )  # fmt: skip


def _early(final: State, walk: tuple[Step, ...]) -> int | None:
    """How long before the floor had to be cleared the practice ended, in ms."""
    if not final.ended or final.floor_ends is None:
        return None
    return final.floor_ends - next(step.event.at for step in reversed(walk) if isinstance(step.event, ev.PracticeEnded))


def _notes(session: Session, walk: tuple[Step, ...]) -> Iterator[str]:
    alike = [session.segment[i].title for i in subs(walk)]
    if alike:
        yield f"In {', '.join(dict.fromkeys(alike))} each team subs itself: all its players have its reps and minutes."
    if any(isinstance(step.event, ev.HeatChanged) and step.event.anyway for step in walk):
        yield "It was too hot by the last level; whoever led it confirmed to practise anyway."
    if any(segment.effort is None for segment in session.segment):
        yield "The load leaves out segments without an effort in the file."
