"""The report on one practice: everything in it counted, from the events of its journal and nothing else."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from courttimer.care.load import Load, Work, guessed
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
from courttimer.report.persons import People, subs
from courttimer.report.rested import rest_advice
from courttimer.report.scored import Scores, shots
from courttimer.report.spans import HELD, SORTS, Step, steps
from courttimer.report.stands import stands


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """The report, table by table. What was taken back counts nowhere but in `taken_back`; facts count in any case."""

    practice: tuple[Head]
    segments: tuple[Part, ...]
    times: tuple[Time, ...]
    spent: tuple[Spent, ...]
    course: tuple[Ran, ...]
    changes: tuple[Change, ...]
    holds: tuple[Hold, ...]
    scores: tuple[Score, ...]
    outcomes: tuple[Happened, ...]
    targets: tuple[Target, ...]
    wins: tuple[Win, ...]
    shots: tuple[Made, ...]
    players: tuple[Person, ...]
    roles: tuple[InRole, ...]
    stations: tuple[AtStation, ...]
    marks: tuple[Mark, ...]
    advice: tuple[Advised, ...]
    cues: tuple[Cue, ...]
    sound: tuple[Sound, ...]
    refused: tuple[No, ...]
    taken_back: tuple[Struck, ...]
    notes: tuple[str, ...]
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
    went = final.went or 0
    scores = Scores(session, went).count(walk)
    people = People(session).count(walk)
    efforts = noted.efforts(walk)
    begun = {step.event.segment for step in walk if isinstance(step.event, ev.SegmentBegan)}
    parts = tuple(_parts(session, walk))
    heard = tuple(noted.cues(told, went))
    no, back = tuple(noted.refused(told, went)), noted.taken_back(told, went)
    held = tuple(sorted(noted.holds(walk, went)))
    return Tally(
        practice=(_head(wall, session, parts, final, held, efforts.get(""), told, heard, len(no), len(back)),), segments=parts,
        times=tuple(_times(walk)), spent=tuple(_spent(session, walk)), course=tuple(_course(session, walk, went)),
        changes=changes(session, walk, went), holds=held,
        scores=tuple(scores.scores()), outcomes=tuple(scores.happened()), targets=tuple(scores.targets), wins=tuple(scores.won()),
        shots=tuple(shots(session, final, begun)), players=tuple(people.persons(scores.points(), scores.wins, efforts)),
        roles=tuple(people.in_roles()), stations=tuple(noted.stations(session, walk)), marks=tuple(noted.marks(walk, told, went)),
        advice=tuple(Advised(one.where, one.text, one.source) for one in rest_advice(stood)), cues=heard,
        sound=tuple(noted.sounds(told, went)), refused=no, taken_back=back, notes=tuple(_notes(session, walk)),
    )  # fmt: skip


def _by_sort(walk: tuple[Step, ...]) -> Counter[tuple[int, str]]:
    """ms by segment and sort."""
    found: Counter[tuple[int, str]] = Counter()
    for step in walk:
        if step.sort:
            found[step.after.segment, step.sort] += step.ms
    return +found


def reps(walk: tuple[Step, ...]) -> Counter[int]:
    """Reps of each segment, those at its stations too; one that a hold broke off and that was played again counts once."""
    ended = (step for step in walk if isinstance(step.event, ev.RepEnded) and step.event.why != "held")
    return Counter(step.after.segment for step in ended if step.event.lane > 0 or not _common(step.after))


def _common(s: State) -> bool:
    """Is lane 0 only the clock that the stations have in common?"""
    return s.running is not None and s.running.kind == "stations"


def _parts(session: Session, walk: tuple[Step, ...]) -> Iterator[Part]:
    ms, done = _by_sort(walk), reps(walk)
    ends = _ends(walk)
    for i, one in enumerate(session.segment):
        of = {sort: ms[i, sort] for sort in SORTS}
        played = sum(of.values()) - sum(of[sort] for sort in HELD)
        yield Part(
            i + 1, one.title, one.kind, one.time, played, of["live"], of["off"], of["set-up"],
            played - of["live"] - of["off"] - of["set-up"], sum(of[sort] for sort in HELD), done[i],
            ends.get(i, "not played"),
        )  # fmt: skip


def _ends(walk: tuple[Step, ...]) -> dict[int, str]:
    """How each segment that was begun ended, the last time that it did."""
    found = {}
    for step in walk:
        if isinstance(step.event, ev.SegmentBegan):
            found[step.event.segment] = "still on"
        elif isinstance(step.event, ev.SegmentEnded):
            found[step.event.segment] = step.event.why
    return found


def _times(walk: tuple[Step, ...]) -> Iterator[Time]:
    ms = _by_sort(walk)
    for sort in SORTS:
        if whole := sum(n for (_, of), n in ms.items() if of == sort):
            yield Time(sort, whole)


def _spent(session: Session, walk: tuple[Step, ...]) -> Iterator[Spent]:
    for (i, sort), ms in sorted(_by_sort(walk).items(), key=lambda one: (one[0][0], SORTS.index(one[0][1]))):
        yield Spent(i + 1, session.segment[i].title, sort, ms)


def _course(session: Session, walk: tuple[Step, ...], went: int) -> Iterator[Ran]:
    for (on, i, what), of in groupby(walk, key=_runs):
        run = tuple(of)
        if on and (ms := sum(step.ms for step in run)):
            yield Ran(run[0].event.at - went, i + 1, session.segment[i].title, what, ms)


def _runs(step: Step) -> tuple[bool, int, str]:
    return step.after.on, step.after.segment, step.sort if step.sort in HELD else "played"


def load_of(session: Session, parts: tuple[Part, ...]) -> Load:
    """The coach's guess for the whole practice."""
    return guessed(Work(segment.effort, part.played) for segment, part in zip(session.segment, parts, strict=True))


def _head(
    wall: str, session: Session, parts: tuple[Part, ...], final: State, held: tuple[Hold, ...], effort: int | None,
    told: tuple[Event, ...], heard: tuple[Cue, ...], no: int, back: int,
) -> Head:  # fmt: skip
    load = load_of(session, parts)
    floor = [one for one in held if not one.station]
    dropped = sum(one.late is None for one in heard)
    return Head(
        wall=wall, title=session.title, ended=final.ended, planned=sum(one.planned for one in parts),
        played=sum(one.played for one in parts), live=sum(one.live for one in parts), reps=sum(one.reps for one in parts),
        segments=sum(one.why != "not played" for one in parts), holds=len(floor), held=sum(one.ms for one in floor),
        load=load.units, unknown=load.unknown, effort=effort, cues=sum(isinstance(e, ev.CueHeard) for e in told),
        late=len(heard) - dropped, dropped=dropped, refused=no, taken_back=back,
    )  # fmt: skip


def _notes(session: Session, walk: tuple[Step, ...]) -> Iterator[str]:
    alike = [session.segment[i].title for i in subs(walk)]
    if alike:
        yield f"In {', '.join(dict.fromkeys(alike))} each team subs itself: all its players have its reps and minutes."
    if any(segment.effort is None for segment in session.segment):
        yield "The load leaves out segments without an effort in the file."
