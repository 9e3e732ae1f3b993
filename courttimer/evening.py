"""One evening put together: journal, conductor, voice and speaker, from the first line to the last sound.

Begun from a session, or found again in a journal after it was cut off. Builds what the command line, the screen and the tests run.
"""

import json
import threading
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path

from courttimer import __version__, locations
from courttimer.clock import RealClock, day_ms, moment
from courttimer.conductor import Conductor
from courttimer.errors import JournalError, PlanError
from courttimer.memory.journal import Header, Journal, Told
from courttimer.plan.model import Session
from courttimer.plan.reading import Reading, read
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import Call, parse
from courttimer.practice.sayings import sayings
from courttimer.practice.state import State, opening
from courttimer.sound import horns, volumes
from courttimer.sound.hall import Hall, Silence
from courttimer.sound.lengths import Lengths, kept
from courttimer.sound.phrases import read as phrases
from courttimer.sound.voice import home, prepare

READY_TRIES = 50
"""A go that nobody presses waits so many tenths of a second for the speaker."""
TAIL_MS = 2_500
"""So long after the end the last sound is over."""


class Evening:
    """Lives as long as one run of one practice."""

    def __init__(self, session: Session, branch: Branch, clock: RealClock, journal: Journal) -> None:
        self.session = session
        self.clock = clock
        self.journal = journal
        self.prepared = (0, 0)
        """Phrases that are ready to be spoken, of how many."""
        self.voice_trouble = ""
        self._recipes, self.tone_trouble = horns.own(locations.sounds(), locations.own_sounds())
        self._lengths = Lengths(self._recipes, kept(home(locations.cache(), session.voice) / "lengths.json"))
        self.volumes = volumes.kept(locations.data())
        """How loud everything is, and speech beside it, in dB."""
        self.noted = ""
        """What was kept with the practice before, in words."""
        self._stop = threading.Event()
        self._ended: int | None = None
        self._player: object = Silence()
        self._phrases = phrases(locations.sounds(), session.voice.language)
        self.hall = Hall(Silence(), self._lengths, self._phrases)
        self._marks: list[ev.Marked] = [e for e in journal.events if isinstance(e, ev.Marked)]
        self.conductor = Conductor(branch, clock, self._write, self.hall)

    @contextmanager
    def playing(self, found: Reading, *, silent: bool, speaker: str | None) -> Iterator[None]:
        """While it lasts, the conductor beats and the speaker sounds."""
        if not silent:
            self._sound(speaker)
        thread = self.conductor.start(self._stop.is_set)
        try:
            yield
        finally:
            self._stop.set()
            thread.join(2)
            if close := getattr(self._player, "close", None):
                close()
            self.journal.close()

    def _sound(self, speaker: str | None) -> None:
        from courttimer.sound.bank import Bank
        from courttimer.sound.speaker import Speaker

        bank = Bank(self._recipes, folder=locations.cache(), voice=self.session.voice)
        wanted = ((speaker,) if speaker else ()) + self.session.speakers
        player = Speaker(bank, self.clock, wanted, delays=delays())
        self._player = player
        self.hall.play_on(player)
        player.volume(*map(float, self.volumes))
        if self.session.voice.say != "horns":
            threading.Thread(target=self._prepare, name="voice", daemon=True).start()

    def _prepare(self) -> None:
        """Have every phrase of the session rendered; the practice may begin meanwhile, with tones."""
        voice = self.session.voice

        def progress(done: int, of: int) -> None:
            self.prepared = (done, of)

        report = prepare(map(self._phrases.said, sayings(self.session)), voice, locations.cache(), progress)
        for text, ms in kept(home(locations.cache(), voice) / "lengths.json").items():
            self._lengths.learn(text, ms)
        self.voice_trouble = report.trouble

    def out(self, names: tuple[str, ...]) -> None:
        """These are not here when it begins."""
        for one in names:
            self.conductor.put(Call(what="out", who=one, by="program"))

    def go(self) -> None:
        """Go as soon as the first horn can be heard, or without it when no speaker is ready in time."""
        for _ in range(READY_TRIES):
            if getattr(self._player, "ready", lambda: True)():
                break
            self.wait(0.1)
        self.conductor.put(Call(what="go", by="program"))

    def trouble(self) -> tuple[str, ...]:
        """What is wrong now with sound, voice, memory or the beat, in words."""
        speaker = getattr(self._player, "trouble", str)()
        own = (*self.tone_trouble, *self._phrases.trouble)
        return tuple(t for t in (self.conductor.fault, speaker, self.voice_trouble, *own, self.journal.trouble()) if t)

    def _write(self, event: ev.Event) -> None:
        self.journal.write(event)
        if isinstance(event, ev.Marked):
            self._marks.append(event)

    def marks(self) -> tuple[tuple[int, str], ...]:
        """Each mark that stands: its time since go in ms, and its words."""
        went = self.conductor.branch.now.went or 0
        return tuple((max(e.at - went, 0), e.words) for e in self._marks[: self.conductor.branch.now.marks])

    def note(self, number: int, words: str) -> None:
        """Words for the mark of this index."""
        if 0 <= number < len(self._marks):
            self._marks[number] = replace(self._marks[number], words=words)
            self.conductor.tell(ev.MarkWorded(at=self._marks[number].at, by="key", words=words))

    def speaker(self) -> str:
        """The speaker that sounds now, in words."""
        return str(getattr(self._player, "name", "") or "none")

    def volume(self, everything: int, voice: int) -> None:
        """How loud everything is, and speech beside it, in dB; kept for the next evening."""
        self.volumes = everything, voice
        volumes.keep(locations.data(), everything, voice)
        getattr(self._player, "volume", lambda session_db, voice_db: None)(float(everything), float(voice))

    def deaf(self) -> bool:
        """No horn can be heard: the screen must show them."""
        return isinstance(self._player, Silence) or bool(getattr(self._player, "trouble", str)())

    def over(self) -> bool:
        """The practice has ended, and its last sound too."""
        now = self.clock.now()
        self._ended = (self._ended or now) if self.conductor.branch.now.ended else None
        return self._ended is not None and now - self._ended >= TAIL_MS

    def wait(self, seconds: float) -> None:
        self._stop.wait(seconds)

    def listen(self, lines: Iterable[str]) -> None:
        """Take calls from lines, on a thread of its own, until they end."""
        threading.Thread(target=self._listen, args=(lines,), name="calls", daemon=True).start()

    def call(self, call: Call) -> None:
        """Make a call. How hard it was, said before go, is said of the practice before."""
        now = self.conductor.branch.now
        if call.what == "effort" and now.went is None and now.going is None and not now.ended:
            threading.Thread(target=self._effort, args=(call,), name="effort", daemon=True).start()
        else:
            self.conductor.put(call)

    def _effort(self, call: Call) -> None:
        from courttimer.reporting import keep_effort

        self.noted = keep_effort(f"{call.who} {call.number}".strip())
        if not self.noted:
            self.conductor.put(call)

    def _listen(self, lines: Iterable[str]) -> None:
        with suppress(OSError, ValueError):  # the terminal may go: the practice does not
            for line in lines:
                if line.strip():
                    self._take(line)

    def _take(self, line: str) -> None:
        try:
            self.call(parse(line))
        except ValueError as fault:
            now = self.clock.now()
            self.conductor.tell(ev.Refused(at=now, by="line", call=line.strip()[:60], why=str(fault)))


def absent(session: Session, names: str) -> tuple[str, ...]:
    """All of the squad but those who are named, with commas between them. Raises PlanError for a name that is not in it."""
    squad = session.squad.players
    known = {one.casefold() for one in squad}
    here = {name.casefold(): name for name in map(str.strip, names.split(",")) if name}
    if unknown := sorted(name for folded, name in here.items() if folded not in known):
        raise PlanError(f"--present: not in the squad: {', '.join(unknown)}; the squad is {', '.join(squad) or 'empty'}")
    return tuple(one for one in squad if one.casefold() not in here)


def begin(found: Reading, *, rate: int = 1) -> Evening:
    """A new practice: its journal is begun, nothing runs yet."""
    clock = RealClock(rate=rate)
    wall = clock.wall()
    head = Header(
        wall=wall.isoformat(timespec="milliseconds"), program=__version__, title=found.session.title,
        session=next(iter(found.files)), files=found.files,
    )  # fmt: skip
    journal = Journal.create(locations.journals(), head)
    journal.write(ev.Opened(at=0, by="program", wall=head.wall, day_ms=day_ms(wall)))
    return Evening(found.session, Branch(opening(found.session, day_ms(wall))), clock, journal)


def found(path: Path, *, rate: int = 1) -> tuple[Reading, Evening]:
    """The practice of a journal that was cut off, held at the last known moment.

    Raises JournalError for a journal that cannot be trusted, PlanError for one that is over.
    """
    journal = Journal.open(path)
    told = Told(header=journal.header, events=journal.events)
    try:
        reading, branch = replayed(told)
        branch, last = _last_known(branch, journal)
        if branch.now.ended:
            raise PlanError(f"{path}: this practice is over; there is nothing to go on with")
    except Exception:
        journal.close()
        raise
    if branch.now.on and not _stands(branch.now):
        held = ev.Held(at=last, by="program", why="cut off")
        journal.write(held)
        branch = happen(branch, held)
    wall = RealClock().wall()
    now = max(last, int((wall - moment(told.header.wall)).total_seconds() * 1000) if rate == 1 else last)
    journal.write(ev.Woke(at=now, by="program", wall=wall.isoformat(timespec="seconds"), away=now - last))
    return reading, Evening(reading.session, branch, RealClock(rate=rate, start=now), journal)


def _last_known(branch: Branch, journal: Journal) -> tuple[Branch, int]:
    """The branch at the last known moment, with the lines that were still to come then. The first go, once pressed, is heard."""
    last = max((e.at for e in journal.events), default=0)
    if not branch.now.on and branch.now.going is not None:
        last = max(last, branch.now.going)
    branch, due = catch_up(branch, last)
    for e in due:
        journal.write(e)
    return branch, last


def _stands(s: State) -> bool:
    """Nothing is about to end the hold."""
    return s.held and s.going is None and s.moving is None


def replayed(told: Told) -> tuple[Reading, Branch]:
    """The session and the branch that a journal's events have made."""
    files = told.header.files
    reading = read(told.header.session, files[told.header.session], files.__getitem__)
    day = next((e.day_ms for e in told.events if isinstance(e, ev.Opened)), 0)
    branch = Branch(opening(reading.session, day))
    for line, e in enumerate(told.events, 2):
        try:
            branch = happen(branch, e)
        except Exception as fault:
            what = f"line {line} of the journal cannot have happened ({fault}); nothing was changed"
            raise JournalError(f"{told.header.title}: {what}") from fault
    return reading, branch


def delays() -> dict[str, int]:
    """How many ms each speaker is behind, by its name, from `speakers.json` in the user's folder; nothing where there is none."""
    try:
        found = json.loads((locations.data() / "speakers.json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    known = found if isinstance(found, dict) else {}
    return {name: ms for name, ms in known.items() if type(ms) is int and 0 <= ms <= 2_000}


def small_file(name: str) -> str | None:
    """The text of a small file of the system, or None."""
    with suppress(OSError), open(name, encoding="utf-8", errors="replace") as file:  # noqa: PTH123 - not a path of ours
        return file.read(4096)
    return None

