"""The sheet tells every segment at its time, everyone, everything to fetch, and what each drill is."""

from collections import Counter

import pytest
from hypothesis import given, strategies as st

from courttimer.care.words import FIRST_BRIEFLY, briefly
from courttimer.plan.model import (
    Consequence,
    Game,
    Gym,
    Outcome,
    Rep,
    Role,
    Score,
    Segment,
    Session,
    Squad,
    Staff,
    Station,
    Turn,
    Window,
)
from courttimer.report.sheet import HURT, Part, sheet
from tests.report.papers import SHIPPED, made, said, shipped

NAMES = ("Ada", "Bea", "Cleo", "Dina", "Edda", "Fern", "Gwen", "Hana", "Inga", "Juno", "Kaia", "Lina")
STAY_ON = Segment(
    kind="drill", name="Stay on", time=720_000, at_least=480_000, setup=60_000, effort=7, court="half", teams="squad",
    roles=(Role(name="attack", size=(3, 3)), Role(name="defend", size=(3, 3)), Role(name="off", plays=False, does="Passing")),
    rule="Score and you stay on.", announce="Stay on. Three on three.", reminders=("Talk.", "Look."), gear=(("balls", 2),),
    rep=Rep(starts="on call", live=24_000, off=5_000, turn=Turn(how="advance")),
    window=(Window(name="closely guarded", time=5_000, opens="on call"),),
    outcome=(Outcome(name="basket", points=1, to="attack"), Outcome(name="stop")),
    score=Score(race=7, win_by=2, by="team", counted="players", cap=300_000),
    consequence=Consequence(pays="others", time=20_000, say="Line and back."),
)  # fmt: skip
STATIONS = Segment(
    kind="stations", name="Skills", time=600_000, each=240_000, change=45_000,
    station=(
        Station(name="Closeouts", lead="Timo", rule="Hand up.", gear=(("balls", 4), ("cones", 3)), rep=Rep(live=20_000, off=20_000)),
        Station(name="Form", gear=(("balls", 6),)),
    ),
)  # fmt: skip


def one(segment: Segment, squad: Squad = Squad(players=NAMES)) -> Part:  # noqa: B008 - a frozen value
    return sheet(Session(squad=squad, segment=(segment,))).parts[0]


def lines(part: Part) -> list[tuple[str, str]]:
    return [(line.label, line.text) for line in part.lines]


def test_a_drill_is_told_with_its_rule_first_and_all_that_belongs_to_it() -> None:
    part = one(STAY_ON)

    assert part.title == "Stay on"
    assert part.aside.startswith("half court · effort 7 · may shrink to 8 min · each plays about ")
    assert part.under == ("12 min", "balls 2")
    assert lines(part) == [
        ("", "Score and you stay on."),
        ("say", "“Stay on. Three on three.”"),
        ("remind", "Talk. · Look."),
        ("roles", "attack 3 · defend 3 · off: Passing"),
        ("clock", "1 min set-up · 24 s live, 5 s off · each rep on call · turn: advance · closely guarded 5 s on call"),
        ("score", "first to 7 · win by 2 · 5 min at the most · by team · players count aloud; keys 1 basket +1 attack · 2 stop"),
        ("pays", "others, 20 s: Line and back."),
    ]


def test_stations_are_told_each_with_who_leads_and_what_it_needs() -> None:
    assert lines(one(STATIONS)) == [
        ("clock", "4 min at each of 2 stations, 45 s to change"),
        ("1", "Closeouts, Timo leads — Hand up. — 20 s live, 20 s off — balls 4, cones 3"),
        ("2", "Form — balls 6"),
    ]


def test_spots_and_games_are_told() -> None:
    spots = Segment(kind="spots", time=60_000, spots=("top", "left wing"), shots=10, within=30_000, rounds=2)
    game = Game(clock=120_000, score=(("blue", 41), ("red", 44)), ball="blue")

    assert lines(one(spots)) == [("spots", "top, left wing · 10 shots each · 30 s each · 2 rounds")]
    assert lines(one(Segment(kind="scrimmage", time=60_000, game=game))) == [("game", "clock 2 min · blue 41 : red 44 · ball blue")]


def test_a_water_is_one_line() -> None:
    part = one(Segment(kind="water", time=120_000))

    assert (part.title, part.under, part.lines, part.pause) == ("Water, 2 min", (), (), True)


def test_standing_time_is_told_where_some_wait() -> None:
    """24 s live of 29 s, eleven minutes: 22 reps of three on three among twelve, so 264 s each, told to ten seconds."""
    assert one(STAY_ON).aside.replace("\N{NO-BREAK SPACE}", " ").endswith(" · each plays about 4 min 20 s")
    assert "each plays" not in one(STAY_ON, Squad(players=NAMES[:6])).aside


def test_each_thing_is_fetched_in_the_most_that_is_needed_at_a_time() -> None:
    warm_up = Segment(kind="warm-up", name="Lanes", time=60_000, gear=(("balls", 6),))
    session = Session(squad=Squad(teams=(("blue", ("Ada", "Bea")), ("red", ("Cleo",)))), segment=(warm_up, STAY_ON, STATIONS))

    assert sheet(session).fetch == (("balls 10", "Skills"), ("cones 3", "Skills"), ("bibs", "2 blue, 1 red"))


GEAR = st.dictionaries(st.sampled_from(("balls", "cones", "bands")), st.integers(1, 9), max_size=3).map(lambda d: tuple(d.items()))


@given(st.lists(st.tuples(GEAR, st.lists(GEAR, max_size=3)), min_size=1, max_size=5))
def test_the_peak_of_gear_is_that_of_a_count_minute_by_minute(plan: list[tuple[tuple[tuple[str, int], ...], list[object]]]) -> None:
    segments = tuple(
        Segment(kind="stations", time=60_000, gear=gear, station=tuple(Station(name="x", gear=g) for g in stations))  # type: ignore[arg-type]  # as drawn
        for gear, stations in plan
    )
    most: Counter[str] = Counter()
    for segment in segments:
        now: Counter[str] = Counter()
        for gear in (segment.gear, *(station.gear for station in segment.station)):
            for thing, count in gear:
                now[thing] += count
        most |= now

    assert dict(label.rsplit(" ", 1) for label, _ in sheet(Session(segment=segments)).fetch) == {t: str(n) for t, n in most.items()}


@pytest.mark.parametrize("name", SHIPPED)
def test_the_times_of_day_are_the_sums_of_the_times_before(name: str) -> None:
    session = shipped(name)
    at, moments = (session.floor or (0, 0))[0], []
    for segment in session.segment:
        h, m, s = at // 3_600_000, at // 60_000 % 60, at // 1_000 % 60
        moments.append(f"{h}:{m:02d}" + (f":{s:02d}" if s else ""))
        at += segment.time

    assert [part.at for part in made(name).parts] == moments


def test_another_start_moves_every_time_and_the_end_of_the_floor_time() -> None:
    page = made("team-practice", 19 * 3_600_000 + 30 * 60_000)

    assert (page.hours, page.parts[0].at, page.parts[1].at) == ("19:30 – 20:45", "19:30", "19:38")
    assert page.ends.startswith("20:38  the last segment is over; 3 min to clear")


def test_without_floor_time_and_start_the_times_are_since_go() -> None:
    page = sheet(Session(segment=(Segment(kind="talk", time=90_000), Segment(kind="talk", time=3_600_000), STAY_ON)))

    assert [part.at for part in page.parts] == ["0:00", "1:30", "1:01:30"]
    assert page.hours == "1 h 13 min 30 s"


def test_minutes_too_many_for_the_floor_are_told() -> None:
    session = Session(floor=(0, 600_000), clear=60_000, segment=(STAY_ON,))

    assert sheet(session).ends.endswith("3 min too much for the floor time!")


@pytest.mark.parametrize("name", SHIPPED)
def test_everyone_every_word_and_the_card_are_on_it(name: str) -> None:
    session, text = shipped(name), " ".join(said(made(name)))
    wanted = [*session.squad.players, *session.staff.coaches, session.gym.address, session.gym.aed, session.gym.call, FIRST_BRIEFLY]
    wanted += briefly(len(session.squad.players))
    for segment in session.segment:
        wanted += [segment.title, segment.rule, segment.announce, *segment.reminders]
        wanted += [w for station in segment.station for w in (station.name, station.lead, station.rule)]

    assert [word for word in wanted if word not in text] == []


def test_who_begins_where_is_that_of_the_practice_itself() -> None:
    baskets = [line.text for part in made("team-practice").parts for line in part.lines if line.label == "baskets"]

    assert baskets == [
        "1 Ada – Edda – Inga · 2 Bea – Fern – Juno · 3 Cleo – Gwen – Kaia · 4 Dina – Hana – Lina"
    ]


def test_who_begins_at_a_station_is_told_with_it() -> None:
    stations = [line.text for part in made("first-practice").parts for line in part.lines if line.label.isdigit()]

    assert stations == [
        "Form shooting, Timo leads — 5 s live, 3 s off — begin: Ada, Cleo, Edda, Gwen, Inga",
        "Handles, Mira leads — Eyes up. — begin: Bea, Dina, Fern, Hana",
    ]


def test_whoever_wears_no_bib_is_named_too() -> None:
    squad = Squad(players=("Ada", "Bea", "Cleo"), teams=(("blue", ("Bea",)),))
    page = sheet(Session(squad=squad, staff=Staff(coaches=("Mira",)), gym=Gym(aed="office wall")))

    assert page.teams == (("blue", "Bea"), ("no bib", "Ada, Cleo"))
    assert (page.under, page.card) == ("With Mira · 3 players", (HURT, ("AED", "office wall")))
