"""Renders a list of phrases in child processes, one phrase at a time, whatever the engine does to them; a coach's recordings first."""

import json
import os
import subprocess
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from queue import Empty, SimpleQueue
from tempfile import TemporaryDirectory
from threading import Thread
from typing import TYPE_CHECKING, Any

from courttimer.plan.model import Voice
from courttimer.practice.pace import estimate
from courttimer.sound.own import Own
from courttimer.sound.voice import LONGEST, home, plain, rendering, write

if TYPE_CHECKING:
    from courttimer.sound.mixer import Samples

LETTER = 15
"""No voice says a letter in fewer ms than this; what is shorter was cut off."""
FAILURES = 2
"""So many children in a row may fail without rendering anything; then there is no voice."""
AHEAD = 4
"""Phrases that a child is given before their answers are there."""
HANDS = 2
"""So many phrases are made out of what was rendered at once: numpy lets both cores work."""
BROKE = "the voice of this machine broke off"


@dataclass(kw_only=True)
class Batch:
    """One go at a list of texts."""

    voice: Voice
    folder: Path
    own: Own
    command: Sequence[str]
    patience: float
    done: set[str] = field(default_factory=set)
    refused: dict[str, str] = field(default_factory=dict)
    broke: set[str] = field(default_factory=set)
    trouble: str = ""
    wrong: list[str] = field(default_factory=list)
    """Recordings that cannot be taken, and why; the voice speaks instead."""

    def render(self, texts: Sequence[str]) -> Iterator[tuple[str, int, str]]:
        """Each text that is done, with its length in ms and what it was made of, as soon as it is kept."""
        home(self.folder, self.voice).mkdir(parents=True, exist_ok=True)
        for text in texts:
            if path := self.own.recording(text):
                yield from self._recorded(text, path)
        yield from ((text, ms, self.own.spoken(text)) for text, ms in self._spoken(texts))

    def _recorded(self, text: str, path: Path) -> Iterator[tuple[str, int, str]]:
        from courttimer.sound.recordings import recorded

        source = self.own.source(text)
        try:
            yield text, self._write(text, recorded(path)), source
        except (OSError, ValueError) as fault:
            self.wrong.append(f"{path}: {plain(fault)}; the voice speaks instead")

    def _spoken(self, texts: Sequence[str]) -> Iterator[tuple[str, int]]:
        for text in texts:
            if text not in self.done and estimate(self.own.spoken(text)) > LONGEST:
                self.refused[text] = f"longer than {LONGEST // 1000} s to say; split it"
        failures = 0
        while failures < FAILURES and (left := [t for t in texts if t not in self.done and t not in self.refused]):
            before = len(self.done)
            with TemporaryDirectory() as there, _Child(self.command, self.voice, self.patience) as child:
                yield from self._talk(child, left, Path(there))
            failures = failures + 1 if len(self.done) == before else 0

    def _talk(self, child: "_Child", texts: Sequence[str], there: Path) -> Iterator[tuple[str, int]]:
        """Until all is said or the child fails."""
        import courttimer.sound.speech  # noqa: F401 (numpy is imported while the child starts, on another core)

        hello = child.hear()
        if hello is None or not hello.get("voice"):
            self.trouble = (hello or {}).get("why") or "the voice of this machine does not answer"
            return
        self.trouble = hello["why"]
        with ThreadPoolExecutor(HANDS) as hands:
            made = deque[tuple[str, Future[int]]]()
            for text, file, why in self._answers(child, texts, there):
                made.append((text, hands.submit(self._keep, text, file, why)))
                while made and made[0][1].done():
                    yield from _kept(*made.popleft())
            while made:
                yield from _kept(*made.popleft())

    def _answers(self, child: "_Child", texts: Sequence[str], there: Path) -> Iterator[tuple[str, Path, str]]:
        """Of each text: where it was rendered, and why not, until all is said or the child fails."""
        for n, text in enumerate(texts):
            for ahead in range(n + AHEAD - 1 if n else 0, min(n + AHEAD, len(texts))):
                child.say(n=ahead, text=self.own.spoken(texts[ahead]), file=str(there / f"{ahead}.wav"))
            answer = child.hear()
            if answer is None:
                self._broke(text)
                return
            yield text, there / f"{n}.wav", str(answer.get("why", ""))

    def _broke(self, text: str) -> None:
        """A phrase at which two children failed is not tried again."""
        if text in self.broke:
            self.refused[text] = BROKE
        self.broke.add(text)

    def _keep(self, text: str, file: Path, why: str) -> int:
        """The length of the phrase in ms, once it is kept; 0 when it is none."""
        from courttimer.sound.speech import phrase

        try:
            samples = phrase(file) if not why else None
        except (OSError, ValueError) as fault:
            samples, why = None, plain(fault)
        ms = 0 if samples is None else -(-len(samples) // 48)
        if samples is None or not max(LETTER * sum(c.isalpha() for c in self.own.spoken(text)), 50) <= ms <= LONGEST:
            self.refused[text] = why or f"it came out {ms} ms long, which cannot be"
            return 0
        return self._write(text, samples)

    def _write(self, text: str, samples: "Samples") -> int:
        """Keep it; its length in ms."""
        from courttimer.sound.speech import packed

        write(rendering(self.folder, self.voice, text), packed(samples))
        self.done.add(text)
        return -(-len(samples) // 48)

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


def _kept(text: str, made: Future[int]) -> Iterator[tuple[str, int]]:
    if ms := made.result():
        yield text, ms


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
