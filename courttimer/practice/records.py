"""An event as a line of the journal, and back."""

from dataclasses import fields
from functools import cache
from typing import Any

from courttimer.practice import called, events, facts
from courttimer.practice.event import Event

_OPTIONAL = (int, type(None))
_VALUES: dict[str, type | tuple[type, ...]] = {
    "<class 'int'>": int, "<class 'str'>": str, "<class 'bool'>": bool, "<class 'float'>": (int, float), "int | None": _OPTIONAL,
}  # fmt: skip
"""What each sort of field may hold, by the name of its type; all others hold lists."""


@cache
def names() -> dict[str, type[Event]]:
    """Every event by its name in the journal: the class's words in small letters."""
    kinds = [k for k in (vars(called) | vars(events) | vars(facts)).values() if isinstance(k, type) and issubclass(k, Event)]
    return {name(k): k for k in kinds if k is not Event and not k.__name__.startswith("_")}


def name(kind: type[Event]) -> str:
    """`RepBegan` is "rep began" in the journal."""
    return "".join(" " + c.lower() if c.isupper() else c for c in kind.__name__).strip()


def record(event: Event) -> dict[str, Any]:
    """The event as the journal keeps it: what, at, lane, by, and its other fields."""
    return {"what": name(type(event))} | {f.name: getattr(event, f.name) for f in fields(event)}


def event(record: dict[str, Any]) -> Event:
    """The event that `record` made. Raises ValueError for a name or a field that this program does not know."""
    kind = names().get(record.get("what", ""))
    if kind is None:
        raise ValueError(f'"{record.get("what")}" is no event of this program; was it written by a newer one?')
    sorts = {f.name: str(f.type) for f in fields(kind)}
    values: dict[str, Any] = {k: _value(v, sorts.get(k, ""), f'"{k}" of "{record["what"]}"') for k, v in record.items() if k != "what"}
    try:
        return kind(**values)
    except TypeError as fault:
        raise ValueError(f'"{record["what"]}" has other fields than this program knows') from fault


def _value(value: object, sort: str, where: str) -> object:
    """The value as the event holds it: lists become tuples. Raises ValueError for what the field cannot hold."""
    if not sort:
        return value  # a field that is not known; the event itself will refuse it
    if sort not in _VALUES:
        try:
            return _tuple(value, sort)
        except (TypeError, ValueError):
            raise ValueError(f"{where} is no {sort} (got {value!r})") from None
    if not isinstance(value, _VALUES[sort]):
        raise ValueError(f"{where} is no {sort} (got {value!r})")
    return value


def _tuple(value: object, sort: str) -> object:
    """A nest of lists as the nest of tuples that `sort` names, such as "tuple[tuple[str, int], ...]"."""
    if not sort.startswith("tuple["):
        if not isinstance(value, {"str": str, "int": int}[sort]):
            raise ValueError(value)
        return value
    if not isinstance(value, (list, tuple)):
        raise ValueError(value)
    inner = _parts(sort[len("tuple[") : -1])
    kinds = inner[:1] * len(value) if inner[-1] == "..." else inner
    return tuple(_tuple(one, kind) for one, kind in zip(value, kinds, strict=True))


def _parts(inside: str) -> list[str]:
    """The types between the commas of the outermost brackets."""
    parts, depth = [""], 0
    for char in inside:
        depth += (char == "[") - (char == "]")
        if char == "," and not depth:
            parts.append("")
        else:
            parts[-1] += char
    return [part.strip() for part in parts]
