"""The line of every key, against a parser of another make (tree-sitter-toml), and on texts that try to make the scanner slow."""

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
import tree_sitter
import tree_sitter_toml
from hypothesis import given, strategies as st

from courttimer.plan.lines import Path, TooDeepError, lines
from tests.plan.files import DRILL, TUESDAY

AWKWARD = '''\
# [[segment]] in a remark, and "a quote
"left corner" = 1   # a quoted key
'#' = 2
rep.live = "8 s"
rep."off" = "16 s"
many = """
[[segment]]
name = "not a key"
""" # the end
more = \'\'\'
x = 1\'\'\'
[a.b]
c = [ 1,
  2, # , [
  { d = "]", e = { f = 1 } },
  [ 3,
    4 ] ]
"caf\\u00e9" = true
[[segment]]
name = "one"
[[segment.window]]
name = "w"
[[segment]]
[segment.rep]
live = 1
[[segment.window]]
[[segment.window]]
time = "3 s"
[segment.window.deep]
er = 1979-05-27T07:32:00Z
'''


def keys_of(node: tree_sitter.Node) -> list[str]:
    """The parts of a bare, quoted or dotted key."""
    if node.type == "dotted_key":
        return [part for child in node.named_children for part in keys_of(child)]
    text = (node.text or b"").decode()
    return list(tomllib.loads(f"{text} = 0"))


def pairs(node: tree_sitter.Node, at: Path) -> Iterator[tuple[Path, int]]:
    """Path and line of every key below a node, by the other parser's tree."""
    if node.type == "pair":
        at = (*at, *keys_of(node.named_children[0]))
        yield at, node.start_point[0] + 1
        yield from pairs(node.named_children[-1], at)
    elif node.type == "array":
        for index, child in enumerate(one for one in node.named_children if one.type != "comment"):
            yield from pairs(child, (*at, index))
    else:
        for child in node.named_children:
            yield from pairs(child, at)


def by_the_other_parser(text: str) -> dict[Path, int]:
    tree = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language())).parse(text.encode())
    found: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    for node in tree.root_node.named_children:
        at: Path = ()
        if node.type in ("table", "table_array_element"):
            parts = keys_of(node.named_children[0])
            for end, part in enumerate(parts, 1):
                at = (*at, part)
                if node.type == "table_array_element" and end == len(parts):
                    counts[at] = counts.get(at, -1) + 1
                at = (*at, counts[at]) if at in counts else at
            found[at] = node.start_point[0] + 1
            children = node.named_children[1:]
        else:
            children = [node]
        found.update(pair for child in children for pair in pairs(child, at))
    return found


@pytest.mark.parametrize("text", [TUESDAY, DRILL, AWKWARD, AWKWARD.replace("\n", "\r\n")])
def test_every_key_stands_on_the_line_that_another_parser_gives(text: str) -> None:
    told = lines(text)
    expected = by_the_other_parser(text)
    assert len(expected) > 20
    assert {path: told.get(path) for path in expected} == expected


@pytest.mark.parametrize("text", [TUESDAY, DRILL, AWKWARD])
def test_every_value_of_the_file_has_a_line(text: str) -> None:
    told = lines(text)

    def missing(value: Any, at: Path) -> list[Path]:
        inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        return [one for key, below in inner for one in missing(below, (*at, key))] + ([] if at in told else [at])

    assert missing(tomllib.loads(text), ()) == []


@pytest.mark.parametrize(
    "text", ['"""' + '\\"' * 200_000, "'''" + "'x" * 200_000, '"' + '\\"' * 200_000, "\\" * 300_000, "'" * 300_001, "[[a]]\n" * 30_000]
)
def test_no_text_makes_the_scanner_slow(text: str) -> None:
    """Each would take minutes or more in a scanner that goes back: that one would not get past this test."""
    assert lines(text)[()] == 1


@pytest.mark.parametrize("text", ["a." * 300_000 + "b = 1", "a = " + "[" * 300_000, "a = " + "{a=" * 100_000, "[" * 300_000])
def test_what_is_nested_too_deep_is_not_followed(text: str) -> None:
    with pytest.raises(TooDeepError) as why:
        lines("\n\n" + text)
    assert why.value.line == 3


@given(st.text(st.sampled_from("ab.=[]{},\"'\n\r \\#1"), max_size=60))
def test_any_text_is_scanned(text: str) -> None:
    assert all(1 <= line <= text.count("\n") + 1 for line in lines(text).values())
