"""Beats are no part of what is heard: asked once an event or ten times a second, the same is heard at the same ms."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings, strategies as st

from courttimer import conductor as conducting, locations
from courttimer.clock import HandClock
from courttimer.conductor import Conductor
from courttimer.plan.model import Rep, Segment, Session, Voice, Window
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call, What
from courttimer.practice.cue import Cue
from courttimer.practice.due import next_due
from courttimer.practice.state import opening
from courttimer.sound.hall import Hall
from courttimer.sound.lengths import Lengths
from courttimer.sound.recipes import read
from courttimer.sound.render import Heard, Tape
from tests.sound.wishes import cue

Calls = list[tuple[int, Call]]
RECIPES = read(locations.sounds() / "tones.toml")
LONGEST = 240_000

CALLS: tuple[What, ...] = (
    "go", "go", "hold", "halt", "outcome", "open", "last", "next", "before", "longer", "shorter", "water", "voice", "space",
    "forward", "back", "take back", "put back",
)  # fmt: skip


def evening(session: Session, calls: Calls, beats: Iterable[int] = ()) -> tuple[tuple[Heard, ...], list[ev.CueDropped]]:
    """What is heard of a practice that is looked at in these beats, at everything due, and at least every half minute."""
    clock, tape, events = HandClock(datetime(2026, 1, 6, 18, tzinfo=UTC)), Tape(), list[ev.Event]()
    conductor = Conductor(Branch(opening(session, 0)), clock, events.append, Hall(tape, Lengths(RECIPES)))
    looks = sorted({*beats, *(at for at, _ in calls), *range(0, LONGEST + 1, 30_000)})
    todo = list(calls)
    for look in looks:
        while (due := next_due(conductor.branch.now)) is not None and due.at < look:
            clock.wind(max(due.at - clock.now(), 0))
            conductor.beat()
        clock.wind(look - clock.now())
        conductor.beat()
        while todo and todo[0][0] <= look:
            conductor.call(todo.pop(0)[1])
    return tape.heard(), [e for e in events if isinstance(e, ev.CueDropped)]


def fingerprint(heard: tuple[Heard, ...]) -> list[tuple[object, ...]]:
    return [(h.placed.at, h.until, h.faded, h.placed.cue.id, h.placed.also, h.placed.text, h.placed.duck) for h in heard]


@pytest.fixture(autouse=True, scope="module")
def _every_beat_is_a_look() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(conducting, "AGAIN_MS", 0)
        yield


def reps() -> st.SearchStrategy[Rep]:
    return st.builds(
        Rep,
        live=st.integers(1, 9).map(lambda s: s * 1000),
        off=st.sampled_from((0, 1_000, 3_000, 8_000)),
        starts=st.sampled_from(("by itself", "by itself", "on call", "at once")),
        after_hold=st.sampled_from(("again", "goes on")),
    )


def segments() -> st.SearchStrategy[Segment]:
    window = st.builds(
        Window,
        name=st.just("drive"),
        time=st.sampled_from((900, 3_000)),
        opens=st.sampled_from(("with the rep", "on call")),
        warning=st.sampled_from((None, 500)),
    )
    drill = st.builds(
        Segment,
        kind=st.just("drill"),
        name=st.sampled_from(("Paint touch", "Stay on")),
        time=st.integers(8, 40).map(lambda s: s * 1000),
        setup=st.sampled_from((0, 2_000, 5_000, 12_000)),
        announce=st.sampled_from(("", "Paint touch. One on one from the wing.")),
        rule=st.sampled_from(("", "A foot in the paint within three.")),
        reminders=st.sampled_from(((), ("Low hips.", "Block out."))),
        rep=reps(),
        window=st.one_of(st.just(()), st.tuples(window)),
    )
    plain = st.builds(
        Segment,
        kind=st.sampled_from(("water", "talk", "warm-up")),
        name=st.just(""),
        time=st.sampled_from((4_000, 15_000, 70_000)),
        announce=st.sampled_from(("", "Huddle. One thing that went well.")),
    )
    return st.one_of(drill, drill, plain)


def sessions() -> st.SearchStrategy[Session]:
    voice = st.builds(Voice, say=st.sampled_from(("all", "all", "few")))
    return st.builds(Session, segment=st.lists(segments(), min_size=1, max_size=4).map(tuple), voice=voice)


def presses() -> st.SearchStrategy[Calls]:
    moments = st.one_of(st.integers(1, 160_000), st.integers(1, 160).map(lambda s: s * 1000))
    one = st.tuples(moments, st.sampled_from(CALLS).map(lambda what: Call(what=what)))
    return st.lists(one, max_size=10).map(lambda more: [(0, Call(what="go")), *sorted(more, key=lambda c: c[0])])


def assert_same(session: Session, calls: Calls, beats: Iterable[int]) -> None:
    once, dropped = evening(session, calls)
    often, dropped_too = evening(session, calls, beats)
    assert fingerprint(often) == fingerprint(once)
    assert {(e.cue, e.why) for e in dropped_too} == {(e.cue, e.why) for e in dropped}
    assert not {e.cue for e in dropped} & {h.placed.cue.id for h in once}, "what was heard was not dropped"


@settings(max_examples=25, deadline=None)
@given(sessions(), presses(), st.sets(st.integers(0, LONGEST), max_size=80))
def test_looks_at_random_moments_hear_what_one_look_an_event_hears(session: Session, calls: Calls, beats: set[int]) -> None:
    assert_same(session, calls, beats)


@pytest.mark.long
@settings(max_examples=30, deadline=None)
@given(sessions(), presses(), st.integers(0, 99))
def test_ten_looks_a_second_hear_it_too(session: Session, calls: Calls, first: int) -> None:
    assert_same(session, calls, range(first, LONGEST, 100))


EVENING = Session(
    segment=(
        Segment(kind="drill", name="Paint touch", time=40_000, setup=12_000, announce="One on one.",
                rule="A foot in the paint within three.",
                reminders=("Low hips.",), rep=Rep(live=5_000, off=8_000), window=(Window(name="drive", time=3_000),)),
        Segment(kind="water", time=10_000),
    ),
    voice=Voice(say="all"),
)  # fmt: skip
HELD: Calls = [(0, Call(what="go")), (9_000, Call(what="hold")), (9_500, Call(what="go")), (26_500, Call(what="next"))]


def test_a_look_every_50_ms_hears_the_same_evening() -> None:
    assert_same(EVENING, HELD, range(0, 60_000, 50))
    assert len(evening(EVENING, HELD)[0]) > 10


def test_without_memory_of_what_has_begun_the_looks_would_show(monkeypatch: pytest.MonkeyPatch) -> None:
    """The twin: a hall that forgets at every look what it has begun."""
    want = Hall.want

    def forgetful(hall: Hall, cues: tuple[Cue, ...], now: int, hush: str) -> None:
        want(hall, cues, now, hush)
        hall._placed = {}

    monkeypatch.setattr(Hall, "want", forgetful)
    once, _ = evening(EVENING, HELD)
    often, _ = evening(EVENING, HELD, range(0, 60_000, 250))
    assert fingerprint(often) != fingerprint(once)


def test_what_was_told_once_at_the_start_is_never_told_again_with_more_room() -> None:
    """A rule said in the set-up is not said, and not missed, when the wait for go gives it more room."""
    waits = Segment(kind="drill", time=60_000, setup=12_000, announce="One on one.", rule="Score and you stay on.",
                    rep=Rep(live=5_000, starts="on call"))  # fmt: skip
    heard, dropped = evening(Session(segment=(waits,)), HELD[:1])
    assert [h.placed.cue.name for h in heard].count("rule") == 1
    assert not dropped


def test_next_pressed_at_the_first_word_of_a_rule_leaves_it_unsaid() -> None:
    rule = next(h for h in evening(EVENING, HELD[:1])[0] if h.placed.cue.name == "rule")
    heard, _ = evening(EVENING, [HELD[0], (rule.placed.at, Call(what="next"))])
    assert "rule" not in {h.placed.cue.name for h in heard}


def test_no_words_of_a_pause_spill_into_the_rep_that_ends_it() -> None:
    """One minute is left 0.4 s before a go: there is no room to say so, and it is not said while the ball is live."""
    minute = Segment(kind="drill", time=309_600, rep=Rep(live=20_000, off=5_000))
    heard, _ = evening(Session(segment=(minute,)), HELD[:1], range(0, 260_000, 1_000))
    assert "one minute" not in {h.placed.cue.name for h in heard}


def test_a_rep_that_begins_at_the_early_end_of_another_has_its_own_end() -> None:
    """No off time: the first rep ends early at 3 s, the second begins there, and both horns are heard."""
    drill = Segment(kind="drill", time=20_000, rep=Rep(live=9_000))
    heard, _ = evening(Session(segment=(drill,)), [HELD[0], (3_000, Call(what="outcome"))])
    ends = [h.placed.at for h in heard if "end" in (h.placed.cue.name, *h.placed.also)]
    assert ends[:2] == [3_000, 12_000]


def test_a_call_that_ends_a_segment_at_once_leaves_none_of_its_words_in_the_air() -> None:
    heard, _ = evening(EVENING, [HELD[0], (1, Call(what="before"))])
    assert "-1.0.where.0" not in {h.placed.cue.id for h in heard}
    assert_same(EVENING, [HELD[0], (1, Call(what="before"))], range(0, 60_000, 250))


def test_a_segment_whose_set_up_was_too_short_to_name_it_is_not_announced_when_its_time_is_spare() -> None:
    tight = Segment(kind="drill", name="Paint touch", time=8_000, setup=2_000, rep=Rep(live=9_000))
    heard, _ = evening(Session(segment=(tight,)), HELD[:1])
    assert "where" not in {h.placed.cue.name for h in heard}
    assert_same(Session(segment=(tight,)), HELD[:1], range(0, 60_000, 500))


def wish(text: str, until: int, right: str = "where") -> Cue:
    return replace(cue(text, 1_000, until=until, sort="speech", text=text), right=right)


def test_words_that_are_over_are_not_placed_again_when_their_wish_is_given_more_room() -> None:
    tape = Tape()
    hall = Hall(tape, Lengths(RECIPES, {"Stay on.": 700}))
    for now, until in ((0, 3_000), (2_900, 3_000), (5_000, 9_000), (9_500, 9_000)):
        hall.want(
            (wish("Stay on.", until), wish("Block out.", 9_000, "reminder")) if until == 9_000 else (wish("Stay on.", until),), now, ""
        )
    assert [h.placed.at for h in tape.heard()] == [1_000, 5_000], "and they keep no room from others"


def test_words_that_find_a_place_after_all_are_not_told_as_dropped() -> None:
    hall = Hall(Tape(), Lengths(RECIPES, {"Stay on.": 700, "Go left.": 1_900}))
    for now, wishes in ((0, ("Go left.", "Stay on.")), (1_000, ("Stay on.",)), (2_900, ("Stay on.",)), (3_100, ())):
        hall.want(
            tuple(wish(text, 3_000, "where" if text == "Go left." else "turn") for text in wishes), now, "halt" if now == 1_000 else ""
        )
    assert not list(hall.facts())


def test_the_short_form_stays_short_when_the_long_one_has_become_too_late() -> None:
    """A water of four seconds has room for "Water." behind the counted words, and for no more."""
    assert_same(
        Session(segment=(Segment(kind="water", time=4_000),), voice=Voice(say="all")), [(0, Call(what="go"))], range(0, 6_000, 100)
    )
