"""What stood still, what was heard late or not at all, what was refused, marked and taken back in one practice."""

from collections.abc import Iterable, Iterator
from itertools import groupby

from courttimer.plan.model import Session
from courttimer.practice import events as ev
from courttimer.practice.event import Event
from courttimer.practice.state import State, stands
from courttimer.report.entries import AtStation, Cue, Hold, Mark, No, Sound, Struck
from courttimer.report.spans import HELD, Step, lane_name

LATE_MS = 20
"""A cue that sounds later than this after the moment it was asked for is told."""


def holds(steps: Iterable[Step], went: int) -> Iterator[Hold]:
    """Each time the floor's clock stood, and each time only a station's did."""
    told = tuple(steps)
    for sort, of in groupby(told, key=lambda one: one.sort):
        run = tuple(of)
        if sort in HELD and (ms := sum(one.ms for one in run)):
            yield _hold(run, "", sort, ms, went)
    for n in range(1, max((len(one.after.lanes) for one in told), default=1)):
        yield from _own_holds(told, n, went)


def _own_holds(told: tuple[Step, ...], n: int, went: int) -> Iterator[Hold]:
    for stood, of in groupby(told, key=lambda one: _own(one.after, n)):
        run = tuple(of)
        if stood and (ms := sum(one.ms for one in run)):
            yield _hold(run, lane_name(run[0].after, n), "hold", ms, went)


def _own(s: State, n: int) -> bool:
    """Does this station stand by itself, while the common clock runs?"""
    return n < len(s.lanes) and not s.held and s.lanes[n].clock.held is not None and not s.lanes[n].ended


def _hold(run: tuple[Step, ...], station: str, sort: str, ms: int, went: int) -> Hold:
    s = run[0].after
    why = _why(run[0].event) + ", counted as the water" * any(isinstance(one.event, ev.WaterTaken) for one in run)
    return Hold(run[0].event.at - went, s.segment + 1, s.running.title if s.running else "", station, sort, ms, why)


def _why(e: Event) -> str:
    match e:
        case ev.Held():
            return "called" if e.why == "call" else e.why
        case ev.ThunderHeard():
            return "thunder"
    return "called"


def stations(session: Session, steps: Iterable[Step]) -> Iterator[AtStation]:
    """What was done at each station, and what it lost by standing still while the others went on."""
    found: dict[tuple[int, int], list[int]] = {}
    for step in steps:
        e, s = step.event, step.after
        for n in range(1, len(s.lanes)):
            counts = found.setdefault((s.segment, n), [0, 0, 0, 0])
            counts[1] += step.ms * (s.lanes[n].live and not stands(s, s.lanes[n]))
            counts[2] += step.ms * _own(s, n)
        if e.lane > 0 and isinstance(e, ev.RepEnded):
            found[s.segment, e.lane][0] += e.why != "held"
        if isinstance(e, ev.StationEnded):
            found[s.segment, e.lane][3] += e.lost
    for (i, n), counts in sorted(found.items()):
        segment = session.segment[i]
        yield AtStation(i + 1, segment.title, segment.station[n - 1].name, *counts)


def cues(events: Iterable[Event], went: int) -> Iterator[Cue]:
    """Those that came late or were dropped, in the order of the journal."""
    for e in events:
        if isinstance(e, ev.CueDropped):
            yield Cue(e.at - went, cue_name(e.cue), None, e.why)
        elif isinstance(e, ev.CueHeard) and e.played - e.asked > LATE_MS:
            yield Cue(e.asked - went, cue_name(e.cue), round(e.played - e.asked), "late")


def cue_name(cue: str) -> str:
    """ "horn" of "0.32000.horn.1": without its lane, when its stretch began, and its number."""
    parts = cue.split(".")
    return ".".join(parts[2:-1]) if len(parts) > 3 else cue


def sounds(events: Iterable[Event], went: int) -> Iterator[Sound]:
    yield from (Sound(e.at - went, e.speaker, e.change) for e in events if isinstance(e, ev.SoundChanged))


def refused(events: Iterable[Event], went: int) -> Iterator[No]:
    yield from (No(e.at - went, e.by, e.call, e.why) for e in events if isinstance(e, ev.Refused))


def marks(steps: Iterable[Step], events: Iterable[Event], went: int) -> Iterator[Mark]:
    """Marks that stand, numbered from 1; words that were put to one later replace those it had."""
    words = {e.at: e.words for e in events if isinstance(e, ev.MarkWorded)}
    made = [step for step in steps if isinstance(step.event, ev.Marked)]
    for number, step in enumerate(made, 1):
        e, s = step.event, step.after
        said = e.words if isinstance(e, ev.Marked) else ""
        yield Mark(number, e.at - went, s.segment + 1, s.running.title if s.running else "", words.get(e.at, said))


def taken_back(events: Iterable[Event], went: int) -> tuple[Struck, ...]:
    """Every call that was taken back, and whether it was put back afterwards."""
    told: list[Struck] = []
    ahead: list[int] = []
    for e in events:
        if isinstance(e, ev.TakenBack):
            ahead.append(len(told))
            told.append(Struck(e.at - went, e.call, put_back=False))
        elif isinstance(e, ev.PutBack) and ahead:
            at = ahead.pop()
            told[at] = told[at]._replace(put_back=True)
        elif e.source == "call":
            ahead.clear()
    return tuple(told)


def efforts(steps: Iterable[Step]) -> dict[str, int]:
    """The last effort that each named; the coach's own word has no name."""
    return {step.event.who: step.event.effort for step in steps if isinstance(step.event, ev.EffortGiven)}
