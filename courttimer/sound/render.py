"""A rehearsal's tape: what would have been heard, as a list of cues and as a sound file made by the same mixer as on the evening."""

import json
import wave
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from courttimer.practice.cue import Placed
from courttimer.practice.events import Event
from courttimer.sound.bank import Bank

if TYPE_CHECKING:
    from courttimer.sound.mixer import Mixer, Samples

FRAMES_A_MS = 48
RATE = 48_000
FADE_MS = 20
SUFFIXES = {".wav": ("WAV", "PCM_16"), ".flac": ("FLAC", "PCM_16"), ".ogg": ("OGG", "VORBIS")}
"""The sound files that can be written, and libsndfile's names for what they are and hold."""
BLOCK = 48_000
"""Frames written at once: memory stays flat however long the practice is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """One cue that was heard, from `placed.at` to `until`; `faded`: it fell silent there, before its end."""

    placed: Placed
    until: int
    faded: bool = False


class Tape:
    """A player for rehearsals: what is wished for a moment that has passed was heard. Lives as long as a rehearsal."""

    def __init__(self) -> None:
        self._wishes: dict[str, Placed] = {}
        self._heard: dict[str, Heard] = {}

    def want(self, placed: tuple[Placed, ...], *, now: int, hush: str = "") -> None:
        """The whole wish list at `now`. `hush` as for a speaker: "hold" and "speech" fade begun speech, "halt" fades all."""
        self._begin(now)
        self._renew(placed, now)
        if hush:
            self._fade(now, speech_only=hush != "halt")
        self._wishes = {} if hush in ("hold", "halt") else {p.cue.id: p for p in placed if p.cue.id not in self._heard}

    def _begin(self, now: int) -> None:
        for key, p in self._wishes.items():
            if p.at <= now and key not in self._heard:
                self._heard[key] = Heard(placed=p, until=p.until)

    def _renew(self, placed: tuple[Placed, ...], now: int) -> None:
        """What sounds may have to step back, or to stop, for something new."""
        for p in placed:
            h = self._heard.get(p.cue.id)
            if h is not None and not h.faded and h.placed.at == p.at and now < h.until:
                self._heard[p.cue.id] = replace(h, placed=p, until=p.until, faded=p.until < h.until)

    def _fade(self, now: int, *, speech_only: bool) -> None:
        for key, h in tuple(self._heard.items()):
            if h.placed.cue.sort == "tone" and speech_only:
                continue
            if h.placed.at == now:
                del self._heard[key]
            elif h.placed.at < now < h.until - FADE_MS:
                self._heard[key] = replace(h, until=now + FADE_MS, faded=True)

    def facts(self) -> list[Event]:
        """Nothing ever happens to a tape."""
        return []

    def lead(self) -> int:
        return 0

    def heard(self) -> tuple[Heard, ...]:
        """All that was heard, in order of time."""
        return tuple(sorted(self._heard.values(), key=lambda h: (h.placed.at, h.placed.cue.id)))


def cues_json(heard: Iterable[Heard]) -> str:
    """The cues as a JSON list: id, group, lane, at_ms, until_ms, sort, name, also, text, segment, if_late."""
    return json.dumps([_row(h) for h in heard], ensure_ascii=False, indent=1) + "\n"


def _row(h: Heard) -> dict[str, object]:
    p, cue = h.placed, h.placed.cue
    return {
        "id": cue.id, "group": cue.group, "lane": cue.lane, "at_ms": p.at, "until_ms": h.until, "sort": cue.sort, "name": cue.name,
        "also": list(p.also), "text": p.text, "segment": cue.segment, "if_late": cue.if_late,
    }  # fmt: skip


def cues_vtt(heard: Iterable[Heard]) -> str:
    """The cues as WebVTT (W3C WebVTT: The Web Video Text Tracks Format, section 4), tones by their names in brackets."""
    return "WEBVTT\n\n" + "\n".join(_cue(h) for h in heard)


def _cue(h: Heard) -> str:
    p = h.placed
    tone = ", ".join((p.cue.name, *p.also))
    text = p.text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;") if p.text else f"[{tone}]"
    return f"{p.cue.id.replace('-->', '')}\n{_moment(p.at)} --> {_moment(max(h.until, p.at + 1))}\n{text}\n"


def _moment(ms: int) -> str:
    return f"{ms // 3_600_000:02d}:{ms // 60_000 % 60:02d}:{ms // 1000 % 60:02d}.{ms % 1000:03d}"


def write_sound(path: Path, heard: Iterable[Heard], bank: Bank, until: int) -> None:
    """Write what was heard up to `until` ms: mono, 48 kHz. Silence is written plainly, only what sounds is mixed.

    The suffix of `path`, one of SUFFIXES, says how: .wav and .flac have the same samples of 16 bits, .ogg is Vorbis.
    """
    blocks = _blocks(tuple(heard), bank, until * FRAMES_A_MS)
    if path.suffix.lower() == ".wav":
        _write_wav(path, blocks)
    else:
        _write_packed(path, blocks)


def _write_wav(path: Path, blocks: Iterator[bytes]) -> None:
    with path.open("wb") as raw, wave.open(raw, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        for block in blocks:
            file.writeframesraw(block)


def _write_packed(path: Path, blocks: Iterator[bytes]) -> None:
    import soundfile

    sort, inside = SUFFIXES[path.suffix.lower()]
    # Opened by us, so that what the disk refuses is an OSError with a name.
    with path.open("wb") as raw, soundfile.SoundFile(raw, "w", RATE, 1, inside, format=sort) as file:
        for block in blocks:
            file.buffer_write(block, dtype="int16")


def _blocks(heard: tuple[Heard, ...], bank: Bank, end: int) -> Iterator[bytes]:
    import numpy as np

    from courttimer.sound.mixer import AHEAD, PAST, Mixer

    mixer, silence = Mixer(), bytes(2 * BLOCK)
    todo, frame, sounds_until = list(reversed(heard)), 0, 0
    out = np.zeros(BLOCK, np.float32)
    while frame < end:
        to = min(frame + BLOCK, end)
        while todo and todo[-1].placed.at * FRAMES_A_MS < to + AHEAD:
            sounds_until = max(sounds_until, _queue(mixer, todo.pop(), bank))
        if sounds_until + PAST <= frame:
            yield silence[: 2 * (to - frame)]
        else:
            yield _pcm(mixer, out[: to - frame], frame)
        frame = to


def _queue(mixer: "Mixer", h: Heard, bank: Bank) -> int:
    """Put one sound into the mixer; gives the frame at which it is over."""
    samples = bank.samples(h.placed)
    if samples is None or not len(samples):
        return 0
    p = h.placed
    start = p.at * FRAMES_A_MS
    mixer.queue(p.cue.id, start, samples, [(a * FRAMES_A_MS, b * FRAMES_A_MS) for a, b in p.duck], speech=p.cue.sort == "speech")
    if h.faded or (p.cue.sort == "tone" and (h.until - p.at) * FRAMES_A_MS < len(samples)):
        mixer.fade(p.cue.id, (h.until - FADE_MS) * FRAMES_A_MS)
    return start + len(samples)


def _pcm(mixer: "Mixer", out: "Samples", frame: int) -> bytes:
    import numpy as np

    mixer.fill(out, frame)
    return np.clip(np.rint(out * 32767), -32768, 32767).astype("<i2").tobytes()
