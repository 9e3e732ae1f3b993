"""Advice about rest, water, heat and length: told at its place, with its source, and never without one."""

import inspect
from dataclasses import replace
from pathlib import Path

import pytest

from courttimer.__main__ import main
from courttimer.care import climate, heat, length, lightning, load, rest, sources, water, words
from courttimer.care.words import CAUTIONS, FIRST
from courttimer.plan.model import Consequence, Heat, Rep, Role, Score, Segment, Session, Squad, Station, Turn
from courttimer.report.care_advice import beside, care_advice, cautions_for, week_advice
from courttimer.report.told import FILE, Advice
from tests.plan.files import mistakes, reading

MIN = 60_000


def told(session: Session) -> tuple[Advice, ...]:
    return care_advice(session, {})


def bouts(effort: int, live: int, off: int, **more: object) -> Segment:
    return replace(Segment(kind="drill", time=10 * MIN, effort=effort, rep=Rep(live=live, off=off)), **more)  # type: ignore[arg-type]  # any field


def practice(minutes: int, **more: object) -> Session:
    """Twenty minutes of drill and four of water, as often as it takes."""
    waters = tuple(Segment(kind="drill" if at % 2 == 0 else "water", time=(20, 4)[at % 2] * MIN) for at in range(minutes // 12))
    return replace(Session(segment=waters), **more)  # type: ignore[arg-type]  # any field


def test_off_time_that_is_short_is_told_with_what_is_missing_and_a_cure_that_cures() -> None:
    (said,) = told(Session(segment=(bouts(8, 20_000, 25_000),)))
    assert str(said) == (
        'segment "Drill": 20 s live at effort 8 want 40 s of rest, 15 s more than there are; '
        'write off = "40 s", or rest = "auto" (common practice)'
    )
    assert told(Session(segment=(bouts(8, 20_000, 40_000),))) == ()
    assert told(Session(segment=(bouts(8, 20_000, 25_000, rest="auto"),))) == ()


def test_rest_after_sprints_is_called_quality() -> None:
    (said,) = told(Session(segment=(bouts(9, 15_000, 30_000),)))
    assert said.text.endswith('write off = "45 s", or rest = "auto": for quality, not safety')
    assert "Table 3.6" in said.source


def test_turns_count_as_rest_where_a_role_waits_and_turns_are_even() -> None:
    five = (Role(name="five", size=(5, 5)), Role(name="off", plays=False))
    squad = Squad(players=tuple("ABCDEFGHIJKL"))
    in_line = Rep(live=16_000, off=13_000, turn=Turn(how="advance"))
    assert told(Session(squad=squad, segment=(bouts(8, 0, 0, rep=in_line, roles=five),))) == ()
    assert len(told(Session(squad=squad, segment=(bouts(8, 0, 0, rep=in_line, roles=five[:1]),)))) == 1
    (said,) = told(Session(squad=squad, segment=(bouts(8, 0, 0, rep=replace(in_line, off=5_000), roles=five),)))
    assert 'write off = "8 s"' in said.text


def test_water_advice_tells_the_amount_for_the_youngest_and_that_thirst_goes_first() -> None:
    (said,) = told(Session(age=10, segment=(Segment(kind="drill", time=25 * MIN),)))
    assert "in every 20 min, for 100 to 250 mL every 20 min each; whoever is thirsty drinks at any time" in said.text
    assert "128(3):e741" in said.source


def test_water_comes_sooner_for_the_young_and_when_it_is_hot() -> None:
    sixteen = (Segment(kind="drill", time=16 * MIN),)
    assert told(Session(age=12, segment=sixteen)) == ()
    assert "every 15 min" in told(Session(age=8, segment=sixteen))[0].text
    assert any("every 15 min" in one.text for one in told(Session(heat="hot", segment=sixteen)))


def test_a_practice_longer_than_its_age_should_have_is_told() -> None:
    assert told(practice(72, age=10)) == ()
    (said,) = told(practice(96, age=10))
    assert said.text == (
        "1 h 36 min is 21 min more than age 10 should practise at a time; 2 practices and at most 5 h a week, with 2 rest days"
    )
    assert told(practice(96, age=30)) == ()


def test_above_the_last_level_the_advice_is_not_to_practise() -> None:
    said = told(practice(48, region=3, heat=Heat(wbgt=33.5)))
    assert said[0].text.startswith("measured WBGT 33.5 °C (92.3 °F): level 4 of 4; do not practise")
    assert not any("breaks" in one.text for one in said)


def test_heat_asks_for_breaks_less_length_no_conditioning_and_no_consequences() -> None:
    plan = (*practice(72).segment, bouts(9, 15_000, 45_000, consequence=Consequence(time=10_000)))
    said = " / ".join(str(one) for one in told(Session(region=3, heat=Heat(wbgt=33.0), segment=plan)))
    assert "4 breaks of 5 min in every hour" in said
    assert "in this heat a practice lasts 1 h at the most; this one is 22 min longer" in said
    assert "waters and rests take 12 min in all; in this heat 15 min 20 s more are asked for" in said
    assert "no conditioning in this heat" in said
    assert "take the consequence out" in said


def test_at_the_first_level_of_heat_losers_may_pay_and_at_the_second_not() -> None:
    plan = (*practice(48).segment, bouts(5, 15_000, 15_000, consequence=Consequence(time=10_000)))
    said = {wbgt: [str(one) for one in told(Session(region=3, heat=Heat(wbgt=wbgt), segment=plan))] for wbgt in (28.0, 31.0)}
    assert any("level 1 of 4" in one for one in said[28.0])
    assert not any("nobody pays" in one for one in said[28.0])
    assert any("level 2 of 4" in one for one in said[31.0])
    assert any("nobody pays: take the consequence out" in one for one in said[31.0])


def test_it_is_asked_whether_the_players_are_used_to_the_heat() -> None:
    for said, asked in ((Heat(wbgt=28.0), True), (Heat(wbgt=28.0, first_week=True), False), (Heat(wbgt=20.0), False), ("hot", False)):
        found = [one for one in told(practice(48, region=3, heat=said)) if "first hot week" in one.text]
        assert bool(found) == asked


def test_the_week_is_advised_on_with_its_sources() -> None:
    hour = 60 * MIN
    first, second, third = week_advice(Session(age=13), [[2 * hour]] * 7)
    assert str(first).startswith("week: 7 practices in seven days; at age 13 4 at the most (NBA and USA Basketball")
    assert second.text.startswith("14 h in seven days; at age 13 10 h at the most")
    assert third.text.startswith("0 days without practice")
    assert first.care
    assert week_advice(Session(age=13), [[hour], [], [], [], [], [], [hour]]) == ()


def test_a_limit_that_is_just_kept_is_kept() -> None:
    hour = (*practice(48).segment, Segment(kind="rest", time=12 * MIN))
    assert not any("at the most" in one.text for one in told(Session(region=3, heat=Heat(wbgt=33.0), segment=hour)))
    longest = (*practice(72).segment, Segment(kind="cool-down", time=3 * MIN))
    assert told(Session(age=10, segment=longest)) == ()
    assert len(told(Session(age=10, segment=(*longest, Segment(kind="cool-down", time=MIN))))) == 1


def test_a_cool_gym_gets_no_advice_about_heat() -> None:
    assert told(practice(48, heat=Heat(air=20.0, humidity=50))) == ()


EVERY = Session(
    age=8,
    heat="hot",
    segment=(bouts(8, 20_000, 5_000, time=130 * MIN, consequence=Consequence()), bouts(9, 5_000, 5_000)),
)


HEATS = (None, "hot", Heat(wbgt=27.0), Heat(wbgt=33.0), Heat(wbgt=40.0), Heat(air=35.0, humidity=45, first_week=True))


@pytest.mark.parametrize("said", HEATS)
@pytest.mark.parametrize("age", [None, 8, 10, 16, 40])
@pytest.mark.parametrize("region", [None, 1, 2, 3])
def test_no_advice_about_care_without_a_source(said: Heat | str | None, age: int | None, region: int | None) -> None:
    every = told(replace(EVERY, heat=said, age=age, region=region))
    assert len(every) >= 3
    assert all(one.source != FILE for one in every)
    assert all(one.source and one.care for one in every)
    assert cautions_for(every)
    assert cautions_for(()) == ()


def test_every_source_names_its_work_and_says_when_it_is_from_memory() -> None:
    rooms = (climate, heat, length, lightning, load, rest, sources, water)
    every = [one for room in rooms for _, one in inspect.getmembers(room) if isinstance(one, sources.Source)]
    every += [*heat.WBGT_SOURCES.values(), *words.SOURCES.values()]
    assert len(every) > 24
    assert all(one.work and (one.clause or one.memory or "common practice" in one.work) for one in every)
    assert [region for region, one in heat.WBGT_SOURCES.items() if "from memory" in str(one)] == [1, 2]


def test_check_shows_the_cautions_beside_advice_about_care_only(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for minutes, cautioned in ((21, True), (20, False)):
        path = tmp_path / "dry.toml"
        path.write_text(f'[[segment]]\nkind = "warm-up"\ntime = "{minutes} min"\n', encoding="utf-8")
        assert main(["check", str(path)]) == 0
        said = capsys.readouterr().out
        assert all((one in said) == cautioned for one in (FIRST, *CAUTIONS))


def test_the_start_screen_says_with_advice_about_care_what_goes_first() -> None:
    dry, other = Advice("too dry", source="common practice", care=True), Advice("too late")
    assert beside((other, dry)) == ("too late", "too dry (common practice)", FIRST)
    assert beside((other,)) == ("too late",)


PLAN = '[[segment]]\nkind = "water"\ntime = "3 min"\n'


def test_heat_is_written_in_either_scale_or_as_one_word() -> None:
    assert reading(f'heat = "hot"\n{PLAN}').session.heat == "hot"
    for air in ("31 C", "31°C", "87.8 F"):
        found = reading(f'heat = {{ air = "{air}", humidity = 60 }}\nregion = 2\n{PLAN}').session
        assert isinstance(found.heat, Heat)
        assert found.heat.air == pytest.approx(31)
        assert found.region == 2


@pytest.mark.parametrize(
    ("heat", "what"),
    [
        ('{ air = "31", humidity = 60 }', 'write "31 C" or "88 F"'),
        ('{ air = "31 C" }', "humidity is missing"),
        ("{ humidity = 60 }", "air is missing"),
        ("{ first_week = true }", "or a measured wbgt"),
        ('{ wbgt = "90 C" }', "from -10 to 50 °C is expected"),
        ('"cold"', '"hot", or a table in curly brackets, is expected'),
    ],
)
def test_heat_that_cannot_be_is_told_with_what_to_write(heat: str, what: str) -> None:
    (line,) = mistakes(f"heat = {heat}\n{PLAN}")
    assert line.startswith("tuesday.toml:1: heat")
    assert what in line


def test_a_station_whose_rest_is_short_is_named() -> None:
    rested = Station(name="B", rep=Rep(live=20_000, off=40_000))
    clocks = (Station(name="A", rep=Rep(live=20_000, off=5_000)), rested, Station(name="C"))
    stations = Segment(kind="stations", time=12 * MIN, each=4 * MIN, effort=7, station=clocks)
    squad = Squad(players=tuple("ABCDEFGHIJKL"))
    (said,) = told(Session(segment=(stations,), squad=squad))
    assert str(said) == (
        'segment "Stations", station "A": 20 s live at effort 7 want 40 s of rest, 35 s more than there are; '
        'write off = "40 s", or a lower effort (common practice)'
    )
    # Of the four who are at it two play and two wait: two groups take turns, and 10 s between reps make 10 + 20 + 10 of rest.
    waits = (Role(name="two", size=(2, 2)), Role(name="off", plays=False))
    turns = Station(name="A", roles=waits, rep=Rep(live=20_000, off=10_000, turn=Turn(how="advance")))
    assert told(Session(segment=(replace(stations, station=(turns, *clocks[1:])),), squad=squad)) == ()
    assert len(told(Session(segment=(replace(stations, station=(turns, *clocks[1:])),), squad=Squad(players=tuple("ABCDEF"))))) == 1


def test_a_segment_that_may_grow_is_long_without_water_as_it_may_be_at_its_longest() -> None:
    grows = (Segment(kind="drill", time=15 * MIN, at_most=25 * MIN),)
    assert "25 min without water" in told(Session(segment=grows))[0].text
    assert told(Session(segment=(replace(grows[0], at_most=None),))) == ()


def test_a_practice_that_may_grow_into_its_floor_time_is_as_long_as_it_may_be() -> None:
    segments = (*practice(72).segment, Segment(kind="talk", time=MIN, at_most=16 * MIN))
    floor = (18 * 60 * MIN, 18 * 60 * MIN + 90 * MIN)
    assert told(Session(age=10, segment=segments)) == ()
    assert "75 min" not in str(told(Session(age=10, floor=floor, segment=segments)))
    (said,) = told(Session(age=10, floor=floor, clear=2 * MIN, segment=segments))
    assert said.text.startswith("1 h 28 min is 13 min more than age 10 should practise at a time")


def test_a_consequence_is_work_and_wants_its_rest_too() -> None:
    cost = Consequence(pays="losers", time=10_000)
    drill = bouts(8, 14_000, 28_000, consequence=cost, score=Score(race=4, then="again"))
    (said,) = told(Session(segment=(drill,)))
    assert str(said) == (
        'segment "Drill": who pays works 24 s and wants 48 s of rest, 20 s more than there are; '
        'write rest = "auto", or make it shorter (common practice)'
    )
    assert told(Session(segment=(replace(drill, rest="auto"),))) == ()
    assert told(Session(segment=(replace(drill, score=Score(race=4, then="end drill")),))) == ()
    assert told(Session(segment=(bouts(8, 14_000, 48_000, consequence=cost),))) == ()
    assert not any("who pays" in one.text for one in told(Session(heat="hot", segment=(drill,))))
