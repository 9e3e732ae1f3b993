"""What made each segment longer or shorter than planned, and why."""

from collections.abc import Iterable, Iterator

from courttimer.plan.model import Session
from courttimer.practice import events as ev
from courttimer.practice.event import Event
from courttimer.practice.state import State
from courttimer.report.entries import Change
from courttimer.report.spans import HELD, Step

_EARLY = {
    "moved": "moved on", "last": "the last one was called", "target": "the target was reached", "called off": "the practice was ended",
    "time": "time",
}  # fmt: skip

_CAUSES: dict[type[Event], str] = {ev.HoldEnded: ", after a hold", ev.Lengthened: ", after a call"}
"""What the rest is made to fit after; else a segment has just begun, early or late."""


def changes(session: Session, steps: Iterable[Step], went: int) -> tuple[Change, ...]:
    """In the order in which they came; `at` is counted from `went`. Of each segment: planned and these add up to played."""
    walk = _Walk(session, went)
    told = [change for step in steps for change in walk.take(step)]
    return (*told, *walk.left())


class _Walk:
    """What each segment is to last as far as is known, and which of them are over."""

    def __init__(self, session: Session, went: int) -> None:
        self._titles = [segment.title for segment in session.segment]
        self._due = [segment.time for segment in session.segment]
        self._went = went
        self._over: set[int] = set()
        self._running: int | None = None
        self._played = 0
        self._ended = False
        self._cause = ""

    def take(self, step: Step) -> Iterator[Change]:
        e, s = step.event, step.after
        if isinstance(e, ev.SegmentEnded):
            yield from self._ends(e)
        elif isinstance(e, ev.SegmentBegan):
            yield from self._begins(e)
        self._cause = _CAUSES.get(type(e), "") or self._cause * isinstance(e, ev.Refitted)
        yield from self._altered(e, s)
        if s.on and step.sort not in HELD:
            self._played += step.ms
        self._ended = s.ended

    def _ends(self, e: ev.SegmentEnded) -> Iterator[Change]:
        yield from self._told(e.at, e.segment, self._played - self._due[e.segment], "shorter", _EARLY.get(e.why, e.why))
        self._over.add(e.segment)
        self._running = None

    def _begins(self, e: ev.SegmentBegan) -> Iterator[Change]:
        if e.segment in self._over:
            self._over.discard(e.segment)
            self._due[e.segment] = e.lasts
            yield from self._told(e.at, e.segment, e.lasts, "again", "begun again")
        self._running, self._played = e.segment, 0

    def _altered(self, e: Event, s: State) -> Iterator[Change]:
        for i, time in enumerate(s.times):
            now = max(time, 0)
            if i not in self._over and now != self._due[i]:
                more = now - self._due[i]
                self._due[i] = now
                yield from self._told(e.at, i, more, _what(time, more), _why(e) + self._cause * isinstance(e, ev.Refitted))

    def left(self) -> Iterator[Change]:
        """What was still to come when the journal ends."""
        for i, due in enumerate(self._due):
            if i == self._running:
                yield from self._told(None, i, self._played - due, "shorter", "the record ends here")
            elif i not in self._over:
                yield from self._told(None, i, -due, "not played", "the practice was over" if self._ended else "the record ends before")

    def _told(self, at: int | None, i: int, ms: int, what: str, why: str) -> Iterator[Change]:
        if ms:
            since = None if at is None else at - self._went
            yield Change(since, i + 1, self._titles[i], ms, "longer" if ms > 0 and what == "shorter" else what, why)


def _what(time: int, more: int) -> str:
    return "left out" if time < 0 else "longer" if more > 0 else "shorter"


def _why(e: Event) -> str:
    match e:
        case ev.Refitted():
            return "to fit the floor time"
        case ev.Lengthened():
            return "called"
        case ev.SegmentBegan():
            return "called for all the same"
    return ""
