"""How long each player really plays is told when most of a drill is standing, and with what would change it most."""

import pytest

from courttimer.plan.model import Rep, Role, Segment, Session, Squad
from courttimer.plan.reading import Reading
from courttimer.practice.events import RepBegan
from courttimer.rehearsal import rehearse
from courttimer.report.advice import advice
from courttimer.report.standing import Play, on_the_floor, played, standing
from tests.sound.shipped import SESSIONS
from tests.sound.shipped import reading as shipped

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
