"""Start, end, help, more and the choice of a session, read as words."""

import pytest

from courttimer.practice.view import Attendance
from courttimer.screen import pages
from courttimer.screen.flash import APART_MS, LASTS_MS, Flash, reverse
from courttimer.screen.given import Over, Start
from courttimer.screen.ink import Line, text, width, wrap
from courttimer.screen.keys import TABLE
from courttimer.screen.pictures import pictures, svg
from tests.screen.looks import before_go, look, off, over

SIZES = [(60, 20), (100, 30), (200, 60)]
FACTS = Start(
    floor="18:00-19:15", squad=("Ada", "Bea", "Cleo"), advice=("Each plays about 2 min.",),
    missing=("No speaker was found.",), prepared=(12, 38),
)  # fmt: skip
SOME = Attendance(here=("Ada",), away=("Bea", "Cleo"), late=("Cleo",))
DONE = Over(done=("Paint touch: 23 reps",), marks=((602_000, ""), (700_000, "good passing")), kept="journal.jsonl")


def words(lines: list[Line]) -> str:
    return "\n".join(text(of) for of in lines)


@pytest.mark.parametrize("size", SIZES)
def test_the_start_screen_tells_the_session_who_is_here_advice_and_what_is_missing(size: tuple[int, int]) -> None:
    lines = pages.start(before_go(attendance=SOME), FACTS, *size)
    told = words(lines)
    for expected in (
        "Tern Street U14, Tuesday", "floor 18:00-19:15", "37:00 planned", "35 min in hand", "! No speaker was found.",
        "12 of 38", "1 of 3 here; late: Cleo; out: Bea.", "Advice: Each plays", "Paint touch",
        "space    Enter   or the clicker's forward begins",
    ):  # fmt: skip
        assert expected in told
    assert [width(of) for of in lines] == [size[0]] * size[1]


def test_the_start_screen_tells_how_long_each_really_plays() -> None:
    stands = Start(squad=("Ada",), stands=("Paint touch: each plays about 2 min of 10 min",))
    for size in SIZES:
        assert "each plays about 2 min of 10 min." in words(pages.start(before_go(attendance=SOME), stands, *size))


def test_the_start_screen_tells_where_the_sound_goes_and_answers_a_call() -> None:
    told = words(pages.start(before_go(said="Refused."), Start(speaker="Gym box"), 60, 20))
    assert "sound: Gym box" in told
    assert "» Refused." in told
    assert "sound:" not in words(pages.start(before_go(), Start(), 60, 20))


def test_a_terminal_too_small_for_the_board_is_told_before_it_begins() -> None:
    assert "has 60 by 19 cells" in words(pages.start(before_go(), FACTS, 60, 19))


def test_a_long_session_counts_what_it_cannot_show() -> None:
    assert "and 3 more" in words(pages.start(before_go(), FACTS, 100, 13))


@pytest.mark.parametrize("size", SIZES)
def test_the_end_screen_tells_what_was_done_and_which_marks_want_words(size: tuple[int, int]) -> None:
    told = words(pages.over(over(), DONE, *size))
    for expected in ("OVER", "Paint touch: 23 reps", "10:02  …", "11:40  good passing", "Kept: journal.jsonl", "Ctrl+Q  closes"):
        assert expected in told


@pytest.mark.parametrize("cells", [60, 100, 200])
def test_the_help_has_every_key_and_every_sentence(cells: int) -> None:
    lines = pages.help_lines(cells)
    told = " ".join(words(lines).split())
    for row in TABLE:
        assert row.shown in told
        assert row.button in told
        assert row.tells in told
    assert max(width(of) for of in lines) <= cells


def test_no_line_of_the_help_is_lost_between_its_pages() -> None:
    told = pages.help_lines(60)
    shown = [pages.page(look(), "help", told, 60, 20, at)[2:] for at in range(pages.page_count(told, 20))]
    assert [text(of).rstrip() for page in shown for of in page if text(of).strip()] == [text(of).rstrip() for of in told]


def test_a_page_that_a_wider_window_has_not_any_more_is_the_last_one() -> None:
    assert "Ctrl+Q" in words(pages.page(look(), "help", pages.help_lines(100), 100, 30, 9))


def test_the_clock_stays_in_view_above_the_help() -> None:
    assert "LIVE 7" in text(pages.page(look(), "help", [], 60, 20)[0])


def test_the_chosen_session_is_always_in_view() -> None:
    many = tuple((f"Practice {n}", f"p{n}.toml") for n in range(40))
    for at in (0, 20, 39):
        assert f"► Practice {at} " in words(pages.choice(many, at, 60, 20))
    assert "No session file was found" in words(pages.choice((), 0, 80, 20))


def test_the_screen_flashes_at_a_horn_only_when_nothing_is_heard() -> None:
    heard, deaf = Flash(), Flash()
    for flash, is_deaf in ((heard, False), (deaf, True)):
        assert not flash.now(look(now=1000), deaf=is_deaf)
    assert not heard.now(off(now=1100), deaf=False)
    assert deaf.now(off(now=1100), deaf=True)
    assert deaf.now(off(now=1100 + LASTS_MS - 1), deaf=True)
    assert not deaf.now(off(now=1100 + LASTS_MS), deaf=True)


def test_it_never_flashes_more_than_three_times_in_a_second() -> None:
    """WCAG 2.2, success criterion 2.3.1."""
    flash, starts, lit = Flash(), [], False
    for at in range(0, 5000, 50):
        on = flash.now(look(now=at, rep=at // 50), deaf=True)
        starts += [at] if on and not lit else []
        lit = on
    assert starts
    assert all(sum(a <= b < a + 1000 for b in starts) <= 3 for a in starts)
    assert APART_MS > LASTS_MS


def test_a_closing_window_flashes_too() -> None:
    flash = Flash()
    flash.now(look(now=0), deaf=True)
    assert flash.now(look(now=2000, windows=()), deaf=True)


def test_reversing_changes_every_piece_and_no_word() -> None:
    lines = pages.start(before_go(), FACTS, 60, 20)
    assert words(reverse(lines)) == words(lines)
    assert {style for of in reverse(lines) for _, style in of} == {"plain", "halt"}


def test_words_wrap_without_loss() -> None:
    assert wrap("Score and you stay on. Stop them.", 12) == ["Score and", "you stay on.", "Stop them."]


def test_every_screen_has_a_picture_that_is_well_formed() -> None:
    from xml.etree import ElementTree

    shots = pictures(look(), FACTS, DONE)
    assert set(shots) == {"board", "stations", "here", "far", "halt", "start", "over", "help"}
    for shot in (*shots.values(), svg([(("a < b & ▌█░", "plain"),)], "light")):
        assert ElementTree.fromstring(shot).tag.endswith("svg")
