"""What keeps players safe, on the board and in a halt."""

import pytest

from courttimer.care.heat import rules
from courttimer.care.words import ASIDE, IN_A_HALT
from courttimer.practice.view import Care, View
from courttimer.screen import plain
from courttimer.screen.board import board
from courttimer.screen.far import far, halt
from courttimer.screen.given import Over, Start
from courttimer.screen.ink import Line, text
from courttimer.screen.pages import over as ended, start
from tests.screen.looks import before_go, halted, off, over, paint

SIZES = [(60, 20), (100, 30), (200, 60)]


def words(lines: list[Line]) -> str:
    return "\n".join(text(of).rstrip() for of in lines)


def styled(lines: list[Line], style: str) -> str:
    return "".join(t for of in lines for t, its in of if its == style)


@pytest.mark.parametrize("size", SIZES)
def test_a_water_that_is_due_is_told_until_it_is_taken(size: tuple[int, int]) -> None:
    assert "Water is due." in styled(board(paint(care=Care(water_in=-1)), *size), "warn")
    assert "Water is due" not in words(board(paint(care=Care(water_in=60_000)), *size))
    assert "Water is due" not in words(board(paint(), *size))


@pytest.mark.parametrize("size", SIZES)
def test_at_a_water_it_is_told_how_much(size: tuple[int, int]) -> None:
    card = "100 to 250 mL every 20 min each"
    assert f"Water: {card}" in words(board(off(kind="water", name="Water", word="on", care=Care(water_card=card, water_in=-1)), *size))
    assert card not in words(board(off(care=Care(water_card=card)), *size))


@pytest.mark.parametrize("size", SIZES)
def test_what_was_shortened_and_how_hot_it_is_are_told(size: tuple[int, int]) -> None:
    told = words(board(off(care=Care(heat=2, heat_told="WBGT 28 C, level 2", fitted="Stay on 8 min instead of 12 min")), *size))
    assert "Changed: Stay on 8 min instead of 12 min" in told
    assert "Heat: WBGT 28 C" in told


@pytest.mark.parametrize("size", SIZES)
def test_lightning_goes_before_every_other_trouble(size: tuple[int, int]) -> None:
    drawn = board(off(care=Care(lightning="Lightning: into a building or a car.")), *size, ("no speaker",))
    assert "! Lightning: into a building" in styled(drawn, "alarm")
    assert "Lightning" in text(halt(halted(care=Care(lightning="Lightning: into a building or a car.")), *size)[0])


@pytest.mark.parametrize("size", SIZES)
def test_a_halt_has_something_for_the_others_and_cautions_only_where_the_card_leaves_room(size: tuple[int, int]) -> None:
    drawn = words(halt(halted(care=Care(aside=ASIDE, cautions=IN_A_HALT)), *size))
    assert ASIDE in drawn
    assert "12 Ferry Lane" in drawn
    assert "An ankle is not run off." in drawn
    low = words(halt(halted(care=Care(aside=ASIDE, cautions=IN_A_HALT)), 60, 11))
    assert "12 Ferry Lane" in low
    assert "ankle" not in low


TOO_HOT = Care(heat=4, heat_told="heat index 62.5 °C (144.5 °F), estimated WBGT 34.5 °C (94.2 °F)", too_hot=True)


def flat(told: str) -> str:
    """Words without the ends of lines, marks and spaces between them."""
    return " ".join(told.replace("!", " ").split())


@pytest.mark.parametrize("size", SIZES)
def test_too_hot_to_practise_is_the_first_thing_on_the_start_screen_with_how_it_is_decided_otherwise(size: tuple[int, int]) -> None:
    advice = tuple(f"Something else that is long and stands for much other advice, number {n}." for n in range(9))
    drawn = start(before_go(care=TOO_HOT, said="go: refused."), Start(advice=advice, stands=advice, squad=("Ada", "Bea")), *size)
    alarm = flat(styled(drawn, "alarm"))
    assert "Do not practise: it is too hot, level 4 of 4 (heat index 62.5 °C" in alarm
    assert "o, then h, and type: practise anyway" in alarm
    assert "begins" in words(drawn)
    assert "Do not practise" not in words(start(before_go(), Start(advice=advice), *size))


@pytest.mark.parametrize("size", SIZES)
def test_lightning_is_told_before_go_too(size: tuple[int, int]) -> None:
    assert "Lightning: into" in styled(start(before_go(care=Care(lightning="Lightning: into a building.")), Start(), *size), "alarm")


@pytest.mark.parametrize("size", SIZES)
def test_too_hot_to_practise_is_an_alarm_on_the_running_board_and_in_a_halt(size: tuple[int, int]) -> None:
    for drawn in (board(off(care=TOO_HOT), *size, ("no speaker",)), halt(halted(care=TOO_HOT), *size)):
        assert "Too hot: do not practise. Decided otherwise: o, then h." in words(drawn)
    for drawn in (board(off(care=TOO_HOT), *size), far(off(care=TOO_HOT), *size)):
        assert "Too hot" in styled(drawn, "alarm")


@pytest.mark.parametrize("size", SIZES)
def test_what_is_not_safe_stands_above_the_far_view_and_nothing_else_does(size: tuple[int, int]) -> None:
    drawn = far(off(care=Care(lightning="Lightning: inside for 29:10.", too_hot=True)), *size)
    assert len(drawn) == size[1]
    assert words(drawn[:1]).strip() == "Lightning: inside for 29:10."
    assert "Too hot" in words(drawn[1:2])
    assert styled(far(off(), *size), "alarm") == ""


@pytest.mark.parametrize("size", SIZES)
def test_the_board_says_the_level_and_the_breaks_it_asks_for(size: tuple[int, int]) -> None:
    told = words(board(off(care=Care(heat=2, heat_told="hot, not measured", heat_asks=rules(2))), *size))
    assert "Heat, level 2: 4 breaks of 4 min in every hour" in told
    assert "Heat: hot, not measured" in told


@pytest.mark.parametrize("size", SIZES)
def test_advice_goes_before_how_long_each_plays(size: tuple[int, int]) -> None:
    stands = tuple(f"Drill {n}: each plays about 2 min of 10 min; at two baskets it would be 4 min" for n in range(12))
    drawn = start(before_go(), Start(advice=("19 min without water.",), stands=stands, squad=("Ada", "Bea")), *size)
    assert "Advice: 19 min without water." in words(drawn)


@pytest.mark.parametrize("size", SIZES)
def test_at_another_time_of_day_the_start_screen_and_the_board_say_that_only_the_length_counts(size: tuple[int, int]) -> None:
    assert "the floor time counts from go." in words(start(before_go(by_length=True), Start(floor="18:00-19:15"), *size))
    assert ", counted from go, " in words(board(off(by_length=True), *size))
    assert "length" not in words(start(before_go(), Start(floor="18:00-19:15"), *size)) + words(board(off(), *size))


def lined(before: View | None, now: View) -> str:
    return "\n".join(plain.lines(before, now))


def test_in_plain_lines_the_heat_is_told_with_what_it_asks_for_and_again_when_it_changes() -> None:
    hot = off(care=Care(heat=2, heat_told="hot, not measured", heat_asks=rules(2)))
    told = lined(off(), hot)
    assert "Heat, level 2: hot, not measured." in told
    assert "4 breaks of 4 min in every hour" in told
    assert "A practice lasts 2 h at the most." in told
    assert "Heat" not in lined(hot, hot)
    assert "Do not practise." in lined(hot, off(care=Care(heat=4, heat_told="WBGT", heat_asks=rules(4), too_hot=True)))


def test_in_plain_lines_water_that_is_due_its_amount_lightning_and_changes_are_told_once() -> None:
    due = off(care=Care(water_in=0, lightning="Lightning: into a building.", fitted="Stay on 8 min instead of 12 min"))
    told = lined(off(care=Care(water_in=1_000)), due)
    for expected in ("Water is due.", "Lightning: into a building.", "Changed: Stay on 8 min instead of 12 min."):
        assert expected in told
        assert expected not in lined(due, due)
    water = off(kind="water", name="Water", word="on", segment=3, care=Care(water_card="100 to 250 mL", water_in=-1))
    assert "Water: 100 to 250 mL." in lined(due, water)
    assert "Water is due" not in lined(due, water)
    assert "Water: 100" not in lined(water, water)


def test_in_plain_lines_another_time_of_day_is_told_once() -> None:
    late = before_go(by_length=True)
    assert "the floor time counts from go." in lined(None, late)
    assert "length" not in lined(late, late) + lined(None, before_go())


@pytest.mark.parametrize("size", SIZES)
def test_when_it_is_over_it_is_said_when_to_ask_the_players_how_hard_it_was(size: tuple[int, int]) -> None:
    # Foster 1998, from memory: about half an hour afterwards.
    told = words(ended(over(), Over(), *size))
    assert "how hard it was: ask players in about 30 min" in told
    assert "Ctrl+Q  closes" in told


def test_in_plain_lines_the_answer_about_the_heat_is_not_told_twice() -> None:
    hot = off(care=Care(heat=2, heat_told="hot, not measured", heat_asks=rules(2)), said="Heat, level 2: hot, not measured.")
    assert lined(off(), hot).count("Heat, level 2: hot, not measured.") == 1


def test_when_nothing_fits_the_board_never_says_too_little() -> None:
    for late, words_of_it in ((90_000, "90 s"), (120_000, "2 min"), (120_001, "3 min"), (170_000, "3 min"), (720_000, "12 min")):
        assert f"late by {words_of_it}" in words(board(off(in_hand=-late), 100, 30))
    assert "2 min in hand" in words(board(off(in_hand=170_000), 100, 30))
