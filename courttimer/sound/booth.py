"""What the speaker's own thread does at each turn: learn from the line, keep the desk in step with the wishes, tell what was heard."""

from collections import deque
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from courttimer.practice import events as ev
from courttimer.practice.cue import Cue, Placed
from courttimer.sound.delays import late
from courttimer.sound.desk import COMMIT, MARGIN, NOT_READY, Desk, Settled, missed
from courttimer.sound.devices import System
from courttimer.sound.line import BLOCK_NS, LATENCY, Playing
from courttimer.sound.mixer import AHEAD, FRAMES_A_MS, Samples
from courttimer.sound.plug import AWAKE, Plug

SAFE, UNSURE = 15 + AHEAD // FRAMES_A_MS, 80
"""ms from a press until it is queued and mixed, when it is known how far ahead the card takes its frames, and when it is not yet."""
WORDS = 500
"""Callbacks over which that is measured."""
CHANGED = 5
"""ms; a smaller change of the lead is not worth telling."""
EARLIER = 200
"""ms; groups are placed so much earlier than the lead, when the lead is long."""
SLIPPED_NS = 1_000_000
"""Practice time is worked out from the machine's; a smaller change of it is only rounding."""
SECOND_NS = 1_000_000_000
"""Between two words about running dry."""
STUTTERS, STUTTER_NS = 3, 20_000_000_000
"""So many seconds with a gap in them within this time are more than bad luck."""
TOO_BUSY = "the sound stutters: the machine is too busy; close other programs"
ENOUGH = 50
"""Callbacks from which something may be concluded."""
RUNS_NS, STILL_NS = BLOCK_NS // 2, 300_000_000
"""A card that is filled asks for all its blocks at once, and knows nothing of time yet; it runs when it has waited so long between two.
One that has not asked for so much longer stands still."""
GONE_NS, STALE_NS, ROOM, YIELD = 1_000_000_000, 5_000_000_000, 1_500, 400
"""After a silence longer than the first, and only within the second of its end, the tone that tells of it is heard, when no cue comes
for so many ms; it falls silent when one comes so soon after all."""
BACK = Placed(
    cue=Cue(lane=-1, stretch=0, name="back", sort="tone", at=0, until=0, segment=0, right="warning", if_late="drop", group="back"),
    at=0, until=0,
)  # fmt: skip


class Moments(Protocol):
    """The part of RealClock that sound needs."""

    def now(self) -> int: ...
    def tick(self) -> int: ...
    def ns(self, at: int) -> int: ...


class Sounds(Protocol):
    """What a Bank promises."""

    def samples(self, placed: Placed) -> Samples | None: ...
    def render_tones(self) -> None: ...


@dataclass(frozen=True, slots=True)
class Want:
    """One wish list, as it was handed over."""

    placed: tuple[Placed, ...]
    now: int
    hush: str


class Booth:
    """Lives as long as a practice, through any number of speakers. For one thread; `facts`, `lead`, `trouble` may be read by others."""

    def __init__(
        self,
        *,
        system: System,
        bank: Sounds,
        clock: Moments,
        wanted: Sequence[str] = (),
        delays: Mapping[str, int] | None = None,
        log: Callable[[str], None] = lambda words: None,
    ) -> None:
        """`delays`: by speaker's name, how many ms it is behind the card."""
        self.facts: deque[ev.Event] = deque()
        self.lead = round(LATENCY * 1000) + UNSURE
        self._bank, self._clock, self._delays = bank, clock, dict(delays or {})
        self._plug = Plug(system=system, tick=clock.tick, wanted=wanted, log=log)
        self._settled: set[str] = set()
        self._wishes: tuple[Placed, ...] = ()
        self._desk: Desk | None = None
        self._pending: list[Settled] = []
        self._told, self._told_dry, self._dry = "", 0, 0
        self._stutters: deque[int] = deque(maxlen=STUTTERS)
        """When the card ran dry last, in ns."""
        self._senseless = self._delay = self._asked = 0
        self._runs = False
        self._volume = (0.0, 0.0)
        self._origin = clock.ns(0)
        self._silent: int | None = None
        """Since when there is no line, in ns."""
        self._back = 0
        """Until when the end of a silence may be told, in ns."""
        self._reach: deque[int] = deque(maxlen=WORDS)
        self._measured = 0

    def turn(self, wants: Sequence[Want]) -> None:
        """Take the wish lists that have come, oldest first, and look after the line. Never raises for a device."""
        self._attend()
        self._see_clock()
        for want in wants:
            if want.hush not in ("hold", "halt"):
                self._see_missed(want.placed)
            self._wishes = () if want.hush in ("hold", "halt") else want.placed
            self._match(want.hush)
        if not wants:
            self._match("")
        self._tell_back()
        self._tell_heard()

    def volume(self, session_db: float, voice_db: float = 0.0) -> None:
        """How loud everything is, and speech beside it, in dB; for this speaker and those after it."""
        if (session_db, voice_db) != self._volume:
            self._volume = (session_db, voice_db)
            if self._plug.line is not None:
                self._plug.line.mixer.volume(session_db, voice_db)

    @property
    def ready(self) -> bool:
        """Whether a cue that is wanted now would be heard on its moment."""
        return self._desk is not None and self._desk.mapping.steady and len(self._reach) > ENOUGH

    @property
    def name(self) -> str:
        """The speaker that plays now; empty when there is none."""
        device = self._plug.device
        return device.title if device is not None and self._plug.line is not None else ""

    @property
    def trouble(self) -> str:
        """What is wrong, in words for the board."""
        stutters = len(self._stutters) == STUTTERS and self._clock.tick() - self._stutters[0] < STUTTER_NS
        return self._plug.trouble or (TOO_BUSY if stutters else "")

    def close(self) -> None:
        """Give everything back."""
        self._plug.leave()
        self._desk = None

    def _see_clock(self) -> None:
        """The machine was suspended for less than a hold is worth: practice time has gone on, the card's frames have not."""
        origin = self._clock.ns(0)
        if abs(origin - self._origin) > SLIPPED_NS and self._desk is not None:
            self._desk.start_over()
        self._origin = origin

    def _see_missed(self, wishes: Sequence[Placed]) -> None:
        """What is wished no more because its time has come should have been heard."""
        now, kept = self._clock.now(), {w.cue.id for w in wishes}
        for wish in self._wishes:
            if wish.cue.id not in kept and wish.cue.id not in self._settled and wish.at <= now:
                self._settled.add(wish.cue.id)
                self._drop(Settled(placed=wish, why=self.trouble or NOT_READY))

    def _match(self, hush: str) -> None:
        now = self._clock.now()
        if self._desk is None:
            news = [Settled(placed=w, why=self.trouble or NOT_READY) for w in missed(self._wishes, now, self._settled)]
            self._settled |= {s.placed.cue.id for s in news}
        else:
            news = self._desk.turn(self._wishes, now, hush, max(COMMIT, self.lead + EARLIER))
        for settled in news:
            if settled.why:
                self._drop(settled)
            else:
                self._pending.append(settled)

    def _drop(self, settled: Settled) -> None:
        cue = settled.placed.cue
        self.facts.append(ev.CueDropped(at=self._clock.now(), lane=cue.lane, by="sound", cue=cue.id, why=settled.why))

    def _tell_heard(self) -> None:
        """What has really come out of the speaker, with the moment at which it did."""
        if self._desk is None or not self._desk.mapping.steady:
            return
        tick, later = self._clock.tick(), []
        for settled in self._pending:
            heard = self._desk.heard(settled.frame, tick)
            if heard > tick:
                later.append(settled)
                continue
            cue, asked = settled.placed.cue, settled.placed.at
            played = asked + round((heard - self._clock.ns(asked)) / 1e6, 3)
            self.facts.append(ev.CueHeard(at=self._clock.now(), lane=cue.lane, by="sound", cue=cue.id, asked=asked, played=played))
        self._pending = later

    def _attend(self) -> None:
        line = self._plug.line
        if line is not None:
            self._listen(line)
            if why := self._plug.leaves(self._calm):
                self._leave(why)
        if self._plug.line is None:
            before = self._plug.device
            if self._plug.take():
                self._begin("taken" if before is None and not self._told else "found again")
            elif self.trouble != self._told:
                self._told = self.trouble
                self.facts.append(ev.SoundChanged(at=self._clock.now(), by="sound", speaker="", change=self._told))

    def _calm(self, ms: int) -> bool:
        assert self._desk is not None
        now = self._clock.now()
        return not self._desk.sounding(self._clock.tick()) and not any(0 <= w.at - now < ms for w in self._wishes)

    def _listen(self, line: Playing) -> None:
        """Learn from the stamps of the callbacks since the last turn."""
        assert self._desk is not None
        while line.stamps:
            stamp = line.stamps.popleft()
            waited, self._asked = stamp.now - self._asked, stamp.now
            self._see_still(waited)
            self._runs = self._runs or RUNS_NS <= waited < STILL_NS
            self._dry += stamp.dry
            if not self._runs or (not stamp.sense and not self._senses()):
                continue
            self._reach.append(stamp.heard - stamp.now + BLOCK_NS)
            if self._desk.put(stamp.heard, stamp.frame) and stamp.frame > AWAKE:
                self._say(f"slipped by {round(self._desk.mapping.slip / 1e6)} ms")
        self._see_still(self._clock.tick() - self._asked)
        tick = self._clock.tick()
        if self._dry and tick - self._told_dry > SECOND_NS:
            self._say(f"ran dry {self._dry} times")
            self._stutters.append(tick)
            self._dry, self._told_dry = 0, tick
        if len(self._reach) > ENOUGH and tick - self._measured > SECOND_NS:
            self._measured = tick
            self._lead_is(sorted(self._reach)[len(self._reach) * 95 // 100] // 1_000_000 + SAFE)

    def _see_still(self, waited: int) -> None:
        if waited >= STILL_NS and self._runs and self._desk is not None:
            self._runs = False
            self._reach.clear()
            self._desk.stand_still()

    def _senses(self) -> bool:
        """Whether a word without sense is to be believed: when there are no others, the latency has to do."""
        self._senseless += 1
        if self._senseless == ENOUGH:
            self._say("tells no time of its own; the sound may be early or late by its latency")
        return self._senseless >= ENOUGH

    def _lead_is(self, ms: int) -> None:
        if abs(ms + self._delay - self.lead) > CHANGED:
            self.lead = ms + self._delay

    def _leave(self, why: str) -> None:
        self._say(why)
        for settled in self._pending:
            self._drop(Settled(placed=settled.placed, why="the speaker was lost"))
        self._pending = []
        self._silent = self._clock.tick()
        self.close()

    def _begin(self, change: str) -> None:
        line, device = self._plug.line, self._plug.device
        assert line is not None
        assert device is not None
        self._senseless, self._asked, self._runs = 0, self._clock.tick(), False
        self._reach.clear()
        self._delay = late(self._delays, device.title)
        self._desk = Desk(mixer=line.mixer, ns=self._clock.ns, samples=self._bank.samples, settled=self._settled, delay=self._delay)
        line.mixer.volume(*self._volume)
        if device.wireless or self._delay:
            line.keep_awake()
        self._lead_is(line.latency + UNSURE)
        self._say(change)
        self._told = self.trouble

    def _tell_back(self) -> None:
        """A tone says that the sound is back, when the practice runs and there is room for it."""
        line, tick, now = self._plug.line, self._clock.tick(), self._clock.now()
        if line is None:
            self._silent = self._silent or tick
            return
        if self._silent is not None and self.ready:
            self._back = tick + STALE_NS if tick - self._silent > GONE_NS else 0
            self._silent = None
        soon = min((w.at - now for w in self._wishes if w.at >= now), default=0)
        if self._back > tick and soon > ROOM:
            samples = self._bank.samples(BACK)
            if samples is not None:
                line.mixer.queue(BACK.cue.id, line.mixer.head + MARGIN, samples)
            self._back = 0
        elif soon < YIELD:
            line.mixer.fade(BACK.cue.id, line.mixer.head)

    def _say(self, change: str) -> None:
        device = self._plug.device
        self.facts.append(ev.SoundChanged(at=self._clock.now(), by="sound", speaker=device.title if device else "", change=change))
