"""Plays placed cues on a real speaker, on their moments, and comes back by itself when the speaker was lost.

A thread of its own does everything that may take time: importing, opening, placing, watching. Whoever wants something only leaves
it at the door, and picks up what became of it.
"""

import gc
import sys
from collections import deque
from collections.abc import Callable, Mapping, Sequence
from threading import Event, Thread
from typing import TYPE_CHECKING

from courttimer.practice import events as ev
from courttimer.practice.cue import Placed

if TYPE_CHECKING:
    from courttimer.sound.booth import Booth, Moments, Sounds
    from courttimer.sound.devices import System

BEAT_S = 0.03
SWITCH_S = 0.0005
"""A busy thread gives way to the sound's after so long; Python's own 5 ms would delay every block."""
HANGS_NS = 3_000_000_000
LEAD_MS = 180
"""Until the stream is open: its usual latency, and 80."""


def _either() -> "System":
    from courttimer.sound.devices import Either

    return Either()


class Speaker:
    """Lives as long as a practice. Every method may be called from any thread, returns at once and never raises."""

    def __init__(
        self,
        bank: "Sounds",
        clock: "Moments",
        wanted: Sequence[str] = (),
        log: Callable[[str], None] = lambda words: None,
        *,
        delays: Mapping[str, int] | None = None,
        system: "Callable[[], System]" = _either,
    ) -> None:
        """`wanted`: names of speakers, or parts of them, best first. `delays`: by name, how many ms a speaker is behind the card.

        `log` is told, on the speaker's thread, what is of use to nobody but an engineer.
        """
        self._bank, self._clock, self._wanted, self._log = bank, clock, tuple(wanted), log
        self._delays, self._system = dict(delays or {}), system
        self._wants: deque[tuple[tuple[Placed, ...], int, str]] = deque(maxlen=64)
        self._door, self._over = Event(), Event()
        self._booth: Booth | None = None
        self._turned = clock.tick()
        self._broken = ""
        self._volume = (0.0, 0.0)
        self._thread = Thread(target=self._run, daemon=True, name="speaker")
        self._thread.start()

    def want(self, placed: tuple[Placed, ...], *, now: int, hush: str = "") -> None:
        """Let exactly these cues be heard: the whole wish list.

        `hush` "hold": begun speech fades in 20 ms, begun tones finish, nothing new; "halt": everything fades at once.
        """
        self._wants.append((placed, now, hush))
        self._door.set()

    def volume(self, session_db: float, voice_db: float = 0.0) -> None:
        """How loud everything is, and speech beside it, in dB; for this speaker and those after it."""
        self._volume = (session_db, voice_db)
        self._door.set()

    def facts(self) -> list[ev.Event]:
        """What happened to the sound since the last call: CueHeard, CueDropped, SoundChanged."""
        facts, booth = list[ev.Event](), self._booth
        while booth is not None and booth.facts:
            facts.append(booth.facts.popleft())
        return facts

    def lead(self) -> int:
        """From a press to its sound, in ms; it changes with the speaker, by more than 5 ms or not at all."""
        return self._booth.lead if self._booth is not None else LEAD_MS

    def trouble(self) -> str:
        """What is wrong with the sound, in words for the board; empty when nothing is."""
        if not self._over.is_set() and self._clock.tick() - self._turned > HANGS_NS:
            return "no sound: the sound system does not answer"
        return self._broken or (self._booth.trouble if self._booth is not None else "")

    def ready(self) -> bool:
        """Whether cues can be heard now; also true when it is known that they cannot, and `trouble` says why."""
        return bool(self.trouble()) or (self._booth is not None and self._booth.ready)

    @property
    def name(self) -> str:
        """The speaker that plays now; empty when there is none."""
        return self._booth.name if self._booth is not None else ""

    def close(self) -> None:
        """Silence, and the device given back; waits for it for 2 s at most."""
        self._over.set()
        self._door.set()
        self._thread.join(2)

    def _run(self) -> None:
        try:
            self._booth = booth = self._open()
            while not self._over.is_set():
                self._door.wait(BEAT_S)
                self._door.clear()
                self._turn(booth)
            booth.close()
        except Exception as fault:  # the practice goes on in silence, and says so
            self._broken = f"no sound: {fault}"
            self._log(f"the speaker's thread has ended: {fault!r}")

    def _open(self) -> "Booth":
        system = self._system()  # first: it asks the sound server while numpy is imported
        from courttimer.sound.booth import Booth

        sys.setswitchinterval(SWITCH_S)
        booth = Booth(
            system=system, bank=self._bank, clock=self._clock, wanted=self._wanted, delays=self._delays, log=self._log
        )
        booth.turn(())
        self._bank.render_tones()  # while the stream settles; only then is it ready
        # A full collection of a large heap stops the callback for long enough to be heard.
        gc.freeze()
        return booth

    def _turn(self, booth: "Booth") -> None:
        from courttimer.sound.booth import Want

        wants = []
        while self._wants:
            wants.append(Want(*self._wants.popleft()))
        try:
            booth.volume(*self._volume)
            booth.turn(wants)
            self._broken = ""
        except Exception as fault:  # whatever is wrong with one turn, the next one is taken
            self._broken = f"the sound stumbles: {fault}"
            self._log(f"a turn failed: {fault!r}")
        self._turned = self._clock.tick()
