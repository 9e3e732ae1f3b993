"""The beat: calls are dated where they arrive, each event is written before it is believed, and nothing stops a practice."""

from collections.abc import Iterable
from datetime import UTC, datetime

from courttimer.clock import HandClock
from courttimer.conductor import NEAR_MS, Conductor, Unheard
from courttimer.plan.model import Rep, Segment, Session, Window
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch
from courttimer.practice.calls import Call
from courttimer.practice.cue import Cue
from courttimer.practice.state import opening

PLAN = Session(
    segment=(
        Segment(kind="warm-up", time=10_000),
        Segment(kind="drill", time=60_000, rep=Rep(live=8_000, off=4_000), window=(Window(name="drive", time=3_000),)),
    )
)


class Ears(Unheard):
    """Notes each wish list."""

    def __init__(self) -> None:
        self.wishes: list[tuple[tuple[Cue, ...], int, str]] = []
        self.ahead = 0
        self.news: list[ev.Event] = []

    def want(self, cues: tuple[Cue, ...], now: int, hush: str) -> None:
        self.wishes.append((cues, now, hush))

    def facts(self) -> Iterable[ev.Event]:
        news, self.news = self.news, []
        return news

    def lead(self) -> int:
        return self.ahead


class Gym:
    """A conductor on a clock wound by hand."""

    def __init__(self) -> None:
        self.clock = HandClock(datetime(2026, 1, 6, 18, tzinfo=UTC))
        self.written: list[ev.Event] = []
        self.ears = Ears()
        self.conductor = Conductor(Branch(opening(PLAN, 0)), self.clock, self.written.append, self.ears)

    def wind(self, ms: int) -> None:
        self.clock.wind(ms)
        self.conductor.beat()

    def told(self, kind: type[ev.Event]) -> list[ev.Event]:
        return [e for e in self.written if type(e) is kind]


def test_what_was_due_before_a_call_happens_before_it() -> None:
    gym = Gym()
    gym.conductor.call(Call(what="go"))
    gym.clock.wind(18_500)  # the warm-up ended and a rep too while nobody beat

    gym.conductor.call(Call(what="hold"))

    assert [type(e) for e in gym.written[-4:]] == [ev.WindowClosed, ev.RepEnded, ev.StretchBegan, ev.Held]


def test_a_refused_call_is_written_down_with_its_reason() -> None:
    gym = Gym()

    made = gym.conductor.call(Call(what="last"))

    assert gym.written == [made]
    assert gym.conductor.view().said == "last: nothing runs yet: go starts the practice."


def test_what_starts_is_heard_a_lead_later_and_what_stops_counts_from_the_press() -> None:
    gym = Gym()
    gym.ears.ahead = 150
    gym.conductor.call(Call(what="go"))
    gym.wind(149)
    assert gym.conductor.branch.now.segment == -1
    gym.wind(1)
    gym.wind(10_000)
    gym.wind(1_000)

    gym.conductor.call(Call(what="outcome"))

    assert [(e.at, e.starts) for e in gym.written if isinstance(e, ev.RepEnded)] == [(11_150, 11_300)]
    assert gym.told(ev.LeadChanged) == [ev.LeadChanged(at=0, lead=150)]


def test_a_second_in_which_nothing_happens_is_written_down() -> None:
    gym = Gym()
    gym.conductor.call(Call(what="go"))
    for _ in range(35):
        gym.wind(100)

    assert [e.at for e in gym.told(ev.Still)] == [1_000, 2_000, 3_000]


def test_a_hold_withdraws_every_wish_and_a_halt_silences_at_once() -> None:
    gym = Gym()
    gym.conductor.call(Call(what="go"))
    gym.wind(12_000)

    gym.conductor.call(Call(what="hold"))
    assert gym.ears.wishes[-2:] == [((), 12_000, "hold"), ((), 12_000, "")]
    gym.conductor.call(Call(what="halt"))
    assert gym.ears.wishes[-2:] == [((), 12_000, "halt"), ((), 12_000, "")]


def test_a_calls_own_tone_is_wished_for_before_what_is_far_ahead_is_worked_out() -> None:
    gym = Gym()
    gym.ears.ahead = 150
    gym.wind(0)
    gym.conductor.call(Call(what="go"))
    near, all_of_them = (wishes for wishes, _, _ in gym.ears.wishes[-2:])

    assert {c.id for c in near} < {c.id for c in all_of_them}
    assert near[0].at == 150
    assert max(c.at for c in near) < NEAR_MS <= max(c.at for c in all_of_them)


def test_what_became_of_the_sound_is_written_down() -> None:
    gym = Gym()
    gym.ears.news = [ev.CueHeard(at=5, by="sound", cue="0.0.go.0", asked=5, played=5.02)]

    gym.wind(10)

    assert gym.told(ev.CueHeard) == [ev.CueHeard(at=5, by="sound", cue="0.0.go.0", asked=5, played=5.02)]


def test_a_stumble_is_told_and_the_next_beat_is_played() -> None:
    gym = Gym()
    turns = iter([False, False, True])

    def want(cues: tuple[Cue, ...], now: int, hush: str) -> None:
        if not gym.conductor.fault:
            raise ZeroDivisionError("planted")

    gym.ears.want = want  # type: ignore[method-assign]  # the fault is planted here
    gym.conductor.put(Call(what="go"))
    seen: list[str] = []

    def stop() -> bool:
        seen.append(gym.conductor.fault)
        return next(turns)

    gym.conductor.run(stop)

    assert "planted" in seen[1]
    assert seen[2] == ""
    assert gym.conductor.branch.now.going == 0 or gym.conductor.branch.now.on


def test_a_suspend_of_the_machine_is_a_hold_from_the_last_beat() -> None:
    gym = Gym()
    gym.conductor.call(Call(what="go"))
    gym.wind(2_000)
    slept = iter([0, 600_000, 0])
    turns = iter([False, False, False, True])
    gym.clock.slept = lambda: next(slept, 0)  # type: ignore[method-assign]  # a machine that slept

    gym.conductor.run(lambda: next(turns))

    assert gym.told(ev.Held) == [ev.Held(at=2_000, by="program", why="asleep")]
    assert [e.away for e in gym.written if isinstance(e, ev.Woke)] == [600_000]


def test_an_event_is_written_before_it_is_believed() -> None:
    gym = Gym()
    believed: list[bool] = []

    def write(e: ev.Event) -> None:
        if isinstance(e, ev.RepBegan):
            believed.append(any(lane.live for lane in gym.conductor.branch.now.lanes))

    gym.conductor = Conductor(Branch(opening(PLAN, 0)), gym.clock, write, gym.ears)
    gym.conductor.call(Call(what="go"))
    gym.wind(30_000)

    assert believed == [False, False]
