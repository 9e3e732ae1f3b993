"""Time in any steps gives the same practice and the same sounds; and the tests that say so can fail."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings, strategies as st

from courttimer import conductor as conductor_file, locations
from courttimer.clock import HandClock
from courttimer.conductor import Conductor, Sound, Unheard
from courttimer.plan.model import Rep, Segment, Session, Window
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, happen
from courttimer.practice.calls import Call
from courttimer.practice.due import next_due
from courttimer.practice.state import opening
from courttimer.sound.hall import Hall
from courttimer.sound.lengths import Lengths
from courttimer.sound.recipes import read as recipes
from courttimer.sound.render import Tape

PLAN = Session(
    segment=(
        Segment(kind="warm-up", time=20_000),
        Segment(kind="drill", time=90_000, setup=10_000, rep=Rep(live=8_000, off=6_000), window=(Window(name="drive", time=3_000),)),
        Segment(kind="water", time=60_000),
        Segment(kind="scrimmage", time=40_000),
    )
)
CALLS: tuple[tuple[int, Call], ...] = (
    (0, Call(what="go")),
    (33_333, Call(what="outcome")),
    (45_001, Call(what="hold")),
    (52_010, Call(what="go")),
    (60_000, Call(what="last")),
    (61_500, Call(what="take back")),
)
ENDS = 240_000
Stamp = Callable[[ev.Event, int], ev.Event]


def played(beats: set[int], stamp: Stamp = lambda e, now: e, sound: Sound | None = None) -> list[ev.Event]:
    """The events of the practice, looked at in these beats; `stamp` may spoil what is written."""
    clock = HandClock(datetime(2026, 1, 6, 18, tzinfo=UTC))
    out: list[ev.Event] = []
    conductor = Conductor(Branch(opening(PLAN, 0)), clock, lambda e: out.append(stamp(e, clock.now())), sound or Unheard())
    calls = dict(CALLS)
    for moment in sorted({*beats, *calls, ENDS}):
        clock.wind(moment - clock.now())
        conductor.beat()
        if moment in calls:
            conductor.call(calls[moment])
    return [e for e in out if e.source != "fact"]


ONCE = played(set())
RECIPES = recipes(locations.sounds() / "tones.toml")
EVERY_MINUTE = set(range(0, ENDS, 60_000))
"""The wishes reach 90 s ahead: nobody beats more seldom."""


def heard(beats: set[int]) -> list[tuple[int, int, str, str]]:
    """From when to when each tone and each word was heard."""
    tape = Tape()
    played({*beats, *EVERY_MINUTE}, sound=Hall(tape, Lengths(RECIPES)))
    return [(h.placed.at, h.until, h.placed.cue.name, h.placed.text) for h in tape.heard()]


@settings(max_examples=30, deadline=None)
@given(st.sets(st.integers(0, ENDS), max_size=60))
def test_time_in_any_steps_brings_the_same_events(beats: set[int]) -> None:
    assert played(beats) == ONCE


def test_a_beat_every_millisecond_changes_nothing() -> None:
    assert played(set(range(35_000, 37_000))) == ONCE


def test_the_practice_reaches_its_end() -> None:
    assert isinstance(ONCE[-1], ev.PracticeEnded)


def test_without_the_safeguard_the_steps_would_show() -> None:
    """The twin: events stamped with the beat that found them, not with the moment at which they were due."""

    def spoiled(e: ev.Event, now: int) -> ev.Event:
        return replace(e, at=now)

    assert played({1_000, 21_000}, spoiled) != played(set(), spoiled)


def test_time_in_any_steps_sounds_the_same() -> None:
    expected = heard(set())
    assert [name for *_, name, text in expected if not text].count("go") == 7

    @settings(max_examples=20, deadline=None)
    @given(st.sets(st.integers(0, ENDS), max_size=40))
    def sounds_the_same(beats: set[int]) -> None:
        assert heard(beats) == expected

    sounds_the_same()


def test_a_practice_in_which_things_happen_at_the_beat_would_sound_otherwise(monkeypatch: pytest.MonkeyPatch) -> None:
    """The twin: what is due happens when a beat finds it, not at its own moment."""

    def at_the_beat(b: Branch, at: int) -> tuple[Branch, list[ev.Event]]:
        out: list[ev.Event] = []
        while (e := next_due(b.now)) is not None and e.at <= at:
            out.append(replace(e, at=at))
            b = happen(b, out[-1])
        return b, out

    monkeypatch.setattr(conductor_file, "catch_up", at_the_beat)
    assert heard({20_100, 30_700}) != heard({20_400, 30_900})
