"""Makes what is queued in the mixer match what is wished: commits, withdraws, and never repeats what has begun.

Cues of one group are committed together, COMMIT before the first of them, from one frozen origin: inside a group 1 ms is
exactly 48 frames, whatever the mapping learns meanwhile. A group is anchored at its middle, so that the drift during it falls
on both sides. After a believed step the cues that are still far enough away are placed anew, once, a few callbacks later. A
group that a call brings too late for the card is late as a whole, by what its first tone is late.

The whole wish list comes every time. What is not wished any more and has not begun is withdrawn; what has begun, or was
dropped, is settled by its id for ever. Begun speech that is in the way of the next speech steps aside.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from courttimer.practice.cue import Placed
from courttimer.sound.mapping import Mapping

COMMIT = 350
"""So many ms before its first cue a group is placed for good."""
SETTLE = 8
"""Callbacks after a step before anything is placed anew."""
SHIFT = 100
"""A group whose first tone is late by up to so many ms is late as a whole: a window is worth more than the wall."""
LATEST, BARELY = 250, 20
"""How late, in ms, a cue may begin at all, and how late one may that is wrong when it is late."""
FRAMES_A_MS = 48
FADE = 960
NOT_READY = "the speaker was not ready"
KEPT = 48_000
"""Frames for which what has ended is remembered: the card still has some of it."""
MARGIN = 512
"""What is late begins so many frames after the last block, so that it is whole."""


class Mixing(Protocol):
    """What a desk needs of a mixer; see mixer.py."""

    head: int

    def queue(
        self, key: str, frame: int, samples: Any, duck: Sequence[tuple[int, int]] = (), *, speech: bool = False
    ) -> None: ...
    def withdraw(self, key: str, frame: int) -> bool: ...
    def fade(self, key: str, frame: int) -> None: ...
    def duck(self, key: str, ranges: Sequence[tuple[int, int]], frame: int) -> None: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """A cue began to sound on `frame`; or it was dropped, and `why` says why."""

    placed: Placed
    frame: int = -1
    why: str = ""


@dataclass(slots=True, kw_only=True)
class _Queued:
    placed: Placed
    frame: int
    end: int
    begun: bool = False
    faded: bool = False


class Desk:
    """Lives as long as a stream; `settled` outlives it, so that the next stream repeats nothing. For one thread."""

    def __init__(
        self,
        *,
        mixer: Mixing,
        ns: Callable[[int], int],
        samples: Callable[[Placed], Any],
        settled: set[str],
        delay: int = 0,
    ) -> None:
        """`ns` gives the moment, in ns, of a practice time; `samples` the sound of a cue, None or empty when there is none.

        `settled` holds the ids of what is never to be heard (again), and grows. `delay`: how many ms the speaker is behind.
        """
        self.mapping = Mapping()
        self._mixer, self._ns, self._samples, self._settled = mixer, ns, samples, settled
        self._delay = delay * 1_000_000
        self._queued: dict[str, _Queued] = {}
        self._origins: dict[str, int] = {}
        """By group: the frame of practice time 0."""
        self._settling = 0
        self._news: list[Settled] = []

    def put(self, heard: int, frame: int) -> bool:
        """The card says that `frame` is heard at the moment `heard`. True when this makes a step believed."""
        stepped = self.mapping.put(heard, frame)
        if stepped:
            self._settling = SETTLE
            if abs(self.mapping.slip) > LATEST * 1_000_000:
                self.start_over()
        elif self._settling > 1:
            self._settling -= 1
        return stepped

    def heard(self, frame: int, about: int) -> int:
        """The moment, in ns, at which `frame` is heard by what is known now; `about` is roughly that moment."""
        return self.mapping.offset(about) + self._delay + frame * 62_500 // 3

    def stand_still(self) -> None:
        """The card takes no frames: what has not begun waits at the door until it does, so that nothing is piled up."""
        self.start_over()
        self.mapping.forget()

    def start_over(self) -> None:
        """Place everything anew that has not begun: practice time has jumped, or the card's."""
        for key in [k for k, entry in self._queued.items() if not entry.begun]:
            self._take(key)
        self._origins.clear()

    def turn(self, wishes: Sequence[Placed], now: int, hush: str = "", commit: int = COMMIT) -> list[Settled]:
        """Make the queue match, at practice time `now` in ms. Gives what was settled since the last turn.

        `hush` "hold" withdraws everything and fades speech, "halt" fades tones too; "speech" fades begun speech and no more.
        """
        wanted = {} if hush in ("hold", "halt") else {w.cue.id: w for w in wishes}
        self._see_begun()
        for key in [k for k, entry in self._queued.items() if not entry.begun and not _unchanged(entry, wanted.get(k))]:
            self._take(key)
        if hush:
            self._hush(speech_only=hush != "halt")
        if hush not in ("hold", "halt") and self.mapping.steady:
            self._place_anew(wanted, now + commit)
            self._commit(wanted, now + commit)
        self._drop_missed(wanted, now)
        self._forget(wanted)
        news, self._news = self._news, []
        return news

    def sounding(self, moment: int) -> bool:
        """Whether anything that has begun is still heard at this moment, in ns."""
        return self.mapping.steady and any(entry.begun and self.heard(entry.end, moment) > moment for entry in self._queued.values())

    def _see_begun(self) -> None:
        for key, entry in self._queued.items():
            if not entry.begun and entry.frame < self._mixer.head:
                self._begin(key)

    def _begin(self, key: str) -> None:
        entry = self._queued[key]
        entry.begun = True
        self._settled.add(key)
        self._news.append(Settled(placed=entry.placed, frame=entry.frame))

    def _take(self, key: str) -> bool:
        """Take back what has not begun; False: the stream was faster."""
        if self._mixer.withdraw(key, self._mixer.head):
            del self._queued[key]
            return True
        self._begin(key)
        return False

    def _hush(self, *, speech_only: bool) -> None:
        for key, entry in self._queued.items():
            if entry.begun and not (speech_only and entry.placed.cue.sort == "tone"):
                self._fade(key, self._mixer.head)

    def _fade(self, key: str, frame: int) -> None:
        if not self._queued[key].faded:
            self._queued[key].faded = True
            self._mixer.fade(key, max(frame, self._mixer.head))

    def _place_anew(self, wanted: dict[str, Placed], until: int) -> None:
        if self._settling != 1:
            return
        self._settling = 0
        for name in self._origins:
            left = [w for w in wanted.values() if w.cue.group == name and w.at > until and w.cue.id in self._queued]
            if left:
                self._origins[name] = self._anchor(left)
                for wish in left:
                    if self._take(wish.cue.id):
                        self._queue(wish)

    def _commit(self, wanted: dict[str, Placed], until: int) -> None:
        groups: dict[str, list[Placed]] = {}
        for key, wish in wanted.items():
            if key in self._queued:
                self._step_back(self._queued[key], wish)
            elif key not in self._settled:
                groups.setdefault(wish.cue.group, []).append(wish)
        for name, wishes in groups.items():
            if name not in self._origins:
                if min(w.at for w in wishes) > until:
                    continue
                self._origins[name] = self._shifted(self._anchor(wishes), min(wishes, key=lambda w: w.at))
            for wish in wishes:
                self._queue(wish)

    def _anchor(self, wishes: Sequence[Placed]) -> int:
        middle = (min(w.at for w in wishes) + max(w.at for w in wishes)) // 2
        moment = self._ns(middle)
        frame = round((moment - self._delay - self.mapping.offset(moment)) * 3 / 62_500)
        return frame - middle * FRAMES_A_MS

    def _shifted(self, origin: int, first: Placed) -> int:
        late = self._mixer.head + MARGIN - (origin + first.at * FRAMES_A_MS)
        plays = first.cue.if_late == "play" and MARGIN < late <= SHIFT * FRAMES_A_MS
        return origin + late if plays else origin

    def _step_back(self, entry: _Queued, wish: Placed) -> None:
        if (entry.placed.duck, entry.placed.until) != (wish.duck, wish.until) and _same(entry.placed, wish):
            entry.placed = wish
            self._mixer.duck(wish.cue.id, self._ducks(wish, entry.frame), self._mixer.head)
            self._cut_off(entry)

    def _cut_off(self, entry: _Queued) -> None:
        """A tone stops for the one that comes next."""
        p = entry.placed
        end = entry.frame + (p.until - p.at) * FRAMES_A_MS
        if p.cue.sort == "tone" and end < entry.end:
            self._fade(p.cue.id, end - FADE)

    def _queue(self, wish: Placed) -> None:
        samples = self._samples(wish)
        if samples is None or not len(samples):
            self._drop(wish, "these words are not rendered" if wish.text else "no such tone")
            return
        asked = self._origins[wish.cue.group] + wish.at * FRAMES_A_MS
        frame = asked if asked >= self._mixer.head else self._mixer.head + MARGIN
        late = -(-(frame - asked) // FRAMES_A_MS)
        if late and not _may_be(late, wish, len(samples)):
            self._drop(wish, f"late by {late} ms")
            return
        if wish.cue.sort == "speech":
            self._step_aside(frame)
        self._mixer.queue(wish.cue.id, frame, samples, self._ducks(wish, frame), speech=wish.cue.sort == "speech")
        self._queued[wish.cue.id] = _Queued(placed=wish, frame=frame, end=frame + len(samples))
        self._cut_off(self._queued[wish.cue.id])

    def _ducks(self, wish: Placed, frame: int) -> list[tuple[int, int]]:
        return [(frame + (a - wish.at) * FRAMES_A_MS, frame + (b - wish.at) * FRAMES_A_MS) for a, b in wish.duck]

    def _step_aside(self, frame: int) -> None:
        for key, entry in self._queued.items():
            if entry.begun and entry.placed.cue.sort == "speech" and entry.end > frame:
                self._fade(key, frame - FADE)

    def _drop(self, wish: Placed, why: str) -> None:
        self._settled.add(wish.cue.id)
        self._news.append(Settled(placed=wish, why=why))

    def _drop_missed(self, wanted: dict[str, Placed], now: int) -> None:
        for wish in missed([w for key, w in wanted.items() if key not in self._queued], now, self._settled):
            self._drop(wish, NOT_READY)

    def _forget(self, wanted: dict[str, Placed]) -> None:
        for key in [k for k, entry in self._queued.items() if entry.begun and entry.end + KEPT < self._mixer.head]:
            del self._queued[key]
        alive = {entry.placed.cue.group for entry in self._queued.values()}
        alive |= {wish.cue.group for key, wish in wanted.items() if key not in self._settled}
        for name in self._origins.keys() - alive:
            del self._origins[name]


def missed(wishes: Iterable[Placed], now: int, settled: set[str]) -> list[Placed]:
    """Those that are not settled, and whose time has passed at `now`."""
    return [w for w in wishes if w.cue.id not in settled and now - w.at > LATEST]


def _same(queued: Placed, wish: Placed | None) -> bool:
    return wish is not None and (queued.at, queued.text, queued.cue.group) == (wish.at, wish.text, wish.cue.group)


def _unchanged(entry: _Queued, wish: Placed | None) -> bool:
    """What has not begun is queued afresh when it moves, or is cut off no more."""
    return wish is not None and _same(entry.placed, wish) and not (entry.faded and entry.placed.until != wish.until)


def _may_be(late: int, wish: Placed, frames: int) -> bool:
    """Horns and words with room may be a little late; counted words and warnings may not."""
    if wish.cue.sort == "speech" and wish.cue.right != "countdown":
        return late <= LATEST and wish.at + late + frames // FRAMES_A_MS <= wish.cue.until
    return late <= (LATEST if wish.cue.if_late == "play" else BARELY)
