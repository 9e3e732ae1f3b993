"""The event for a calendar, read back by the icalendar library, and its lines counted as RFC 5545 counts them."""

from datetime import datetime, timedelta
from math import ceil

import pytest
from hypothesis import given, strategies as st
from icalendar import Calendar, Event

from courttimer.plan.model import Gym, Segment, Session, Squad
from courttimer.report.calendar import When, calendar, escaped, folded, plan
from courttimer.report.sheet import sheet
from tests.report.papers import SHIPPED, made, shipped

WHEN = When("20261201T180000", "20261201T191500", "20261125T080000Z", "20261201T180000-1@courttimer")


def read(text: str) -> Event:
    (event,) = Calendar.from_ical(text.encode()).events
    return event


@pytest.mark.parametrize("name", SHIPPED)
def test_a_session_read_back_is_the_event_that_was_meant(name: str) -> None:
    event = read(calendar(made(name), WHEN))

    assert (event.start, event.end) == (datetime(2026, 12, 1, 18), datetime(2026, 12, 1, 19, 15))  # noqa: DTZ001 - floating is meant
    assert event.decoded("dtstamp").isoformat() == "2026-11-25T08:00:00+00:00"
    assert (str(event["uid"]), str(event["summary"])) == (WHEN.uid, shipped(name).title)
    assert str(event["description"]) == plan(made(name))
    assert str(event["location"]) == shipped(name).gym.address


def test_it_reminds_an_hour_before_or_as_asked_or_not_at_all() -> None:
    for remind, minutes in ((3_600_000, 60), (900_000, 15), (90_000, 1.5)):
        (alarm,) = read(calendar(made("team-practice"), WHEN._replace(remind=remind))).walk("VALARM")
        assert (str(alarm["action"]), alarm.decoded("trigger")) == ("DISPLAY", -timedelta(minutes=minutes))
    assert read(calendar(made("team-practice"), WHEN._replace(remind=0))).walk("VALARM") == []


def test_the_plan_has_every_segment_at_its_time_and_what_to_bring() -> None:
    lines = plan(made("team-practice")).split("\n")

    assert lines[:3] == ["18:00  Lanes, 8 min", "18:08  Paint touch, 9 min", "18:17  Water, 2 min"]
    assert lines[-1] == "Bring: balls 6, bibs (4 blue, 4 red, 4 white)"
    assert len(lines) == len(shipped("team-practice").segment) + 1


@pytest.mark.parametrize("name", SHIPPED)
def test_no_player_is_named_in_it(name: str) -> None:
    text = calendar(made(name), WHEN).replace("\r\n ", "")

    assert [player for player in shipped(name).squad.players if player in text] == []


def test_the_text_of_the_rfcs_example_is_written_as_there() -> None:
    """RFC 5545, section 3.3.11, the example."""
    text = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."

    assert escaped(text) == "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared."
    assert escaped("a;b,c\\d: e") == "a\\;b\\,c\\\\d: e"


@pytest.mark.parametrize("octets", [1, 75, 76, 149, 150, 223, 224, 1000])
def test_a_line_is_folded_into_as_many_as_the_rule_gives(octets: int) -> None:
    """Section 3.1: 75 octets, then 74 behind the space."""
    lines = folded("x" * octets).removesuffix("\r\n").split("\r\n")

    assert len(lines) == 1 + max(ceil((octets - 75) / 74), 0)


TEXT = st.text(st.characters(codec="utf-8"), max_size=300)


@given(TEXT)
def test_any_text_is_folded_in_octets_and_comes_back_whole(text: str) -> None:
    session = Session(title=text or "x", gym=Gym(address=text), squad=Squad(), segment=(Segment(kind="talk", name=text, time=60_000),))
    written = calendar(sheet(session), WHEN).encode()
    lines = written.removesuffix(b"\r\n").split(b"\r\n")

    assert max(map(len, lines)) <= 75
    assert all(line.decode() for line in lines)
    assert b"\n" not in b"".join(lines)
    kept = "".join(c for c in text.replace("\r\n", "\n") if c in "\t\n" or (ord(c) >= 32 and ord(c) != 127))
    assert str(read(written.decode())["description"]).split("  ", 1)[1] == f"{kept if text else 'Talk'}, 1 min"
