"""Between what the practice wishes and what a player plays: every wish list is placed in the air, then handed on."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Protocol

from courttimer import locations
from courttimer.practice.cue import Cue, Placed, Unplaced
from courttimer.practice.events import CueDropped, CueMoved, Event
from courttimer.sound.air import MOVED, moved, place
from courttimer.sound.lengths import Lengths
from courttimer.sound.phrases import Phrases, read

BESIDE_MS = 1_000
"""So long after its end a sound that has begun still counts for what is placed beside it."""
FADE_MS = 20


class Player(Protocol):
    """A live speaker or the tape of a rehearsal."""

    def want(self, placed: tuple[Placed, ...], *, now: int, hush: str = "") -> None: ...
    def facts(self) -> list[Event]: ...
    def lead(self) -> int: ...


class Hall:
    """Lives as long as a run. `want` is given every beat; a cue that finds no place is told once."""

    def __init__(self, player: Player, lengths: Lengths, phrases: Phrases | None = None) -> None:
        """Without `phrases` everything is said in English."""
        self._phrases = phrases or read(locations.sounds())
        self._player = player
        self._lengths = lengths
        self._placed: dict[str, Placed] = {}
        self._begun: dict[str, Placed] = {}
        self._over: set[str] = set()
        self._no_place: dict[str, Unplaced] = {}
        self._drops: list[Event] = []
        self._told: set[str] = set()

    def play_on(self, player: Player) -> None:
        """From now on this player sounds."""
        self._player = player

    def want(self, cues: tuple[Cue, ...], now: int, hush: str) -> None:
        """Make what will be heard match the wishes. What has begun stays where it is, and room is kept beside it."""
        begun = {i: p for i, p in (self._begun | self._placed).items() if p.at <= now}
        self._begun = {i: p for i, p in begun.items() if now < _counts_until(p)}
        # A wish may be given more room later, when its words are long over: what has begun is never repeated.
        self._over |= begun.keys() - self._begun.keys()
        if hush:
            self._hush(now, hush)
        wishes = [self._in_words(c) for c in cues if c.id not in self._over]
        placed, unplaced = place(wishes, self._lengths, tuple(self._begun.values()), now=now)
        self._placed = {p.cue.id: p for p in placed}
        self._tell(unplaced, now)
        self._tell_moved(now)
        self._player.want(placed, now=now, hush=hush)

    def _in_words(self, cue: Cue) -> Cue:
        return cue if cue.says is None else replace(cue, text=self._phrases.said(cue.says))

    def _tell(self, unplaced: tuple[Unplaced, ...], now: int) -> None:
        """What found no place is told when its time is over, with the first reason; until then it may still find one."""
        for u in self._no_place.values():
            if u.cue.until <= now and u.cue.id not in self._over:
                self._over.add(u.cue.id)
                self._drops.append(CueDropped(at=now, lane=u.cue.lane, by="sound", cue=u.cue.id, why=u.why))
        first = self._no_place
        self._no_place = {u.cue.id: replace(first.get(u.cue.id, u), cue=u.cue) for u in unplaced if u.cue.id not in self._over}

    def _tell_moved(self, now: int) -> None:
        """What has begun far from where it wanted to be, once."""
        for i, p in self._begun.items():
            if i not in self._told and (off := moved(p)) > MOVED:
                self._told.add(i)
                short = bool(p.cue.short) and p.text == p.cue.short
                self._drops.append(CueMoved(at=now, lane=p.cue.lane, by="sound", cue=i, off=off, short=short))

    def _hush(self, now: int, hush: str) -> None:
        """What a call silences is over in a moment; what would have begun at this very ms never sounds."""
        for i, p in tuple(self._begun.items()):
            if hush != "halt" and p.cue.sort == "tone":
                continue
            if p.at == now:
                del self._begun[i]
                self._over.add(i)
            else:
                self._begun[i] = replace(p, until=min(p.until, now + FADE_MS))

    def facts(self) -> Iterable[Event]:
        """What has happened to the sound since the last call."""
        drops, self._drops = self._drops, []
        return [*drops, *self._player.facts()]

    def lead(self) -> int:
        """From a press to its sound, in ms."""
        return self._player.lead()


def _counts_until(p: Placed) -> int:
    """While it may still be wished for, it must not be placed a second time."""
    return max(p.until + BESIDE_MS, p.cue.until)


class Silence:
    """A player where there is none: nothing is heard, and nobody waits for it."""

    def want(self, placed: tuple[Placed, ...], *, now: int, hush: str = "") -> None:
        """Nothing is queued."""

    def facts(self) -> list[Event]:
        return []

    def lead(self) -> int:
        return 0
