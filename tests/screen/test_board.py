"""The board read as words, at three sizes and at every moment of a practice."""

import pytest

from courttimer.plan.model import Gym
from courttimer.practice.view import Block, View, WindowView
from courttimer.screen.board import board
from courttimer.screen.far import far, halt
from courttimer.screen.ink import Line, text, width
from courttimer.screen.strip import strip
from tests.screen.looks import MIN, PHASES, STRIP, halted, held, look, off, waiting

SIZES = [(60, 20), (100, 30), (200, 60)]


def words(lines: list[Line]) -> str:
    return "\n".join(text(of) for of in lines)


def styled(lines: list[Line], style: str) -> str:
    return "".join(t for of in lines for t, its in of if its == style)


@pytest.mark.parametrize("size", [*SIZES, (300, 80), (59, 20), (30, 10), (10, 3)])
@pytest.mark.parametrize("phase", PHASES)
def test_every_screen_is_exactly_as_large_as_the_terminal(phase: str, size: tuple[int, int]) -> None:
    for screen in (board, far, halt):
        lines = screen(PHASES[phase](), *size)
        assert [width(of) for of in lines] == [size[0]] * size[1]


@pytest.mark.parametrize("size", SIZES)
def test_a_glance_tells_what_is_on_for_how_long_and_what_comes_then(size: tuple[int, int]) -> None:
    told = words(board(look(), *size, ("no speaker: the screen flashes at every horn",)))
    for expected in (
        "■ LIVE", "of 8 s", "PAINT TOUCH", "rep 3", "7:58 left of 10:00", "Rule: Touch the paint", "1  paint", "0  over", "drive",
        "Then: off, 16 s", "Stay on", "clear the floor in 28:05", "65 s in hand", "practice 10:02", "! no speaker", "x  HALT: injury",
        "space  hold", "?  help",
    ):  # fmt: skip
        assert expected in told


@pytest.mark.parametrize("size", SIZES)
def test_what_does_not_mean_anything_now_is_no_key(size: tuple[int, int]) -> None:
    told = words(board(off(allowed=frozenset({"halt", "space"})), *size))
    assert "x  HALT" in told
    assert "turn" not in told


def test_live_fills_the_panel_reversed_and_off_is_plain() -> None:
    assert len(styled(board(look(), 100, 30), "live")) > 1000
    assert styled(board(off(), 100, 30), "live") == ""
    assert "OFF" in styled(board(off(), 100, 30), "off")


def test_a_window_shrinks_to_the_left() -> None:
    bars = []
    for left in (3000, 1500, 10):
        now = look(windows=(WindowView(name="drive", left=left, lasts=3000),))
        bars.append(styled(board(now, 60, 20), "window").count("█"))
    assert bars[0] == pytest.approx(2 * bars[1], abs=1)
    assert bars[2] <= 1


def test_the_last_moment_of_a_window_is_still_seen() -> None:
    now = look(windows=(WindowView(name="drive", left=10, lasts=3000),))
    assert "▌" in styled(board(now, 60, 20), "window")


def test_a_hold_tells_how_long_it_stands_and_that_the_rep_is_played_again() -> None:
    told = words(board(held(), 60, 20))
    assert "║ HOLD" in told
    assert "stands for 0:12; this rep is played again" in told
    assert "goes on where it stood" in words(board(held(again=False), 60, 20))
    assert "space  go on" in told


@pytest.mark.parametrize("size", SIZES)
def test_a_halt_shows_the_gyms_card_whole(size: tuple[int, int]) -> None:
    told = words(halt(halted(), *size))
    for expected in (
        "HALT  stands for 1:23", "Address: 12 Ferry Lane, north door", "Defibrillator: wall left", "Call: emergency number",
        "space: go on",
    ):  # fmt: skip
        assert expected in told


def test_a_long_card_wraps_and_loses_no_word() -> None:
    address = " ".join(f"word{n}" for n in range(30))
    told = words(halt(halted(gym=Gym(address=address)), 60, 20))
    assert all(word in told for word in address.split())


def test_a_call_in_a_halt_is_answered_on_the_card() -> None:
    assert "» Refused." in words(halt(halted(said="Refused."), 60, 20))


def test_a_halt_without_a_card_says_what_to_do() -> None:
    assert "call for help" in words(halt(halted(gym=Gym()), 120, 20))


def test_late_is_told_in_words_and_in_hand_too() -> None:
    assert "late by 90 s" in words(board(off(in_hand=-90_000), 60, 20))
    assert "late by 12 min" in words(board(off(in_hand=-720_000), 60, 20))
    assert "in hand" not in words(board(off(in_hand=None, floor_left=None), 60, 20))


def test_a_wait_shows_the_segments_time_and_says_so() -> None:
    told = words(board(waiting(), 100, 30))
    assert "► WAITING" in told
    assert "the number is the segment's" in told


def test_what_was_refused_or_taken_back_is_told() -> None:
    assert "» took back: stop" in words(board(off(said="took back: stop"), 60, 20))


def test_all_trouble_is_told_or_counted() -> None:
    many = tuple(f"trouble {n}" for n in range(5))
    told = words(board(off(), 60, 20, many))
    assert "trouble 0" in told
    assert "and 4 more" in told


def test_voice_off_and_the_last_rep_are_told() -> None:
    told = words(board(off(voice=False, last=True), 60, 20))
    assert "voice off" in told
    assert "LAST ONE" in told


def test_a_terminal_that_is_too_small_says_so_and_still_shows_the_time() -> None:
    told = words(board(look(), 40, 12))
    assert "■ LIVE 7" in told
    assert "40 by 12" in told


def test_a_segment_without_reps_is_called_by_its_kind() -> None:
    water = off(word="on", kind="water", name="Water", left=95_000, rep=0)
    assert "≈ WATER" in words(board(water, 60, 20))


@pytest.mark.parametrize(
    ("view", "number"),
    [(off(left=61_000), "2′"), (off(left=60_000), "60"), (off(left=1), "1"), (off(left=0), "0"), (off(left=600_000), "10′"),
     (waiting(segment_left=90_000), "2′"), (held(left=4_200), "5")],
)  # fmt: skip
def test_far_eyes_see_whole_minutes_then_seconds(view: View, number: str) -> None:
    told = words(far(view, 12, 3)).split()
    assert number in told
    assert len(told) == 3


@pytest.mark.parametrize("size", [(60, 20), (100, 30), (137, 41)])
def test_the_strip_is_as_long_as_the_evening_and_marks_where_we_are(size: tuple[int, int]) -> None:
    names, blocks, mark = strip(look(), size[0])
    assert width(blocks) == size[0]
    assert "Paint" in text(names)
    assert text(mark).rstrip().endswith("▲")
    played = (8 * MIN + 10 * MIN - (7 * MIN + 58_000)) * size[0] // (37 * MIN + 2000 + 65_000)
    assert text(blocks).index("▒") == pytest.approx(played, abs=1)


def test_the_floor_mark_stands_inside_the_plan_when_we_are_late() -> None:
    late = look(floor_left=5 * MIN, in_hand=-22 * MIN)
    mark = text(strip(late, 100)[2])
    assert mark.index("▲") == pytest.approx((8 + 2 + 5) / 37 * 100, abs=1)
    assert "late by 22 min" in mark


def test_many_short_segments_still_fit() -> None:
    blocks = tuple(Block(name=f"S{n}", kind="drill", time=10_000, when="ahead") for n in range(200))
    assert [width(of) for of in strip(look(strip=(*STRIP[:2], *blocks)), 60)] == [60, 60, 60]
