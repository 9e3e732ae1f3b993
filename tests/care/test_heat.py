"""The levels of heat at, below and above every threshold; what the tables leave open goes to the stricter row."""

import pytest

from courttimer.care.climate import celsius
from courttimer.care.heat import (
    BREAKS,
    CONFIRM,
    by_index,
    by_wbgt,
    called_hot,
    confirmed,
    consequence_allowed,
    estimated,
    measured,
    rules,
)

# US Soccer heat guidelines, region category 3 (after Grundstein et al. 2015), as printed: < 82.1, 82.2-87.0, 87.1-90.0,
# 90.1-91.9, > 92.0. Categories 2 and 1 are from memory, but for the last threshold: > 89.9 and > 86.2 cancel.
PRINTED = {
    3: ((82.0, 0), (82.1, 1), (82.15, 1), (82.2, 1), (87.0, 1), (87.05, 2), (87.1, 2), (90.0, 2), (90.05, 3), (90.1, 3), (91.9, 3),
        (91.95, 4), (92.0, 4), (92.1, 4)),
    2: ((79.6, 0), (79.7, 1), (79.9, 1), (84.6, 1), (84.7, 2), (87.6, 2), (87.7, 3), (87.8, 3), (89.6, 3), (89.8, 4), (90.0, 4)),
    1: ((76.0, 0), (76.1, 1), (76.3, 1), (81.0, 1), (81.1, 2), (84.0, 2), (84.1, 3), (84.2, 3), (86.0, 3), (86.2, 4), (86.3, 4)),
}  # fmt: skip
EVERY = [(region, f, level) for region, rows in PRINTED.items() for f, level in rows]


@pytest.mark.parametrize(("region", "f", "level"), EVERY)
def test_the_level_of_a_wbgt_is_its_row_in_the_table(region: int, f: float, level: int) -> None:
    assert by_wbgt(celsius(f), region) == level


def test_without_a_region_the_strictest_is_taken() -> None:
    assert [by_wbgt(celsius(f)) for f, _ in PRINTED[1]] == [level for _, level in PRINTED[1]]


@pytest.mark.parametrize(
    ("index", "level"),
    # Tennessee Secondary School Athletic Association, October 2022: < 95, 95-99, 100-104, > 104 °F.
    [(94.9, 0), (95, 2), (99, 2), (99.5, 3), (100, 3), (104, 3), (104.1, 4)],
)
def test_the_level_of_a_heat_index_is_its_row_in_the_table(index: float, level: int) -> None:
    assert by_index(index) == level


@pytest.mark.parametrize(
    ("f", "level"),
    # ACSM 2007 (NATA position statement, Table 3), not acclimatised: 82.1-86.0 work to rest 1:1, from 86.1 stop.
    [(82.0, 0), (82.1, 2), (86.0, 2), (86.05, 4), (86.1, 4), (90.1, 4)],
)
def test_players_in_their_first_hot_week_stop_sooner(f: float, level: int) -> None:
    assert by_wbgt(celsius(f), 3, first_week=True) == level


def test_of_heat_index_and_estimated_wbgt_the_stricter_stands() -> None:
    # 95 °F at 45 %: heat index 101.9 (level 3 of Tennessee), estimated WBGT 83.1 °F (level 1 in the hottest region).
    assert estimated(celsius(95), 45, region=3).level == 3
    assert "Tennessee" in str(estimated(celsius(95), 45, region=3).source)
    # 84 °F at 60 %: heat index 87.5 (level 0), estimated WBGT 76.6 °F, which the coolest region calls level 1.
    assert estimated(celsius(84), 60, region=1).level == 1
    assert "from memory" in str(estimated(celsius(84), 60, region=1).source)


def test_a_measured_wbgt_is_the_only_answer() -> None:
    assert measured(28.0, 3).level == 1
    assert "measured WBGT 28.0 °C (82.4 °F)" in measured(28.0, 3).told
    assert "estimated" in estimated(31, 60).told


def test_breaks_and_lengths_are_those_of_the_level() -> None:
    # US Soccer: 3 x 3, 3 x 4, 4 x 4 min in the hour; Georgia: 20 min in all in the hour above 90 °F; 2 h, 1 h, none.
    assert [one.times * one.each // 60_000 for one in BREAKS] == [9, 12, 16, 20, 0]
    assert [one.longest for one in BREAKS] == [None, None, 2 * 3_600_000, 3_600_000, 0]
    assert [one.conditioning for one in BREAKS] == [True, True, True, False, False]


def test_hot_without_instruments_is_taken_seriously() -> None:
    assert called_hot().level == 2
    assert str(called_hot().source) == "common practice"


def test_losers_pay_nothing_from_the_second_level_on_and_the_late_and_the_hurt_never() -> None:
    # Common practice, and the design, "Care": none in the heat.
    assert [consequence_allowed(level) for level in range(5)] == [True, True, False, False, False]
    assert not consequence_allowed(0, late=True)
    assert not consequence_allowed(0, hurt=True)


def test_each_level_says_what_it_asks_for_in_words() -> None:
    # The same tables as above: US Soccer, and Georgia for the 20 minutes.
    assert rules(0) == ()
    assert rules(1) == ("3 breaks of 4 min in every hour, with water, in the coolest place there is",)
    assert rules(2)[0].startswith("4 breaks of 4 min")
    assert rules(2)[1:] == ("a practice lasts 2 h at the most", "nobody pays")
    assert rules(3)[0].startswith("4 breaks of 5 min")
    assert rules(3)[1:] == ("a practice lasts 1 h at the most", "no conditioning", "nobody pays")


def test_above_the_last_level_it_advises_not_to_practise_until_the_coach_confirms_in_words() -> None:
    assert rules(4)[0] == "Do not practise."
    assert CONFIRM in rules(4)[1]
    assert all(confirmed(text) for text in (CONFIRM, "Practise  anyway.", " PRACTISE ANYWAY "))
    assert not any(confirmed(text) for text in ("", "y", "yes", "practise", "anyway", "do not practise anyway"))
