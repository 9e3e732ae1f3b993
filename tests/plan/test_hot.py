"""What the coach says about the heat, in the file or on the running board, becomes one answer."""

import pytest

from courttimer.care.climate import celsius
from courttimer.plan.hot import answer, heard, level
from courttimer.plan.model import Heat


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("31 C 60 %", Heat(air=31, humidity=60)),
        ("31c 60", Heat(air=31, humidity=60)),
        ("31 C,60%", Heat(air=31, humidity=60)),
        ("air 31.5 °C, humidity 60%", Heat(air=31.5, humidity=60)),
        ("  31,5 C  60 %", Heat(air=31.5, humidity=60)),
        ("WBGT 28 C", Heat(wbgt=28)),
        ("wbgt 28 c first week", Heat(wbgt=28, first_week=True)),
        ("Hot", "hot"),
        ("cool", None),
    ],
)
def test_heat_is_typed_as_it_is_read_off_the_instrument(typed: str, meant: Heat | str | None) -> None:
    assert heard(typed) == meant


def test_fahrenheit_means_the_same_heat() -> None:
    found = heard("88 F 60")
    assert isinstance(found, Heat)
    assert found.air == pytest.approx(celsius(88))


@pytest.mark.parametrize(
    "typed", ["", "31", "31 C", "60 %", "31 60", "31 C 0 %", "31 C 101 %", "hot hot", "wbgt 28", "90 C 60", "x" * 99]
)
def test_what_is_no_heat_is_refused_with_what_to_type(typed: str) -> None:
    with pytest.raises(ValueError, match='type how hot it is, such as "31 C 60 %"'):
        heard(typed)


@pytest.mark.parametrize(
    ("said", "is_level"),
    # US Soccer, region category 3: WBGT under 82.1 °F (27.8 °C) is normal, over 92.0 (33.4) is no training.
    [(None, 0), ("hot", 2), (Heat(wbgt=27.0), 0), (Heat(wbgt=28.0), 1), (Heat(wbgt=33.5), 4), (Heat(first_week=True), 0)],
)
def test_a_change_on_the_board_changes_the_level(said: Heat | str | None, is_level: int) -> None:
    assert level(said, 3) == is_level


def test_a_measured_wbgt_stands_against_air_and_humidity() -> None:
    found = answer(Heat(air=40, humidity=90, wbgt=20), 3)
    assert found is not None
    assert (found.level, found.told) == (0, "measured WBGT 20.0 °C (68.0 °F)")
