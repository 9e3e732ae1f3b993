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
        found = json.loads(_asked("--format=json", "list", "sinks"))
        usual = _asked("get-default-sink").strip()
        return tuple(_sink(one, usual) for one in found)
    except (OSError, ValueError, TypeError, KeyError, subprocess.SubprocessError):
        return None


def _sink(found: dict[str, Any], usual: str) -> Sink:
    name, about = str(found["name"]), found.get("properties", {})
    words = str(found.get("description") or name)
    wireless = name.startswith("bluez") or about.get("device.bus") == "bluetooth" or "bluez" in str(about.get("device.api", ""))
    return Sink(name=name, words=words if words != "(null)" else name, wireless=wireless, usual=name == usual)


def _asked(*words: str) -> str:
    done = subprocess.run(
        ("pactl", *words), stdin=subprocess.DEVNULL, capture_output=True, text=True, encoding="utf-8", timeout=ASKING_S, check=True
    )
    return done.stdout
