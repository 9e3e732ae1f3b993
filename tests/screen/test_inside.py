"""What is inside a drill, read off the board: scores, places, late outcomes, consequences, spots, the game clock."""

from dataclasses import replace

import pytest

from courttimer.practice.view import Inside, RoleView, ScoreLine, View, WindowView
from courttimer.screen import score
from courttimer.screen.board import board
from courttimer.screen.far import far
from courttimer.screen.ink import Line, text, width
from courttimer.screen.places import listed, places
from courttimer.screen.spots import spots
from tests.screen.looks import AT_SCORE, BLUE_RED, DRILLS, PAINT, SPOTS, game, look, off, paint, shooting, stay_on

SIZES = [(60, 20), (80, 24), (100, 30), (200, 60)]


def words(lines: list[Line]) -> str:
    return "\n".join(text(of) for of in lines)


def styled(lines: list[Line], style: str) -> str:
    return "".join(t for of in lines for t, its in of if its == style)


def after(drawn: list[Line], word: str) -> int:
    return next(n for n, of in enumerate(drawn) if word in text(of))


@pytest.mark.parametrize("size", [*SIZES, (300, 80), (59, 20), (10, 3)])
@pytest.mark.parametrize("drill", DRILLS)
def test_every_drill_is_exactly_as_large_as_the_terminal(drill: str, size: tuple[int, int]) -> None:
    for screen in (board, far):
        assert [width(of) for of in screen(DRILLS[drill](), *size)] == [size[0]] * size[1]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("drill", DRILLS)
def test_the_time_is_never_crowded_out(drill: str, size: tuple[int, int]) -> None:
    """The number is drawn at least three rows high, whatever else is told, but for the common clock of stations in a low terminal."""
    view = DRILLS[drill](said="Basket.", last=True)
    drawn = board(view, *size, ("no speaker",))
    if drill != "stations":
        label = after(drawn, f" {view.word.upper()}")
        assert sum(any(sign in text(of) for sign in "█▀▄") for of in drawn[label + 1 : label + 6]) >= 3
    assert "HALT" in words(drawn)


@pytest.mark.parametrize("size", SIZES)
def test_a_race_of_players_names_the_best_first_and_who_leads(size: tuple[int, int]) -> None:
    assert "First to 5: Bea 4, Ada 3, Edda 1, Bea leads" in words(board(paint(), *size))


@pytest.mark.parametrize("size", [(100, 30), (160, 45), (200, 60)])
def test_the_score_of_teams_is_drawn_large_with_its_leader_marked(size: tuple[int, int]) -> None:
    """Three sides stand side by side in the middle, each name above its figure; no more rows than the time has."""
    drawn = board(stay_on(left=15_000, lasts=16_000), *size)
    head = next(text(of) for of in drawn if "WHITE" in text(of))
    assert "► RED" in head
    assert "BLUE" in head
    assert "► BLUE" not in head


def test_roles_have_no_score_of_their_own_unless_they_scored() -> None:
    assert [one.side for one in score.sides(BLUE_RED)] == ["red", "blue", "white"]
    solo = replace(BLUE_RED, score=(ScoreLine(side="attack", points=1),))
    assert "attack" in [one.side for one in score.sides(solo)]


def test_many_sides_are_written_and_not_drawn() -> None:
    many = Inside(target="first to 5", score=tuple(ScoreLine(side=f"p{n}", points=n) for n in range(6)), sides=("p0",) * 5)
    assert score.drawn(many, 200, 20) == []
    assert score.words(many) == "first to 5: p5 5, p4 4, p3 3, p2 2, p1 1, p5 leads"


def test_a_row_tells_its_best_and_a_tally_its_attempts() -> None:
    row = Inside(target="6 in a row", score=(ScoreLine(side="Ada", row=2, best=5, points=7),), sides=("Ada", "Bea"))
    assert score.words(row) == "6 in a row: Ada 2 (best 5), Bea 0, Ada leads"
    tally = Inside(target="makes of attempts", score=(ScoreLine(side="all", makes=7, attempts=10),), sides=("all",))
    assert score.words(tally) == "makes of attempts: all 7 of 10"
    assert any("7" not in row and "█" in row for row in score.drawn(tally, 60, 10))


def test_the_side_against_an_imagined_rival_is_told_as_its_players_say_it() -> None:
    points = ScoreLine(side="us", points=3), ScoreLine(side="rival", points=1)
    rival = Inside(target="first to 5", score=points, sides=("us", "rival"))
    assert score.words(rival) == "first to 5: us 3, rival 1, we lead"
    assert score.words(replace(rival, won="us")) == "first to 5: us 3, rival 1, we have won"


def test_nobody_leads_in_a_tie_and_the_winner_is_told() -> None:
    tie = replace(BLUE_RED, score=(ScoreLine(side="blue", points=2), ScoreLine(side="red", points=2)))
    assert "leads" not in score.words(tie)
    assert "red has won" in score.words(replace(BLUE_RED, won="red"))
    assert "won today: blue 1" in score.words(BLUE_RED)
    assert "Ada" not in score.words(BLUE_RED)


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (200, 60)])
def test_places_are_columns_and_tell_who_comes_in_next(size: tuple[int, int]) -> None:
    drawn = board(paint(), *size)
    head, attack, line, then = (text(drawn[after(drawn, word)]) for word in ("basket 1", "attack ", "off ", "next in"))
    assert head.index("basket 2") == attack.index("Dina") == line.index("Fern") == then.index("Fern")
    assert head.index("basket 1") == attack.index("Ada") == then.index("Cleo")


def test_who_comes_in_is_not_told_twice_where_that_is_everyone_who_waits() -> None:
    both = replace(PAINT, next=(*PAINT.next[:3], replace(PAINT.next[3], names=("Fern",)), replace(PAINT.next[4], names=("Gwen",))))
    assert "next in" not in words(places(both, 100, 9))
    assert "next in" in words(places(PAINT, 100, 9))


@pytest.mark.parametrize("size", SIZES)
def test_one_place_is_one_line_with_what_the_others_do(size: tuple[int, int]) -> None:
    drawn = [text(of).split() for of in board(stay_on(), *size)]
    assert any(told[:2] == ["attack", "blue"] for told in drawn)
    assert any(told[-3:] == ["next", "in", "white"] for told in drawn)
    assert "(Passing on the sideline)" in words(board(stay_on(), 100, 30))


def test_names_that_find_no_room_are_counted() -> None:
    assert listed(("Ada", "Bea", "Cleo", "Dina"), 12) == "Ada, Bea +2"
    assert listed(("Ada", "Bea"), 12) == "Ada, Bea"
    crowd = Inside(roles=(RoleView(place=1, role="off", names=tuple(f"Player{n}" for n in range(20)), plays=False),))
    assert "+" in words(places(crowd, 60, 5))


def test_nobody_who_waits_is_no_line() -> None:
    nobody = replace(BLUE_RED, roles=(*BLUE_RED.roles[:2], replace(BLUE_RED.roles[2], names=())), next=())
    assert words(places(nobody, 100, 5)) == "attack blue   defend red"
    alone = replace(nobody, roles=(replace(nobody.roles[0], names=()),))
    assert words(places(alone, 100, 5)) == "attack nobody"


def test_twelve_baskets_become_lines() -> None:
    roles = [(n, role) for n in range(1, 13) for role in ("attack", "defend")]
    many = Inside(roles=tuple(RoleView(place=n, role=role, names=(f"{role[0]}{n}",), plays=True) for n, role in roles))
    told = words(places(many, 100, 7))
    assert "1 a1, 2 a2" in told
    assert len(places(many, 100, 7)) == 2


@pytest.mark.parametrize("size", SIZES)
def test_what_does_not_fit_is_told(size: tuple[int, int]) -> None:
    told = replace(PAINT, told="two players too few; one basket fits")
    assert "! two players too few" in words(board(paint(inside=told, rule=""), *size))


@pytest.mark.parametrize("size", SIZES)
def test_a_late_outcome_says_beside_its_key_that_the_same_key_accepts_it(size: tuple[int, int]) -> None:
    for view in (paint(inside=replace(PAINT, late="basket")), off(inside=replace(PAINT, late="basket"))):
        drawn = board(view, *size)
        assert "2 basket does not count: 2 again accepts it" in styled(drawn, "alarm")
    assert "does not count" not in words(board(paint(), *size))


def test_outcomes_keep_their_numbers_in_the_off_time_but_are_no_keys() -> None:
    live, quiet = board(paint(), 100, 30), board(off(inside=PAINT), 100, 30)
    assert " 2 " in styled(live, "key")
    assert " 2  basket" in styled(quiet, "quiet")
    assert " 2 " not in styled(quiet, "key")


def test_every_window_keeps_its_line_open_or_shut_so_that_nothing_jumps() -> None:
    two = replace(PAINT, windows=("drive", "shot"))
    drive = WindowView(name="drive", left=1_000, lasts=3_000)
    shut, one = board(paint(inside=two, windows=()), 100, 30), board(paint(inside=two, windows=(drive,)), 100, 30)
    assert after(shut, " shot ") == after(one, " shot ")
    assert "shut" in text(one[after(one, " shot ")])
    assert "shut" not in text(one[after(one, " drive ")])
    assert after(board(paint(windows=()), 60, 20), " drive ") == after(board(paint(), 60, 20), " drive ")


@pytest.mark.parametrize("size", SIZES)
def test_a_consequence_says_what_is_done_and_who_has_won(size: tuple[int, int]) -> None:
    inside = replace(BLUE_RED, won="red", does="Others, line and back.")
    told = words(board(off(word="consequence", inside=inside), *size))
    assert "▼ CONSEQUENCE" in told
    assert "Others, line and back." in told
    assert "red has won" in told


@pytest.mark.parametrize("left", [15_000, 74_000, 119_000])
@pytest.mark.parametrize("size", [(100, 30), (160, 45), (200, 60)])
def test_the_score_of_a_game_is_drawn_large_also_beside_minutes_and_seconds(size: tuple[int, int], left: int) -> None:
    drawn = board(game(left=left), *size)
    head = after(drawn, "► RED")
    assert "BLUE" in text(drawn[head])
    assert sum("█" in text(of) for of in drawn[head : head + 4]) >= 3


@pytest.mark.parametrize("size", SIZES)
def test_a_game_clock_that_stands_says_so_and_shows_the_score(size: tuple[int, int]) -> None:
    told = words(board(game(), *size))
    assert "║ STOPPED" in told
    assert "blue 41, red 44, red leads" in told
    assert "ball blue" in told
    assert styled(board(game(), *size), "live") == ""
    assert "■ LIVE" in words(board(game(word="live"), *size))


def test_the_spot_is_drawn_and_what_was_not_entered_is_unknown_and_not_nought() -> None:
    some = (replace(SPOTS.spots[0], makes=0), *SPOTS.spots[1:])
    told = words(spots(replace(SPOTS, spots=some), 100, 3))
    assert "► left corner 0 –" in told
    assert "top – –" in told
    assert "round 1" in words(board(shooting(), 100, 30))


def test_where_to_go_is_shown_in_the_off_time_and_where_to_shoot_while_live() -> None:
    def shown(view: View) -> str:
        return words(board(view, 120, 30))

    assert shown(shooting()) != shown(shooting(inside=replace(SPOTS, spot="right wing")))
    assert shown(off(inside=SPOTS)) != shown(off(inside=replace(SPOTS, spot_next="right")))


@pytest.mark.parametrize(
    ("stood", "said"),
    [("cut off", "cut off at 9:50 of the practice, 0:12 ago"), ("asleep", "the machine slept at 9:50"), ("", "stands for 0:12")],
)
def test_a_hold_that_nobody_called_says_why(stood: str, said: str) -> None:
    assert said in words(board(look(phase="held", stands=12_000, stood=stood), 100, 30))


def test_far_eyes_see_the_window_shrink_and_the_number_does_not_jump() -> None:
    with_window, without = far(look(), 100, 30), far(look(windows=()), 100, 30)
    bar = [n for n, (one, other) in enumerate(zip(with_window, without, strict=True)) if text(one) != text(other)]
    assert len(bar) == 1
    assert text(with_window[bar[0]]).count("█") == 46  # 1.4 of 3 seconds


def test_far_eyes_see_the_score_of_two_sides_when_the_ball_is_not_live() -> None:
    pair = replace(BLUE_RED, sides=("blue", "red"))
    assert words(far(off(inside=pair), 160, 40)) != words(far(off(), 160, 40))
    assert words(far(look(inside=pair), 160, 40)) == words(far(look(), 160, 40))


def test_the_keys_of_outcomes_are_one_finger_each() -> None:
    assert [key for key, _ in AT_SCORE] == [1, 2, 3, 0]
