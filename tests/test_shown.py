"""The evening on the screen: what it is given to look at, and the pictures of every screen."""

import re
import threading
from collections.abc import Iterator

import pytest

from courttimer import shown
from courttimer.__main__ import reading as session_of
from courttimer.evening import Evening, begin
from courttimer.plan.reading import Reading, read
from courttimer.practice.calls import Call

SESSION = """
voice = { say = "horns" }
[squad]
players = ["Ada", "Bea", "Cleo", "Dina", "Edda", "Fern"]
[[segment]]
kind = "drill"
name = "Paint touch"
time = "10 min"
roles = [ { name = "attack" }, { name = "defend" }, { name = "off", plays = false } ]
rep = { live = "8 s", off = "8 s", turn = "fair" }
"""


@pytest.fixture(name="found")
def _found() -> Reading:
    return read("short.toml", SESSION, dict[str, str]().__getitem__)


@pytest.fixture(name="evening")
def _evening(found: Reading) -> Iterator[Evening]:
    one = begin(found)
    yield one
    one.journal.close()


def test_how_long_each_plays_follows_who_is_here(evening: Evening, found: Reading) -> None:
    given = shown._Kept(evening, found).given()
    whole = given.start().stands
    for name in ("Ada", "Bea", "Cleo"):
        evening.conductor.call(Call(what="out", who=name))
    few = given.start().stands

    assert whole[0].startswith("Paint touch: each plays about")
    assert few != whole
    assert given.view().attendance.away == ("Ada", "Bea", "Cleo")


def test_a_volume_is_turned_for_whatever_sounds(evening: Evening, found: Reading) -> None:
    turned: list[tuple[float, float]] = []
    given = shown._Kept(evening, found).given()
    evening._player = type("Player", (), {"volume": lambda self, *db: turned.append(db)})()

    given.turn("the voice", -6)
    given.turn("everything", 4)

    assert turned == [(0.0, -6.0), (4.0, -6.0)]
    assert {one.of: one.db for one in given.volumes()} == {"everything": 4, "the voice": -6}


def test_after_the_last_horn_the_board_has_the_short_form_of_the_report(evening: Evening, found: Reading) -> None:
    given = shown._Kept(evening, found).given()
    evening.conductor.call(Call(what="go"), at=0)
    evening.conductor.call(Call(what="end"), at=40_000)
    at_once = given.over().done
    for thread in threading.enumerate():
        if thread.name == "report":
            thread.join(20)

    assert at_once[0] == "Paint touch: 0:40"
    assert given.over().done[0] == "Played 0:40 of 10:00, 0:24 of it live, in 3 reps."


def test_every_moment_has_its_picture() -> None:
    shots = shown.pictures(session_of("first-practice"))
    told = {name: " ".join(re.findall(r"<text[^>]*>([^<]*)", shot)) for name, shot in shots.items()}

    assert set(told) == set(shown.MOMENTS)
    for name, words in {
        "start": "late: Cleo; out: Bea", "here": "[~] Cleo late", "board": "PAINT TOUCH", "stations": "calls go here",
        "halt": "Ferry Lane", "end": "Played 4:00 of", "help": "Starts what waits",
    }.items():  # fmt: skip
        assert words in told[name]
