"""Advice before a practice: said with its place, and never in the way."""

from dataclasses import replace
from typing import Any

from courttimer.plan.model import Consequence, Outcome, Rep, Role, Score, Segment, Session, Squad, Voice
from courttimer.plan.reading import Reading
from courttimer.rehearsal import rehearse
from courttimer.report.advice import advice
from courttimer.report.told import FILE
from tests.plan.files import DRILL, TUESDAY, reading
from tests.sound.shipped import SESSIONS, reading as shipped


def segments(*minutes: tuple[str, int]) -> tuple[Segment, ...]:
    return tuple(Segment(kind="water" if kind == "water" else "drill", time=length * 60_000) for kind, length in minutes)


def test_a_plain_practice_with_water_gets_no_advice() -> None:
    assert advice(Session(segment=segments(("drill", 20), ("water", 3), ("drill", 20)))) == ()


def test_water_comes_at_least_every_twenty_minutes() -> None:
    # Common practice; AAP 2011 (Pediatrics 128(3):e741) gives amounts for ages 9 to 12 per 20 minutes.
    session = Session(segment=segments(("drill", 12), ("drill", 9), ("drill", 5), ("water", 3), ("drill", 20), ("drill", 1)))
    first, second = advice(session, {("segment", 1): "tuesday.toml:7"})
    assert str(first).startswith('tuesday.toml:7: segment "Drill": 21 min without water when it ends')
    assert second.text.startswith("21 min without water")
    assert "common practice" in first.source


def test_a_practice_longer_than_its_floor_time_is_told_by_how_much() -> None:
    hour = (18 * 3_600_000, 19 * 3_600_000)
    plan = segments(("drill", 20), ("water", 2), ("drill", 20), ("water", 2), ("drill", 17))
    (said,) = advice(Session(floor=hour, clear=120_000, segment=plan))
    assert said.text.startswith("the segments and clearing take 1 h 3 min, 3 min more than the floor time (1 h)")
    shrinks = (*plan[:-1], Segment(kind="drill", time=17 * 60_000, at_least=10 * 60_000))
    (said,) = advice(Session(floor=hour, clear=120_000, segment=shrinks))
    assert said.text.endswith("it fits when segments shrink to their at_least")
    hardly = (*plan[:-1], Segment(kind="drill", time=17 * 60_000, at_least=16 * 60_000))
    (said,) = advice(Session(floor=hour, clear=120_000, segment=hardly))
    assert said.text.endswith("even at their at_least they take 2 min too much: take one out")
    assert advice(Session(floor=hour, clear=60_000, segment=plan[:-1])) == ()


def test_the_evening_of_the_design_gets_no_advice() -> None:
    found = reading(TUESDAY)
    assert advice(found.session, found.lines) == ()



WORDS = "Paint touch. One on one from the wing."
"""Eight words and one stop: at 160 words a minute (common practice) 3.4 s of words, after a second for the tone."""


def announced(setup: int, starts: Any = "by itself", **more: Any) -> Session:
    rep = Rep(live=8_000, starts=starts)
    drill = Segment(kind="drill", name="Paint touch", time=120_000, setup=setup, rep=rep, announce=WORDS)
    return Session(segment=(drill,), voice=Voice(**more))


def test_an_announcement_longer_than_its_set_up_is_told_with_its_line_and_what_is_said_instead() -> None:
    (said,) = advice(announced(5_000), {("segment", 0, "announce"): "tuesday.toml:12"})
    assert str(said) == (
        'tuesday.toml:12: segment "Paint touch": its announcement takes about 4.4 s with the tone, more than there is: '
        'only "Paint touch" is said; give it setup = "6 s", or fewer words'
    )


def test_the_set_up_that_is_advised_is_enough_for_the_advice_and_on_the_tape() -> None:
    assert advice(announced(6_000)) == ()
    for setup, heard in ((6_000, WORDS), (5_000, "Paint touch.")):
        played = rehearse(Reading(announced(setup), {"t.toml": ""}, {}))
        assert [h.placed.text for h in played.tape.heard() if h.placed.cue.name == "where"] == [heard]


def test_without_a_set_up_nothing_can_be_said_before_the_ball_is_live() -> None:
    (said,) = advice(announced(0))
    assert "nothing is said" in said.text


def test_a_wait_for_go_or_horns_alone_leave_nothing_to_say_about_announcements() -> None:
    assert advice(announced(0, "on call")) == ()
    assert advice(announced(0, say="horns")) == ()


def test_a_slow_voice_needs_more_room() -> None:
    assert advice(announced(6_000, pace=110)) != ()


def test_no_announcement_of_the_shipped_sessions_is_too_long() -> None:
    for path in SESSIONS:
        found = shipped(path)
        assert not [one for one in advice(found.session, found.lines) if "announcement" in one.text]


ARITHMETIC = ("the segments and clearing take", "its announcement takes about", "not played yet")
"""Advice that needs no authority but the coach's own figures."""


def test_no_advice_without_a_source() -> None:
    long = (*segments(("drill", 20), ("drill", 21)), replace(announced(0).segment[0], effort=9))
    twelve = Squad(players=tuple("ABCDEFGHIJKL"))
    stood = replace(long[-1], roles=(Role(name="attack"), Role(name="off", plays=False)), time=600_000)
    worst = Session(floor=(0, 60_000), age=8, heat="hot", squad=twelve, segment=(*long, stood))
    found = [one for session in (worst, reading(DRILL).session, reading(TUESDAY).session) for one in advice(session)]
    assert len(found) > 8
    assert all(one.source for one in found)
    assert [one for one in found if one.source == FILE and not any(words in one.text for words in ARITHMETIC)] == []
    assert any("each plays" in one.text and one.source == "common practice" for one in found)


def test_a_consequence_for_which_play_never_stops_is_told() -> None:
    make = Outcome(name="make", points=1)
    rows = Segment(
        kind="drill", time=300_000, rep=Rep(starts="at once"), outcome=(make,), score=Score(row=6, then="again"),
        consequence=Consequence(),
    )  # fmt: skip
    (said,) = advice(Session(segment=(rows,)))
    assert said.text.startswith('play that starts "at once" never stops, so nobody does its consequence')
    for other in (
        replace(rows, score=Score(row=6, then="end drill")), replace(rows, rep=Rep(live=20_000, off=10_000)),
        replace(rows, outcome=(replace(make, ends="rep"),)), replace(rows, consequence=None),
    ):  # fmt: skip
        assert advice(Session(segment=(other,))) == ()


def test_a_race_by_player_of_those_who_score_together_is_told() -> None:
    roles = (Role(name="attack", size=(2, 2)), Role(name="defend", size=(2, 2)))
    basket = Outcome(name="basket", points=1, to="attack", ends="rep")
    race = Segment(
        kind="drill", time=300_000, roles=roles, rep=Rep(live=20_000, off=10_000), outcome=(basket,), score=Score(race=5, by="player"),
    )  # fmt: skip
    (said,) = advice(Session(segment=(race,)))
    assert said.text == 'the players of "attack" score together, so a race by player is won by nobody; write by = "group"'
    for score in (Score(race=5), Score(tally=True, by="player"), Score(race=5, by="player", counted="players")):
        assert advice(Session(segment=(replace(race, score=score),))) == ()
    one = tuple(Role(name=role.name) for role in roles)
    assert advice(Session(segment=(replace(race, roles=one),))) == ()
