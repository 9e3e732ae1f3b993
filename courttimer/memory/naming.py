"""A player's name wherever it may stand in a text, in whatever letters and escapes, and the stand-in that takes its place."""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from courttimer.plan import model
from courttimer.plan.lines import parts

_GAP = r"(?:[\s_\-]|\\+[nrt]|\\+[uU]0*(?:20|[aA]0))+"
_BEFORE = r"(?:(?<![^\W_])|(?<=\\[nrtbf])|(?<=\\u[0-9A-Fa-f]{4}))"
"""No letter or digit stands in front, but for the last one of an escape."""
_AFTER = r"(?![^\W_]|[̀-ͯ])"
"""Neither does one behind, nor an accent that would make another letter of the last one."""
_OWNER = r"(?=s(?![^\W_]|[̀-ͯ]))"
"""An s behind: what is Ada's may be written "Adas"."""
_HALF_LETTER = re.compile("[\udc80-\udcff]+$")
KEYS = {one.name for table in vars(model).values() if isinstance(table, type) and is_dataclass(table) for one in fields(table)}
"""Every key of a session file: a player called Grace is not `grace`."""
OURS = ("what", "by", "stretch")
"""Fields of a line whose words are ours: a player called Mark is not in "marked"."""


class Name:
    """Lives as long as one removal. `same` keeps to the letters as given, capital and small; else any will do.

    `owner`: also in front of an s, but then only in the letters as given, for in small letters it may be any word.
    """

    def __init__(self, name: str, stand_in: str, *, same: bool = False, owner: bool = False) -> None:
        self.stand_in = stand_in
        owns = f"|{_pattern(name, same=True)}{_OWNER}" if owner else ""
        self._found = re.compile(f"{_BEFORE}(?:{_pattern(name, same)}{_AFTER}{owns})")
        self._plain = [re.escape(form) for form in {name, *(unicodedata.normalize(sort, name) for sort in ("NFC", "NFD"))}]
        self._whole = re.compile("|".join(self._plain), 0 if same else re.IGNORECASE)
        self._starts = [name[:end] for end in range(len(name) - 1, 1, -1)]

    def holds(self, text: str) -> bool:
        return bool(self._found.search(text))

    def text(self, text: str) -> str:
        """The text with the stand-in; all the rest as it was."""
        return self._found.sub(self.stand_in, text)

    def held(self, content: bytes) -> bool:
        """Does it stand in these bytes, of whatever encoding that keeps to the letters of ASCII?"""
        return self.holds(_text(content))

    def raw(self, content: bytes, *, torn: bool = False) -> bytes:
        """Bytes that are no whole line of ours; the torn end of one may break off inside the name."""
        text = self.text(_text(content))
        if torn:
            text = self._without_start(text)
        return text.encode("utf-8", "surrogateescape")

    def _without_start(self, text: str) -> str:
        whole = _HALF_LETTER.sub("", text)
        return next((whole[: -len(start)] for start in self._starts if whole.casefold().endswith(start.casefold())), text)

    def toml(self, text: str, *, files: bool = True) -> str:
        """A session's text: replaced in strings and comments, and where the name alone is a key; other keys are words of ours.

        `files`: also in what names a drill file.
        """
        return "".join(part if not files and part[:-1].endswith(".toml") else self._part(sort, part) for sort, part in parts(text))

    def _part(self, sort: str, part: str) -> str:
        if sort == "bare":
            return f'"{self.stand_in}"' if self._whole.fullmatch(part) and part not in KEYS else part
        return self.text(part)

    def record(self, record: dict[str, Any]) -> dict[str, Any]:
        """A line of a journal: replaced in every value, but for what is ours; the session's files as TOML."""
        return {key: value if key in OURS else self._value(key, value) for key, value in record.items()}

    def _value(self, key: str, value: Any) -> Any:
        if isinstance(value, str):
            return self.text(value)
        if isinstance(value, list):
            return [self._value("", one) for one in value]
        if isinstance(value, dict):
            return {self.text(name): self._file(one) if key == "files" else self._value("", one) for name, one in value.items()}
        return value

    def _file(self, value: Any) -> Any:
        return self.toml(value) if isinstance(value, str) else value


def called(word: str, content: bytes) -> bool:
    """Does the word stand alone between quotation marks, as a name does in a line of ours and in a session file?"""
    return re.search(rf"[\"']{_pattern(word, same=False)}\\*[\"']", _text(content)) is not None


def _text(content: bytes) -> str:
    return content.decode("utf-8", "surrogateescape")


def _pattern(name: str, same: bool) -> str:
    """The name composed, and as it was given: composing changes some letters of old character sets for good."""
    forms = dict.fromkeys((unicodedata.normalize("NFC", name), name))
    return f"(?:{'|'.join(_GAP.join(_word(word, same) for word in form.split()) for form in forms)})"


def _word(word: str, same: bool) -> str:
    return "".join(_letter(letter, same) for letter in word)


def _letter(letter: str, same: bool) -> str:
    """A letter in every way in which JSON and TOML may write it, composed or not."""
    forms = dict.fromkeys((letter,) if same else (letter, letter.lower(), letter.upper()))
    written = (w for form in forms for w in (form, unicodedata.normalize("NFC", form), unicodedata.normalize("NFD", form)))
    ways = dict.fromkeys(way for one in written for way in _ways(one))
    return f"(?:{'|'.join(ways)})"


def _ways(form: str) -> Iterator[str]:
    yield re.escape(form)
    yield "".join(_escape(point) for point in form)


def _escape(point: str) -> str:
    """One code point as itself or as \\uXXXX (or \\UXXXXXXXX, or as a pair of surrogates), behind any number of backslashes."""
    number = ord(point)
    told = [re.escape(point), rf"\\+[uU]0*{_hex(number)}"]
    if number > 0xFFFF:
        high, low = 0xD800 + ((number - 0x10000) >> 10), 0xDC00 + (number & 0x3FF)
        told.append(rf"\\+u{_hex(high)}\\+u{_hex(low)}")
    return f"(?:{'|'.join(told)})"


def _hex(number: int) -> str:
    return "".join(f"[{digit.upper()}{digit}]" if digit.isalpha() else digit for digit in f"{number:x}")
