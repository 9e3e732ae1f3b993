"""What the speaker's own thread does at each turn: keep a line open to the best speaker there is, and the desk in step with it."""

from collections import deque
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from courttimer.errors import DeviceError
from courttimer.practice import events as ev
from courttimer.practice.cue import Placed
from courttimer.sound.desk import COMMIT, NOT_READY, Desk, Settled, missed
from courttimer.sound.devices import Device, System, Watching, ordered, rank
from courttimer.sound.line import BLOCK_NS, LATENCY, Line
from courttimer.sound.mixer import Samples

SAFE, UNSURE = 15, 80
"""ms from a press until it is queued, when it is known how far ahead the card takes its frames, and when it is not yet."""
WORDS = 500
"""Callbacks over which that is measured."""
CHANGED = 5
"""ms; a smaller change of the lead is not worth telling."""
AHEAD = 200
"""ms; groups are placed so much earlier than the lead, when the lead is long."""
RETRY_NS, DEAD_NS, WAKING_NS, SECOND_NS = 500_000_000, 500_000_000, 3_000_000_000, 1_000_000_000
"""Between two tries; how long no frame may move; the same after opening; between two words about running dry."""
AWAKE = 96_000
"""Frames after which a speaker is awake: an idle one takes some, and goes on a second later."""
ENOUGH = 50
"""Callbacks from which something may be concluded."""
QUIET = 600
"""ms without a cue, in which the speaker is changed."""


class Moments(Protocol):
    """The part of RealClock that sound needs."""

    def now(self) -> int: ...
    def tick(self) -> int: ...
    def ns(self, at: int) -> int: ...


class Sounds(Protocol):
    """What a Bank promises."""

    def samples(self, placed: Placed) -> Samples | None: ...


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
        self.trouble = ""
        self._system, self._bank, self._clock, self._log = system, bank, clock, log
        self._wanted, self._delays = tuple(wanted), dict(delays or {})
        self._settled: set[str] = set()
        self._wishes: tuple[Placed, ...] = ()
        self._line: Line | None = None
        self._desk: Desk | None = None
        self._device: Device | None = None
        self._watch: Watching | None = None
        self._pending: list[Settled] = []
        self._retry = self._moved = self._told_dry = 0
        self._frames = self._dry = 0
        self._senseless = self._delay = 0
        self._reach: deque[int] = deque(maxlen=WORDS)
        self._measured = 0

    def turn(self, wants: Sequence[Want]) -> None:
        """Take the wish lists that have come, oldest first, and look after the line. Never raises for a device."""
        self._attend()
        for want in wants:
            if want.hush not in ("hold", "halt"):
                self._see_missed(want.placed)
            self._wishes = () if want.hush in ("hold", "halt") else want.placed
            self._match(want.hush)
        if not wants:
            self._match("")
        self._tell_heard()

    @property
    def ready(self) -> bool:
        """Whether a cue that is wanted now would be heard on its moment."""
        return self._desk is not None and self._desk.mapping.steady and len(self._reach) > ENOUGH

    @property
    def name(self) -> str:
        """The speaker that plays now; empty when there is none."""
        return self._device.name if self._device is not None and self._line is not None else ""

    def close(self) -> None:
        """Give everything back."""
        if self._watch is not None:
            self._watch.close()
        if self._line is not None:
            self._line.close()
        self._line = self._desk = self._watch = None

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
            news = self._desk.turn(self._wishes, now, hush, max(COMMIT, self.lead + AHEAD))
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
        if self._desk is None:
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
        tick = self._clock.tick()
        if self._line is not None:
            self._listen(self._line)
            if self._lost(self._line, tick):
                self._leave("lost")
            elif self._better_is_back():
                self._leave("left for a better one")
        if self._line is None and tick >= self._retry:
            self._take()
            self._retry = self._clock.tick() + RETRY_NS

    def _listen(self, line: Line) -> None:
        """Learn from the stamps of the callbacks since the last turn."""
        assert self._desk is not None
        while line.stamps:
            stamp = line.stamps.popleft()
            self._dry += stamp.dry
            if not stamp.sense and not self._senses():
                continue
            self._reach.append(stamp.heard - stamp.now + BLOCK_NS)
            if self._desk.put(stamp.heard, stamp.frame) and stamp.frame > AWAKE:
                self._say(f"slipped by {round(self._desk.mapping.slip / 1e6)} ms")
        tick = self._clock.tick()
        if self._dry and tick - self._told_dry > SECOND_NS:
            self._say(f"ran dry {self._dry} times")
            self._dry, self._told_dry = 0, tick
        if len(self._reach) > ENOUGH and tick - self._measured > SECOND_NS:
            self._measured = tick
            self._lead_is(sorted(self._reach)[len(self._reach) * 95 // 100] // 1_000_000 + SAFE)

    def _senses(self) -> bool:
        """Whether a word without sense is to be believed: when there are no others, the latency has to do."""
        self._senseless += 1
        if self._senseless == ENOUGH:
            self._say("tells no time of its own; the sound may be early or late by its latency")
        return self._senseless >= ENOUGH

    def _lead_is(self, ms: int) -> None:
        if abs(ms + self._delay - self.lead) > CHANGED:
            self.lead = ms + self._delay

    def _lost(self, line: Line, tick: int) -> bool:
        if line.frames != self._frames:
            self._frames, self._moved = line.frames, tick
        return line.ended or tick - self._moved > (DEAD_NS if self._frames > AWAKE else WAKING_NS)

    def _better_is_back(self) -> bool:
        if self._watch is None or self._device is None or self._desk is None:
            return False
        here = rank(self._device.name, self._wanted)
        if all(rank(name, self._wanted) >= here for name in self._watch.names):
            return False
        now = self._clock.now()
        return not self._desk.sounding(self._clock.tick()) and not any(0 <= w.at - now < QUIET for w in self._wishes)

    def _leave(self, what: str) -> None:
        assert self._line is not None
        self._say(what)
        for settled in self._pending:
            self._drop(Settled(placed=settled.placed, why="the speaker was lost"))
        self._pending = []
        self.close()
        self._retry = 0

    def _take(self) -> None:
        """Open the best speaker that can be opened."""
        words = "no speaker is there"
        try:
            devices = ordered(self._system.look(), self._wanted)
        except DeviceError as fault:
            devices, words = [], str(fault)
        for device in devices:
            try:
                self._line = self._system.open(device, self._clock.tick)
            except DeviceError as fault:
                self._log(f"{device.name}: {fault}")
                words = f'"{device.name}" cannot be opened'
                continue
            self._begin(device, self._line)
            return
        self._explain(f"no sound: {words}")

    def _begin(self, device: Device, line: Line) -> None:
        again = self._device is not None or bool(self.trouble)
        self._device, self._frames, self._moved, self._senseless = device, 0, self._clock.tick(), 0
        self._reach.clear()
        self._delay = next((ms for name, ms in self._delays.items() if name.casefold() in device.name.casefold()), 0)
        self._desk = Desk(mixer=line.mixer, ns=self._clock.ns, samples=self._bank.samples, settled=self._settled, delay=self._delay)
        self._lead_is(line.latency + UNSURE)
        self._say("found again" if again else "taken")
        instead = bool(self._wanted) and rank(device.name, self._wanted) > 0
        self.trouble = f'"{self._wanted[0]}" is not there; "{device.name}" plays' if instead else ""
        self._watch = self._system.watch() if instead else None

    def _explain(self, words: str) -> None:
        if words != self.trouble:
            self.trouble = words
            self.facts.append(ev.SoundChanged(at=self._clock.now(), by="sound", speaker="", change=words))

    def _say(self, change: str) -> None:
        name = self._device.name if self._device else ""
        self.facts.append(ev.SoundChanged(at=self._clock.now(), by="sound", speaker=name, change=change))
