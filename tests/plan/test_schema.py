"""The schema and the reference page against the reader: what the reader accepts, the schema accepts, and the page is up to date."""

import tomllib
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, strategies as st
from jsonschema import Draft202012Validator

from courttimer.plan.kinds import WRONG, AnyOf, Kind, Notes, OneOf, Text, Time, Whole
from courttimer.plan.model import Segment, Session
from courttimer.plan.reference import reference
from courttimer.plan.schema import TABLES, schema
from courttimer.plan.tables import ListOf, TableOf
from courttimer.plan.times import spell
from tests.plan.files import DRILL, TUESDAY

VALIDATOR = Draft202012Validator(schema())
PAGE = Path(__file__).parents[2] / "sessions" / "README.md"


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("text", [TUESDAY, DRILL, '[[segment]]\nuse = "drills/gate.toml"\nrep.off = "5 s"\n'])
def test_the_schema_accepts_good_sessions(text: str) -> None:
    VALIDATOR.validate(tomllib.loads(text))


@pytest.mark.parametrize(
    ("old", "new"),
    [("effort = 3", "efort = 3"), ('"8 s"', '"8 sec."'), ("age   = 13", "age = 'x'"), ("[[segment]]", "[[sgment]]")],
)
def test_the_schema_refuses_what_an_editor_can_see(old: str, new: str) -> None:
    assert not VALIDATOR.is_valid(tomllib.loads(TUESDAY.replace(old, new)))


LEAVES = st.one_of(
    st.booleans(),
    st.integers(-3, 300),
    st.floats(),
    st.sampled_from(["12 s", "3:30", "1 min 30 s", " 2 min ", "0 s", "18:00-19:15", "2-4", "shot clock", "every 15 s"]),
    st.sampled_from(["squad", "x" * 60, "x" * 61]),
    st.text(max_size=8),
    st.sampled_from(["full", "swap", "drill", "water", "on call", "fiba", "keys", "rep", "again", "few", "player", "forward"]),
)


def tables(table: type[Any], depth: int = 2) -> st.SearchStrategy[dict[str, Any]]:
    """Tables with keys of ours and values of any sort, the right sort often."""
    each: dict[str, st.SearchStrategy[Any]] = {}
    for one in fields(table):
        kind = one.metadata["kind"]
        if isinstance(kind, TableOf) and depth:
            each[one.name] = tables(kind.table, depth - 1)
        elif isinstance(kind, ListOf) and isinstance(kind.kind, TableOf) and depth:
            each[one.name] = st.lists(tables(kind.kind.table, depth - 1), max_size=2)
        else:
            each[one.name] = LEAVES | st.lists(LEAVES, max_size=3) | st.dictionaries(st.text(max_size=4), LEAVES, max_size=2)
    return st.fixed_dictionaries({}, optional=each)


EVERY_KEY = [pytest.param(one.metadata["kind"], id=f"{table.__name__}.{one.name}") for table in TABLES for one in fields(table)]


def edges(kind: Kind) -> list[Any]:
    """The least and the most, and each of the words, that a kind takes."""
    if isinstance(kind, Time):
        return [spell(kind.least), spell(kind.most)]
    if isinstance(kind, Whole):
        return [kind.least, kind.most]
    if isinstance(kind, Text):
        return ["x", "x" * kind.most]
    if isinstance(kind, AnyOf):
        return [edge for inner in kind.kinds for edge in edges(inner)]
    if isinstance(kind, ListOf):
        return [[]] if isinstance(kind.kind, TableOf) else [[], edges(kind.kind)[:1] * kind.most]
    return list(kind.options) if isinstance(kind, OneOf) else []


@pytest.mark.parametrize("kind", EVERY_KEY)
def test_reader_and_schema_agree_on_the_edges(kind: Kind) -> None:
    whole = Draft202012Validator(kind.schema() | {"$defs": schema()["$defs"]})
    for edge in edges(kind):
        notes = Notes("fiba")
        assert kind.read(edge, (), notes) is not WRONG
        assert notes.mistakes == []
        whole.validate(edge)


@given(st.data())
def test_what_a_kind_accepts_its_schema_accepts(data: st.DataObject) -> None:
    """One key of one table at a time, so that values are accepted often enough to say something."""
    table = data.draw(st.sampled_from(TABLES))
    one = data.draw(st.sampled_from(fields(table)))
    value = data.draw(LEAVES | st.lists(LEAVES, max_size=3) | st.dictionaries(st.text(max_size=4), LEAVES, max_size=2))
    notes = Notes("fiba")
    if one.metadata["kind"].read(value, (), notes) is not WRONG and not notes.mistakes:
        Draft202012Validator(one.metadata["kind"].schema() | {"$defs": schema()["$defs"]}).validate(value)


@given(tables(Segment))
def test_what_the_reader_accepts_as_a_segment_the_schema_accepts(segment: dict[str, Any]) -> None:
    notes = Notes("fiba")
    if TableOf(Session).read({"segment": [segment]}, (), notes) is not WRONG and not notes.mistakes:
        VALIDATOR.validate({"segment": [segment]})


def test_every_table_of_the_vocabulary_is_in_the_schema_and_on_the_page() -> None:
    inner = [kind for table in TABLES for one in fields(table) for kind in [one.metadata["kind"]]]
    named = {kind.table for kind in inner if isinstance(kind, TableOf)}
    named |= {kind.kind.table for kind in inner if isinstance(kind, ListOf) and isinstance(kind.kind, TableOf)}
    assert named | {Session} == set(TABLES)


def test_the_reference_page_is_up_to_date() -> None:
    """Renew it with: python -m courttimer.plan.reference > sessions/README.md"""
    assert PAGE.read_text(encoding="utf-8") == reference()
