"""A segment that lives in a file of its own: `use` brings its keys in, and lines written in the session go first.

Keys of the tables rep, score and consequence are overridden one by one; any other value, a list too, as a whole.
"""

from collections.abc import Callable
from dataclasses import MISSING, fields
from posixpath import basename, normpath
from typing import Any

from courttimer.errors import PlanError
from courttimer.plan.kinds import Notes, Path
from courttimer.plan.model import Segment
from courttimer.plan.sources import Source, source
from courttimer.plan.tables import TableOf
from courttimer.plan.words import shown

Fetch = Callable[[str], str | bytes]
STANDIN = {"kind": "rest", "time": "5 s"}
Origin = dict[Path, tuple[str, int]]


class Drills:
    """Lives for one reading: the drill files that the session uses, each fetched once, and where each key came from."""

    def __init__(self, session: Source, fetch: Fetch, notes: Notes) -> None:
        self.origin: Origin = {path: (session.name, line) for path, line in session.lines.items()}
        self.files = {session.name: session.text}
        self.refused: list[str] = []
        self._own = basename(session.name.replace("\\", "/"))
        self._fetch = fetch
        self._notes = notes
        self._read: dict[str, Source | None] = {}

    def bring(self, segment: dict[str, Any], path: Path) -> dict[str, Any]:
        """The segment with the keys of the drill file that it uses; a stand-in without mistakes when that cannot be had."""
        use = segment.get("use")
        if not isinstance(use, str):
            return segment
        if (drill := self._source(use, (*path, "use"))) is None:
            return STANDIN
        replaced: list[Path] = []
        merged = _merged(drill.table, segment, Segment, (), replaced)
        for at, line in drill.lines.items():
            if at and not any(at[: len(one)] == one for one in replaced):
                self.origin[(*path, *at)] = (drill.name, line)
        return merged

    def _source(self, use: str, path: Path) -> Source | None:
        name = normpath(use)
        if why := self._not_allowed(use, name):
            self._notes.add(path, f"{why} (got {shown(use)})")
            return None
        if name not in self._read:
            self._read[name] = None
            self._read[name] = self._checked(name, path)
        return self._read[name]

    def _not_allowed(self, use: str, name: str) -> str:
        if name == self._own:
            return "a session cannot use itself; name a drill file"
        if "\\" in use or ":" in use or use.startswith(("/", "~")) or ".." in use.split("/"):
            return 'a drill file lies inside the session\'s folder, such as "drills/paint-touch.toml"'
        if not use.isprintable() or not name.endswith(".toml") or len(use) > 200:
            return 'the name of a drill file ends in .toml, such as "drills/paint-touch.toml"'
        return ""

    def _checked(self, name: str, path: Path) -> Source | None:
        try:
            drill = source(name, self._fetch(name))
        except PlanError as why:
            self.refused += why.lines
            return None
        except (OSError, LookupError, ValueError) as why:
            self._notes.add(path, f'there is no file "{name}" in the session\'s folder to be read ({_reason(why)})')
            return None
        self.files[name] = drill.text
        for key, what in (
            ("segment", "a drill file holds the keys of one segment at its top; take [[segment]] out"),
            ("use", "a drill file cannot use another one; write its lines here"),
        ):
            if key in drill.table:
                self.refused.append(f"{name}:{drill.lines[(key,)]}: {key}: {what}")
                return None
        return drill


def _merged(under: dict[str, Any], over: dict[str, Any], table: type[Any], path: Path, replaced: list[Path]) -> dict[str, Any]:
    kinds = {one.name: one.metadata["kind"] for one in fields(table)}
    inner = {key: kind.table for key, kind in kinds.items() if isinstance(kind, TableOf) and _loose(kind)}
    result = dict(under)
    for name, value in over.items():
        below = under.get(name)
        if name in inner and isinstance(value, dict) and isinstance(below, dict):
            result[name] = _merged(below, value, inner[name], (*path, name), replaced)
        else:
            result[name] = value
            replaced.append((*path, name))
    return result


def _loose(kind: TableOf) -> bool:
    """A table with a key that must be there stays whole, so that the schema holds for the session's own lines."""
    return all(one.default is not MISSING for one in fields(kind.table))


def _reason(why: Exception) -> str:
    if isinstance(why, IsADirectoryError):
        return "it is a folder"
    if isinstance(why, OSError) and not isinstance(why, FileNotFoundError) and why.strerror:
        return why.strerror.lower()
    return "check its name"
