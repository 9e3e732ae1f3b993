"""Has every phrase rendered before it is needed, keeps the renderings, and never lets a broken voice stop a practice.

The engines crash, hang, print and truncate; so they live in a child process, one a batch, that is given a phrase at a time and is
killed and started again when it fails. What comes back is checked, made into a phrase (speech.py) and kept by its text in a folder
for its voice, pace and versions. Beside it `lengths.json` holds how long each phrase lasts, to be read without numpy, and
`sources.json` what was made of something else than the text itself: a coach's recording, or a name as it is said (own.py).
"""

import json
import os
import sys
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path

from courttimer import locations
from courttimer.plan.model import Voice
from courttimer.sound import own
from courttimer.sound.lengths import kept

MADE = 4
"""Raise it whenever speech.py makes other samples of the same file."""
LONGEST = 8000
"""The engines truncate what is longer, in ms, without a word."""
PATIENCE = 6.0
"""A child that does not answer for so many seconds hangs."""
COMMAND = (sys.executable, "-m", "courttimer.sound.voice_child")

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What came of it. Phrases in `missing` are not heard; `trouble` says why, in words for the coach, or is empty."""

    rendered: int = 0
    cached: int = 0
    missing: tuple[str, ...] = ()
    trouble: str = ""


def home(folder: Path, voice: Voice) -> Path:
    """Where in the cache `folder` this voice's renderings are, `lengths.json` among them. It need not exist."""
    parts = (*(_version(name) for name in ("pyttsx3", "espeakng_loader", "soxr")), sys.platform, str(MADE))
    return folder / "speech" / f"{voice.language}-{voice.pace}-{_sha('|'.join(parts))[:12]}"


def rendering(folder: Path, voice: Voice, text: str) -> Path:
    """The file of a phrase: a numpy array of float32 at 48 kHz. It need not exist."""
    return home(folder, voice) / f"{stem(text)}.npy"


def stem(text: str) -> str:
    """What a phrase's rendering is called, without its suffix."""
    return _sha(text)[:24]


def prepare(
    texts: Iterable[str],
    voice: Voice,
    folder: Path,
    progress: Progress = lambda done, of: None,
    *,
    command: Sequence[str] = COMMAND,
    patience: float = PATIENCE,
) -> Report:
    """Have all `texts` rendered into the cache `folder`; `progress` is told how many of how many are done.

    The coach's own recordings go before the voice. Blocks until all is done; never raises for a voice, a recording, a file or a
    folder that fails: the report says so.
    """
    wanted = tuple(dict.fromkeys(text for text in texts if text.strip()))
    try:
        coachs = own.read(locations.own_sounds(), voice.language)
        work = _Work(voice=voice, folder=folder, own=coachs, command=command, patience=patience, progress=progress)
        return work.all(wanted)
    except Exception as fault:
        return Report(missing=wanted, trouble=f"no speech: {plain(fault)}; the tones are heard as always")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    """One go at a list of texts."""

    voice: Voice
    folder: Path
    own: own.Own
    command: Sequence[str]
    patience: float
    progress: Progress

    def all(self, wanted: Sequence[str]) -> Report:
        there = home(self.folder, self.voice)
        lengths, sources = kept(there / "lengths.json"), _sources(there / "sources.json")
        cached = {
            text for text in wanted if text in lengths and sources.get(text, text) == self.own.source(text) and self._exists(text)
        }
        self.progress(len(cached), len(wanted))
        todo = [text for text in wanted if text not in cached]
        if not todo:
            return Report(cached=len(cached), trouble="; ".join(self.own.trouble))
        return self._render(todo, len(cached), lengths, sources)

    def _exists(self, text: str) -> bool:
        return rendering(self.folder, self.voice, text).exists()

    def _render(self, todo: Sequence[str], cached: int, lengths: dict[str, int], sources: dict[str, str]) -> Report:
        from courttimer.sound.voice_batch import Batch  # numpy, and half a dozen modules that a cached start does not need

        batch = Batch(voice=self.voice, folder=self.folder, own=self.own, command=self.command, patience=self.patience)
        for done, (text, ms, source) in enumerate(batch.render(todo), cached + 1):
            lengths[text], sources[text] = ms, source
            self.progress(done, cached + len(todo))
        there = home(self.folder, self.voice)
        if batch.done:
            write(there / "lengths.json", _packed(lengths))
            write(there / "sources.json", _packed({text: source for text, source in sources.items() if source != text}))
        missing = tuple(text for text in todo if text not in batch.done)
        trouble = "; ".join(filter(None, (*self.own.trouble, *batch.wrong, batch.words(missing))))
        return Report(rendered=len(batch.done), cached=cached, missing=missing, trouble=trouble)


def _sources(path: Path) -> dict[str, str]:
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def _packed(found: dict[str, int] | dict[str, str]) -> bytes:
    return json.dumps(found, ensure_ascii=False, indent=0).encode()


def write(path: Path, data: bytes) -> None:
    """All of it or nothing of it."""
    beside = path.with_name(f"{path.name}.{os.getpid()}")
    try:
        beside.write_bytes(data)
        beside.replace(path)
    except OSError:
        with suppress(OSError):
            beside.unlink()  # a part of it would only take what room is left
        raise


def _sha(text: str) -> str:
    return sha256(text.encode()).hexdigest()


@lru_cache
def _version(module: str) -> str:
    # The name of the folder with the metadata tells it; importlib.metadata would cost more than all the rest of a cached start.
    found = find_spec(module)
    beside = Path(found.origin).parents[1] if found and found.origin else None
    return next((path.name for path in beside.glob(f"{module}-*.dist-info")), "unknown") if beside else "none"


def plain(fault: Exception) -> str:
    return (isinstance(fault, OSError) and fault.strerror) or str(fault) or type(fault).__name__
