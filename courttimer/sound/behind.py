"""Which speakers a Linux sound server has, asked of the server itself: PortAudio sees but one door to all of them.

`pactl` speaks to PulseAudio and to PipeWire alike. Where it is missing, nothing is known, and nothing is lost but names.
"""

import json
import shutil
import subprocess
import sys
from dataclasses import dataclass
from typing import Any

ASKING_S = 1.5
"""A server that does not answer in this time is not waited for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sink:
    """A speaker as the server knows it."""

    name: str
    """The server's own name for it."""
    words: str
    """What people call it."""
    wireless: bool = False
    usual: bool = False


def sinks() -> tuple[Sink, ...] | None:
    """Those that are there now; None when there is no such server, or no pactl."""
    if not sys.platform.startswith("linux") or shutil.which("pactl") is None:
        return None
    try:
        found, usual = _asked(("--format=json", "list", "sinks"), ("get-default-sink",))
        return tuple(_sink(one, usual.strip()) for one in json.loads(found))
    except (OSError, ValueError, TypeError, KeyError, subprocess.SubprocessError):
        return None


def _sink(found: dict[str, Any], usual: str) -> Sink:
    name, about = str(found["name"]), found.get("properties", {})
    words = str(found.get("description") or name)
    wireless = name.startswith("bluez") or about.get("device.bus") == "bluetooth" or "bluez" in str(about.get("device.api", ""))
    return Sink(name=name, words=words if words != "(null)" else name, wireless=wireless, usual=name == usual)


def _asked(*questions: tuple[str, ...]) -> list[str]:
    """The answers, asked for at the same time. Raises OSError and SubprocessError."""
    none, pipe = subprocess.DEVNULL, subprocess.PIPE
    asked = [subprocess.Popen(("pactl", *words), stdin=none, stdout=pipe, stderr=none, encoding="utf-8") for words in questions]
    try:
        answers = [one.communicate(timeout=ASKING_S)[0] for one in asked]
    finally:
        for one in asked:
            one.kill()
            one.wait()
            if one.stdout is not None:
                one.stdout.close()
    if any(one.returncode for one in asked):
        raise subprocess.SubprocessError("pactl does not know")
    return answers
