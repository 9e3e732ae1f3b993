"""The evening on the screen: gives the board what it may look at and call, and keeps the machine awake meanwhile."""

import os
import threading
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace

from courttimer import locations
from courttimer.care.words import FIRST
from courttimer.clock import HandClock, RealClock, at_day_ms
from courttimer.conductor import Conductor, Unheard
from courttimer.errors import JournalError
from courttimer.evening import Evening, small_file
from courttimer.plan.model import Session
from courttimer.plan.reading import Reading
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call
from courttimer.practice.event import Event
from courttimer.practice.state import State, opening
from courttimer.practice.view import View
from courttimer.recalling import before, week
from courttimer.report.advice import advice
from courttimer.report.care_advice import beside
from courttimer.report.standing import sheet
from courttimer.screen import app
from courttimer.screen.awake import power, stay_awake
from courttimer.screen.colours import Theme
from courttimer.screen.given import Given, Over, Start, Volume
from courttimer.screen.guard import guard

EVERYTHING, VOICE = "everything", "the voice"
"""What can be turned louder or softer."""
RECALL_S = 0.5
"""The first screen comes before the history: reading it would hold the screen up."""


def run(evening: Evening, found: Reading, *, theme: Theme) -> str:
    """Show the practice: "ended" when a key closed the screen, "gone" when the screen died."""
    log = _log()
    kept = _Kept(evening, found)
    try:
        with guard(log):
            threading.Thread(target=kept.stay_awake, name="awake", daemon=True).start()
            later = threading.Timer(RECALL_S, kept.recall)
            later.daemon = True
            later.start()
            return app.run(kept.given(), theme=theme)
    finally:
        kept.close()
        os.close(log)


def _log() -> int:
    """Where C libraries may print while the board is drawn."""
    folder = locations.data()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return os.open(folder / "libraries.log", os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    except OSError:
        return os.open(os.devnull, os.O_WRONLY)


class _Kept:
    """What stays the same for the whole evening, worked out once."""

    def __init__(self, evening: Evening, found: Reading) -> None:
        self._evening = evening
        session = found.session
        self._start = Start(
            floor=_hours(session.floor), squad=session.squad.players,
            advice=beside(advice(session, found.lines)), missing=power(small_file),
        )  # fmt: skip
        self._stands: tuple[tuple[str, ...], tuple[str, ...]] | None = None
        self._told: tuple[State | None, tuple[str, ...]] = (None, ())
        self._volumes = dict(zip((EVERYTHING, VOICE), evening.volumes, strict=True))
        self._before: dict[str, str] = {}
        self._awake = ""
        self._release: list[object] = []

    def given(self) -> Given:
        e = self._evening
        return Given(
            call=e.call, view=self._view, trouble=e.trouble, deaf=e.deaf, start=self._starts, over=self._over,
            note=e.note, more=self._more, volumes=self._loud, turn=self._turn,
        )  # fmt: skip

    def _view(self) -> View:
        view = self._evening.conductor.view()
        said = self._before.get(view.name, "")
        return replace(view, before=said) if said else view

    def recall(self) -> None:
        """Look up what was reached in these drills before, and how much the week has been; the practice does not wait for it."""
        self._before = before(frozenset(one.title for one in self._evening.session.segment if one.spots or one.score))
        over = week(self._evening.session, self._evening.clock.wall().isoformat())
        first = (FIRST,) if over and FIRST not in self._start.advice else ()
        self._start = replace(self._start, advice=(*self._start.advice, *over, *first))

    def stay_awake(self) -> None:
        awake = stay_awake()
        self._awake = awake.why_not
        self._release.append(awake.close)

    def close(self) -> None:
        for release in self._release:
            if callable(release):
                release()

    def _starts(self) -> Start:
        missing = tuple(filter(None, (*self._evening.trouble(), self._awake, *self._start.missing)))
        speaker = "" if self._evening.deaf() else self._evening.speaker()
        stands = self._standing(self._evening.conductor.branch.now.here)
        prepared, noted = self._evening.prepared, self._evening.noted
        return replace(self._start, missing=missing, speaker=speaker, prepared=prepared, stands=stands, noted=noted)

    def _standing(self, here: tuple[str, ...]) -> tuple[str, ...]:
        """How long each of those here really plays; worked out when somebody comes or goes."""
        if self._stands is None or self._stands[0] != here:
            self._stands = here, sheet(self._evening.session, here)
        return self._stands[1]

    def _loud(self) -> tuple[Volume, ...]:
        return tuple(Volume(of=of, db=db) for of, db in self._volumes.items())

    def _turn(self, of: str, db: int) -> None:
        self._volumes[of] = db
        self._evening.volume(self._volumes[EVERYTHING], self._volumes[VOICE])

    def _over(self) -> Over:
        now = self._evening.conductor.branch.now
        done = self._told[1]
        if self._told[0] is not now:
            done = done or _played(self._evening.session, now)
            self._told = now, done
            threading.Thread(target=self._tell, args=(now,), name="report", daemon=True).start()
        return Over(done=done, marks=self._evening.marks(), kept=str(self._evening.journal.path))

    def _tell(self, now: State) -> None:
        """The short form of the report, which takes longer than a paint may."""
        from courttimer.reporting import short_form

        with suppress(JournalError, ValueError):
            lines = short_form(self._evening.journal.path)
            if self._told[0] is now:
                self._told = now, lines

    def _more(self) -> tuple[str, ...]:
        return tuple(_more(self._evening))


def _played(session: Session, now: State) -> tuple[str, ...]:
    return tuple(f"{session.segment[i].title}: {ms // 60_000}:{ms // 1000 % 60:02d}" for i, ms in now.played)


def _more(evening: Evening) -> Iterator[str]:
    yield f"Speaker: {evening.speaker()}"
    yield f"From a press to its sound: {evening.hall.lead()} ms"
    done, of = evening.prepared
    yield f"Phrases ready: {done} of {of}" if of else "No phrases are prepared."
    yield f"The record: {evening.journal.path}"


def _hours(floor: tuple[int, int] | None) -> str:
    if floor is None:
        return ""
    return "-".join(f"{ms // 3_600_000}:{ms // 60_000 % 60:02d}" for ms in floor)


AWAY = (Call(what="out", who="Bea"), Call(what="late", who="Cleo"))
MOMENTS: dict[str, tuple[int | None, tuple[Call, ...]]] = {
    "start": (None, AWAY), "here": (None, AWAY), "board": (33_200, ()), "far": (75_000, ()), "halt": (33_200, ()), "help": (33_200, ()),
    "stations": (176_000, (Call(what="station", number=1),)), "end": (300_000, ()),
}  # fmt: skip
"""When each picture is taken, in ms after go, and what is called just before; None: before go."""


def pictures(found: Reading) -> dict[str, str]:
    """A picture of every screen as SVG, by name, taken while the session is played on a clock wound by hand."""
    from courttimer.report.in_words import short
    from courttimer.report.tally import tally
    from courttimer.screen.pictures import pictures as drawn

    taken = {}
    for name, (at, calls) in MOMENTS.items():
        view, events = _at(found, at, calls)
        done = short(tally("", found.session, events)) if view.phase == "ended" else ()
        stands = sheet(found.session, view.attendance.here)
        start = Start(
            floor=_hours(found.session.floor), squad=found.session.squad.players, speaker="Gym box", prepared=(24, 24), stands=stands,
        )  # fmt: skip
        shot = drawn(view, start, Over(done=done, marks=((95_000, "good help"),), kept="journals/first-practice.jsonl"))
        taken[name] = shot["over" if name == "end" else name]
    return taken


def _at(found: Reading, at: int | None, calls: tuple[Call, ...]) -> tuple[View, list[Event]]:
    """What is seen so long after go and after some calls, and what has happened until then."""
    events: list[Event] = []
    begins = found.session.floor[0] if found.session.floor else 0
    hand = HandClock(at_day_ms(RealClock().wall(), begins))
    conductor = Conductor(Branch(opening(found.session, begins)), hand, events.append, Unheard())
    if at is not None:
        conductor.call(Call(what="go"))
        hand.wind(at)
    for call in calls:
        conductor.call(call)
    conductor.beat()
    return conductor.view(), events
