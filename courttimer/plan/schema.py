"""The JSON Schema of a session file, for editors, made from the vocabulary that the reader uses.

Promise: what the reader accepts, the schema accepts. The reader also refuses what needs more than one key to see.
"""

from dataclasses import MISSING, Field, fields
from typing import Any

from courttimer.plan.kinds import OneOf, Text, Time
from courttimer.plan.model import (
    Consequence,
    Game,
    Gym,
    Heat,
    Outcome,
    Rep,
    Role,
    Score,
    Segment,
    Session,
    Squad,
    Staff,
    Station,
    Voice,
    Window,
)
from courttimer.plan.times import spell

TABLES: tuple[type[Any], ...] = (
    Session,
    Heat,
    Voice,
    Gym,
    Staff,
    Squad,
    Segment,
    Role,
    Rep,
    Window,
    Outcome,
    Score,
    Consequence,
    Station,
    Game,
)


def schema() -> dict[str, Any]:
    """JSON Schema, draft 2020-12, of a session as parsed from TOML. A drill file is "#/$defs/Segment"."""
    tables = {table.__name__: _table(table) for table in TABLES}
    session = tables.pop("Session")
    session["properties"]["segment"]["minItems"] = 1
    segment = tables["Segment"]
    del segment["required"]
    segment["anyOf"] = [{"required": ["kind"]}, {"required": ["use"]}]
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "A courttimer session"}
    return head | session | {"required": ["segment"], "$defs": tables}


def default(one: Field[Any]) -> Any:
    """The value that stands when the key is left out, as one would write it; None when that cannot be written."""
    kind, value = one.metadata["kind"], one.default
    if value is MISSING or value in (None, "", ()):
        return None
    if isinstance(kind, Time):
        return spell(value) if value >= kind.least else None
    if isinstance(value, tuple):
        return value[0]
    return value if isinstance(value, bool | int) or isinstance(kind, OneOf | Text) else None


def _table(table: type[Any]) -> dict[str, Any]:
    needed = [one.name for one in fields(table) if one.default is MISSING]
    return {
        "type": "object",
        "description": (table.__doc__ or "").strip(),
        "properties": {one.name: _property(one) for one in fields(table)},
        "additionalProperties": False,
        "required": needed,
    }


def _property(one: Field[Any]) -> dict[str, Any]:
    standing = default(one)
    described: dict[str, Any] = (
        one.metadata["kind"].schema()
        | {"description": one.metadata["meaning"]}
        | ({} if standing is None else {"default": standing})
    )
    return described
