"""The sessions that come with the program: a coach could run each of them tomorrow."""

from functools import cache
from pathlib import Path

import pytest

from courttimer import locations
from courttimer.care.water import EVERY as WATER_EVERY
from courttimer.plan.model import Segment
from courttimer.plan.reading import Reading, read
from courttimer.plan.times import parse
from courttimer.practice.course import course, from_go
from courttimer.practice.events import PracticeEnded, RepBegan, SegmentBegan, StretchBegan, WindowOpened
from courttimer.practice.pace import estimate
from courttimer.practice.sayings import sayings
from courttimer.practice.state import opening
from courttimer.report.advice import advice
from courttimer.sound.phrases import read as read_phrases
from tests.plan.files import mistakes

SESSIONS = sorted(locations.sessions().glob("*.toml"))
DRILLS = sorted((locations.sessions() / "drills").glob("*.toml"))
SAID_MS = 5_000
"""Nobody listens to more than this at the start of a drill."""

every_session = pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)


@cache
def shipped(path: Path) -> Reading:
    return read(path.name, locations.read(path), locations.reader(path.parent))


def segments(path: Path) -> tuple[Segment, ...]:
    return shipped(path).session.segment


def named(word: str) -> Path:
    return locations.find_session(word)


def planned(path: Path) -> int:
    return sum(segment.time for segment in segments(path))


def test_the_three_that_are_promised_are_there() -> None:
    assert {path.stem for path in SESSIONS} >= {"first-practice", "team-practice", "workout-alone"}


@every_session
def test_it_reads_without_mistakes_and_without_advice(path: Path) -> None:
    assert not advice(shipped(path).session, shipped(path).lines)


@every_session
def test_it_fits_its_floor_time_with_time_in_hand(path: Path) -> None:
    session = shipped(path).session
    assert session.floor is not None
    assert session.clear > 0
    assert planned(path) + session.clear < session.floor[1] - session.floor[0]


@pytest.mark.parametrize(
    ("word", "least", "most"),
    [("first-practice", "4 min", "4 min"), ("team-practice", "60 min", "70 min"), ("workout-alone", "30 min", "30 min")],
)
def test_it_lasts_as_long_as_it_says(word: str, least: str, most: str) -> None:
    assert (parse(least) or 0) <= planned(named(word)) <= (parse(most) or 0)


@every_session
def test_time_alone_brings_every_segment_on_its_planned_moment(path: Path) -> None:
    events = course(from_go(opening(shipped(path).session, 0)))
    begins = [e.at for e in events if isinstance(e, SegmentBegan)]
    assert begins == [sum(one.time for one in segments(path)[:at]) for at in range(len(segments(path)))]
    assert [e.at for e in events if isinstance(e, PracticeEnded)] == [planned(path)]


@every_session
def test_water_comes_at_least_every_twenty_minutes(path: Path) -> None:
    dry = 0
    for segment in segments(path):
        dry = 0 if segment.kind == "water" else dry + segment.time
        assert dry <= WATER_EVERY, segment.title
    assert any(segment.kind == "water" for segment in segments(path))


@every_session
def test_whatever_is_said_is_short(path: Path) -> None:
    said = list(map(read_phrases(locations.sounds()).said, sayings(shipped(path).session)))
    assert len(said) > 10
    assert [text for text in said if estimate(text) > SAID_MS] == []


@every_session
def test_a_set_up_has_room_for_the_announcement_the_rule_and_ready(path: Path) -> None:
    for segment in segments(path):
        if segment.setup and segment.announce:
            assert estimate(segment.announce) + estimate(segment.rule or ".") + 3_000 <= segment.setup, segment.title


@every_session
def test_a_reminder_fits_the_first_third_of_its_off_time(path: Path) -> None:
    for segment in segments(path):
        for reminder in segment.reminders:
            assert segment.rep is not None
            assert estimate(reminder) <= segment.rep.off // 3, reminder


@every_session
def test_reps_fill_their_segment_to_the_last_half_minute(path: Path) -> None:
    for at, segment in enumerate(segments(path)):
        if segment.rep and segment.rep.starts == "by itself":
            assert spare(path, at) <= 30_000, segment.title


def spare(path: Path, at: int) -> int:
    """The ms at the end of a segment that hold no whole rep any more."""
    events = course(from_go(opening(shipped(path).session, 0)))
    begins = sum(one.time for one in segments(path)[:at])
    ends = begins + segments(path)[at].time
    found = [e.at for e in events if isinstance(e, StretchBegan) and e.stretch == "spare" and begins < e.at <= ends]
    return ends - found[0] if found else 0


@every_session
def test_hard_goes_are_rested_twice_as_long_and_sprints_three_times(path: Path) -> None:
    # Common practice for game-like goes, effort to 8: off at least twice the live time, counted per player. Sprints of 15 to 30 s,
    # effort 9 and 10: 1:3 to 1:5, NSCA Essentials of Strength Training and Conditioning, 4th ed., Table 3.6.
    for segment in segments(path):
        rep = segment.rep
        if rep and rep.live and rep.starts == "by itself" and (segment.effort or 0) >= 8:
            groups = 2 if segment.name == "Run and get back" else 1  # two fives take turns
            rest = groups * rep.off + (groups - 1) * rep.live
            assert rest >= (3 if (segment.effort or 0) > 8 else 2) * rep.live, segment.title


def test_the_first_practice_shows_every_way_a_clock_can_run() -> None:
    shown = segments(named("first-practice"))
    events = course(from_go(opening(shipped(named("first-practice")).session, 0)))
    assert {one.kind for one in shown} >= {"warm-up", "drill", "water", "scrimmage", "stations", "cool-down"}
    assert {one.rep.starts for one in shown if one.rep} >= {"by itself", "on call"}
    assert {window.opens for one in shown for window in one.window} == {"with the rep", "on call"}
    assert {e.stretch for e in events if isinstance(e, StretchBegan)} >= {"set-up", "off", "waiting", "on"}
    assert sum(isinstance(e, WindowOpened) for e in events) == 3
    assert [e.lasts for e in events if isinstance(e, RepBegan)].count(None) == 1
    assert shipped(named("first-practice")).session.voice.say == "all"
    assert all(getattr(shipped(named("first-practice")).session.gym, field) for field in ("address", "aed", "call"))


def test_the_first_practice_overrides_lines_of_a_drill_file() -> None:
    found = shipped(named("first-practice"))
    drill = next(one for one in found.session.segment if one.use)
    assert drill.use in found.files
    assert drill.time == 45_000
    assert drill.rep is not None
    assert (drill.rep.live, drill.rep.starts) == (14_000, "on call")


@pytest.mark.parametrize("path", DRILLS, ids=lambda path: path.stem)
def test_every_drill_file_is_used_and_stands_alone(path: Path) -> None:
    uses = {segment.use for one in SESSIONS for segment in segments(one)}
    assert f"drills/{path.name}" in uses
    squad = 'rules = "fiba"\n[squad]\nplayers = ["Ada", "Bea"]\nteams = { blue = ["Ada"], red = ["Bea"] }\n'
    alone = f'{squad}[[segment]]\nuse = "drills/{path.name}"\n'
    assert mistakes(alone, {f"drills/{path.name}": path.read_bytes()}) == ()
