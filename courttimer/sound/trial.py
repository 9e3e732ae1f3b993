"""Tries the speakers out: names them in words, plays every cue for the ear in the far corner, finds out how late one is."""

import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from threading import Event

from courttimer import locations
from courttimer.clock import RealClock
from courttimer.errors import DeviceError
from courttimer.plan.model import Voice
from courttimer.practice.cue import Cue, Placed, Saying
from courttimer.practice.events import CueDropped, CueHeard
from courttimer.sound.bank import Bank
from courttimer.sound.delays import late
from courttimer.sound.devices import Device, Either, ordered
from courttimer.sound.horns import own
from courttimer.sound.lengths import kept
from courttimer.sound.phrases import read as phrases
from courttimer.sound.recipes import Recipe
from courttimer.sound.speaker import Speaker
from courttimer.sound.tapping import BEAT_MS, BEATS
from courttimer.sound.voice import home, prepare

BEAT = Recipe(name="beat", partials=((1000.0, 1.0), (2000.0, 0.5)), runs=(60,), pitch=(1.0,), rise=5, fall=25)
SAYING = Saying(phrase="one-minute")
AHEAD_MS, STEP_S, PATIENCE = 800, 0.05, 200
"""A cue is asked for so long ahead; between two looks; so many looks are waited for a speaker, and for a cue beyond its end."""


def listed(wanted: Sequence[str], delays: Mapping[str, int]) -> list[str]:
    """The speakers in words, in the order in which they would be tried. Raises DeviceError when there is no sound system."""
    found = ordered(Either().look(), wanted)
    usual = next((d.title for d in found if d.usual), "")
    first = {device.title: device for device in reversed(found)}
    told = [device for device in found if first.pop(device.title, None) is not None]
    return [_in_words(device, device.title == usual, delays) for device in told]


def _in_words(device: Device, usual: bool, delays: Mapping[str, int]) -> str:
    behind = late(delays, device.title)
    facts = [
        "the machine's own" if usual else "",
        "wireless: it is kept awake" if device.wireless else "",
        f"{behind} ms late: it gets its cues so much earlier" if behind else "",
    ]
    said = "; ".join(filter(None, facts))
    return f"{device.title}: {said}" if said else device.title


def tones() -> dict[str, str]:
    """What each tone means, by its name."""
    tables = tomllib.loads((locations.sounds() / "tones.toml").read_text(encoding="utf-8"))
    return {name: str(table.get("about", "")) for name, table in tables.items()}


class Trial:
    """Lives as long as the command; give it back with `close`."""

    def __init__(self, wanted: Sequence[str], delays: Mapping[str, int]) -> None:
        self.clock = RealClock()
        self._recipes = own(locations.sounds(), locations.own_sounds())[0] | {BEAT.name: BEAT}
        bank = Bank(self._recipes, folder=locations.cache(), voice=Voice())
        self._speaker = Speaker(bank, self.clock, wanted, delays=delays)
        self._over = Event()

    def close(self) -> None:
        self._over.set()
        self._speaker.close()

    def taken(self) -> str:
        """The speaker that plays; waits for it. Raises DeviceError, in words, when there is none."""
        for _ in range(PATIENCE):
            if self._speaker.ready():
                break
            self._over.wait(STEP_S)
        if not self._speaker.name:
            raise DeviceError(self._speaker.trouble() or "no sound: no speaker was ready in time")
        return self._speaker.name

    def trouble(self) -> str:
        return self._speaker.trouble()

    def play(self, name: str) -> None:
        """One tone; returns when it is over. Raises DeviceError when it could not be heard."""
        self._heard([self._tone(name, self.clock.now() + AHEAD_MS, 0)])

    def say(self) -> str:
        """A phrase; gives what was said, or nothing when there is no voice here."""
        text = phrases(locations.sounds()).said(SAYING)
        prepare((text,), Voice(), locations.cache())
        length = kept(home(locations.cache(), Voice()) / "lengths.json").get(text)
        if length is None:
            return ""
        at = self.clock.now() + AHEAD_MS
        self._heard([_cue("words", at, at + length, text)])
        return text

    def beats(self, each: Callable[[int], None]) -> list[int]:
        """Play the beats to tap to, telling `each` by its number; gives when each was heard, in ms of `clock`, by the card's word.

        Raises DeviceError when they could not be heard.
        """
        begin = self.clock.now() + 2 * AHEAD_MS
        return self._heard([self._tone(BEAT.name, begin + BEAT_MS * n, n) for n in range(BEATS)], each)

    def _tone(self, name: str, at: int, n: int) -> Placed:
        return _cue(name, at, at + self._recipes[name].length, n=n)

    def _heard(self, wishes: Sequence[Placed], each: Callable[[int], None] = lambda n: None) -> list[int]:
        """When each was heard, in ms."""
        heard, until = list[int](), wishes[-1].until + PATIENCE * round(STEP_S * 1000)
        while len(heard) < len(wishes) and self.clock.now() < until:
            now = self.clock.now()
            self._speaker.want(tuple(w for w in wishes if w.at > now - BEAT_MS), now=now)
            self._over.wait(STEP_S)
            for fact in self._speaker.facts():
                if isinstance(fact, CueDropped):
                    raise DeviceError(f"it could not be heard: {fact.why}")
                if isinstance(fact, CueHeard):
                    each(len(heard))
                    heard.append(round(fact.played))
        if len(heard) < len(wishes):
            raise DeviceError(self._speaker.trouble() or "the speaker does not play")
        self._over.wait(max(wishes[-1].until - self.clock.now(), 0) / 1000)
        return heard


def _cue(name: str, at: int, until: int, text: str = "", n: int = 0) -> Placed:
    cue = Cue(
        lane=0, stretch=at - n * BEAT_MS, name=name, n=n, sort="speech" if text else "tone", at=at, until=until if text else at,
        segment=0, right="where" if text else "horn", if_late="play", group=f"{at - n * BEAT_MS}.{name}", text=text,
    )  # fmt: skip
    return Placed(cue=cue, at=at, until=until, text=text)


def walk(trial: Trial, names: Sequence[str], pause_s: float) -> Iterator[str]:
    """Play them one after the other, each told before it is heard, with time to listen between."""
    waiting, about = Event(), tones()
    for name in names:
        yield f"{name}: {about[name]}"
        trial.play(name)
        waiting.wait(pause_s)
