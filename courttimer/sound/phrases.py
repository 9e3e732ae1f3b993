"""How things are said in a language: phrases by name, numbers and times in words, read from `en.toml` and its like."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from courttimer.errors import PlanError
from courttimer.practice.cue import Saying

ENGLISH = "en"


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrases:
    """One language, with English behind it."""

    language: str
    words: Mapping[str, str]
    english: Mapping[str, str]
    units: Mapping[str, str]
    ones: tuple[str, ...]
    tens: tuple[str, ...]
    join: str

    def say(self, name: str, **fields: str | int) -> str:
        """The phrase of that name, such as "last-one", with its fields filled in; a number among them is said in words.

        Raises KeyError for a name or a field that English has not.
        """
        spoken = {key: self.number(value) if isinstance(value, int) else value for key, value in fields.items()}
        return self.words.get(name, self.english[name]).format(**spoken)

    def said(self, saying: Saying | str) -> str:
        """A phrase of ours in words; text that is the coach's own stays."""
        if isinstance(saying, str):
            return saying
        return self.say(saying.phrase, what=saying.what, then=saying.then, time=self.time(saying.time))

    def number(self, n: int) -> str:
        """0 to 99 in words; beyond that the voice reads the digits."""
        if not 0 <= n <= 99:
            return str(n)
        if n < len(self.ones):
            return self.ones[n]
        tens, ones = divmod(n, 10)
        return self.tens[tens - 2] + (self.join + self.ones[ones] if ones else "")

    def time(self, ms: int) -> str:
        """A length, to the second: "one minute thirty seconds"."""
        minutes, seconds = divmod((ms + 500) // 1000, 60)
        parts = [(minutes, "minute"), (seconds, "second")]
        said = [f"{self.number(n)} {self.units[unit if n == 1 else unit + 's']}" for n, unit in parts if n]
        return " ".join(said) or f"{self.number(0)} {self.units['seconds']}"


def read(folder: Path, language: str = ENGLISH) -> Phrases:
    """The phrases of a language such as "es" or "en-gb": its own file, else that of its first part, else English.

    Raises PlanError when a file cannot be read, or lacks what English must have.
    """
    english = _tables(folder / f"{ENGLISH}.toml")
    names = (language, language.split("-")[0])
    own = next((_tables(folder / f"{name}.toml") for name in names if (folder / f"{name}.toml").is_file()), english)
    try:
        numbers = english["numbers"] | own.get("numbers", {})
        return Phrases(
            language=language,
            words=own.get("phrases", {}),
            english=english["phrases"],
            units=english["time"] | own.get("time", {}),
            ones=tuple(numbers["ones"]),
            tens=tuple(numbers["tens"]),
            join=str(numbers["join"]),
        )
    except (KeyError, TypeError) as fault:
        raise PlanError(f"{ENGLISH}.toml: {fault} is missing; put back the file that came with the program") from fault


def _tables(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError) as fault:
        raise PlanError(f"{path.name}: cannot be read ({fault}); put back the file that came with the program") from fault
