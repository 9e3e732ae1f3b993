"""How far away the far view's number can be read."""

import math

import pytest

from courttimer.screen import digits
from courttimer.screen.far import far
from courttimer.screen.ink import text
from tests.screen.looks import MIN, off

SCREEN_MM = 14 * 25.4 * 9 / math.hypot(16, 9)
"""The height of a 14-inch screen of 16 to 9: 174 mm. The terminal is taken to fill it with 24 rows."""
LEAST, BEST = 16, 20
"""ISO 9241-3 (as quoted by NUREG-0700 1.3.1-4): characters are at least 16 arc minutes high, better 20 to 22."""


def arc_minutes(mm: float, metres: float) -> float:
    return math.degrees(math.atan(mm / (metres * 1000))) * 60


def digit_mm(number: str, cells: int, rows: int) -> float:
    """The height of a digit in the far view of a terminal that fills the screen."""
    taken = [row for row in (text(of) for of in number_rows(number, cells, rows)) if row.strip()]
    return len(taken) * SCREEN_MM / rows


def number_rows(number: str, cells: int, rows: int) -> list[tuple[tuple[str, str], ...]]:
    ms = int(number) * 1000 if not number.endswith("′") else int(number[:-1]) * MIN
    lines = far(off(left=ms), cells, rows)
    gap = next(n for n, of in enumerate(lines) if n and not text(of).strip() and text(lines[n - 1]).strip())
    return list(lines[:gap])


@pytest.mark.parametrize(
    ("mm", "metres", "worked"),
    [(14.0, 3, 16), (29.1, 5, 20), (64.0, 10, 22), (69.8, 15, 16), (162.9, 28, 20), (100.0, 20, 17.19)],
)
def test_the_sum_agrees_with_the_table_of_the_standard(mm: float, metres: float, worked: float) -> None:
    """NUREG-0700: H = 6.283 D M / 21600; the last row is the aviators' D/200."""
    assert arc_minutes(mm, metres) == pytest.approx(worked, abs=0.06)


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (160, 45), (200, 60)])
def test_two_digits_are_read_at_30_metres_and_well_at_20(size: tuple[int, int]) -> None:
    """The whole court is 28 m long."""
    high = digit_mm("15", *size)
    assert arc_minutes(high, 30) >= LEAST
    assert arc_minutes(high, 24) >= BEST


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (160, 45), (200, 60)])
def test_minutes_with_their_prime_are_read_well_at_18_metres(size: tuple[int, int]) -> None:
    assert arc_minutes(digit_mm("12′", *size), 18) >= BEST


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (100, 30), (200, 60), (300, 80)])
def test_digits_are_neither_slim_nor_squat(size: tuple[int, int]) -> None:
    """ISO 9241-303: between half as wide as high and as wide as high (from memory). A cell is twice as high as wide."""
    for number in ("8", "15", "12′"):
        scale = digits.fit(number, size[0], size[1] * 3 // 4)
        assert scale is not None
        assert 0.45 <= 3 * scale.x / (5 * scale.y) <= 1.0


def test_a_small_terminal_still_draws_and_a_tiny_one_writes() -> None:
    assert digits.fit("12:34", 17, 3) == digits.Scale(1, 1)
    assert digits.fit("12:34", 16, 3) is None
    assert text(far(off(), 12, 3)[0]).strip() == "15"


def test_a_drawing_is_as_large_as_it_says() -> None:
    for scale in (digits.Scale(1, 1), digits.Scale(2, 3), digits.Scale(3, 2)):
        drawn = digits.draw("12:08", scale)
        assert len(drawn) == digits.rows(scale)
        assert {len(row) for row in drawn} == {digits.cells("12:08", scale)}


def test_no_two_signs_look_alike() -> None:
    signs = "0123456789:′-"
    assert len({"".join(digits.draw(sign, digits.Scale(1, 2))) for sign in signs}) == len(signs)
