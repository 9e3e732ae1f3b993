"""A name is found in whatever letters and escapes it stands, as a whole word, and nothing else is touched."""

import json
import tomllib

import pytest
from hypothesis import given, strategies as st

from courttimer.memory.naming import Name, called

NAMES = ("Ada", "Zoë", "Mary Ann", "O'Shea", "Łucja", "Злата", "Şule", "𐐀da", "Jo-Ann")
STAND_IN = "Player 7"


def encodings(name: str) -> dict[str, str]:
    """The name as JSON, TOML and file systems write it."""
    import unicodedata

    escaped = json.dumps(name)[1:-1]
    return {
        "plain": name,
        "decomposed": unicodedata.normalize("NFD", name),
        "JSON": escaped,
        "JSON in JSON": json.dumps(escaped)[1:-1],
        "every letter in JSON": "".join(f"\\u{ord(c):04X}" if ord(c) < 65_536 else json.dumps(c)[1:-1] for c in name),
        "long in TOML": "".join(f"\\U{ord(c):08x}" for c in name),
        "small": name.lower(),
        "capitals": name.upper() if len(name.upper()) == len(name) else name,
    }


@pytest.mark.parametrize("name", NAMES)
def test_it_is_found_in_every_encoding_and_nothing_is_left(name: str) -> None:
    wanted = Name(name, STAND_IN)
    for sort, form in encodings(name).items():
        for text in (form, f"{form}, go", f"({form})", f"with\\n{form}", f"{form}'s ball", f"{form}_drill", f"well-{form}"):
            assert wanted.holds(text), (sort, text)
            assert wanted.text(text) == text.replace(form, STAND_IN)
            assert wanted.raw(text.encode("utf-8")) == text.replace(form, STAND_IN).encode("utf-8")


@pytest.mark.parametrize("text", ["Adana", "Canada", "Adam", "1Ada", "Ad a", "Adá", "Ada\u0301", "A.d.a"])
def test_other_words_are_not_touched(text: str) -> None:
    assert not Name("Ada", STAND_IN).holds(text)
    assert Name("Ada", STAND_IN).text(text) == text


def test_a_name_keeps_to_its_letters_when_asked() -> None:
    will = Name("Will", STAND_IN, same=True)

    assert will.text("Will will, and WILL") == "Player 7 will, and WILL"


@pytest.mark.parametrize(
    ("torn", "left"),
    [(b'"Ada","Be', b'"Player 7","Be'), (b'"players":["Ad', b'"players":["'), (b"\xff\x00Ada\xfe", b"\xff\x00Player 7\xfe")],
)
def test_a_torn_end_keeps_no_half_of_it_and_every_other_byte(torn: bytes, left: bytes) -> None:
    assert Name("Ada", STAND_IN).raw(torn, torn=True) == left


def test_a_torn_end_in_the_middle_of_a_letter_keeps_no_half_of_it() -> None:
    assert Name("Zoë", STAND_IN).raw("well done Zoë".encode()[:-1], torn=True) == b"well done "


def test_toml_stays_toml_with_the_stand_in_in_texts_comments_and_keys() -> None:
    text = """# Grace leads, grace
grace = "1 s" # Grace
players = ["Grace", 'Bea', "Gr\\u0061ce"]
teams = { Grace = ["Grace"], "Grace" = ["Bea"] }
rule = \"\"\"
Grace first.\"\"\"
"""
    without = Name("Grace", STAND_IN, same=True).toml(text.replace(', "Grace" = ["Bea"]', ""))

    assert "Grace" not in without
    assert tomllib.loads(without) == {
        "grace": "1 s", "players": [STAND_IN, "Bea", STAND_IN], "teams": {STAND_IN: [STAND_IN]}, "rule": f"{STAND_IN} first.",
    }  # fmt: skip


def test_what_our_lines_say_themselves_stays() -> None:
    line = {"what": "mark worded", "at": 1, "by": "key", "words": "mark well, Mark", "rows": [["Mark", 2]], "sums": {"Mark": 1}}

    assert Name("Mark", STAND_IN).record(line) == {
        "what": "mark worded", "at": 1, "by": "key", "words": f"{STAND_IN} well, {STAND_IN}", "rows": [[STAND_IN, 2]],
        "sums": {STAND_IN: 1},
    }  # fmt: skip


@given(st.sampled_from(NAMES), st.binary(max_size=40), st.binary(max_size=40))
def test_bytes_around_it_come_back_as_they_were(name: str, before: bytes, after: bytes) -> None:
    wanted = Name(name, STAND_IN)
    content = before + b" " + name.encode() + b" " + after
    if not wanted.held(before) and not wanted.held(after):
        assert wanted.raw(content) == before + b" " + STAND_IN.encode() + b" " + after


@pytest.mark.parametrize(
    ("text", "without"),
    [
        ("Adas ball, Ada's ball", "Player 7s ball, Player 7's ball"), ("well done, Adas", "well done, Player 7s"),
        ("Adass, Adam, Adasa, Adás", "Adass, Adam, Adasa, Adás"), ("adas ball", "adas ball"), ("ada, ADA", "Player 7, Player 7"),
    ],
)  # fmt: skip
def test_an_s_behind_the_name_as_given_is_its_owner(text: str, without: str) -> None:
    """In small letters it may be any word: a player called Pas is not in "pass"."""
    assert Name("Ada", STAND_IN, owner=True).text(text) == without
    assert not Name("Ada", STAND_IN).holds("Adas ball")


@pytest.mark.parametrize("text", ['players = ["Adas"]', '{"who":"Adas"}', '"players = [\\"ADAS\\"]"', "lead = 'Adas'"])
def test_somebody_is_called_what_stands_alone_between_quotation_marks(text: str) -> None:
    assert called("Adas", text.encode())
    assert not called("Ada", text.encode())
    assert not called("Adas", b'"Adas ball"')
