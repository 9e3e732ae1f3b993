"""Between the wishes and a player: what has begun keeps its place, is ducked and cut, and nothing waits for what was silenced."""

from random import Random

import pytest

from courttimer import locations
from courttimer.practice.cue import Cue, Placed
from courttimer.practice.events import CueDropped, Event
from courttimer.sound.hall import Hall
from courttimer.sound.lengths import Lengths
from courttimer.sound.recipes import read
from courttimer.sound.render import Tape
from tests.sound.stations import HORIZON_MS, LENGTHS as STATIONS, stations
from tests.sound.wishes import cue

LENGTHS = Lengths(read(locations.sounds() / "tones.toml"), {"Paint touch.": 800, "Stay on.": 700})


class Ear:
    """A player that remembers the last wish list."""

    def __init__(self) -> None:
        self.placed: dict[str, Placed] = {}

    def want(self, placed: tuple[Placed, ...], *, now: int, hush: str = "") -> None:
        self.placed = {p.text or p.cue.name: p for p in placed}

    def facts(self) -> list[Event]:
        return []

    def lead(self) -> int:
        return 0


def speech(text: str, at: int, until: int) -> Cue:
    return cue(text, at, until=until, sort="speech", text=text)


def test_what_has_begun_stays_while_a_new_tone_ducks_it() -> None:
    ear = Ear()
    hall = Hall(ear, LENGTHS)
    hall.want((speech("Paint touch.", 1000, 9000),), 900, "")
    hall.want((speech("Paint touch.", 1000, 9000), cue("open", 1300)), 1200, "")
    assert (ear.placed["Paint touch."].at, ear.placed["Paint touch."].duck) == (1000, ((1300, 1540),))


def test_what_was_said_is_not_placed_a_second_time_while_it_is_still_wished_for() -> None:
    ear = Ear()
    hall = Hall(ear, LENGTHS)
    for now in range(0, 8000, 500):
        hall.want((speech("Paint touch.", 1000, 9000), speech("Stay on.", 1000, 9000)), now, "")
    assert (ear.placed["Paint touch."].at, ear.placed["Stay on."].at) == (1000, 1950)


def test_nothing_waits_for_words_that_a_call_has_silenced() -> None:
    ear = Ear()
    hall = Hall(ear, LENGTHS)
    hall.want((speech("Paint touch.", 1000, 9000),), 900, "")
    hall.want((speech("Stay on.", 1100, 9000),), 1100, "speech")
    assert ear.placed["Stay on."].at == 1100 + 20 + 150


def test_a_tone_goes_on_through_a_hold_and_is_gone_after_a_halt() -> None:
    for hush, at in (("hold", 1000 + LENGTHS.tone("end") + 150), ("halt", 1100 + 20 + 150)):
        ear = Ear()
        hall = Hall(ear, LENGTHS)
        hall.want((cue("end", 1000),), 900, "")
        hall.want((), 1100, hush)
        hall.want((speech("Stay on.", 1100, 9000),), 1110, "")
        assert ear.placed["Stay on."].at == at


def test_a_cue_without_a_place_is_told_once_with_its_reason() -> None:
    hall = Hall(Ear(), LENGTHS)
    wish = speech("Stay on.", 1000, 1500)
    for now in (900, 1000, 1050, 1600):
        hall.want((wish,), now, "")
    facts = [f for f in hall.facts() if isinstance(f, CueDropped)]
    assert [f.cue for f in facts] == [wish.id]
    assert facts[0].why == "it lasts 0.7 s and there are 0.5 s for it"
    assert not list(hall.facts())


def said_by_stations(seed: int, every: int) -> set[tuple[str, int, str]]:
    """What is heard of four stations in two minutes, looked at every so many ms."""
    cues, tape = stations(Random(seed), heard=False, talk=0.3, until=300_000), Tape()
    hall = Hall(tape, STATIONS)
    for now in range(0, 135_001, every):
        hall.want(tuple(c for c in cues if c.until > now and c.at < now + HORIZON_MS), now, "")
    return {(h.placed.cue.id, h.placed.at, h.placed.text) for h in tape.heard() if h.placed.at < 135_000}


@pytest.mark.parametrize("seed", range(4))
def test_what_four_stations_say_is_the_same_at_two_looks_a_second_as_at_four_a_minute(seed: int) -> None:
    assert said_by_stations(seed, 500) == said_by_stations(seed, 15_000)
