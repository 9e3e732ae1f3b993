"""Times read as coaches write them."""

import pytest
from hypothesis import given, strategies as st

from courttimer.plan.times import parse, parse_floor, spell


@pytest.mark.parametrize(
    ("text", "ms"),
    [
        ("12 s", 12_000),
        ("12s", 12_000),
        ("3:30", 210_000),
        ("0:45", 45_000),
        ("90:00", 5_400_000),
        ("1:15:00", 4_500_000),
        ("12 min", 720_000),
        ("1 min 30 s", 90_000),
        ("1 h 15 min", 4_500_000),
        ("2.5 s", 2_500),
        ("1.5 min", 90_000),
        ("100 ms", 100),
        ("0 s", 0),
        ("20 seconds", 20_000),
    ],
)
def test_a_time_is_read_as_whole_milliseconds(text: str, ms: int) -> None:
    assert parse(text) == ms


NO_TIMES = ["", " ", "12", "-3 s", "3 s 1 min", "1:75", "1:75:00", "nan s", "inf s", "12 m", "٣ s", "9" * 50 + " s"]


@pytest.mark.parametrize("text", NO_TIMES)
def test_what_is_not_a_time_is_none(text: str) -> None:
    assert parse(text) is None


@given(st.integers(0, 10_800_000))
def test_what_is_spelled_reads_as_the_same_time(ms: int) -> None:
    assert parse(spell(ms)) == ms


@pytest.mark.parametrize(("ms", "words"), [(8_000, "8 s"), (90_000, "90 s"), (60_000, "1 min"), (270_000, "4 min 30 s")])
def test_times_are_spelled_as_one_says_them(ms: int, words: str) -> None:
    assert spell(ms) == words


def test_floor_time_is_read_as_milliseconds_of_the_day() -> None:
    assert parse_floor("18:00-19:15") == (18 * 3_600_000, 19 * 3_600_000 + 15 * 60_000)
    assert parse_floor("9:05 – 10:00") == (9 * 3_600_000 + 5 * 60_000, 10 * 3_600_000)
    assert parse_floor("18:60-19:00") is None
    assert parse_floor("18-19") is None
