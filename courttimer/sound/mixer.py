"""Adds tones and speech into blocks of any size, each on its own frame, at the volume of the session, never above -1 dBTP.

Two threads use a mixer: one queues, withdraws, fades, ducks and turns the volume; the sound thread only fills. There is no lock
between them:

- Whether a voice begins or is withdrawn is settled by its ticket, a list of one: whoever takes it first has won.
- A frame's value depends on what was queued alone, never on where a block begins or ends: float32 sums in the order of queueing.
- What is asked for a frame that is already out (a fade, a duck, a volume) happens softly from the next block on: only then blocks
  show.

The mix is made AHEAD frames (limiter.py) before it is heard: that is how the limiter knows what comes. No frame moves for it; what
is queued must be queued so much earlier, and `head` says up to where it is too late.
"""

from collections.abc import Sequence

import numpy as np

from courttimer.sound.limiter import AHEAD, PAST, Limiter
from courttimer.sound.voices import DUCK, DUCK_RAMP, FADE, Samples, Voice
from courttimer.sound.volume import Fader

__all__ = ["AHEAD", "DUCK", "DUCK_RAMP", "FADE", "FRAMES_A_MS", "PAST", "RATE", "Mixer", "Samples"]

RATE = 48_000
"""Frames a second."""
FRAMES_A_MS = 48


class Mixer:
    """What sounds and what will; lives as long as a stream or a recording. Frames are counted by whoever calls `fill`."""

    def __init__(self) -> None:
        self._voices: dict[str, Voice] = {}
        self._session, self._voice = Fader(), Fader()
        self._limiter: Limiter | None = None
        self._next: int | None = None
        self._sounded = 0
        """The frame before which there was sound in the mix."""
        self.head = 0
        """The first frame that is not mixed yet."""

    def queue(self, key: str, frame: int, samples: Samples, duck: Sequence[tuple[int, int]] = (), *, speech: bool = False) -> None:
        """Let `samples` (mono float32) begin on `frame`; in each range of `duck` (from frame, to frame) they step back.

        `speech` has its own volume, under the session's. A frame before `head` is the caller's business: the sound would be heard
        from its middle.
        """
        self._voices[key] = Voice(key, frame, samples, duck, speech)

    def withdraw(self, key: str, frame: int) -> bool:
        """Take back what has not begun by `frame`. True: it will not be heard; False: it has begun, has ended or never was."""
        voice = self._voices.get(key)
        if voice is None or voice.start < frame or not voice.take_ticket():
            return False
        self._voices.pop(key, None)
        return True

    def fade(self, key: str, frame: int) -> None:
        """Let what sounds fall silent within 20 ms from `frame`."""
        voice = self._voices.get(key)
        if voice is not None:
            voice.ask_fade(frame)

    def duck(self, key: str, ranges: Sequence[tuple[int, int]], frame: int) -> None:
        """Give a sound, also one that has begun, other ranges to step back in; what it does before `frame` stays as it was."""
        voice = self._voices.get(key)
        if voice is not None:
            voice.ask_duck(ranges, frame)

    def volume(self, session_db: float, voice_db: float = 0.0) -> None:
        """How loud everything is, and how loud speech is beside it, in dB; 0 is as levelled. It glides there within 50 ms.

        From LOWEST down it is silent; more than HIGHEST is taken as HIGHEST (volume.py).
        """
        self._session.ask(session_db)
        self._voice.ask(voice_db)

    def fill(self, out: Samples, frame: int) -> None:
        """Write every sample of `out` (shape (frames,)), whose first is `frame`, and forget what has ended.

        Blocks follow one another. A caller may leave out frames, but only where nothing sounds.
        """
        again = frame != self._next
        first = frame if again else self.head
        self._next = frame + len(out)
        self.head = self._next + AHEAD
        if again:
            self._limiter, self._sounded = None, frame - PAST
        mix = self._mix(first, self.head)
        if self._sounded <= frame - PAST:
            self._limiter = None
            out.fill(0.0)
            return
        if self._limiter is None:
            self._limiter = Limiter()
            mix = mix if again else np.concatenate([np.zeros(AHEAD, np.float32), mix])
        self._limiter.through(mix, out)

    def _mix(self, frame: int, end: int) -> Samples:
        """What sounds from `frame` to before `end`, at its volume, and not limited yet."""
        tones, speech = np.zeros(end - frame, np.float32), np.zeros(end - frame, np.float32)
        for voice in tuple(self._voices.values()):
            voice.settle(frame)
            if voice.start < end and (voice.begun or voice.begin()) and voice.add(speech if voice.speech else tones, frame):
                self._sounded = end
            if voice.end() <= end and self._voices.get(voice.key) is voice:
                del self._voices[voice.key]
        session, voice_gain = self._session.gain(frame, end), self._voice.gain(frame, end)
        return (tones + speech * voice_gain) * session
