"""A squad that is too few for a drill or for the stations is told of before the practice, with what would fit."""

from courttimer.plan.model import Rep, Role, Segment, Session, Squad, Station
from courttimer.report.enough import enough

ATTACK, DEFEND, OFF = Role(name="attack", size=(3, 3)), Role(name="defend", size=(3, 3)), Role(name="off", plays=False)
STATIONS = tuple(Station(name=name) for name in ("Closeouts", "Form", "Handles"))
WEST = (("blue", ("Ada",)),)


def told(players: int, *, teams: tuple[tuple[str, tuple[str, ...]], ...] = (), **keys: object) -> list[str]:
    segment = Segment(kind="drill", time=600_000, rep=Rep(live=8_000, off=8_000), **keys)  # type: ignore[arg-type]  # keys of a segment
    squad = Squad(players=tuple("ABCDEFGHIJKL"[:players]), teams=teams)
    return [one.text for one in enough(Session(squad=squad, segment=(segment,)), {})]


def test_too_few_for_a_drill_with_what_would_fit() -> None:
    assert told(5, roles=(ATTACK, DEFEND, OFF)) == ["3 against 3 takes 6, 5 are here: 2 against 3 would fit"]
    assert told(6, roles=(ATTACK, DEFEND, OFF)) == []


def test_baskets_that_stay_empty() -> None:
    assert told(8, roles=(ATTACK, DEFEND, OFF), places=2) == ["1 of 2 places: 8 are here, each place takes 6"]


def test_fewer_players_than_stations() -> None:
    assert told(2, station=STATIONS) == ["2 in the squad for 3 stations: some are empty all the time"]
    assert told(3, station=STATIONS) == []


def test_fewer_teams_than_roles_and_a_squad_without_names() -> None:
    assert told(6, roles=(ATTACK, DEFEND), teams=WEST) == []
    segment = Segment(kind="drill", time=600_000, teams="squad", roles=(ATTACK, DEFEND), rep=Rep(live=8_000))
    (said,) = enough(Session(squad=Squad(players=("Ada",), teams=WEST), segment=(segment,)), {})
    assert said.text == "2 roles, but only 1 team"
    assert told(0, roles=(ATTACK, DEFEND)) == []
