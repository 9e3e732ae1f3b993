"""Lists, maps and tables of the session file: kinds that are made of other kinds, and `key`, which ties a kind to a field."""

from collections.abc import Callable
from dataclasses import MISSING, field, fields
from typing import Any

from courttimer.plan.kinds import WRONG, Kind, Name, Notes, OneOf, Path, Schema
from courttimer.plan.words import nearest, shown

_TOLD_EACH = 20


class ListOf(Kind):
    """A list of at most `most` values of one kind, as a tuple. It may be empty."""

    def __init__(self, kind: Kind, most: int) -> None:
        self.kind, self.most = kind, most

    def read(self, value: object, path: Path, notes: Notes) -> Any:
        if not isinstance(value, list):
            heading = ".".join(part for part in path if isinstance(part, str))
            how = f"one heading [[{heading}]] for each" if isinstance(self.kind, TableOf) else "in square brackets"
            notes.add(path, f"a list is expected, {how} (got {shown(value)})")
            return WRONG
        if len(value) > self.most:
            notes.add(path, f"at most {self.most} are allowed here (got {len(value)})")
        read = [self.kind.read(one, (*path, at), notes) for at, one in enumerate(value[: self.most])]
        if WRONG in read:
            notes.gaps.add(path)
        return tuple(one for one in read if one is not WRONG)

    def schema(self) -> Schema:
        return {"type": "array", "maxItems": self.most, "items": self.kind.schema()}

    def words(self) -> str:
        return f"a list of at most {self.most}: {self.kind.words()}"


class MapOf(Kind):
    """A table with names of the coach's own as keys, as a tuple of (name, value) in the order of the file."""

    most = 40

    def __init__(self, kind: Kind) -> None:
        self.kind = kind

    def read(self, value: object, path: Path, notes: Notes) -> Any:
        if not isinstance(value, dict):
            notes.add(path, f"a table is expected, in curly brackets (got {shown(value)})")
            return WRONG
        if len(value) > self.most:
            notes.add(path, f"at most {self.most} are allowed here (got {len(value)})")
        pairs = []
        for name, one in list(value.items())[: self.most]:
            key_read = Name().read(name, (*path, name), notes)
            pairs.append((key_read, self.kind.read(one, (*path, name), notes)))
        return tuple(pair for pair in pairs if WRONG not in pair)

    def schema(self) -> Schema:
        return {
            "type": "object",
            "maxProperties": self.most,
            "propertyNames": Name().schema(),
            "additionalProperties": self.kind.schema(),
        }

    def words(self) -> str:
        return f"a table: a name = {self.kind.words()}"


class TurnKind(Kind):
    """A way to turn by its name, or a table from role to role. `make` is given the way and the moves."""

    ways = ("fair", "advance", "swap", "winners stay", "one for one", "round robin")

    def __init__(self, make: Callable[[str, tuple[tuple[str, str], ...]], Any]) -> None:
        self.make = make

    def read(self, value: object, path: Path, notes: Notes) -> Any:
        if not isinstance(value, dict):
            how = OneOf(*self.ways).read(value, path, notes)
            return WRONG if how is WRONG else self.make(how, ())
        moves = MapOf(Name()).read(value, path, notes)
        return WRONG if moves is WRONG else self.make("table", moves)

    def schema(self) -> Schema:
        return {"anyOf": [OneOf(*self.ways).schema(), MapOf(Name()).schema()]}

    def words(self) -> str:
        return f'{OneOf(*self.ways).words()}, or a table from role to role: `{{ attack = "off", off = "attack" }}`'


class TableOf(Kind):
    """A table with the keys of one dataclass of the vocabulary."""

    def __init__(self, table: type[Any]) -> None:
        self.table = table

    def read(self, value: object, path: Path, notes: Notes) -> Any:
        if not isinstance(value, dict):
            notes.add(path, f"a table is expected, in curly brackets or under a heading (got {shown(value)})")
            return WRONG
        self._note_unknown(value, path, notes)
        given: dict[str, Any] = {}
        for one in fields(self.table):
            if one.name in value:
                read = one.metadata["kind"].read(value[one.name], (*path, one.name), notes)
                given |= {} if read is WRONG else {one.name: read}
            elif one.default is MISSING:
                notes.add(path, f'"{one.name}" is missing: {one.metadata["meaning"]}')
        needed = {one.name: one.metadata["kind"].standin for one in fields(self.table) if one.default is MISSING}
        given = needed | given
        if WRONG in given.values():
            return WRONG
        made = self.table(**given)
        notes.made.append((path, made))
        return made

    def _note_unknown(self, value: dict[str, object], path: Path, notes: Notes) -> None:
        known = [one.name for one in fields(self.table)]
        unknown = [name for name in value if name not in known]
        for name in unknown[:_TOLD_EACH]:
            hint = nearest(name, known) if len(notes.mistakes) < 200 else ""
            notes.add((*path, name), f"there is no key {shown(name)}{hint or self._elsewhere(name)}", path)
        if len(unknown) > _TOLD_EACH:
            notes.add(path, f"{len(unknown) - _TOLD_EACH} more keys that are not known")

    def _elsewhere(self, name: str) -> str:
        for one in fields(self.table):
            kind = one.metadata["kind"]
            if isinstance(kind, TableOf) and name in (inner.name for inner in fields(kind.table)):
                return f"; it belongs in {one.name} = {{ {name} = … }}"
        return ""

    def schema(self) -> Schema:
        return {"$ref": f"#/$defs/{self.table.__name__}"}

    def words(self) -> str:
        return f"a table, see [{self.table.__name__}](#{self.table.__name__.lower()})"


class WordOr(TableOf):
    """One word for the coach who has no figures, or a table with them."""

    def __init__(self, word: str, table: type[Any]) -> None:
        super().__init__(table)
        self.word = OneOf(word)

    def read(self, value: object, path: Path, notes: Notes) -> Any:
        if not isinstance(value, str):
            return super().read(value, path, notes)
        if value in self.word.options:
            return value
        notes.add(path, f'"{self.word.options[0]}", or a table in curly brackets, is expected (got {shown(value)})')
        return WRONG

    def schema(self) -> Schema:
        return {"anyOf": [self.word.schema(), super().schema()]}

    def words(self) -> str:
        return f"{self.word.words()}, or {super().words()}"


def key(kind: Kind, meaning: str, *, default: Any = MISSING) -> Any:
    """A key of the session file, as a field of a dataclass: its kind and its meaning are kept with it."""
    return field(default=default, metadata={"kind": kind, "meaning": meaning})
