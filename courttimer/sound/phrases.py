"""How things are said in a language: phrases by name, numbers and times in words, read from `en.toml` and its like."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from courttimer import locations
from courttimer.errors import PlanError
from courttimer.practice.cue import Saying
from courttimer.sound.wording import TABLES, mistakes

ENGLISH = "en"
REMEDY = "put back the file that came with the program"
_SENTENCE = re.compile(r"(^|[.!?]\s+)(\w)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrases:
    """One language, with the coach's own phrases before it and English behind it."""

    language: str
    words: Mapping[str, str]
    english: Mapping[str, str]
    names: Mapping[str, str]
    """What a segment or a side without a name of its own is called, by what the practice calls it."""
    numbered: Mapping[str, str]
    """What a team without colours, and a group, are called, with {n} in it."""
    time: Mapping[str, Any]
    numbers: tuple[str, ...]
    counting: Mapping[str, str]
    trouble: tuple[str, ...] = ()
    """What is wrong in the coach's own file, in words: file, line, what, remedy. What is wrong there is not said."""

    def say(self, name: str, **fields: str | int) -> str:
        """The phrase of that name, such as "last-one", with its fields filled in; a number among them is said in words.

        Raises KeyError for a name or a field that English has not.
        """
        spoken = {key: self.number(value) if isinstance(value, int) else value for key, value in fields.items()}
        said = self.words.get(name, self.english[name]).format(**spoken)
        return _SENTENCE.sub(lambda found: found[1] + found[2].upper(), said)

    def said(self, saying: Saying | str) -> str:
        """A phrase of ours in words; text that is the coach's own stays."""
        if isinstance(saying, str):
            title = self.names.get(saying.removesuffix("."), "")
            return f"{title}." if title else saying
        name, what = saying.phrase, self._named(saying.what)
        if not what and f"{name}-bare" in self.english:
            name = f"{name}-bare"
        return self.say(
            name, what=what, then=self._named(saying.then), time=self.length(saying.time), n=saying.n, m=saying.m,
        )  # fmt: skip

    def _named(self, names: str) -> str:
        """A name, or some with commas between them, of which ours are put into the language."""
        return ", ".join(map(self._name, names.split(", ")))

    def _name(self, name: str) -> str:
        if found := re.fullmatch(r"(team|group) (\d+)", name):
            return self.numbered[found[1]].format(n=self.number(int(found[2])))
        return self.names.get(name, name)

    def number(self, n: int) -> str:
        """0 to 99 in words; beyond that the voice reads the digits."""
        return self.numbers[n] if 0 <= n < len(self.numbers) else str(n)

    def length(self, ms: int) -> str:
        """A length, to the second: "one minute thirty seconds"."""
        minutes, seconds = divmod((ms + 500) // 1000, 60)
        if minutes and seconds:
            both: str = self.time["both"]
            return both.format(minutes=self._counted(minutes, "minutes"), seconds=self._counted(seconds, "seconds"))
        return self._counted(minutes, "minutes") if minutes else self._counted(seconds, "seconds")

    def _counted(self, n: int, unit: str) -> str:
        forms: Mapping[str, str] = self.time[unit]
        form = next((form for numbers, form in forms.items() if _among(n, numbers)), forms["others"])
        return form.format(n=self.counting.get(str(n)) or self.number(n))


def _among(n: int, numbers: str) -> bool:
    """Whether n is in "1", "2-4" or "2-4 22-24"."""
    ends = (part.partition("-") for part in numbers.split() if part[0].isdigit())
    return any(int(first) <= n <= int(last or first) for first, _, last in ends)


def read(folder: Path, language: str = ENGLISH, own: Path | None = None) -> Phrases:
    """The phrases of a language such as "es" or "en-gb": its own file, else that of its first part, else English.

    A file of the same name in the folder `own` (None: the user's) goes before it, phrase by phrase; what is wrong there is left out,
    and told in `trouble`. Raises PlanError when a shipped file cannot be read, or lacks what English must have.
    """
    english = _tables(folder / f"{ENGLISH}.toml")
    names = (language, language.split("-")[0])
    shipped = next((_tables(folder / f"{name}.toml") for name in names if (folder / f"{name}.toml").is_file()), english)
    coachs, trouble = _own(own or locations.own_sounds(), names, english)
    tables = {name: english[name] | shipped.get(name, {}) | coachs.get(name, {}) for name in english}
    words = shipped.get("phrases", {}) | coachs.get("phrases", {})
    try:
        return Phrases(
            language=language,
            words=words,
            english=english["phrases"],
            names={title: tables["titles"][kind] for kind, title in english["titles"].items()} | tables["sides"],
            numbered={name: tables["sides"][name] for name in ("team", "group")},
            time=tables["time"],
            numbers=tuple(tables["numbers"]["words"]),
            counting=shipped.get("numbers", {}).get("counting", {}),
            trouble=trouble,
        )
    except (KeyError, TypeError) as fault:
        raise PlanError(f"{ENGLISH}.toml: {fault} is missing; {REMEDY}") from fault


def _tables(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError) as fault:
        raise PlanError(f"{path.name}: cannot be read ({fault}); {REMEDY}") from fault


def _own(folder: Path, names: tuple[str, ...], english: Mapping[str, Any]) -> tuple[dict[str, dict[str, str]], tuple[str, ...]]:
    """The coach's phrases and titles that can be said, and what is wrong with the others."""
    path = next((folder / f"{name}.toml" for name in names if (folder / f"{name}.toml").is_file()), None)
    if path is None:
        return {}, ()
    try:
        text = path.read_text(encoding="utf-8-sig")
        found = tomllib.loads(text)
    except (OSError, ValueError) as fault:
        return {}, (f"{path}: cannot be read ({fault}); correct it, or take it away",)
    wrong = mistakes(found, english)
    good: dict[str, dict[str, str]] = {
        table: {name: said for name, said in found[table].items() if (table, name) not in wrong}
        for table in TABLES
        if (table, "") not in wrong and table in found
    }
    return good, tuple(f"{path}:{_line(text, table, name)}: {why}" for (table, name), why in wrong.items())


def _line(text: str, table: str, name: str) -> int:
    """Where it stands, about: the first line that begins with it."""
    start = re.compile(rf'\s*"?{re.escape(name)}"?\s*=' if name else rf"\s*\[?\s*{re.escape(table)}\b")
    return next((n for n, line in enumerate(text.splitlines(), 1) if start.match(line)), 1)
