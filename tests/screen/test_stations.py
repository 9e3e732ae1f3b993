"""Stations as columns of the board."""

from dataclasses import replace

import pytest

from courttimer.practice.view import Inside
from courttimer.screen.board import board
from courttimer.screen.ink import Line, text, width
from courttimer.screen.stations import stations as columns
from tests.screen.looks import THREE, station, stations

SIZES = [(60, 20), (100, 30), (200, 60)]


def words(lines: list[Line]) -> str:
    return "\n".join(text(of) for of in lines)


def styled(lines: list[Line], style: str) -> str:
    return "".join(t for of in lines for t, its in of if its == style)


@pytest.mark.parametrize("size", SIZES)
def test_each_station_has_its_name_its_clocks_word_and_its_group_in_one_column(size: tuple[int, int]) -> None:
    drawn = [text(of) for of in board(stations(), *size)]
    names = next(row for row in drawn if "1 CLOSEOUTS" in row)
    states = next(row for row in drawn if "■ LIVE  rep 2" in row)
    groups = next(row for row in drawn if "blue: " in row)
    for name, state, group in (("FORM SHOOTING", "● ON", "red: "), ("HANDLES", "║ STOPPED", "white: ")):
        assert abs(names.index(name) - states.index(state)) <= 4
        assert abs(names.index(name) - groups.index(group)) <= 4


@pytest.mark.parametrize("size", SIZES)
def test_the_one_that_calls_go_to_is_marked_by_shape_and_word(size: tuple[int, int]) -> None:
    drawn = board(stations(), *size)
    assert "► 1 CLOSEOUTS" in styled(drawn, "pick")
    assert "calls go to station 1" in words(drawn)
    none = board(stations(inside=Inside(stations=tuple(replace(one, chosen=False) for one in THREE))), *size)
    assert "►" not in words(none).partition("Then:")[0]
    assert "calls go to all" in words(none)


@pytest.mark.parametrize("size", SIZES)
def test_a_station_whose_lead_is_out_says_so(size: tuple[int, int]) -> None:
    drawn = board(stations(), *size)
    assert "! Mira is out" in styled(drawn, "warn")
    assert "lead Timo" in words(drawn)


def test_the_outcomes_of_the_chosen_station_are_keys_and_those_of_the_others_are_not() -> None:
    other = replace(THREE[1], outcomes=((1, "make"),))
    drawn = columns(Inside(stations=(THREE[0], other, THREE[2]), chosen=1), 100, 14)
    row = next(of for of in drawn if "stop" in text(of))
    assert [its for t, its in row if t.strip() == "1"] == ["key", "quiet"]


def test_what_stands_in_one_column_stands_at_the_same_height_in_all() -> None:
    drawn = [text(of) for of in columns(Inside(stations=THREE, chosen=1), 100, 14)]
    assert sum("blue" in row and "red" in row and "white" in row for row in drawn) == 1
    assert sum("weak hand" in row for row in drawn) == 1


def test_a_live_station_is_reversed_and_a_stopped_one_is_not() -> None:
    drawn = columns(Inside(stations=(station(1, "A"), station(2, "B", word="stopped", live=True))), 80, 12)
    assert "LIVE" in styled(drawn, "live")
    assert "STOPPED" not in styled(drawn, "live")


@pytest.mark.parametrize("count", [4, 8])
def test_stations_that_find_no_room_side_by_side_become_lines(count: int) -> None:
    many = Inside(stations=tuple(station(n, f"Station {n}", chosen=n == 2) for n in range(1, count + 1)))
    drawn = columns(many, 60, 10)
    assert [width(of) for of in drawn[:count]] == [60] * count
    assert text(drawn[1]).startswith("► 2 STATION 2")
    assert "LIVE" in text(drawn[count - 1])


@pytest.mark.parametrize("size", SIZES)
def test_the_clock_of_the_common_change_stays_above_them(size: tuple[int, int]) -> None:
    drawn = [text(of) for of in board(stations(), *size)]
    assert next(n for n, row in enumerate(drawn) if "of 4:00" in row) < next(n for n, row in enumerate(drawn) if "CLOSEOUTS" in row)
    assert size != (60, 20) or "1:35" in "\n".join(drawn)
