"""What the coach puts in place of the voice: recordings of what is said, and how names are to be said.

Both lie in the user's folder of sounds. A recording is named as what it says, small or capital, dots and commas left out:
`Last one.wav` is heard instead of "Last one." The file `lexicon.toml` holds lines such as `Siobhan = "Shivawn"`; those in a table
`[es]` count for a Spanish voice only.
"""

import re
import tomllib
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

LEXICON = "lexicon.toml"
SUFFIXES = (".wav", ".flac", ".ogg")
_OTHERS = (".mp3", ".m4a", ".aac", ".wma", ".aif", ".aiff", ".opus")
_LONGEST = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Own:
    """As it was found at one moment."""

    lexicon: Mapping[str, str] = field(default_factory=dict)
    recordings: Mapping[str, Path] = field(default_factory=dict)
    """By `plainly` what they say."""
    trouble: tuple[str, ...] = ()
    """What is wrong, in words: file, what, remedy. What is wrong is left out."""

    def recording(self, text: str) -> Path | None:
        return self.recordings.get(plainly(text))

    def spoken(self, text: str) -> str:
        """What the voice is to be given, so that it says the names in `text` as they are said."""
        if not self.lexicon:
            return text
        longest_first = sorted(self.lexicon, key=len, reverse=True)
        names = re.compile(rf"(?<!\w)({'|'.join(map(re.escape, longest_first))})(?!\w)")
        return names.sub(lambda found: self.lexicon[found[1]], text)

    def source(self, text: str) -> str:
        """What the sound of `text` is made of: it changes whenever the sound must be made anew."""
        path = self.recording(text)
        if path is None:
            return self.spoken(text)
        try:
            about = path.stat()
        except OSError:
            return str(path)
        return f"{path} {about.st_size} {about.st_mtime_ns}"


def plainly(text: str) -> str:
    """Letters and digits alone, whatever case and whichever way the system writes accents."""
    return " ".join(re.findall(r"\w+", unicodedata.normalize("NFKC", text).casefold().replace("_", " ")))


def read(folder: Path, language: str) -> Own:
    """What lies in `folder` for a voice of this language; nothing when there is no such folder. Raises nothing."""
    try:
        files = sorted(path for path in folder.iterdir() if path.is_file())
    except OSError:
        return Own()
    lexicon, wrong = _lexicon(folder / LEXICON, language) if folder / LEXICON in files else ({}, [])
    recordings: dict[str, Path] = {}
    for path in files:
        suffix, says = path.suffix.lower(), plainly(path.stem)
        if suffix in _OTHERS:
            wrong.append(f"{path}: a recording is a WAV, FLAC or OGG file; save it as one of these")
        elif suffix in SUFFIXES and says in recordings:
            wrong.append(f"{path}: {recordings[says].name} says the same and is taken; take one of them away")
        elif suffix in SUFFIXES:
            recordings[says] = path
    return Own(lexicon=lexicon, recordings=recordings, trouble=tuple(wrong))


def _lexicon(path: Path, language: str) -> tuple[dict[str, str], list[str]]:
    try:
        found = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError) as fault:
        return {}, [f"{path}: cannot be read ({fault}); correct it, or take it away"]
    entries: dict[str, Any] = {name: said for name, said in found.items() if not isinstance(said, dict)}
    for code in dict.fromkeys((language.split("-")[0], language)):
        own = found.get(code, {})
        entries |= own if isinstance(own, dict) else {}
    good = {
        name: said for name, said in entries.items() if isinstance(said, str) and 0 < len(said.strip()) <= _LONGEST and name.strip()
    }
    wrong = [f'{path}: {name} wants its sound in quotation marks, such as {name} = "Shivawn"' for name in entries if name not in good]
    return good, wrong
