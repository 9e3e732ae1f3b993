"""How late a speaker is, from the taps of somebody who taps as people do."""

import json
import random
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from courttimer.errors import DeviceError
from courttimer.sound.delays import keep
from courttimer.sound.tapping import BEAT_MS, BEATS, EARLY_MS, ENOUGH, FINDING, tapped

BEGIN = 2_000
HEARD = [BEGIN + BEAT_MS * n for n in range(BEATS)]


def taps(late: int, uneven: float, seed: int = 1, early: int = 0) -> list[int]:
    """One tap a beat, as heard through a speaker that is so late; the first beat has only woken the tapper up."""
    at = random.Random(seed)
    return [beat + late - early + round(at.gauss(0, uneven)) for beat in HEARD[1:]]


@given(late=st.integers(0, 600), seed=st.integers(0, 10_000))
def test_any_delay_is_found_to_30_ms_from_taps_that_are_as_uneven_as_peoples(late: int, seed: int) -> None:
    """A spread of 25 ms is common for untrained tappers at one beat a second (common practice)."""
    found = tapped(taps(late, 25, seed), HEARD)
    assert not found.trouble
    assert abs(found.delay - late) <= 30


def test_who_taps_early_on_a_wired_speaker_is_told_no_delay() -> None:
    assert tapped(taps(0, 10, early=60), HEARD).delay == 0


def test_a_few_wild_or_doubled_taps_do_no_harm() -> None:
    wild = sorted([*taps(180, 5), HEARD[7] + 700, HEARD[9] + 420, HEARD[12] + 181])
    assert tapped(wild, HEARD).delay == pytest.approx(180, abs=6)


def test_the_taps_of_the_first_beats_do_not_count() -> None:
    found = tapped([HEARD[n] + 700 for n in range(FINDING)] + [beat + 150 for beat in HEARD[FINDING:]], HEARD)
    assert (found.delay, found.taps) == (150, BEATS - FINDING)


def test_a_tap_belongs_to_one_beat_only() -> None:
    edge = HEARD[6] - EARLY_MS
    assert tapped([edge], HEARD).taps == 1
    assert tapped([edge - 1], HEARD).taps == 1


def test_too_few_and_too_uneven_taps_tell_nothing_in_words() -> None:
    few = [beat + 100 for beat in HEARD[FINDING : FINDING + ENOUGH - 1]]
    assert tapped(few, HEARD).trouble == "7 taps are too few; 8 are wanted, one with each beat"
    assert tapped([], HEARD).trouble.startswith("0 taps")
    assert "too uneven" in tapped(taps(300, 150), HEARD).trouble


# What is kept.


def test_a_delay_is_kept_beside_those_of_other_speakers(tmp_path: Path) -> None:
    path = tmp_path / "data" / "speakers.json"
    keep(path, "Gym box", 180)
    keep(path, "Ünder the basket", 90)
    keep(path, "Gym box", 200)
    assert json.loads(path.read_text(encoding="utf-8")) == {"Gym box": 200, "Ünder the basket": 90}
    assert [p.name for p in path.parent.iterdir()] == ["speakers.json"]


@pytest.mark.parametrize("text", ["{", "[1]", ""])
def test_a_file_that_is_no_list_is_left_as_it_is(text: str, tmp_path: Path) -> None:
    path = tmp_path / "speakers.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(DeviceError, match=r"speakers\.json: this is n"):
        keep(path, "Gym box", 180)
    assert path.read_text(encoding="utf-8") == text
