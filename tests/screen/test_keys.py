"""One table makes every call, by key and by clicker."""

import pytest

from courttimer.practice.calls import Call
from courttimer.practice.view import Inside, StationView
from courttimer.screen.keys import ASKED, OWNS, TABLE, Presses, call_for, foot, listing, missing
from tests.screen.looks import halted, held, look, station, stations, waiting


def test_every_call_has_a_row_and_every_row_is_told() -> None:
    assert missing() == frozenset()
    assert all(row.foot and row.tells.endswith(".") and (row.shown or row.button) for row in TABLE)


def test_no_key_means_two_things() -> None:
    keys = [k for row in TABLE for k in (*row.keys, *row.clicker)]
    assert len(keys) == len(set(keys))


def test_no_key_needed_in_a_hurry_wants_shift_and_none_wants_a_chord_but_end() -> None:
    later = {"put back", "help", "longer", "end"}
    hurried = [k for row in TABLE if row.does not in later for k in (*row.keys, *row.clicker)]
    assert all(k == k.lower() and "+" not in k and k not in ("question_mark", "plus") for k in hurried)
    assert "equals_sign" in next(row.keys for row in TABLE if row.does == "longer")


def test_escape_never_quits_and_a_clicker_cannot_end_or_skip() -> None:
    by_clicker = {row.does for row in TABLE if row.clicker}
    assert call_for("escape") == Call(what="space", by="clicker")
    assert not by_clicker & {"end", "next", "before", "halt"}


@pytest.mark.parametrize(
    ("key", "what", "by"),
    [("space", "space", "key"), ("enter", "forward", "key"),
     ("pagedown", "forward", "clicker"), ("pageup", "back", "clicker"),
     ("f5", "space", "clicker"), ("full_stop", "open", "clicker"), ("b", "open", "clicker"),
     ("w", "open", "key"), ("x", "halt", "key"),
     ("left", "before", "key"), ("backspace", "take back", "key"), ("u", "take back", "key"), ("U", "put back", "key")],
)  # fmt: skip
def test_the_keys_of_the_design(key: str, what: str, by: str) -> None:
    call = call_for(key)
    assert call is not None
    assert (call.what, call.by) == (what, by)


def test_a_number_is_the_outcome_of_that_number() -> None:
    assert [call_for(n) for n in "10"] == [Call(what="outcome", number=1), Call(what="outcome", number=0)]


def test_with_the_capitals_lock_on_an_injury_is_still_a_halt() -> None:
    assert call_for("X") == Call(what="halt")


def test_own_keys_and_keys_that_want_a_second_word_make_no_call_at_once() -> None:
    rows = [row for row in TABLE if row.does in OWNS or row.does in ASKED]
    assert rows
    assert all(call_for(k) is None for row in rows for k in row.keys)
    assert call_for("f9") is None


def test_a_held_key_is_one_press() -> None:
    presses = Presses()
    told = [presses.press("n", at) for at in (0, 660, 700, 740, 1_400, 2_200)]
    assert [t is not None for t in told] == [True, False, False, False, False, True]


def test_a_clickers_button_may_be_pressed_again_sooner_than_a_key_that_repeats() -> None:
    presses = Presses()
    assert [presses.press("pagedown", at) is not None for at in (0, 200, 600)] == [True, False, True]


@pytest.mark.parametrize("key", ["u", "m", "v", "plus", "0"])
def test_a_held_key_for_a_call_that_may_be_tapped_fast_is_not_thirty_calls(key: str) -> None:
    held, tapped = Presses(), Presses()
    assert sum(held.press(key, at) is not None for at in range(0, 1000, 33)) == 1
    assert sum(tapped.press(key, at) is not None for at in range(0, 1000, 120)) == 9


def test_a_key_is_no_repeat_when_another_one_came_between() -> None:
    presses = Presses()
    assert [presses.press(key, at) is not None for key, at in (("n", 0), ("m", 200), ("n", 400))] == [True, True, True]
    presses.elsewhere("h", 500)
    assert presses.press("n", 600) is not None


def test_two_outcomes_within_a_blink_both_count() -> None:
    presses = Presses()
    assert presses.press("1", 0)
    assert presses.press("1", 100)


def test_another_key_for_the_same_call_is_no_repeat() -> None:
    presses = Presses()
    assert presses.press("space", 0)
    assert presses.press("f5", 100)


def test_the_clickers_hold_button_twice_is_a_halt_and_later_it_is_not() -> None:
    twice, slow = Presses(), Presses()
    assert [twice.press(k, at) for k, at in (("f5", 0), ("escape", 200))][-1] == Call(what="halt", by="clicker")
    assert [slow.press(k, at) for k, at in (("f5", 0), ("escape", 801))][-1] == Call(what="space", by="clicker")


def test_the_space_bar_pressed_twice_is_no_halt() -> None:
    presses = Presses()
    assert [presses.press("space", at) for at in (0, 750)][-1] == Call(what="space")


def test_the_footer_shows_only_what_means_something_and_halt_first() -> None:
    told = foot(look())
    assert told[0] == ("x", "HALT: injury")
    assert ("t", "turn") in told
    assert "voice" not in [word for _, word in told]


def test_the_space_bar_is_called_what_it_does() -> None:
    words = [dict(foot(view))["space"] for view in (look(), waiting(), held(), halted(allowed=frozenset({"go"})))]
    assert words == ["hold", "go", "go on", "go on"]


def test_with_a_station_chosen_the_space_bar_is_that_stations() -> None:
    def space(one: StationView) -> str:
        return dict(foot(stations(inside=Inside(stations=(one,), chosen=one.number))))["space"]

    assert space(station(1, "Closeouts", chosen=True)) == "hold station 1"
    assert space(station(2, "Handles", chosen=True, word="stopped")) == "go station 2"
    assert space(station(1, "Closeouts")) == "hold"


def test_the_readme_list_has_every_row() -> None:
    assert len(listing().splitlines()) == len(TABLE) + 2
