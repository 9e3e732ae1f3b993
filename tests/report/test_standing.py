"""How long each player really plays is told when most of a drill is standing, and with what would change it most."""

from dataclasses import replace

import pytest

from courttimer.plan.model import Rep, Role, Segment, Session, Squad
from courttimer.plan.reading import Reading
from courttimer.practice.events import RepBegan
from courttimer.rehearsal import rehearse
from courttimer.report.advice import advice
from courttimer.report.standing import Play, among, on_the_floor, played, sheet, standing
from tests.sound.shipped import SESSIONS, reading as shipped

TWELVE = Squad(players=("Ada", "Bea", "Cleo", "Dina", "Edda", "Fern", "Gwen", "Hana", "Inga", "Juno", "Kaia", "Lina"))
ONE_ON_ONE = (Role(name="attack"), Role(name="defend"), Role(name="off", plays=False))


def drill(places: int = 1, *, roles: tuple[Role, ...] = ONE_ON_ONE, off: int = 16_000) -> Segment:
    rep = Rep(live=8_000, off=off)
    return Segment(kind="drill", name="Paint touch", time=600_000, setup=60_000, places=places, roles=roles, rep=rep)


def test_twelve_at_one_basket_play_half_a_minute_of_ten_and_a_second_basket_doubles_it() -> None:
    # By hand: nine minutes hold 23 reps of 8 s with 16 s between them; 23 x 8 s x 2 of 12 players = 30.7 s, at two baskets 61.3 s.
    assert standing(drill(), TWELVE) == "each plays about 31 s of 10 min; at two baskets it would be 1 min 1 s"


def test_the_reps_counted_are_those_that_the_practice_plays() -> None:
    for off in (0, 5_000, 16_000, 17_500):
        run = rehearse(Reading(Session(segment=(drill(off=off),)), {"t.toml": ""}, {}))
        reps = sum(isinstance(event, RepBegan) for event in run.events)
        play = played(drill(6, off=off), TWELVE)
        assert play is not None
        assert play.each == reps * 8_000


def test_nobody_is_told_of_standing_when_each_is_on_in_a_third_of_the_reps() -> None:
    assert standing(drill(2), TWELVE) == ""
    assert standing(drill(1), Squad(players=TWELVE.players[:6])) == ""
    assert standing(drill(1), Squad(players=TWELVE.players[:7])) != ""


def test_a_place_that_cannot_be_filled_is_not_played_at() -> None:
    fives = [Role(name="attack", size=(6, 6)), Role(name="defend", size=(4, 4))]
    assert [on_the_floor(fives, here, 2) for here in (9, 10, 19, 20, 24)] == [0, 10, 10, 20, 20]
    assert on_the_floor([Role(name="attack", size=(2, 4)), Role(name="defend", size=(2, 3))], 13, 3) == 13


def test_a_shorter_off_time_is_advised_when_no_further_basket_can_be_filled_so_well() -> None:
    # By hand: 15 reps with 30 s off are 30 s for each of 24 at three baskets, 40 s at four; 24 reps with 15 s off are 48 s.
    squad = Squad(players=tuple(f"player {at}" for at in range(24)))
    said = standing(drill(3, off=30_000), squad)
    assert said.endswith("with 15 s off it would be 48 s"), said


@pytest.mark.parametrize("missing", ["roles", "squad", "rep"])
def test_without_roles_a_squad_or_a_length_nothing_is_guessed(missing: str) -> None:
    segment = Segment(kind="drill", time=600_000, roles=ONE_ON_ONE) if missing == "rep" else drill()
    assert standing(drill(roles=()) if missing == "roles" else segment, Squad() if missing == "squad" else TWELVE) == ""


def test_the_advice_stands_in_check_with_its_line() -> None:
    session = Session(squad=TWELVE, segment=(drill(),))
    (said,) = [one for one in advice(session, {("segment", 0, "roles"): "t.toml:9"}) if "each plays" in one.text]
    assert str(said).startswith('t.toml:9: segment "Paint touch": each plays about 31 s of 10 min')


def test_the_shipped_sessions_keep_everyone_moving() -> None:
    for path in SESSIONS:
        found = shipped(path)
        assert not [one for one in advice(found.session, found.lines) if "each plays" in one.text]


def test_a_player_has_the_share_of_the_live_time_that_the_floor_has_room_for() -> None:
    assert Play(live=8_000, off=16_000, room=528_000, on=8, players=12).each == 117_333


def test_the_start_screen_tells_it_of_every_drill_with_roles_and_of_all_together() -> None:
    # By hand: at two baskets 23 reps x 8 s x 4 of 12 players = 1 min 1 s; at one 31 s.
    session = Session(squad=TWELVE, segment=(drill(), Segment(kind="water", time=120_000), replace(drill(2), name="Cut")))
    assert sheet(session) == (
        "Paint touch: each plays about 31 s of 10 min; at two baskets it would be 1 min 1 s",
        "Cut: each plays about 1 min 1 s of 10 min; at three baskets it would be 1 min 32 s",
        "In these 2 each plays about 1 min 32 s of 20 min",
    )
    assert sheet(Session(squad=TWELVE, segment=(Segment(kind="water", time=120_000),))) == ()


def test_only_those_who_are_here_share_the_drill() -> None:
    session = Session(squad=TWELVE, segment=(drill(),))
    assert sheet(session, TWELVE.players[:6])[0].startswith("Paint touch: each plays about 1 min 1 s of 10 min")
    assert sheet(session, TWELVE.players[:1]) == ()
    dressed = Squad(players=("Ada", "Bea", "Cleo"), teams=(("blue", ("Ada", "Bea")), ("red", ("Cleo",))))
    assert among(dressed, ("Ada", "Bea")) == Squad(players=("Ada", "Bea"), teams=(("blue", ("Ada", "Bea")),))


def test_smaller_sides_help_when_they_fill_a_further_basket() -> None:
    # Ten play three on three at one basket; three on three at two would take twelve, two on two takes eight.
    threes = tuple(replace(role, size=(3, 3)) for role in ONE_ON_ONE[:2])
    session = Session(squad=Squad(players=TWELVE.players[:10]), segment=(drill(roles=threes, off=0),))
    assert "with one fewer a side, at two baskets it would be" in sheet(session)[0]
    assert sheet(replace(session, squad=TWELVE))[0].partition("; ")[2].startswith("at two baskets")


def test_nothing_is_advised_where_everyone_plays_all_the_time() -> None:
    session = Session(squad=Squad(players=("Ada", "Bea")), segment=(drill(off=0),))
    assert sheet(session) == ("Paint touch: each plays about 8 min 56 s of 10 min",)


def test_in_teams_of_different_sizes_those_of_the_small_one_play_longer() -> None:
    # By hand: 23 reps of 8 s, two of three teams on: 2 min 3 s a team. Of five three are on (1 min 14 s), of four 1 min 32 s.
    teams = tuple((name, TWELVE.players[at : at + size]) for name, at, size in (("blue", 0, 5), ("red", 5, 4), ("white", 9, 3)))
    threes = (*(replace(role, size=(3, 3)) for role in ONE_ON_ONE[:2]), ONE_ON_ONE[2])
    squad = Squad(players=TWELVE.players, teams=teams)
    (said,) = sheet(Session(squad=squad, segment=(replace(drill(roles=threes), teams="squad"),)))
    assert said.startswith("Paint touch: each plays about 1 min 14 s to 2 min 3 s of 10 min")
    even = Squad(
        players=TWELVE.players, teams=tuple((name, TWELVE.players[at : at + 4]) for name, at in (("a", 0), ("b", 4), ("c", 8)))
    )
    (said,) = sheet(Session(squad=even, segment=(replace(drill(roles=threes), teams="squad"),)))
    assert said.startswith("Paint touch: each plays about 1 min 32 s of 10 min")
