"""On which line of a TOML text each key stands, which no TOML library tells; and where a text is nested too deep to be read.

A path is what one would write to get there: ("segment", 3, "window", 0, "time"). The line is that of the key, of the heading,
or, inside a list, of the value. The scanner takes any text, also one that is not TOML, in time that grows with its length only.
"""

import re
import tomllib
from collections.abc import Iterator

Path = tuple[str | int, ...]

DEEPEST = 30

_TOKEN = re.compile(
    r"""
    (?P<text> \"{3} (?: [^"\\]+ | \\.? | "(?!"") )*+ (?: \"{3,5} | \Z )
            | '{3}  (?: [^']+ | '(?!'') )*+ (?: '{3,5} | \Z )
            | " (?: [^"\\\n]+ | \\[^\n]? )*+ "?
            | ' [^'\n]*+ '? )
    | (?P<bare> [A-Za-z0-9_-]+ )
    | (?P<skip> [ \t\r]+ | \#[^\n]* )
    | .
    """,
    re.VERBOSE | re.DOTALL,
)


class TooDeepError(Exception):
    """Nested deeper than any key of ours, and than a TOML library reads quickly; `line` says where."""

    def __init__(self, line: int) -> None:
        super().__init__(f"nested too deep on line {line}")
        self.line = line


def parts(text: str) -> Iterator[tuple[str, str]]:
    """The text in its smallest parts, in order, each with its sort: "text" in quotation marks, "bare" word, "skip", or nothing."""
    return ((token.lastgroup or "", token[0]) for token in _TOKEN.finditer(text))


class _Frame:
    """An open bracket, or the table under a heading: its path, the key that is being read, and the place in a list."""

    __slots__ = ("at", "in_value", "key", "opened", "path")

    def __init__(self, opened: str, path: Path, in_value: bool = False) -> None:
        self.opened, self.path, self.in_value = opened, path, in_value
        self.key: list[str] = []
        self.at = 0


def lines(text: str) -> dict[Path, int]:
    """The line of every path, from 1; raises `TooDeepError` instead of following a key or bracket beyond `DEEPEST`."""
    scan = _Scan()
    for token in _TOKEN.finditer(text):
        if token.lastgroup != "skip":
            scan.take(token[0], token.lastgroup)
        scan.line += token[0].count("\n")
    return scan.found


class _Scan:
    """Lives for one text."""

    def __init__(self) -> None:
        self.line = 1
        self.found: dict[Path, int] = {(): 1}
        self._counts: dict[Path, int] = {}
        self._frames = [_Frame("", ())]

    def take(self, token: str, group: str | None) -> None:
        top = self._frames[-1]
        if token == "\n" and top.opened == "":
            top.key, top.in_value = [], False
        elif token in ("[", "{"):
            self._open(token, top)
        elif token in ("]", "}"):
            self._close(token, top)
        elif token == ",":
            top.key, top.in_value, top.at = [], False, top.at + 1
        elif top.opened == "[":
            self.found.setdefault((*top.path, top.at), self.line)
        elif not top.in_value:
            self._key(token, group, top)

    def _key(self, token: str, group: str | None, top: _Frame) -> None:
        if token == "=":
            top.in_value = True
            for end in range(1, len(top.key) + 1):
                self.found.setdefault((*top.path, *top.key[:end]), self.line)
        elif group and len(top.key) <= DEEPEST:
            top.key.append(_plain(token) if group == "text" else token)
        elif token == "." and len(top.key) > DEEPEST:
            raise TooDeepError(self.line)

    def _open(self, token: str, top: _Frame) -> None:
        if len(self._frames) > DEEPEST:
            raise TooDeepError(self.line)
        if top.opened == "[":
            path: Path = (*top.path, top.at)
            self.found.setdefault(path, self.line)
        else:
            path = (*top.path, *top.key)
        if top.opened == "h" or (top.opened == "" and not top.in_value):
            self._frames.append(_Frame("h", ()))
        else:
            self._frames.append(_Frame(token, path))

    def _close(self, token: str, top: _Frame) -> None:
        if top.opened == "h" and top.key:
            self._heading(top.key, listed=len(self._frames) > 2)
        elif len(self._frames) > 1:
            self._frames.pop()

    def _heading(self, key: list[str], listed: bool) -> None:
        path: Path = ()
        for end, part in enumerate(key, 1):
            path = (*path, part)
            self.found.setdefault(path, self.line)
            if listed and end == len(key):
                self._counts[path] = self._counts.get(path, 0) + 1
            if path in self._counts:
                path = (*path, self._counts[path] - 1)
        self.found.setdefault(path, self.line)
        self._frames = [_Frame("", path, in_value=True)]


def _plain(quoted: str) -> str:
    try:
        return next(iter(tomllib.loads(quoted + "=0"))) if "\\" in quoted else quoted[1:-1]
    except ValueError:
        return quoted[1:-1]
