"""Lost minutes are paid by the right segments, in the right order, and to the second: small practices worked out by hand."""

import pytest

from courttimer.plan.fit import Change, Fitted, Part, Running, changes, fit, part_of, told, weightiest
from courttimer.plan.model import Segment

MIN = 60_000


def drill(minutes: float, least: float | None = None, most: float | None = None, *, optional: bool = False, setup: int = 0) -> Part:
    time, low, high = (int(MIN * one) for one in (minutes, least or minutes, most or minutes))
    return Part(time=time, least=low, most=high, optional=optional, setup=setup)


def minutes(found: Fitted) -> list[float | None]:
    return [None if one is None else one / MIN for one in found.times]


def test_what_fits_is_left_as_it_is() -> None:
    assert fit((drill(10, 7), drill(2), drill(12, 8)), 24 * MIN) == Fitted(times=(10 * MIN, 2 * MIN, 12 * MIN))


def test_the_running_segment_pays_for_its_own_holds_alone() -> None:
    found = fit((drill(10, 7), drill(12, 8)), 15 * MIN, Running(played=5 * MIN, owes=2 * MIN))
    assert minutes(found) == [8, 12]


def test_what_is_more_than_the_running_one_can_pay_is_shared_by_the_others() -> None:
    # Of 5 min it pays 3, down to its 7; the others share 2 min of 20, so each is nine tenths of what it was.
    found = fit((drill(10, 7), drill(15, 8), drill(5, 3)), 20 * MIN, Running(played=5 * MIN, owes=5 * MIN))
    assert minutes(found) == [7, 13.5, 4.5]


def test_a_halt_is_shared_by_all_and_owed_by_nobody() -> None:
    found = fit((drill(10, 7), drill(15, 8), drill(5, 3)), 22 * MIN, Running(played=5 * MIN))
    assert minutes(found) == [9, 13.5, 4.5]


def test_what_was_lost_earlier_is_not_asked_of_the_segment_that_runs_now() -> None:
    # The last drill left us 2 min late; this one has held for 1 min of its own. 20 min become 19, all together 17 of 19.
    found = fit((drill(10, 2), drill(10, 2)), 12 * MIN, Running(played=5 * MIN, owes=MIN))
    assert minutes(found) == [pytest.approx(9 * 17 / 19, abs=1 / 60), pytest.approx(10 * 17 / 19, abs=2 / 60)]


def test_what_has_been_played_is_not_taken_back() -> None:
    found = fit((drill(10, 2), drill(10, 5)), 8 * MIN, Running(played=9 * MIN, owes=5 * MIN))
    assert minutes(found) == [9, 8]


def test_the_one_that_cannot_shrink_further_leaves_the_rest_to_the_others() -> None:
    # Nine tenths of 10 would be 9, but it has 9.5 at the least: the other pays 1.5.
    assert minutes(fit((drill(10, 9.5), drill(10, 5)), 18 * MIN)) == [9.5, 8.5]


@pytest.mark.parametrize("kind", ["water", "rest"])
def test_rest_and_water_never_shrink_and_are_never_left_out_whatever_the_file_says(kind: str) -> None:
    pause = part_of(Segment(kind=kind, time=3 * MIN, at_least=MIN, optional=True))  # type: ignore[arg-type]  # water, rest
    assert minutes(fit((drill(10, 2), pause), 6 * MIN)) == [3, 3]
    assert fit((drill(10, 10), pause), 6 * MIN) == Fitted(times=(10 * MIN, 3 * MIN), short=7 * MIN)


def test_optional_segments_are_left_out_only_when_nothing_shrinks_further_first_in_the_file_first() -> None:
    plan = (drill(10, 7), drill(5, 4, optional=True), drill(5, 4, optional=True), drill(10, 7))
    assert minutes(fit(plan, 22 * MIN)) == [7, 4, 4, 7]
    assert minutes(fit(plan, 22 * MIN - 1))[1:3] == [None, pytest.approx(5 * 22 / 25, abs=1 / 60)]
    assert minutes(fit(plan, 17 * MIN))[1:3] == [None, None]


def test_the_running_segment_is_never_left_out() -> None:
    found = fit((drill(10, 8, optional=True), drill(10, 8)), 5 * MIN, Running(played=5 * MIN))
    assert found == Fitted(times=(8 * MIN, 8 * MIN), short=6 * MIN)


def test_when_nothing_fits_it_says_by_how_much() -> None:
    assert fit((drill(10, 7), drill(3), drill(10, 7)), 15 * MIN).short == 2 * MIN
    assert fit((), -MIN).short == MIN


def test_time_in_hand_fills_what_may_grow_or_ends_the_practice_early() -> None:
    assert minutes(fit((drill(10, 7, 12), drill(10)), 21 * MIN)) == [11, 10]
    assert fit((drill(10, 7, 12), drill(10)), 24 * MIN) == Fitted(times=(12 * MIN, 10 * MIN), early=2 * MIN)
    assert fit((drill(10), drill(10)), 24 * MIN).early == 4 * MIN


def test_a_running_segment_pays_nothing_while_there_is_time_in_hand() -> None:
    assert minutes(fit((drill(10, 7), drill(10, 7)), 15 * MIN, Running(played=5 * MIN, owes=4 * MIN))) == [10, 10]


def test_lengths_are_whole_seconds_and_what_is_left_goes_to_the_last_set_up() -> None:
    # 100 s of 120 each: 33.333 s of 40, three times; the second left over lengthens the set-up of the second.
    parts = (Part(time=40_000, least=5_000, most=40_000, setup=5_000),) * 2
    found = fit((*parts, Part(time=40_000, least=5_000, most=40_000)), 100_000)
    assert found == Fitted(times=(33_000, 34_000, 33_000), setup=(1, 1_000))


def test_alone_the_running_segment_keeps_the_end_on_the_millisecond() -> None:
    assert fit((drill(10, 7),), 4 * MIN + 123, Running(played=4 * MIN)) == Fitted(times=(8 * MIN + 123,))


def test_the_set_up_of_the_running_segment_is_over_and_not_made_longer() -> None:
    parts = (Part(time=40_000, least=5_000, most=40_000, setup=5_000), Part(time=40_000, least=5_000, most=40_000))
    assert fit(parts, 61_500, Running(played=10_000)).setup == (1, 1_500)


def test_what_the_coach_has_set_by_hand_stands() -> None:
    written = Segment(kind="drill", time=10 * MIN, at_least=5 * MIN, at_most=12 * MIN)
    assert minutes(fit((part_of(written, 9 * MIN), part_of(written)), 16 * MIN)) == [9, 7]
    assert part_of(written) == drill(10, 5, 12)


def test_changes_are_told_in_one_sentence_and_the_weightiest_is_known() -> None:
    names = ("Paint touch", "Stay on", "Stretch", "Huddle")
    found = changes((600_000, 720_000, 240_000, 60_000), (600_000, 690_000, None, 60_000))
    assert found == (Change(1, 720_000, 690_000), Change(2, 240_000, None))
    assert told(found, names) == "Stay on 11 min 30 s instead of 12 min, Stretch is left out"
    assert weightiest(found) == Change(2, 240_000, None)
    assert weightiest(found[:1]) == found[0]
    assert told(changes((None, 5_000), (10_000, 5_000)), names) == "Paint touch is back, 10 s"
    assert weightiest(changes((None, 5_000), (10_000, 6_000))) is None
    assert told((), names) == ""
