"""Scores put right, makes entered, a station chosen: questions that leave every other key its meaning."""

from dataclasses import replace

from courttimer.practice.calls import Call
from courttimer.practice.view import Inside
from courttimer.screen.entry import Ask, Choice, Makes, Whose
from courttimer.screen.ink import text
from tests.screen.looks import BLUE_RED, PAINT, SPOTS, off, over, paint, shooting, stations, stay_on
from tests.screen.test_app import ALL, Bench, play

ROUND = replace(SPOTS, enter=True)


def made(spot: str, makes: int, turn: int = 1) -> Call:
    return Call(what="makes", who=spot, number=makes, amount=turn)


def test_a_score_is_put_right_by_number_and_sign_as_often_as_wanted() -> None:
    calls = play(stay_on(allowed=ALL), ["e", "2", "plus", "plus", "minus", "enter"]).calls
    assert calls == [Call(what="score", who="blue", amount=n) for n in (1, 1, -1)]


def test_or_by_the_first_letters_where_there_are_many() -> None:
    """Of the twelve only Gwen begins so."""
    assert play(paint(allowed=ALL), ["e", "g", "minus", "tab"]).calls == [Call(what="score", who="Gwen", amount=-1)]
    two = Whose(lambda: ("Ann", "Anna", "Bea"), lambda call: None)
    for key in "ann":
        assert two.press(key, key)
    assert two.who == ""
    assert two.press("enter", None)
    assert two.who == "Ann"


def test_a_raised_two_is_nobodys_number() -> None:
    """It is on a German keyboard beside the 1; a digit to some, but no number."""
    two = Whose(lambda: ("Ann", "Bea"), lambda call: None)
    assert not two.press("superscript_two", "²")
    assert two.who == ""


def test_an_unshifted_plus_is_a_plus() -> None:
    assert play(stay_on(allowed=ALL), ["e", "1", "equals_sign"]).calls == [Call(what="score", who="red", amount=1)]


def test_a_plus_that_is_held_down_is_not_thirty_points() -> None:
    bench = Bench(stay_on(allowed=ALL))
    for key, at in (("e", 0), ("1", 200), *(("plus", 1_000 + 33 * n) for n in range(30)), ("plus", 3_000)):
        bench.board.press(key, None if len(key) > 1 else key, at)
    assert len(bench.calls) == 2


def test_an_injury_is_a_halt_while_a_score_is_put_right() -> None:
    assert play(stay_on(allowed=ALL), ["e", "x"]).whats == ["halt"]
    assert play(stay_on(allowed=ALL), ["e", "1", "x", "space"]).whats == ["halt", "space"]


def test_left_open_or_left_it_says_what_the_keys_do() -> None:
    assert "Whose score? 1 red  2 blue  3 white  4 attack" in play(stay_on(allowed=ALL), ["e"]).words
    assert "Score of blue:" in play(stay_on(allowed=ALL), ["e", "2"]).words
    assert play(stay_on(allowed=ALL), ["e", "2", "enter", "2"]).calls == [Call(what="outcome", number=2)]


def test_after_a_round_numbers_and_enter_are_the_makes_of_its_spots() -> None:
    """The bench's view does not change, so the same spot is asked again."""
    assert play(off(inside=ROUND), ["7", "enter", "1", "0", "enter"]).calls == [made("left corner", 7), made("left corner", 10)]
    assert "Makes at left corner of 10, round 1" in play(off(inside=ROUND), [], (160, 40)).words


def test_tab_goes_to_another_spot_and_backspace_takes_a_digit_off() -> None:
    assert play(off(inside=ROUND), ["tab", "8", "backspace", "9", "enter"]).calls == [made("top", 9)]


def test_an_entry_that_is_not_made_holds_nothing_up() -> None:
    """Enter without digits starts what waits, as ever, and Backspace without digits takes back."""
    assert play(off(inside=ROUND), ["enter", "backspace", "space", "x", "pagedown"]).whats == [
        "forward", "take back", "space", "halt", "forward",
    ]  # fmt: skip


def test_what_is_entered_is_asked_no_more_and_the_line_goes_when_all_is() -> None:
    seen = ROUND
    calls: list[Call] = []
    entry = Makes(lambda: seen, calls.append)
    for count in ("7", "8"):
        entry.press(count, count)
        entry.press("enter", None)
        spots = tuple(replace(one, makes=int(count)) if one.spot == calls[-1].who and one.round == 1 else one for one in seen.spots)
        seen = replace(seen, spots=spots)
    assert calls == [made("left corner", 7), made("top", 8)]
    assert not entry.open


def test_while_numbers_are_outcomes_no_makes_are_asked_for() -> None:
    assert play(shooting(inside=replace(ROUND, outcomes=((1, "clean"),))), ["1"]).calls == [Call(what="outcome", number=1)]


def test_what_is_typed_is_in_view_however_many_could_be_meant() -> None:
    many = Whose(lambda: tuple(f"Anna{n}" for n in range(30)), lambda call: None)
    many.press("a", "a")
    many.press("n", "n")
    assert "an█" in text(many.line(60))


def test_the_question_goes_with_the_drill() -> None:
    sides = ["Ada"]
    ask = Whose(lambda: tuple(sides), lambda call: None)
    assert ask.open
    sides.clear()
    assert not ask.open


def test_digits_are_outcomes_again_when_no_makes_are_asked_for() -> None:
    assert play(shooting(), ["1"]).calls == [Call(what="outcome", number=1)]


def test_makes_can_be_entered_when_the_practice_ended_at_the_spots() -> None:
    bench = play(over(inside=ROUND), ["7", "enter"])
    assert bench.calls == [made("left corner", 7)]
    assert "top – –" in bench.words


def test_makes_are_put_right_later_with_e() -> None:
    shot = replace(SPOTS, spots=(replace(SPOTS.spots[0], makes=3), *SPOTS.spots[1:]))
    bench = play(shooting(inside=shot, allowed=frozenset({"makes"})), ["e"], (160, 40))
    assert "(3 so far)" in bench.words
    keys = ["e", "4", "enter", "tab", "6", "enter", "enter", "1"]
    calls = play(shooting(inside=shot, allowed=frozenset({"makes"})), keys).calls
    assert calls == [made("left corner", 4), made("left corner", 6, 2), Call(what="outcome", number=1)]


def test_stations_are_offered_by_name() -> None:
    bench = play(stations(allowed=ALL), ["s"])
    assert "1 Closeouts  2 Form shooting  3 Handles  0 all" in bench.words


def test_a_letter_is_no_station_and_still_means_what_it_means() -> None:
    assert play(stations(allowed=ALL), ["s", "x", "2"]).calls == [Call(what="halt"), Call(what="outcome", number=2)]


def test_the_key_that_opens_a_question_is_no_answer_while_it_is_held_down() -> None:
    """Else e would choose Edda, and s would close the question about stations."""
    for view, key in ((paint(allowed=ALL), "e"), (stations(allowed=ALL), "s")):
        bench = Bench(view)
        for at in (0, 500, 533, 566):
            bench.board.press(key, key, at)
        assert isinstance(bench.board.ask, Whose | Choice)
        assert getattr(bench.board.ask, "who", "") == ""
        bench.board.press("1", "1", 700)
        assert getattr(bench.board.ask, "who", "Ada") == "Ada"


def test_a_line_is_never_longer_than_the_screen() -> None:
    calls: list[Call] = []
    asks: list[Ask] = [Whose(lambda: BLUE_RED.sides, calls.append), Whose(lambda: PAINT.sides, calls.append)]
    asks.append(Makes(lambda: ROUND, calls.append))
    assert [len(text(ask.line(60))) for ask in asks] == [60] * 3
    assert Makes(Inside, calls.append).open is False
