"""What keeps players safe, on the board and in a halt."""

import pytest

from courttimer.care.words import ASIDE, IN_A_HALT
from courttimer.practice.view import Care
from courttimer.screen.board import board
from courttimer.screen.far import halt
from courttimer.screen.ink import Line, text
from tests.screen.looks import halted, off, paint

SIZES = [(60, 20), (100, 30), (200, 60)]


def words(lines: list[Line]) -> str:
    return "\n".join(text(of).rstrip() for of in lines)


def styled(lines: list[Line], style: str) -> str:
    return "".join(t for of in lines for t, its in of if its == style)


@pytest.mark.parametrize("size", SIZES)
def test_a_water_that_is_due_is_told_until_it_is_taken(size: tuple[int, int]) -> None:
    assert "Water is due." in styled(board(paint(care=Care(water_in=-1)), *size), "warn")
    assert "Water is due" not in words(board(paint(care=Care(water_in=60_000)), *size))
    assert "Water is due" not in words(board(paint(), *size))


@pytest.mark.parametrize("size", SIZES)
def test_at_a_water_it_is_told_how_much(size: tuple[int, int]) -> None:
    card = "100 to 250 mL every 20 min each"
    assert f"Water: {card}" in words(board(off(kind="water", name="Water", word="on", care=Care(water_card=card, water_in=-1)), *size))
    assert card not in words(board(off(care=Care(water_card=card)), *size))


@pytest.mark.parametrize("size", SIZES)
def test_what_was_shortened_and_how_hot_it_is_are_told(size: tuple[int, int]) -> None:
    told = words(board(off(care=Care(heat=2, heat_told="WBGT 28 C, level 2", fitted="Stay on 8 min instead of 12 min")), *size))
    assert "Changed: Stay on 8 min instead of 12 min" in told
    assert "Heat: WBGT 28 C" in told


@pytest.mark.parametrize("size", SIZES)
def test_lightning_goes_before_every_other_trouble(size: tuple[int, int]) -> None:
    drawn = board(off(care=Care(lightning="Lightning: into a building or a car.")), *size, ("no speaker",))
    assert "! Lightning: into a building" in styled(drawn, "alarm")
    assert "Lightning" in text(halt(halted(care=Care(lightning="Lightning: into a building or a car.")), *size)[0])


@pytest.mark.parametrize("size", SIZES)
def test_a_halt_has_something_for_the_others_and_cautions_only_where_the_card_leaves_room(size: tuple[int, int]) -> None:
    drawn = words(halt(halted(care=Care(aside=ASIDE, cautions=IN_A_HALT)), *size))
    assert ASIDE in drawn
    assert "12 Ferry Lane" in drawn
    assert "An ankle is not run off." in drawn
    low = words(halt(halted(care=Care(aside=ASIDE, cautions=IN_A_HALT)), 60, 11))
    assert "12 Ferry Lane" in low
    assert "ankle" not in low
