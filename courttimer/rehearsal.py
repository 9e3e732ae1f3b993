"""A whole practice in seconds: the same engine, conductor and air as on the evening, on a clock wound by hand and a tape."""

import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import asdict, dataclass, field
from pathlib import Path

from courttimer import __version__, locations
from courttimer.clock import HandClock, RealClock, at_day_ms, day_ms
from courttimer.conductor import Conductor
from courttimer.errors import PlanError
from courttimer.memory import exports
from courttimer.memory.journal import Header
from courttimer.memory.lines import encode
from courttimer.memory.whole import half
from courttimer.plan.reading import Reading
from courttimer.practice import events as ev, records
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call, parse
from courttimer.practice.due import next_due
from courttimer.practice.sayings import sayings
from courttimer.practice.state import opening
from courttimer.sound import horns
from courttimer.sound.bank import Bank
from courttimer.sound.hall import Hall
from courttimer.sound.lengths import Lengths, kept
from courttimer.sound.patterns import alarming
from courttimer.sound.phrases import read as phrases
from courttimer.sound.recipes import Recipe
from courttimer.sound.render import SUFFIXES, Tape, cues_json, cues_vtt, write_sound
from courttimer.sound.voice import home, prepare

STEP_MS = 30_000
"""A rehearsal looks at the wishes at least so often."""
LONGEST_MS = 12 * 3_600_000
"""A practice that waits for a call which does not come is left here."""
BEFORE_GO = ("here", "late", "out", "heat", "mark", "thunder")
"""Calls that are made before the practice begins."""
LINE = re.compile(r"\s*(?:(\d+):)?(\d+):(\d\d)(?:\.(\d{1,3}))?\s+(.+)")


@dataclass(kw_only=True)
class Played:
    """What a rehearsal leaves."""

    reading: Reading
    wall: str
    recipes: dict[str, Recipe]
    trouble: tuple[str, ...] = ()
    """What is wrong with the coach's own tones and phrases, in words."""
    tape: Tape = field(default_factory=Tape)
    events: list[ev.Event] = field(default_factory=list)

    def told(self) -> Iterator[str]:
        """What was played, in a few lines."""
        ends = max((e.at for e in self.events), default=0)
        refused = [e for e in self.events if isinstance(e, ev.Refused)]
        session = self.reading.session
        yield f"{session.title}: {ends // 60_000}:{ends // 1000 % 60:02d}, {len(session.segment)} segments, {self._reps()} reps."
        yield from self.trouble
        tones = [h for h in self.tape.heard() if h.placed.cue.sort == "tone"]
        for at, danger in alarming((h.placed.at, h.until, self.recipes[h.placed.cue.name].runs) for h in tones):
            yield f"{clock(at)} the tones from here on may be taken for {danger}; change the times of this drill"
        yield from (f"{clock(e.at)} refused: {e.call}: {e.why}" for e in refused)
        yield from (f"{clock(e.at)} not heard: {e.cue}: {e.why}" for e in self.events if isinstance(e, ev.CueDropped))

    def _reps(self) -> int:
        """Reps that were played, those that were held and played again once; the common clock of stations is none."""
        common, reps = False, 0
        for e in self.events:
            common = self.reading.session.segment[e.segment].kind == "stations" if isinstance(e, ev.SegmentBegan) else common
            reps += isinstance(e, ev.RepEnded) and e.why != "held" and not (common and e.lane == 0)
        return reps


def clock(ms: int) -> str:
    """M:SS.mmm, as in a file of calls."""
    return f"{ms // 60_000}:{ms // 1000 % 60:02d}.{ms % 1000:03d}"


def rehearse(reading: Reading, calls: str = "", *, name: str = "calls", at: str | None = None) -> Played:
    """Play the session with these calls; go comes at 0:00.000 unless the calls say otherwise. Raises PlanError for bad calls."""
    todo = _calls(calls, name)
    first = next((call.what for _, call in todo if call.what not in BEFORE_GO), "")
    if first not in ("go", "space", "forward"):
        todo.insert(0, (0, Call(what="go", by="program")))
    begins = _begins(reading, at)
    hand = HandClock(at_day_ms(RealClock().wall(), begins))
    tones, trouble = horns.own(locations.sounds(), locations.own_sounds())
    words = phrases(locations.sounds(), reading.session.voice.language)
    wall = hand.wall().isoformat(timespec="milliseconds")
    out = Played(reading=reading, wall=wall, recipes=tones, trouble=trouble + words.trouble)
    lengths = Lengths(out.recipes, kept(home(locations.cache(), reading.session.voice) / "lengths.json"))
    out.events.append(ev.Opened(at=0, by="program", wall=out.wall, day_ms=day_ms(hand.wall())))
    branch = Branch(opening(reading.session, begins))
    hall = Hall(out.tape, lengths, words)
    conductor = Conductor(branch, hand, out.events.append, hall)
    _play(conductor, hand, todo)
    return out


def _play(conductor: Conductor, hand: HandClock, todo: list[tuple[int, Call]]) -> None:
    """Wind to whatever comes first: a call, what is due, or the next look at the wishes."""
    while hand.now() < LONGEST_MS:
        due = next_due(conductor.branch.now)
        if due is None and not todo and not conductor.branch.now.ended:
            return  # it stands, or never went, and nobody will call any more
        nearest = [hand.now() + STEP_MS] + ([max(due.at, hand.now())] if due else []) + ([todo[0][0]] if todo else [])
        hand.wind(max(min(nearest) - hand.now(), 0))
        conductor.beat()
        while todo and todo[0][0] <= hand.now():
            conductor.call(todo.pop(0)[1])
        if conductor.branch.now.ended and not todo:
            hand.wind(STEP_MS // 10)
            conductor.beat()
            return


def _begins(reading: Reading, at: str | None) -> int:
    """The time of day, in ms, at which the rehearsal begins."""
    if at is None:
        return reading.session.floor[0] if reading.session.floor else 18 * 3_600_000
    found = re.fullmatch(r"(\d{1,2}):(\d\d)", at)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise PlanError(f'--at wants a time of day such as "18:00" (got "{at}")')
    return (int(found[1]) * 60 + int(found[2])) * 60_000


def _calls(text: str, name: str) -> list[tuple[int, Call]]:
    """The calls of a file, in order of time. Raises PlanError with every mistake."""
    out: list[tuple[int, Call]] = []
    mistakes = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        try:
            out.append(_call(line))
        except ValueError as fault:
            mistakes.append(f"{name}:{number}: {fault}")
    if mistakes:
        raise PlanError(*mistakes)
    return sorted(out, key=lambda c: c[0])


def _call(line: str) -> tuple[int, Call]:
    found = LINE.fullmatch(line)
    if found is None:
        raise ValueError(f'a line is a time and a call, such as "1:02.500 over" (got "{line.strip()[:60]}")')
    hours, minutes, seconds, part, words = found.groups()
    at = ((int(hours or 0) * 60 + int(minutes)) * 60 + int(seconds)) * 1000 + int((part or "0").ljust(3, "0"))
    if int(seconds) > 59 or (hours and int(minutes) > 59) or at > LONGEST_MS:
        raise ValueError(f"minutes and seconds go up to 59, and no call comes after 12 hours (got {line.split()[0][:60]})")
    return at, parse(words)


def spoken(reading: Reading, wav: Path) -> str:
    """Have what the session says rendered, so that it is in the sound file; gives what is wrong with the voice, if anything is.

    Raises PlanError for a file whose suffix says nothing.
    """
    if wav.suffix.lower() not in SUFFIXES:
        raise PlanError(f"--wav writes .wav, .flac or .ogg (got {wav.name})")
    voice = reading.session.voice
    if voice.say == "horns":
        return ""
    words = phrases(locations.sounds(), voice.language)
    return prepare(map(words.said, sayings(reading.session)), voice, locations.cache()).trouble


def write(played: Played, *, wav: Path | None, cues: Path | None, journal: Path | None) -> None:
    """Write what was asked for. Raises PlanError for a name whose suffix says nothing, and for what cannot be written."""
    if cues is not None:
        if cues.suffix not in (".json", ".vtt"):
            raise PlanError(f"--cues writes .json or .vtt (got {cues.name})")
        text = (cues_json if cues.suffix == ".json" else cues_vtt)(played.tape.heard())
        exports.write(cues, text.encode(), locations.data())
    if journal is not None:
        lines = b"".join(map(encode, (_header(played), *map(records.record, played.events))))
        exports.write(journal, lines, locations.data())
    if wav is not None:
        with exports.written(wav):
            _sound(played, wav)
        exports.remember(wav, locations.data())


def _sound(played: Played, wav: Path) -> None:
    """The sound, in place of an older one only when it is whole. Raises OSError."""
    bank = Bank(played.recipes, folder=locations.cache(), voice=played.reading.session.voice)
    path = wav.resolve() if wav.is_symlink() else wav
    there = path.with_name(half(path).name + path.suffix)
    try:
        write_sound(there, played.tape.heard(), bank, max((e.at for e in played.events), default=0) + 2_000)
        there.replace(path)
    finally:
        with suppress(OSError):
            there.unlink()


def _header(played: Played) -> dict[str, object]:
    files = played.reading.files
    head = Header(
        wall=played.wall, program=__version__, title=played.reading.session.title, session=next(iter(files)), files=dict(files)
    )
    return {"what": "journal"} | asdict(head)
