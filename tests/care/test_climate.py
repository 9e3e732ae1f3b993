"""Heat index, wet bulb and WBGT against the published chart, formulas and worked example."""

from math import isclose

import pytest

from courttimer.care.climate import adjustment, celsius, fahrenheit, heat_index, indoor_wbgt, regression, wbgt_without_sun, wet_bulb

# The NWS heat index chart (a copy of it was read): its cells are the bare regression, without the two adjustments.
CHART = {
    (80, 40): 80, (80, 100): 87, (82, 80): 89, (82, 95): 93, (84, 70): 90, (84, 90): 98, (86, 90): 105, (88, 60): 95, (88, 100): 121,
    (90, 50): 95, (90, 60): 100, (92, 60): 105, (94, 70): 119, (96, 65): 121, (98, 50): 113, (100, 55): 124, (104, 50): 131,
    (110, 40): 136,
}  # fmt: skip


@pytest.mark.parametrize(("cell", "shown"), CHART.items(), ids=str)
def test_the_bare_regression_gives_the_cells_of_the_nws_chart(cell: tuple[int, int], shown: int) -> None:
    assert round(regression(*cell)) == shown


@pytest.mark.parametrize(
    ("t", "rh", "bare", "adjusted"),
    # Computed from the published coefficients of the Weather Prediction Center, apart from this program.
    [
        (95, 10, 90.200, 89.450), (100, 5, 94.184, 92.504), (110, 10, 104.646, 104.389), (80, 100, 87.188, 89.288),
        (82, 95, 92.972, 93.972), (84, 95, 100.282, 100.882), (85, 90, 101.581, 101.781),
    ],
)  # fmt: skip
def test_very_dry_air_takes_off_and_very_damp_air_adds(t: float, rh: float, bare: float, adjusted: float) -> None:
    assert isclose(regression(t, rh), bare, abs_tol=0.0006)
    assert isclose(heat_index(t, rh), adjusted, abs_tol=0.0006)


@pytest.mark.parametrize(("t", "rh"), [(82, 85), (87, 95), (95, 13), (95, 13.5), (112, 10), (79.9, 5), (112.1, 5), (87.1, 99)])
def test_the_adjustments_begin_and_end_at_nothing(t: float, rh: float) -> None:
    assert adjustment(t, rh) == pytest.approx(0)


def test_below_eighty_the_simple_formula_stands_averaged_once() -> None:
    # The Weather Prediction Center's page can be read either way; averaged once 79 °F at 60 % gives 79.42, twice 79.21.
    assert heat_index(79, 60) == pytest.approx(79.42)


@pytest.mark.parametrize(
    ("air", "rh", "wet"),
    # Computed from Stull 2011, eq. 1. Its worked example is 20 °C and 50 %: 13.7 °C (the pair from memory).
    [(20, 50, 13.6993), (30, 50, 22.2968), (25, 40, 16.3841), (35, 60, 28.4883), (10, 99, 9.8361), (-10, 50, -12.0985)],
)
def test_the_wet_bulb_is_stulls(air: float, rh: float, wet: float) -> None:
    assert wet_bulb(air, rh) == pytest.approx(wet, abs=0.00006)


def test_outside_its_range_the_wet_bulb_is_that_of_the_edge() -> None:
    assert wet_bulb(30, 100) == wet_bulb(30, 99)
    assert wet_bulb(30, 1) == wet_bulb(30, 5)


def test_wbgt_without_sun_is_seven_parts_wet_and_three_parts_globe() -> None:
    # ISO 7243: 0.7 x 22 + 0.3 x 28 = 23.8.
    assert wbgt_without_sun(22, 28) == pytest.approx(23.8)
    assert indoor_wbgt(35, 60) == pytest.approx(0.7 * 28.4883 + 0.3 * 35, abs=0.0001)


def test_both_scales_tell_the_same_heat() -> None:
    assert fahrenheit(100) == 212
    assert celsius(fahrenheit(31)) == pytest.approx(31)
