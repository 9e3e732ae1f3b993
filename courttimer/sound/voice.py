"""Has every phrase rendered before it is needed, keeps the renderings, and never lets a broken voice stop a practice.

The engines crash, hang, print and truncate; so they live in a child process, one a batch, that is given a phrase at a time and is
killed and started again when it fails. What comes back is checked, made into a phrase (speech.py) and kept by its text in a folder
for its voice, pace and versions. Beside it `lengths.json` holds how long each phrase lasts, to be read without numpy.
"""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from queue import Empty, SimpleQueue
from tempfile import TemporaryDirectory
from threading import Thread
from typing import Any

from courttimer.plan.model import Voice
from courttimer.sound.lengths import estimate, kept

MADE = 1
"""Raise it whenever speech.py makes other samples of the same file."""
LONGEST = 8000
"""The engines truncate what is longer, in ms, without a word."""
LETTER = 15
"""No voice says a letter in fewer ms than this; what is shorter was cut off."""
PATIENCE = 6.0
"""A child that does not answer for so many seconds hangs."""
FAILURES = 2
"""So many children in a row may fail without rendering anything; then there is no voice."""
AHEAD = 4
"""Phrases that a child is given before their answers are there."""
BROKE = "the voice of this machine broke off"
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
    parts = (*(_version(name) for name in ("pyttsx3", "espeakng-loader", "soxr")), sys.platform, str(MADE))
    return folder / "speech" / f"{voice.language}-{voice.pace}-{_sha('|'.join(parts))[:12]}"


def rendering(folder: Path, voice: Voice, text: str) -> Path:
    """The file of a phrase: a numpy array of float32 at 48 kHz. It need not exist."""
    return home(folder, voice) / f"{_sha(text)[:24]}.npy"


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

    Blocks until then; never raises for a voice, a file or a folder that fails: the report says so.
    """
    wanted = tuple(dict.fromkeys(text for text in texts if text.strip()))
    try:
        lengths = kept(home(folder, voice) / "lengths.json")
        cached = {text for text in wanted if text in lengths and rendering(folder, voice, text).exists()}
        batch = _Batch(voice=voice, folder=folder, command=command, patience=patience)
        todo = [text for text in wanted if text not in cached]
        progress(len(cached), len(wanted))
        for text, ms in batch.render(todo) if todo else ():
            lengths[text] = ms
            cached_now = len(cached) + len(batch.done)
            progress(cached_now, len(wanted))
        if batch.done:
            _write(home(folder, voice) / "lengths.json", json.dumps(lengths, ensure_ascii=False, indent=0).encode())
        missing = tuple(text for text in todo if text not in batch.done)
        return Report(rendered=len(batch.done), cached=len(cached), missing=missing, trouble=batch.words(missing))
    except Exception as fault:
        return Report(missing=wanted, trouble=f"no speech: {_plain(fault)}; the tones are heard as always")


@dataclass(kw_only=True)
class _Batch:
    """One go at a list of texts."""

    voice: Voice
    folder: Path
    command: Sequence[str]
    patience: float
    done: set[str] = field(default_factory=set)
    refused: dict[str, str] = field(default_factory=dict)
    broke: set[str] = field(default_factory=set)
    trouble: str = ""

    def render(self, texts: Sequence[str]) -> Iterator[tuple[str, int]]:
        """Each text that was rendered, with its length in ms, as soon as it is kept."""
        home(self.folder, self.voice).mkdir(parents=True, exist_ok=True)
        for text in texts:
            if estimate(text) > LONGEST:
                self.refused[text] = f"longer than {LONGEST // 1000} s to say; split it"
        failures = 0
        while failures < FAILURES and (left := [t for t in texts if t not in self.done and t not in self.refused]):
            before = len(self.done)
            with TemporaryDirectory() as there, _Child(self.command, self.voice, self.patience) as child:
                yield from self._talk(child, left, Path(there))
            failures = failures + 1 if len(self.done) == before else 0

    def _talk(self, child: "_Child", texts: Sequence[str], there: Path) -> Iterator[tuple[str, int]]:
        """Until all is said or the child fails."""
        hello = child.hear()
        if hello is None or not hello.get("voice"):
            self.trouble = (hello or {}).get("why") or "the voice of this machine does not answer"
            return
        self.trouble = hello["why"]
        for n, text in enumerate(texts):
            for ahead in range(n + AHEAD - 1 if n else 0, min(n + AHEAD, len(texts))):
                child.say(n=ahead, text=texts[ahead], file=str(there / f"{ahead}.wav"))
            answer = child.hear()
            if answer is None:
                self._broke(text)
                return
            ms = self._keep(text, there / f"{n}.wav", str(answer.get("why", "")))
            if ms:
                yield text, ms

    def _broke(self, text: str) -> None:
        """A phrase at which two children failed is not tried again."""
        if text in self.broke:
            self.refused[text] = BROKE
        self.broke.add(text)

    def _keep(self, text: str, file: Path, why: str) -> int:
        """The length of the phrase in ms, once it is kept; 0 when it is none."""
        from io import BytesIO

        import numpy as np

        from courttimer.sound.speech import phrase

        try:
            samples = phrase(file) if not why else np.zeros(0, np.float32)
        except (OSError, ValueError) as fault:
            samples, why = np.zeros(0, np.float32), _plain(fault)
        ms = -(-len(samples) // 48)
        if why or not max(LETTER * sum(c.isalpha() for c in text), 50) <= ms <= LONGEST:
            self.refused[text] = why or f"it came out {ms} ms long, which cannot be"
            return 0
        packed = BytesIO()
        np.save(packed, samples)
        _write(rendering(self.folder, self.voice, text), packed.getvalue())
        self.done.add(text)
        return ms

    def words(self, missing: Sequence[str]) -> str:
        """For the coach: what is not said, and why."""
        if not missing:
            return self.trouble
        if not self.done and self.trouble:
            return f"no speech: {self.trouble}; the tones are heard as always"
        first = missing[0]
        more = f" and {len(missing) - 1} more" if len(missing) > 1 else ""
        why = self.refused.get(first) or self.trouble or BROKE
        return f'not said: "{first}"{more} ({why})'


class _Child:
    """A child process that renders; lives for one batch at most, and is killed at the end of it."""

    def __init__(self, command: Sequence[str], voice: Voice, patience: float) -> None:
        package = str(Path(__file__).parents[2])
        path = os.pathsep.join(p for p in (package, os.environ.get("PYTHONPATH", "")) if p)
        self._patience = patience
        self._process = subprocess.Popen(
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=os.environ | {"PYTHONPATH": path},
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
            start_new_session=True,
        )
        self._answers: SimpleQueue[dict[str, Any] | None] = SimpleQueue()
        self._reader = Thread(target=self._read, daemon=True)
        self._reader.start()
        self.say(language=voice.language, pace=voice.pace)

    def __enter__(self) -> "_Child":
        return self

    def __exit__(self, *_: object) -> None:
        self._process.kill()
        self._process.wait()
        self._reader.join()
        for pipe in (self._process.stdin, self._process.stdout):
            with suppress(OSError):
                assert pipe is not None
                pipe.close()

    def say(self, **order: Any) -> None:
        assert self._process.stdin is not None
        with suppress(OSError):  # a dead child is noticed when it does not answer
            self._process.stdin.write((json.dumps(order) + "\n").encode())
            self._process.stdin.flush()

    def hear(self) -> dict[str, Any] | None:
        """The next answer; None when the child hangs or has ended."""
        try:
            return self._answers.get(timeout=self._patience)
        except Empty:
            return None

    def _read(self) -> None:
        # Only answers are passed on, so that a child which prints without end is as silent as one that hangs.
        assert self._process.stdout is not None
        while line := self._process.stdout.readline(65_536):
            with suppress(ValueError):
                answer = json.loads(line)
                if isinstance(answer, dict) and ("n" in answer or "voice" in answer):
                    self._answers.put(answer)
        self._answers.put(None)


def _write(path: Path, data: bytes) -> None:
    """All of it or nothing of it."""
    beside = path.with_name(f"{path.name}.{os.getpid()}")
    beside.write_bytes(data)
    beside.replace(path)


def _sha(text: str) -> str:
    return sha256(text.encode()).hexdigest()


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "none"


def _plain(fault: Exception) -> str:
    return (isinstance(fault, OSError) and fault.strerror) or str(fault) or type(fault).__name__
