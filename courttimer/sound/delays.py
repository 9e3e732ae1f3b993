"""Keeps by how much each speaker is late, in `speakers.json` of the user's folder: `{"Gym box": 180}`, in ms."""

import json
from collections.abc import Mapping
from pathlib import Path

from courttimer.errors import DeviceError

LONGEST_MS = 2_000


def late(delays: Mapping[str, int], title: str) -> int:
    """By how many ms the speaker of this title is late: kept under the longest part of its name, so that its own goes first."""
    parts = [name for name in delays if name.casefold() in title.casefold()]
    return delays[max(parts, key=len)] if parts else 0


def keep(path: Path, speaker: str, ms: int) -> None:
    """Write it down beside those of other speakers, all or nothing. Raises OSError, and DeviceError for a file that is no list."""
    try:
        known = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        known = {}
    except ValueError as fault:
        raise DeviceError(f"{path}: this is not JSON ({fault}); mend it, or remove it and tap again") from fault
    if not isinstance(known, dict):
        raise DeviceError(f'{path}: this is no list of speakers such as {{"Gym box": 180}}; remove it and tap again')
    path.parent.mkdir(parents=True, exist_ok=True)
    fresh = path.with_suffix(".new")
    others = {name: kept for name, kept in known.items() if name.casefold() != speaker.casefold()}
    fresh.write_text(json.dumps(others | {speaker: ms}, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    fresh.replace(path)
