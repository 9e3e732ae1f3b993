"""The beat: calls and the clock come in, events and cues go out. The only place where the practice meets real time.

A call is stamped where it arrives; whatever was due before it happens before it. Each event is written first and believed then. The
branch is an immutable value in one field, so that any thread may look at it at any time.
"""

import queue
import threading
from collections.abc import Callable, Iterable
from typing import Protocol

from courttimer.clock import Clock
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import Call
from courttimer.practice.cue import Cue
from courttimer.practice.cues import hush, upcoming
from courttimer.practice.look import look
from courttimer.practice.rules import decide
from courttimer.practice.state import State
from courttimer.practice.view import View

HORIZON_MS = 90_000
"""Cues are wished for so far ahead."""
NEAR_MS = 20_000
"""After a call the nearest of them are wished for first, so that its tone need not wait for what is far ahead to be worked out."""
AGAIN_MS = 250
"""Wishes are worked out anew when the state has changed, and otherwise so often."""
BEAT_S = 0.05
STILL_MS = 1_000
ASLEEP_MS = 5_000
"""A suspend of the machine for so long is a hold from the last beat."""


class Sound(Protocol):
    """What the conductor needs of a speaker, a tape, or silence."""

    def want(self, cues: tuple[Cue, ...], now: int, hush: str) -> None:
        """Make what is queued match the whole wish list."""

    def facts(self) -> Iterable[ev.Event]:
        """What has happened to the sound since the last call."""

    def lead(self) -> int:
        """From a press to its sound, in ms."""


class Unheard:
    """No sound at all, for those who only look."""

    def want(self, cues: tuple[Cue, ...], now: int, hush: str) -> None:
        """Nothing is queued."""

    def facts(self) -> Iterable[ev.Event]:
        return ()

    def lead(self) -> int:
        return 0


class Conductor:
    """Lives as long as one run. `beat` and `call` are used from one thread; `put` and `view` from any."""

    def __init__(self, branch: Branch, clock: Clock, write: Callable[[ev.Event], None], sound: Sound) -> None:
        self.branch = branch
        self._clock = clock
        self._write = write
        self._sound = sound
        self._calls: queue.SimpleQueue[tuple[int, Call | ev.Event]] = queue.SimpleQueue()
        self._answer: ev.Event | None = None
        self._written = branch.now.at
        self.fault = ""
        """What is wrong with the beat itself, in words; empty when all is well."""
        self._wished: State | None = None
        self._wished_at = 0
        self._lead = 0
        self._last_beat = clock.now()

    def view(self) -> View:
        """What may be seen now."""
        return look(self.branch, self._clock.now(), self._answer)

    def put(self, call: Call) -> None:
        """Make a call: it is dated now and carried out at the next beat, which comes at once."""
        self._calls.put((self._clock.now(), call))

    def tell(self, fact: ev.Event) -> None:
        """Have a fact written down and shown, such as words that were no call; from any thread."""
        self._calls.put((fact.at, fact))

    def beat(self) -> None:
        """Let time bring what is due, and make the sound match."""
        now = self._clock.now()
        self._bring(now)
        self._tell(now)
        if now - self._written >= STILL_MS and not self.branch.now.ended:
            self._record(ev.Still(at=now))
        if self.branch.now is not self._wished or now - self._wished_at >= AGAIN_MS:
            self._wish(now, "")

    def call(self, call: Call, at: int | None = None) -> ev.Event:
        """Carry out one call, dated `at` or now, and answer with its event."""
        moment = self._clock.now() if at is None else at
        self._bring(moment)
        self._tell(moment)
        before = self.branch
        made = decide(before, call, max(moment, before.now.at), self._lead)
        self._happen(made)
        self._answer = made
        # Wished for before it is brought: with no lead a tone belongs to this very moment.
        self._wish(moment, hush(made), NEAR_MS)
        self._bring(max(moment, made.at))
        self._wish(moment, "")
        return made

    def run(self, stop: Callable[[], bool]) -> None:
        """Beat until `stop` says so; calls are answered at once."""
        while not stop():
            try:
                self._wake()
                self._turn()
                self.fault = ""
            except Exception as fault:  # whatever is wrong with one beat, the next one is played
                self.fault = f"The program stumbled and goes on: {fault!r}."

    def _turn(self) -> None:
        """One call, or one beat."""
        try:
            at, call = self._calls.get(timeout=BEAT_S)
        except queue.Empty:
            self.beat()
            return
        if isinstance(call, Call):
            self.call(call, at)
        else:
            self._answer = call
            self._record(call)

    def start(self, stop: Callable[[], bool]) -> threading.Thread:
        """The same on a thread of its own."""
        thread = threading.Thread(target=self.run, args=(stop,), name="conductor", daemon=True)
        thread.start()
        return thread

    def _wish(self, now: int, silence: str, horizon: int = HORIZON_MS) -> None:
        self._wished, self._wished_at = self.branch.now, now
        self._sound.want(upcoming(self.branch.now, now, now + horizon), now, silence)

    def _wake(self) -> None:
        """After a suspend of the machine the practice is held from the last beat."""
        away, last = self._clock.slept(), self._last_beat
        self._last_beat = now = self._clock.now()
        if away < ASLEEP_MS:
            return
        if self.branch.now.on and not self.branch.now.held:
            self._bring(last)
            self._happen(ev.Held(at=last, by="program", why="asleep"))
        self._record(ev.Woke(at=now, wall=self._clock.wall().isoformat(timespec="seconds"), away=away))

    def _bring(self, at: int) -> None:
        before = self.branch
        _, due = catch_up(before, at)
        for e in due:
            self._happen(e)

    def _tell(self, now: int) -> None:
        """Write down what happened to the sound, and how far ahead it is asked for."""
        if (lead := self._sound.lead()) != self._lead:
            self._lead = lead
            self._record(ev.LeadChanged(at=now, lead=lead))
        for fact in self._sound.facts():
            self._record(fact)

    def _happen(self, e: ev.Event) -> None:
        self._record(e)
        self.branch = happen(self.branch, e)

    def _record(self, e: ev.Event) -> None:
        self._write(e)
        self._written = max(self._written, e.at)
