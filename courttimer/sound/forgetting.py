"""Takes spoken phrases out of the cache: their sound, their text, and every sound whose text is not known any more."""

import json
from collections.abc import Callable
from pathlib import Path

from courttimer.sound.lengths import kept
from courttimer.sound.voice import stem, write

LENGTHS, SOURCES = "lengths.json", "sources.json"


def forget(folder: Path, holds: Callable[[str], bool]) -> int:
    """Remove what `holds` is true of from the cache `folder`; how many phrases there were. Killed, it can be done again.

    Raises OSError when a file cannot be removed.
    """
    return sum(_forget(home, holds) for home in sorted((folder / "speech").glob("*")) if home.is_dir())


def _forget(home: Path, holds: Callable[[str], bool]) -> int:
    lengths, sources = kept(home / LENGTHS), _sources(home / SOURCES)
    stay = {text for text in lengths if not holds(text) and not holds(sources.get(text, ""))}
    _keep(home / LENGTHS, lengths, {text: ms for text, ms in lengths.items() if text in stay})
    _keep(home / SOURCES, sources, {text: source for text, source in sources.items() if text in stay})
    names = {LENGTHS, SOURCES, *(f"{stem(text)}.npy" for text in stay)}
    for path in home.iterdir():
        if path.name not in names:
            path.unlink(missing_ok=True)
    return len(lengths) - len(stay)


def _keep(path: Path, before: object, after: object) -> None:
    if after != before:
        write(path, json.dumps(after, ensure_ascii=False, indent=0).encode())


def _sources(path: Path) -> dict[str, str]:
    """What each phrase was made of; a file that cannot be read is thrown away."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
        return {text: source for text, source in found.items() if isinstance(source, str)}
    except (OSError, ValueError, AttributeError, RecursionError):
        path.unlink(missing_ok=True)
        return {}
