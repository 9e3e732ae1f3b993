"""Who is here: ticks, and what a key or a click does to them."""

import asyncio

import pytest

from courttimer.practice.calls import Call
from courttimer.practice.view import Attendance
from courttimer.screen import here
from courttimer.screen.ink import Line, text, width
from tests.screen.looks import EVERYONE, before_go, look
from tests.screen.test_app import Bench, play

SOME = Attendance(here=("Ada",), warming=("Dina",), away=("Bea", "Cleo"), late=("Cleo",), staff=("Mira", "Timo"), staff_out=("Timo",))
PEOPLE = here.everyone(SOME, ("Ada", "Bea", "Cleo", "Dina"))


def words(lines: list[Line]) -> str:
    return "\n".join(text(of) for of in lines)


def test_everyone_has_a_tick_by_shape_and_word() -> None:
    told = words(here.ticks(PEOPLE, 100, 9))
    for expected in ("[x] Ada", "[ ] Bea out", "[~] Cleo late", "[x] Dina warms up", "[x] Mira (staff)", "[ ] Timo (staff) out"):
        assert expected in told


def test_the_summary_counts_players_and_names_who_is_missing() -> None:
    told = here.summary(SOME, ("Ada", "Bea", "Cleo", "Dina"))
    assert told == "2 of 4 here; warming up: Dina; late: Cleo; out: Bea, Timo"


@pytest.mark.parametrize(
    ("who", "late", "what"),
    [("Ada", False, "out"), ("Ada", True, "late"), ("Bea", False, "here"), ("Cleo", True, "here"), ("Dina", False, "out"),
     ("Timo", False, "here"), ("Mira", True, "out")],
)  # fmt: skip
def test_space_ticks_and_l_is_late_but_of_the_staff_nobody_is(who: str, late: bool, what: str) -> None:
    one = next(one for one in PEOPLE if one.name == who)
    assert here.changed(one, late=late) == Call(what=what, who=who)  # type: ignore[arg-type]  # one of three calls


@pytest.mark.parametrize(("cells", "rows"), [(60, 18), (100, 28), (200, 58), (60, 4)])
def test_forty_players_fit_or_move_along_with_the_pointer(cells: int, rows: int) -> None:
    crowd = here.everyone(Attendance(here=tuple(f"Player {n}" for n in range(40)), staff=("Mira",)), ())
    for at in (0, 20, 40):
        drawn = here.page(crowd, cells, rows, at)
        assert len(drawn) <= max(rows, 4)
        assert max(width(of) for of in drawn) <= cells
        assert crowd[at].name in "".join(t for of in drawn for t, its in of if its == "pick")


def test_ticks_without_room_are_counted() -> None:
    crowd = here.everyone(Attendance(here=tuple(f"Player {n}" for n in range(40))), ())
    assert "more: key i" in words(here.ticks(crowd, 60, 3))


def test_the_page_answers_keys_and_keeps_halt() -> None:
    """The pointer begins at Ada; two to the right is Cleo."""
    made = play(look(), ["i", "space", "right", "right", "l", "x"]).calls
    assert made == [Call(what="out", who="Ada"), Call(what="late", who="Cleo"), Call(what="halt")]


def test_the_page_tells_the_last_answer() -> None:
    assert "» Ada is out." in play(look(said="Ada is out."), ["i"]).words


def test_after_the_page_is_closed_space_holds_again_and_arrows_are_calls() -> None:
    assert play(look(), ["i", "i", "space", "left"]).whats == ["space", "before"]


def test_the_clickers_keys_are_calls_on_the_page_too() -> None:
    assert play(look(), ["i", "pagedown", "pageup", "f5"]).whats == ["forward", "back", "space"]


def test_before_the_practice_enter_leaves_the_page_and_begins_nothing() -> None:
    bench = play(before_go(attendance=EVERYONE), ["i", "space", "enter"])
    assert bench.calls == [Call(what="out", who="Ada")]
    assert "begins" in bench.words


def test_a_page_left_open_closes_by_itself_while_the_clock_runs() -> None:
    bench = Bench(look())

    async def go() -> None:
        async with bench.board.run_test(size=(100, 30)) as pilot:
            await pilot.press("i")
            bench.view = look(now=look().now + 21_000)
            bench.board.paint()
            await pilot.press("space")

    asyncio.run(go())
    assert bench.whats == ["space"]


@pytest.mark.parametrize("button", [1, 3])
def test_a_click_on_a_name_of_the_start_screen_changes_it(button: int) -> None:
    bench = Bench(before_go(attendance=EVERYONE))

    async def go() -> None:
        async with bench.board.run_test(size=(110, 32)) as pilot:
            rows = bench.words.splitlines()
            y = next(n for n, row in enumerate(rows) if "[x] Bea" in row)
            await pilot.mouse_down(offset=(rows[y].index("Bea"), y), button=button)
            await pilot.mouse_down(offset=(1, 1))
            await pilot.pause()

    asyncio.run(go())
    assert bench.calls == [Call(what="out" if button == 1 else "late", who="Bea")]


def test_a_click_on_the_running_board_changes_nobody() -> None:
    bench = Bench(look())

    async def go() -> None:
        async with bench.board.run_test(size=(100, 30)) as pilot:
            await pilot.mouse_down(offset=(5, 18))

    asyncio.run(go())
    assert bench.calls == []


def test_a_squad_without_names_says_where_they_go() -> None:
    assert "[squad]" in words(here.page((), 60, 10, 0))
