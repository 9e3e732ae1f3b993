"""The page for volumes and heat."""

import pytest

from courttimer.practice.calls import Call
from courttimer.screen import more
from courttimer.screen.given import Given, Volume
from courttimer.screen.ink import text
from tests.screen.looks import look


class Desk:
    """Two volumes that can be turned."""

    def __init__(self) -> None:
        self.loud = {"everything": 0, "the voice": 0}
        self.calls: list[Call] = []
        self.given = Given(
            call=self.calls.append, view=look, volumes=lambda: tuple(Volume(of=of, db=db) for of, db in self.loud.items()),
            turn=self.loud.__setitem__,
        )  # fmt: skip

    def press(self, *keys: str) -> None:
        at = 0
        for key in keys:
            at, took = more.press(key, at, self.given)
            assert took


def test_plus_and_minus_turn_the_volume_that_is_pointed_at() -> None:
    desk = Desk()
    desk.press("plus", "right", "minus", "down", "left", "minus", "up", "plus")
    assert desk.loud == {"everything": 2 * more.STEP, "the voice": -2 * more.STEP}
    assert desk.calls == []


@pytest.mark.parametrize(("key", "end"), [("plus", more.HIGHEST), ("minus", more.LOWEST)])
def test_it_stops_at_its_ends(key: str, end: int) -> None:
    desk = Desk()
    desk.press(*[key] * 60)
    assert desk.loud["everything"] == end


def test_the_page_shows_how_loud_it_is_and_which_one_is_turned() -> None:
    desk = Desk()
    desk.loud["the voice"] = -6
    told = "\n".join(text(of) for of in more.lines(look(), desk.given, 1, 100))
    assert "► the voice" in told
    assert "-6 dB" in told
    assert "how hot it is" in told


def test_without_sound_nothing_is_turned_and_keys_keep_their_meaning() -> None:
    silent = Given(call=lambda call: None, view=look)
    assert more.press("plus", 0, silent) == (0, False)
