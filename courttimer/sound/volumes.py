"""How loud everything is, and the voice beside it, kept from one evening to the next."""

import json
from contextlib import suppress
from pathlib import Path

LOWEST, HIGHEST = -60, 12
"""dB; the lowest is silence."""


def kept(folder: Path) -> tuple[int, int]:
    """The volume of everything and that of the voice, in dB, as they were left; (0, 0) where nothing is kept."""
    try:
        found = json.loads((folder / "volume.json").read_text(encoding="utf-8"))
        both = (found["everything"], found["voice"])
    except (OSError, ValueError, KeyError, TypeError):
        return 0, 0
    return both if all(type(db) is int and LOWEST <= db <= HIGHEST for db in both) else (0, 0)


def keep(folder: Path, everything: int, voice: int) -> None:
    """Keep both for the next evening; a full disk only means that they are set again."""
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "volume.json").write_text(json.dumps({"everything": everything, "voice": voice}), encoding="utf-8")
