"""From the bytes of one file to its TOML table and the lines of its keys; what is not TOML is told in plain words."""

import re
import tomllib
from typing import Any, NamedTuple

from courttimer.errors import PlanError
from courttimer.plan.lines import Path, TooDeepError, lines

LARGEST = 1_000_000

_PLACE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")
_IN_WORDS = (
    ("Invalid value", 'the value is missing or cannot be read; text and times stand in quotation marks, such as "12 s"'),
    ("Cannot overwrite a value", "this key is written twice; take one of them out"),
    ("Cannot declare", "this heading is written twice; a list of tables has two brackets, such as [[segment]]"),
    ("Expected '=' after a key", 'a key, "=" and a value are expected; a remark starts with #'),
    ("Expected newline or end", "something is left over at the end of the line; one key a line, and text in quotation marks"),
    ("Invalid statement", 'neither a key nor a heading; write a key, "=" and a value'),
    ("Unterminated string", "the closing quotation mark is missing"),
    ("Expected \"'\"", "the closing quotation mark is missing"),
    ("Illegal character", "a character that may not stand here; is a quotation mark missing?"),
    ("Unclosed array", "the closing bracket ] is missing, or a comma between two values"),
    ("Unclosed inline table", "the closing bracket } is missing, or a comma between two keys"),
)


class Source(NamedTuple):
    """One file as it was read: what it is called in messages, its text, its table, and the line of each path."""

    name: str
    text: str
    table: dict[str, Any]
    lines: dict[Path, int]


def source(name: str, data: str | bytes) -> Source:
    """Reads one file's content; raises `PlanError` with one line for content that is not a TOML table of at most 1 MB."""
    if len(data) > LARGEST:
        raise PlanError(f"{name}:1: larger than 1 MB (got {len(data) / 1e6:.1f} MB); is this the right file?")
    text = (_decoded(name, data) if isinstance(data, bytes) else data).removeprefix("\ufeff")
    if not text.strip():
        raise PlanError(f"{name}:1: the file is empty; sessions/README.md shows what to write")
    try:
        found = lines(text)
        return Source(name, text, tomllib.loads(text), found)
    except TooDeepError as why:
        raise PlanError(f"{name}:{why.line}: nested too deep; no key of a session needs so many brackets or dots") from None
    except ValueError as why:
        raise PlanError(_in_words(name, text, str(why))) from None
    except RecursionError:
        raise PlanError(f"{name}:1: nested too deep; no key of a session needs so many brackets") from None


def _decoded(name: str, data: bytes) -> str:
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise PlanError(f"{name}:1: saved as UTF-16; save it as UTF-8")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as why:
        line = data.count(b"\n", 0, why.start) + 1
        what = "this is not a text file" if b"\0" in data else "a character is not UTF-8"
        raise PlanError(f"{name}:{line}: {what} (got byte 0x{data[why.start]:02x}); save it as UTF-8 text") from None
    if "\0" in text:
        raise PlanError(f"{name}:{text.count(chr(10), 0, text.index(chr(0))) + 1}: this is not a text file (got a zero byte)")
    return text


def _in_words(name: str, text: str, why: str) -> str:
    place = _PLACE.search(why)
    line = int(place[1]) if place and place[1] else text.rstrip().count("\n") + 1
    if not place and (number := re.search("[0-9_]{1000}", text)):
        return f"{name}:{text.count(chr(10), 0, number.start()) + 1}: a number of more than a thousand digits; shorten it"
    said = _PLACE.sub("", why)
    plain = next((words for start, words in _IN_WORDS if said.startswith(start)), said)
    return f"{name}:{line}: this is not TOML: {plain}"
