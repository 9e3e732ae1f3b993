"""Takes spoken phrases out of the cache: their sound, their text, and every sound whose text is not known any more."""

import json
from collections.abc import Callable
from pathlib import Path

from courttimer.sound.lengths import kept
from courttimer.sound.voice import stem, write

LENGTHS = "lengths.json"


def forget(folder: Path, holds: Callable[[str], bool]) -> int:
    """Remove what `holds` is true of from the cache `folder`; how many phrases there were. Killed, it can be done again.

    Raises OSError when a file cannot be removed.
    """
    return sum(_forget(home, holds) for home in sorted((folder / "speech").glob("*")) if home.is_dir())


def _forget(home: Path, holds: Callable[[str], bool]) -> int:
    lengths = kept(home / LENGTHS)
    stay = {text: ms for text, ms in lengths.items() if not holds(text)}
    if stay != lengths:
        write(home / LENGTHS, json.dumps(stay, ensure_ascii=False, indent=0).encode())
    names = {LENGTHS, *(f"{stem(text)}.npy" for text in stay)}
    for path in home.iterdir():
        if path.name not in names:
            path.unlink(missing_ok=True)
    return len(lengths) - len(stay)
