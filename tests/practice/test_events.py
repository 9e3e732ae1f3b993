"""Events are for ever: each one becomes a record and comes back the same, and what is unknown is refused in words."""

import json
from dataclasses import MISSING, fields

import pytest

from courttimer.practice import events as ev, records

VALUES = {"int": 7, "str": "words", "bool": True, "float": 7.25, "int | None": 7, "str | None": "words"}
UNITS = (("blue", ("Ada", "Dina")), ("red", ()))
NESTS = {
    "tuple[str, ...]": ("Ada", "Bea"), "tuple[int, ...]": (60_000, -1), "tuple[tuple[str, int], ...]": (("blue", 3), ("red", 0)),
    "tuple[tuple[str, int, int], ...]": (("Ada", 3, 5),),
    "tuple[tuple[str, tuple[str, ...]], ...]": UNITS, "tuple[tuple[tuple[str, tuple[str, ...]], ...], ...]": (UNITS, ()),
}  # fmt: skip
EVERY = sorted(records.names().items())


def filled(kind: type[ev.Event], *, optional: bool) -> ev.Event:
    """One event of this kind, with its optional fields or without."""
    known = NESTS | VALUES
    sorts = {f.name: str(f.type).removeprefix("<class '").removesuffix("'>") for f in fields(kind) if optional or f.default is MISSING}
    made = {name: known[sort] for name, sort in sorts.items()}
    return kind(**made)  # type: ignore[arg-type]  # each field has a value of its own annotation


@pytest.mark.parametrize(("name", "kind"), EVERY)
@pytest.mark.parametrize("optional", [True, False])
def test_an_event_comes_back_from_its_record(name: str, kind: type[ev.Event], optional: bool) -> None:
    made = filled(kind, optional=optional)
    record = records.record(made)
    assert record["what"] == name
    assert records.event(json.loads(json.dumps(record))) == made


def test_every_event_has_a_name_of_its_own_in_the_past_or_of_a_fact() -> None:
    assert len(EVERY) == len({kind for _, kind in EVERY}) > 25
    assert {name for name, kind in EVERY if kind.source == "call"} >= {"went", "held", "halted", "taken back", "put back"}


@pytest.mark.parametrize("record", [{"what": "rep flew", "at": 1}, {"at": 1}, {"what": None, "at": 1}, {"what": 7, "at": 1}])
def test_an_event_that_is_not_known_is_refused_in_words(record: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="is no event of this program"):
        records.event(record)


@pytest.mark.parametrize(
    "record", [{"what": "held", "at": 1, "colour": "red"}, {"what": "went", "at": 1}, {"what": "held"}, {"what": "rep began", "at": 1}]
)
def test_a_field_that_is_not_known_or_missing_is_refused_in_words(record: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="has other fields than this program knows"):
        records.event(record)


def test_an_event_written_before_a_field_was_there_still_opens() -> None:
    assert records.event({"what": "held", "at": 5}) == ev.Held(at=5, why="call")
