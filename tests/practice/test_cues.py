"""What is wished to be heard: tones at the moments of their events, no word while the ball is live, nothing while the clock stands."""

from dataclasses import replace

from hypothesis import HealthCheck, given, settings, strategies as st

from courttimer.plan.model import Rep, Segment, Session, Station, Voice, Window
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, catch_up
from courttimer.practice.cue import RIGHT_OF_WAY, Cue
from courttimer.practice.cues import upcoming
from courttimer.practice.events import Event
from courttimer.practice.state import State
from tests.practice.evenings import played
from tests.practice.oracle import Press

MANY = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
LONG = 1_200_000
TONED = {
    ev.RepBegan: "go", ev.RepEnded: "end", ev.WindowOpened: "open", ev.WindowClosed: "close", ev.SegmentBegan: "change",
    ev.PracticeEnded: "end",
}  # fmt: skip

seconds = st.integers(1_000, 40_000)
reps = st.builds(
    Rep, live=seconds, off=st.integers(0, 20_000), starts=st.sampled_from(["by itself", "on call", "at once"]),
    after_hold=st.sampled_from(["again", "goes on"]),
)  # fmt: skip
windows = st.builds(
    Window, name=st.just("drive"), time=st.integers(500, 15_000), warning=st.sampled_from([0, 400]),
    opens=st.sampled_from(["with the rep", "on call"]),
)  # fmt: skip
segments = st.one_of(
    st.builds(
        Segment, kind=st.sampled_from(["drill", "scrimmage"]), time=st.integers(20_000, 300_000), setup=st.sampled_from([0, 10_000]),
        rep=reps, window=st.lists(windows, max_size=1).map(tuple), announce=st.just("Come closer."), rule=st.just("Stay low."),
        reminders=st.just(("Low hips.", "Eyes up.")),
    ),
    st.builds(Segment, kind=st.sampled_from(["water", "rest", "talk", "warm-up"]), time=st.integers(20_000, 300_000)),
    st.builds(
        Segment, kind=st.just("stations"), time=st.integers(60_000, 300_000), each=seconds, change=st.integers(0, 60_000),
        station=st.just((Station(name="one"), Station(name="two"))),
    ),
)  # fmt: skip
plans = st.builds(
    Session, segment=st.lists(segments, min_size=1, max_size=3).map(tuple),
    voice=st.builds(Voice, say=st.sampled_from(["all", "few", "horns"])),
)  # fmt: skip
CALLS = ("forward", "forward", "outcome", "hold", "go", "last", "open", "longer", "shorter", "next", "voice", "halt", "take back")
calls = st.lists(st.tuples(st.integers(0, 60_000), st.sampled_from(CALLS)), max_size=8)


def at_a_moment(plan: Session, made: list[tuple[int, str]], rest: int, lead: int = 0) -> tuple[State, int]:
    """The practice some time after these calls, and when that is."""
    at, presses = 0, [Press(at=0, what="go", lead=lead)]
    for gap, what in made:
        at += gap
        presses.append(Press(at=at, what=what, lead=lead))
    return played(plan, presses, at + rest)[0].now, at + rest


def ahead(s: State, until: int) -> list[Event]:
    return catch_up(Branch(s), until)[1]


def live_times(s: State, now: int, until: int) -> list[tuple[int, int]]:
    """From when to when the ball is live from now on, if nobody calls."""
    out, since = [], now if s.lanes and s.lanes[0].live else None
    for e in ahead(s, until):
        if isinstance(e, ev.RepBegan):
            since = e.at
        elif isinstance(e, ev.RepEnded) and since is not None:
            out.append((since, e.at))
            since = None
    return [*out, (since, until)] if since is not None else out


def span(c: Cue) -> tuple[int, int]:
    """The time within which its words lie."""
    return c.at, c.until


@MANY
@given(plans, calls, st.integers(0, 60_000), st.sampled_from([0, 150]))
def test_nothing_is_spoken_while_the_ball_is_live(plan: Session, made: list[tuple[int, str]], rest: int, lead: int) -> None:
    s, now = at_a_moment(plan, made, rest, lead)
    clocked = {i for i, segment in enumerate(plan.segment) if segment.kind in ("stations", "spots")}
    live = live_times(s, now, now + LONG)
    for c in upcoming(s, now, now + LONG):
        if c.sort == "speech" and c.segment not in clocked:
            begins = max(c.at, now)
            assert not any(a <= begins < b for a, b in live), c


@MANY
@given(plans, calls, st.integers(0, 60_000), st.sampled_from(["hold", "halt"]))
def test_nothing_is_to_be_heard_while_the_clock_stands(plan: Session, made: list[tuple[int, str]], rest: int, stop: str) -> None:
    s, now = at_a_moment(plan, [*made, (rest, stop)], 0)
    cues = upcoming(s, now, now + LONG)
    if s.held:
        # The tone of an end that a call has brought at this very moment is still to come; what has begun finishes.
        assert [c for c in cues if c.at > now] == []
        assert [c for c in cues if c.sort == "speech"] == []


@MANY
@given(plans, calls, st.integers(0, 60_000), st.sampled_from([0, 150]))
def test_each_tone_is_at_the_moment_of_its_event(plan: Session, made: list[tuple[int, str]], rest: int, lead: int) -> None:
    s, now = at_a_moment(plan, made, rest, lead)
    events = [e for e in ahead(s, now + LONG) if not (isinstance(e, ev.WindowClosed) and e.why not in ("time", "rep"))]
    tones = [c for c in upcoming(s, now, now + LONG) if c.sort == "tone" and c.name != "warning" and c.at > now + lead]
    expected = {(e.at, e.lane) for e in events if type(e) in TONED and e.at > now + lead}
    resumed = {(e.at, e.lane) for e in events if isinstance(e, ev.HoldEnded)}
    assert expected <= {(c.at, c.lane) for c in tones} <= expected | resumed
    assert all(c.until == c.at for c in tones)


@MANY
@given(plans, calls, st.integers(0, 60_000))
def test_no_two_cues_share_a_name_and_each_has_its_right_of_way(plan: Session, made: list[tuple[int, str]], rest: int) -> None:
    s, now = at_a_moment(plan, made, rest)
    cues = upcoming(s, now, now + LONG)
    assert len({c.id for c in cues}) == len(cues)
    assert all(c.right in RIGHT_OF_WAY for c in cues)
    assert list(cues) == sorted(cues, key=lambda c: (c.at, c.id))
    assert all(bool(c.text or c.says) == (c.sort == "speech") and c.until >= c.at for c in cues), [c for c in cues if c.until < c.at]


@MANY
@given(plans, calls, st.integers(0, 60_000), st.integers(1, 90_000))
def test_a_later_look_wishes_for_what_is_left_of_an_earlier_one(
    plan: Session, made: list[tuple[int, str]], rest: int, later: int
) -> None:
    s, now = at_a_moment(plan, made, rest)
    then = now + later
    after = catch_up(Branch(s), then)[0].now
    earlier = {c for c in upcoming(s, now, now + LONG) if c.at > then}
    assert {c for c in upcoming(after, then, now + LONG) if c.at > then} == earlier


@MANY
@given(plans, calls, st.integers(0, 60_000), st.integers(0, 90_000))
def test_a_shorter_outlook_is_the_beginning_of_a_longer_one(
    plan: Session, made: list[tuple[int, str]], rest: int, horizon: int
) -> None:
    s, now = at_a_moment(plan, made, rest)
    short, long = upcoming(s, now, now + horizon), upcoming(s, now, now + LONG)
    assert {c for c in long if c.until < now + horizon} <= set(short)
    # How much room words have beyond the horizon is not known yet.
    assert {(c.id, c.at) for c in short} <= {(c.id, c.at) for c in long}


def test_a_quiet_practice_has_tones_only() -> None:
    plan = Session(segment=(Segment(kind="drill", time=60_000, rep=Rep(live=8_000, off=4_000)),), voice=Voice(say="all"))
    s, now = at_a_moment(plan, [(1_000, "voice")], 0)
    assert {c.sort for c in upcoming(s, now, now + LONG)} == {"tone"}
    assert {c.sort for c in upcoming(replace(s, voice=True), now, now + LONG)} == {"tone", "speech"}
