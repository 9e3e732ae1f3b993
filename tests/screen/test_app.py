"""Keys pressed by a pilot on views made by hand: what is called, and what is then on the screen."""

import asyncio
from dataclasses import replace
from itertools import count

import pytest
from textual.strip import Strip

from courttimer.practice.calls import Call
from courttimer.practice.view import View
from courttimer.screen.app import Board
from courttimer.screen.given import Given, Over, Start, Volume
from courttimer.screen.ink import text
from courttimer.screen.keys import TABLE
from courttimer.screen.picker import Picker
from tests.screen.looks import RUNNING, before_go, look, off, over

ALL = RUNNING | {"score", "here", "station", "voice", "water", "put back"}


class Bench:
    """A practice that answers nothing: one view, and every call that was made."""

    def __init__(self, view: View) -> None:
        self.view = view
        self.calls: list[Call] = []
        self.notes: list[tuple[int, str]] = []
        self.marks: tuple[tuple[int, str], ...] = ((1000, ""), (2000, "kept"), (3000, ""))
        self.deaf = False
        given = Given(
            call=self.calls.append, view=lambda: self.view, deaf=lambda: self.deaf, start=lambda: Start(squad=("Ada", "Bea")),
            over=lambda: Over(marks=self.marks), note=lambda n, words: self.notes.append((n, words)), more=lambda: ("Heat: none",),
        )  # fmt: skip
        self._presses = count(0, 1_000)
        self.board = Board(given, beats=False, stamp=lambda event: next(self._presses))

    @property
    def whats(self) -> list[str]:
        return [c.what for c in self.calls]

    @property
    def words(self) -> str:
        return "\n".join(text(of) for of in self.board.canvas.lines)


def play(view: View, keys: list[str], size: tuple[int, int] = (100, 30), volumes: tuple[Volume, ...] = ()) -> Bench:
    bench = Bench(view)
    bench.board.given = replace(bench.board.given, volumes=lambda: volumes)

    async def go() -> None:
        async with bench.board.run_test(size=size) as pilot:
            await pilot.press(*keys)
            await pilot.pause()

    asyncio.run(go())
    return bench


@pytest.mark.parametrize(("keys", "answer"), [(["f"], "The far view comes with go"), (["f", "f"], "The board comes with go")])
def test_the_far_view_is_answered_before_go_where_it_cannot_be_seen_yet(keys: list[str], answer: str) -> None:
    assert answer in play(before_go(), keys).words


def test_a_small_board_tells_of_no_second_page_that_no_key_turns_to() -> None:
    told = play(look(allowed=ALL), ["o", "down"], (60, 9), (Volume(of="everything", db=0), Volume(of="the voice", db=0))).words

    assert "► the voice" in told
    assert "page 1 of" not in told


@pytest.mark.parametrize("page", ["i", "o", "?"])
def test_a_halt_closes_the_page_that_hides_the_gyms_card(page: str) -> None:
    bench = play(look(), [page, "x"])
    assert (bench.whats, bench.board.over) == (["halt"], "")


@pytest.mark.parametrize("size", [(60, 20), (100, 30), (200, 60)])
def test_the_first_frame_has_the_board(size: tuple[int, int]) -> None:
    assert "PAINT TOUCH" in play(look(), [], size).words


@pytest.mark.parametrize("row", [r for r in TABLE if r.keys or r.clicker], ids=lambda r: r.does)
def test_every_key_makes_its_call_and_nothing_else(row: object) -> None:
    own = {"more", "far", "colours", "help", "score", "here", "station", "end"}
    assert isinstance(row, type(TABLE[0]))
    for key in (*row.keys, *row.clicker):
        made = play(look(allowed=ALL), [key]).whats
        assert made == ([] if row.does in own else [row.does])


def test_what_the_practice_cannot_do_is_asked_of_it_all_the_same() -> None:
    """So that the refusal comes from the practice, in words."""
    assert play(look(), ["e", "s"]).whats == ["score", "station"]


def test_the_far_view_comes_and_goes() -> None:
    assert "PAINT TOUCH" not in play(look(), ["f"]).words
    assert "PAINT TOUCH" in play(look(), ["f", "f"]).words


def test_help_turns_its_pages_and_closes_and_calls_are_still_made() -> None:
    first = play(look(), ["question_mark"], (60, 20))
    assert "page 1 of" in first.words
    assert "page 2 of" in play(look(), ["question_mark", "question_mark"], (60, 20)).words
    assert play(look(), ["question_mark", "pagedown"]).whats == ["forward"]


def test_more_keeps_the_clock_in_view() -> None:
    told = play(look(), ["o"]).words
    assert "Heat: none" in told
    assert "LIVE 7" in told


def test_the_end_is_asked_once() -> None:
    asked = play(look(), ["ctrl+q"])
    assert asked.calls == []
    assert "End the practice?" in asked.words
    assert play(look(), ["ctrl+q", "ctrl+q"]).calls == [Call(what="end")]


def test_any_other_key_is_no_answer_and_still_means_what_it_means() -> None:
    told = play(look(), ["ctrl+q", "x", "ctrl+q"])
    assert told.whats == ["halt"]
    assert "End the practice?" in told.words


@pytest.mark.parametrize("key", ["escape", "q", "ctrl+d", "ctrl+z", "tab", "ctrl+p", "delete"])
def test_no_other_key_quits_or_opens_anything(key: str) -> None:
    told = play(look(), [key])
    assert told.board.return_value is None
    assert "PAINT TOUCH" in told.words


def test_a_station_is_chosen_by_its_number_and_a_number_alone_is_an_outcome() -> None:
    made = play(look(allowed=ALL), ["s", "2", "2"]).calls
    assert made == [Call(what="station", number=2), Call(what="outcome", number=2)]


def test_how_hard_it_was_is_typed_and_nonsense_changes_nothing_and_is_told() -> None:
    assert play(look(allowed=ALL), ["o", "e", *"be 7", "enter"]).calls == [Call(what="effort", who="Bea", number=7)]
    assert play(look(allowed=ALL), ["o", "e", *"8", "enter"]).calls == [Call(what="effort", number=8)]
    told = play(look(allowed=ALL), ["o", "e", *"11", "enter"])
    assert told.calls == []
    assert "Nothing was changed" in told.words


def test_heat_is_typed_in_the_coachs_words_and_thunder_is_one_key_of_the_page() -> None:
    assert play(look(allowed=ALL), ["o", "h", *"31 C", "enter"]).calls == [Call(what="heat", words="31 C")]
    assert play(look(allowed=ALL), ["o", "t"]).whats == ["thunder"]
    assert play(look(allowed=ALL), ["t"]).whats == ["turn"]


def test_an_open_line_leaves_the_clickers_keys_alone_and_takes_every_letter() -> None:
    made = play(look(allowed=ALL), ["o", "h", *"xnb.", "pagedown", "pageup", "f5", "left"])
    assert made.whats == ["forward", "back", "space"]
    assert "xnb.█" in made.words


def test_tab_leaves_an_open_line() -> None:
    assert play(look(allowed=ALL), ["o", "h", "tab", "x"]).whats == ["halt"]


@pytest.mark.parametrize(("key", "page"), [("f", "PAINT TOUCH"), ("o", "more: o closes"), ("i", "who is here: i closes")])
def test_a_held_key_does_not_open_and_close_a_page(key: str, page: str) -> None:
    once, held = play(look(), [key]).words, Bench(look())
    for at in (0, 500, 533, 566):
        held.board.press(key, key, at)
    assert (page in once) == (held.board.over != "" and not held.board.far)


def test_a_held_key_does_not_end_the_practice() -> None:
    held = Bench(look())
    for at in (0, 950, 983, 1_016, 1_400):  # the slowest keyboards begin to repeat after a second
        held.board.press("ctrl+q", None, at)
    assert held.calls == []
    held.board.press("ctrl+q", None, 2_500)
    assert held.whats == ["end"]


def test_marks_get_their_words_at_the_end_one_after_the_other() -> None:
    assert play(over(), ["m", *"fine", "enter", *"more", "enter"]).notes == [(0, "fine"), (2, "more")]
    assert play(over(), ["m", "enter", *"more", "enter"]).notes == [(2, "more")]


def test_during_the_practice_a_mark_is_one_key() -> None:
    assert play(look(), ["m"]).whats == ["mark"]


def test_after_the_end_one_key_closes() -> None:
    told = play(over(), ["ctrl+q"])
    assert told.board.return_value == "ended"
    assert told.calls == []


def test_before_the_first_go_the_start_screen_stands() -> None:
    told = play(before_go(), ["space"])
    assert "37:00 planned" in told.words
    assert told.whats == ["space"]


def test_a_fault_in_a_look_ends_the_screen_and_says_gone() -> None:
    bench = Bench(look())

    async def go() -> None:
        async with bench.board.run_test() as pilot:
            bench.view = None  # type: ignore[assignment]  # what no conductor gives: any fault at all
            bench.board.paint()
            await pilot.pause()

    asyncio.run(go())
    assert bench.board.return_value == "gone"


def test_only_lines_that_changed_are_painted() -> None:
    bench = Bench(look())
    painted: list[int] = []
    render = bench.board.canvas.render_line

    def spy(y: int) -> Strip:
        painted.append(y)
        return render(y)

    async def go() -> None:
        async with bench.board.run_test(size=(100, 30)) as pilot:
            await pilot.pause()
            bench.board.canvas.render_line = spy  # type: ignore[method-assign]  # a spy
            bench.board.paint()
            await pilot.pause()
            assert painted == []
            bench.view = replace(bench.view, said="took back: stop")
            bench.board.paint()
            await pilot.pause()

    asyncio.run(go())
    assert len(set(painted)) == 1


def test_the_whole_screen_is_reversed_at_a_horn_that_nobody_hears() -> None:
    bench = Bench(look())

    async def go() -> None:
        async with bench.board.run_test() as pilot:
            bench.deaf = True
            bench.view = off(now=701_000)
            bench.board.paint()
            await pilot.pause()

    asyncio.run(go())
    assert {style for of in bench.board.canvas.lines for _, style in of} == {"plain", "halt"}


def test_the_colours_change_with_a_key() -> None:
    assert play(look(), ["c"]).board.colours == "light"
    assert play(look(), ["c", "c"]).board.colours == "dark"


def test_a_window_resized_while_running_is_drawn_anew() -> None:
    bench = Bench(look())

    async def go() -> None:
        async with bench.board.run_test(size=(60, 20)) as pilot:
            await pilot.resize_terminal(120, 40)
            await pilot.pause()

    asyncio.run(go())
    assert len(bench.board.canvas.lines) == 40


@pytest.mark.parametrize(
    ("keys", "path"),
    [(["enter"], "a.toml"), (["down", "enter"], "b.toml"), (["pagedown", "pageup", "space"], "a.toml"), (["ctrl+q"], None)],
)
def test_a_session_is_chosen(keys: list[str], path: str | None) -> None:
    picker = Picker((("A", "a.toml"), ("B", "b.toml")))

    async def go() -> None:
        async with picker.run_test() as pilot:
            await pilot.press(*keys)

    asyncio.run(go())
    assert picker.return_value == path


def test_escape_leaves_a_page_before_the_practice_and_begins_nothing() -> None:
    bench = play(before_go(), ["question_mark", "escape"])
    assert bench.calls == []
    assert "begins" in bench.words
    assert play(look(), ["question_mark", "escape"]).whats == ["space"]


def test_the_narrowest_board_asks_its_question_whole() -> None:
    asked = play(look(), ["ctrl+q"], (60, 20)).words.splitlines()[-1]
    assert "other keys do not." in asked
