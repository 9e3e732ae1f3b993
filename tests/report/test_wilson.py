"""The shooting interval against published values and against a reference library."""

import pytest
from hypothesis import given, strategies as st
from scipy.stats import binomtest

from courttimer.report.wilson import wilson

# R package binom, binom.confint(method = "wilson"), as quoted in statsmodels, stats/tests/results/results_proportion.py.
BINOM = {
    (18, 20): (0.6989663548, 0.9721335188),
    (4, 20): (0.0806576626, 0.4160174323),
    (4, 200): (0.0078044264, 0.0502870869),
    (190, 200): (0.9104218519, 0.9726173544),
    (1, 30): (0.00590859, 0.16670391),
    (29, 30): (0.8332961, 0.9940914),
    (0, 30): (0.0, 0.11351339),
    (30, 30): (0.8864866, 1.0),
}
# Newcombe, Statistics in Medicine 17 (1998), Table I, method 3; from memory, four places.
NEWCOMBE = {(81, 263): (0.2553, 0.3662), (15, 148): (0.0624, 0.1605), (0, 20): (0.0, 0.1611), (1, 29): (0.0061, 0.1718)}


@pytest.mark.parametrize("shots", BINOM)
def test_the_interval_is_that_of_r(shots: tuple[int, int]) -> None:
    assert wilson(*shots) == pytest.approx(BINOM[shots], abs=1e-8)


@pytest.mark.parametrize("shots", NEWCOMBE)
def test_the_interval_is_that_of_newcombes_table(shots: tuple[int, int]) -> None:
    assert wilson(*shots) == pytest.approx(NEWCOMBE[shots], abs=5e-5)


@given(st.integers(1, 5_000).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_the_interval_is_that_of_scipy(shots: tuple[int, int]) -> None:
    interval = binomtest(*shots).proportion_ci(confidence_level=0.95, method="wilson")

    assert wilson(*shots) == pytest.approx((interval.low, interval.high), abs=1e-9)


def test_without_a_shot_nothing_is_known() -> None:
    assert wilson(0, 0) == (0.0, 1.0)
