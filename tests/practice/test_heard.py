"""What the players really hear on any evening, through the air and a tape: no word over live play, no two words at once."""

from datetime import UTC, datetime
from itertools import pairwise

from hypothesis import HealthCheck, given, settings, strategies as st

from courttimer import locations
from courttimer.clock import HandClock
from courttimer.conductor import Conductor
from courttimer.plan.model import Session
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call
from courttimer.practice.state import opening
from courttimer.sound.hall import Hall
from courttimer.sound.lengths import Lengths
from courttimer.sound.recipes import read as recipes
from courttimer.sound.render import Heard, Tape
from tests.practice.evenings import CALLS as WHATS
from tests.practice.test_cues import calls, plans

RECIPES = recipes(locations.sounds() / "tones.toml")
FADE_MS = 20
EVENINGS = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def evening(plan: Session, made: list[tuple[int, str]], beat: int) -> tuple[list[ev.Event], tuple[Heard, ...]]:
    """Everything that happened and was heard until five minutes after the last call."""
    clock, tape, out = HandClock(datetime(2026, 1, 6, 18, tzinfo=UTC)), Tape(), list[ev.Event]()
    conductor = Conductor(Branch(opening(plan, 0)), clock, out.append, Hall(tape, Lengths(RECIPES)))
    for gap, what in [(0, "go"), *made, (300_000, "mark")]:
        to = clock.now() + gap
        while clock.now() < to:
            clock.wind(min(beat, to - clock.now()))
            conductor.beat()
        conductor.call(Call(what=next(w for w in WHATS if w == what)))
    return out, tape.heard()


def live(events: list[ev.Event]) -> list[tuple[int, int]]:
    """From when to when the ball was live, with what was taken back as it was on the floor."""
    out, since = [], None
    for e in events:
        if isinstance(e, ev.RepBegan):
            since = e.at
        elif isinstance(e, ev.RepEnded) and since is not None:
            out.append((since, e.at))
            since = None
    return out


@EVENINGS
@given(plans, calls.map(lambda made: [c for c in made if c[1] != "take back"]), st.sampled_from([4_999, 30_000]))
def test_no_word_is_heard_over_live_play(plan: Session, made: list[tuple[int, str]], beat: int) -> None:
    events, heard = evening(plan, made, beat)
    clocked = {i for i, segment in enumerate(plan.segment) if segment.kind in ("stations", "spots")}
    words = [(h.placed.at, h.until - FADE_MS * h.faded, h.placed.cue) for h in heard if h.placed.text]
    for a, b in live(events):
        assert not [c for at, until, c in words if at < b and a < until and c.segment not in clocked], (a, b)


@EVENINGS
@given(plans, calls, st.sampled_from([4_999, 30_000]))
def test_no_two_words_are_heard_at_once(plan: Session, made: list[tuple[int, str]], beat: int) -> None:
    words = [h for h in evening(plan, made, beat)[1] if h.placed.text]
    for one, other in pairwise(words):
        assert one.until - FADE_MS * one.faded <= other.placed.at, (one.placed, other.placed)
