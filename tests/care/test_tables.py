"""Rest, water and length against the published tables, each threshold at, below and above."""

from itertools import pairwise

import pytest

from courttimer.care.length import YOUTH, over_week, youth
from courttimer.care.rest import off_time, rest, sprint
from courttimer.care.water import amount, card, due, every, spoken


@pytest.mark.parametrize(
    ("live", "least", "most"),
    # NSCA, Essentials of Strength Training and Conditioning, 4th ed., Table 3.6; the first is its worked example (10 s: 120 to 200).
    [(10, 120, 200), (5, 60, 100), (15, 45, 75), (30, 90, 150), (60, 180, 240), (180, 540, 720), (240, 240, 720)],
)
def test_sprints_rest_as_the_work_to_rest_table_says(live: int, least: int, most: int) -> None:
    assert sprint(live * 1000) == (least * 1000, most * 1000)


@pytest.mark.parametrize(
    ("live", "least", "most"),
    # Our rule for the table's gaps: the ratio goes in a straight line. Half way 1:7.5 to 1:12.5, and 1:3 to 1:4.5.
    [(12_500, 93_750, 156_250), (45_000, 135_000, 202_500), (3_000, 36_000, 60_000)],
)
def test_between_two_rows_the_ratio_goes_in_a_straight_line(live: int, least: int, most: int) -> None:
    assert sprint(live) == (least, most)


def test_game_like_bouts_rest_twice_as_long() -> None:
    # Common practice, for efforts 6 to 8; 9 and 10 are sprints, and what is easier asks for nothing.
    asked = {effort: rest(effort, 20_000) for effort in (None, 0, 5, 6, 8, 9, 10)}
    assert [effort for effort, one in asked.items() if one is None] == [None, 0, 5]
    assert [one.least for one in asked.values() if one] == [40_000, 40_000, 60_000, 60_000]
    assert [one.quality for one in asked.values() if one] == [False, False, True, True]


def test_who_waits_rests_while_others_play() -> None:
    assert off_time(16_000, 13_000, 2) == 42_000
    assert off_time(16_000, 13_000, 1) == 13_000


@pytest.mark.parametrize(
    ("age", "level", "minutes"),
    # Common practice: 20, and 15 to age 8. US Soccer: three breaks in the hour at levels 0 and 1, four above.
    [(None, 0, 20), (13, 0, 20), (9, 0, 20), (8, 0, 15), (13, 1, 20), (13, 2, 15), (13, 3, 15), (8, 2, 15)],
)
def test_water_comes_sooner_for_the_young_and_in_the_heat(age: int | None, level: int, minutes: int) -> None:
    assert every(age, level)[0] == minutes * 60_000
    assert str(every(age, level)[1])


@pytest.mark.parametrize(
    ("age", "told"),
    # AAP 2011, Pediatrics 128(3):e741: 9 to 12 years 100-250 mL every 20 min; adolescents 1.0-1.5 L an hour.
    [(8, ""), (9, "100 to 250 mL every 20 min"), (12, "100 to 250 mL every 20 min"), (13, "1000 to 1500 mL an hour"),
     (18, "1000 to 1500 mL an hour"), (19, ""), (None, "")],
)  # fmt: skip
def test_the_amount_is_a_range_by_age_or_unknown(age: int | None, told: str) -> None:
    assert spoken(age) == told
    assert (amount(age) is None) == (not told)


def test_ninety_minutes_at_ten_years_are_four_waters() -> None:
    # Worked out from AAP 2011: waters at 20, 40, 60 and 80 min, 400 to 1000 mL.
    row = amount(10)
    assert row is not None
    waters = 89 * 60_000 // row.per
    assert (waters * row.low, waters * row.high) == (400, 1000)


@pytest.mark.parametrize(
    ("ages", "minutes", "practices", "hours", "rest_days"),
    # NBA and USA Basketball 2016 (length, practices); DiFiori et al. 2018, Sports Med 48:2053-2065, Table 4 (hours, rest days).
    # Its grades 9 to 12 are ages 15 to 18 here (from memory); under 7 the youngest row is taken.
    [((5, 7, 8), (30, 60), (1, 1), 3, 2), ((9, 11), (45, 75), (2, 2), 5, 2), ((12, 14), (60, 90), (2, 4), 10, 1),
     ((15, 18), (90, 120), (3, 4), 14, 1)],
)  # fmt: skip
def test_the_youth_table_by_age(
    ages: tuple[int, ...], minutes: tuple[int, int], practices: tuple[int, int], hours: int, rest_days: int
) -> None:
    for age in ages:
        row = youth(age)
        assert row is not None
        assert tuple(ms // 60_000 for ms in row.practice) == minutes
        assert (row.practices, row.hours, row.rest_days) == (practices, hours, rest_days)


def test_adults_have_no_row_and_no_age_falls_between_two() -> None:
    assert youth(19) is None
    assert youth(None) is None
    assert all(one.oldest + 1 == after.youngest for one, after in pairwise(YOUTH))


def test_the_screen_says_how_much_and_always_that_thirst_goes_first() -> None:
    assert card(10) == "100 to 250 mL every 20 min each; whoever is thirsty drinks at any time"
    assert card(None) == card(40) == "whoever is thirsty drinks at any time"


def test_the_next_water_is_due_from_the_end_of_the_last() -> None:
    assert due(5 * 60_000, 13) == 25 * 60_000
    assert due(5 * 60_000, 13, level=2) == due(5 * 60_000, 8) == 20 * 60_000


HOUR = 3_600_000


@pytest.mark.parametrize(
    ("age", "days", "said"),
    # DiFiori et al. 2018, Table 4 (hours, rest days), and NBA and USA Basketball 2016 (practices), by age.
    [
        (10, [[HOUR], [], [HOUR], [], [], [], []], []),
        (10, [[HOUR], [], [HOUR], [], [HOUR], [], []], ["3 practices in seven days; at age 10 2 at the most"]),
        (10, [[5 * HOUR // 2], [], [], [], [], [], [5 * HOUR // 2]], []),
        (10, [[5 * HOUR // 2], [], [], [], [], [], [5 * HOUR // 2 + 1]], ["5.1 h in seven days; at age 10 5 h at the most"]),
        (13, [[HOUR]] * 4 + [[]] * 3, []),
        (13, [[HOUR]] * 6 + [[]], ["6 practices"]),
        (13, [[HOUR]] * 7, ["7 practices", "0 days without practice in seven; at age 13 at least 1"]),
        (17, [[7 * HOUR], [], [], [], [], [], [7 * HOUR]], []),
        (40, [[9 * HOUR]] * 7, []),
        (None, [[9 * HOUR]] * 7, []),
    ],
)
def test_the_week_is_held_against_its_limits_by_age(age: int | None, days: list[list[int]], said: list[str]) -> None:
    found = list(over_week(age, days))
    assert len(found) == len(said)
    assert all(text.startswith(begins) for (text, _), begins in zip(found, said, strict=True))
    assert all(str(source) for _, source in found)
