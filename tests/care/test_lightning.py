"""An outdoor court waits half an hour after the last thunder or flash, and each new one starts the half hour again."""

import pytest

from courttimer.care.lightning import SOURCE, safe_at, told

MIN = 60_000

# NATA position statement on lightning (Walsh et al. 2013, J Athl Train 48:258-270), 30 minutes; from memory.


def test_the_court_is_safe_thirty_minutes_after_the_last_sign() -> None:
    assert safe_at([]) is None
    assert safe_at([5 * MIN]) == 35 * MIN
    assert safe_at([5 * MIN, 20 * MIN]) == safe_at([20 * MIN, 5 * MIN]) == 50 * MIN


@pytest.mark.parametrize(
    ("at", "minutes"), [(5 * MIN, 30), (5 * MIN + 1, 30), (6 * MIN, 29), (35 * MIN - 1, 1), (35 * MIN, None), (36 * MIN, None)]
)
def test_the_wait_is_told_in_minutes_rounded_up_until_it_is_over(at: int, minutes: int | None) -> None:
    assert (f"in {minutes} min" in told([5 * MIN], at)) == (minutes is not None)
    assert bool(told([5 * MIN], at)) == (minutes is not None)


def test_nothing_is_said_of_lightning_that_nobody_saw() -> None:
    assert told([], 0) == ""


def test_its_source_is_named_and_from_memory() -> None:
    assert SOURCE.memory
    assert "lightning" in str(SOURCE)
