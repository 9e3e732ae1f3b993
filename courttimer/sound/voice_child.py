"""The child process that renders phrases: texts come in as JSON lines, answers go out as JSON lines, nothing else gets out.

A line `{"n": 3, "text": "Ready.", "file": "…"}` is answered by `{"n": 3, "why": ""}`; `why` is not empty when it failed. The first
line in sets `language` and `pace`, and the first line out names the voice. A child may crash or hang: whoever started it expects that.
"""

import json
import os
import sys
from contextlib import suppress
from pathlib import Path
from queue import Empty, SimpleQueue
from threading import Event
from typing import Any, TextIO

LONG = 5.0
"""Seconds; nothing takes so long to render."""
TRIES = 4
HEADER = 44
"""Bytes of a WAV file without any sound."""
STILL = 0.05
PATIENCE = 40
"""A file is whole when it has not grown for STILL seconds; it is watched so many times."""


def main() -> None:
    """Answer until the input ends."""
    out = _own_output()
    try:
        engine, words = _engine(json.loads(sys.stdin.readline()))
    except Exception as fault:
        _answer(out, voice="", why=f"{type(fault).__name__}: {fault}")
        return
    _answer(out, voice=str(engine.getProperty("voice")), why=words)
    ends = SimpleQueue[bool]()
    engine.connect("finished-utterance", lambda completed, **_: ends.put(completed))
    for line in sys.stdin:
        order = json.loads(line)
        _answer(out, n=order["n"], why=_render(engine, order["text"], Path(order["file"]), ends))


def _own_output() -> TextIO:
    """The real output for the answers alone; whatever the libraries print, in Python or in C, goes nowhere."""
    out = os.fdopen(os.dup(1), "w", encoding="utf-8")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    return out


def _answer(out: TextIO, **answer: Any) -> None:
    out.write(json.dumps(answer) + "\n")
    out.flush()


def _engine(wish: dict[str, Any]) -> tuple[Any, str]:
    """The engine with its voice and pace, and what is to be said about the voice, if anything."""
    if sys.platform == "linux":
        _bring_espeak()
    import pyttsx3

    engine = pyttsx3.init()
    voice = choose([(v.id, list(v.languages or [])) for v in engine.getProperty("voices")], wish["language"])
    words = "" if voice else f'no voice speaks "{wish["language"]}"; the usual one of this machine is taken'
    if voice:
        engine.setProperty("voice", voice)
    engine.setProperty("rate", wish["pace"])
    return engine, words


def _bring_espeak() -> None:
    # The bundled library has the name that pyttsx3 looks for, so that no system package is needed; it must be loaded before.
    try:
        import ctypes

        import espeakng_loader

        os.environ["ESPEAK_DATA_PATH"] = espeakng_loader.get_data_path()
        ctypes.CDLL(espeakng_loader.get_library_path(), ctypes.RTLD_GLOBAL)
    except (ImportError, OSError, RuntimeError):
        os.environ.pop("ESPEAK_DATA_PATH", None)


def choose(voices: list[tuple[str, list[str]]], language: str) -> str:
    """The id of the first voice that speaks `language`, best match first; "" when none does.

    An id is "gmw/en" on Linux, a name on macOS, a registry key on Windows; languages are "en-gb", "en_US", "en-US".
    """
    wish = language.lower().replace("_", "-")
    spoken = [(name, [name.lower().split("/")[-1], *(str(tag).lower().replace("_", "-") for tag in tags)]) for name, tags in voices]
    exact = [name for name, tags in spoken if wish in tags]
    near = [name for name, tags in spoken if any(tag.startswith(wish + "-") for tag in tags[1:])]
    return next(iter(exact + near), "")


def _render(engine: Any, text: str, file: Path, ends: "SimpleQueue[bool]") -> str:
    """Why it failed, or ""."""
    try:
        for _ in range(TRIES):
            engine.save_to_file(text, str(file))
            engine.runAndWait()
            if _whole(file, ends):
                return ""
        return "no sound was written"
    except Exception as fault:
        return f"{type(fault).__name__}: {fault}"


def _whole(file: Path, ends: "SimpleQueue[bool]") -> bool:
    """Whether the file is there, to its end: in two of three systems `runAndWait` returns when it likes.

    On Linux it returns after 10 ms, done or not, and now and then cancels the phrase that it has just begun: espeak says so.
    """
    if sys.platform == "linux":
        with suppress(Empty):
            completed = [ends.get(timeout=LONG)]
            while not ends.empty():
                completed.append(ends.get())
            return all(completed) and file.exists() and file.stat().st_size > HEADER
        return False
    return _still(file) if sys.platform == "darwin" else file.exists()


def _still(file: Path) -> bool:
    size = -1
    for _ in range(PATIENCE):
        before, size = size, file.stat().st_size if file.exists() else -1
        if size > 0 and size == before:
            return True
        Event().wait(STILL)
    return False


if __name__ == "__main__":
    main()
