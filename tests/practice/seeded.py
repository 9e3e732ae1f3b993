"""Evenings from a seed, deeper than a search for the simplest finds them: long rows of calls, mostly where something can happen."""

from random import Random

from courttimer.plan.model import Rep, Segment, Session, Station, Window
from courttimer.practice.calls import What
from tests.practice.evenings import CALLS, OUTCOMES
from tests.practice.oracle import VOID, Press

OFTEN: dict[What, float] = dict.fromkeys(CALLS, 1.0) | {
    "go": 8, "hold": 4, "outcome": 8, "open": 6, "last": 2, "next": 2, "longer": 3, "shorter": 3, "end": 0.15, "space": 4, "forward": 5,
    "back": 3, "take back": 3, "put back": 3,
}  # fmt: skip


def evening(seed: int) -> tuple[Session, list[Press], int]:
    """A session, its calls, and until when it is looked at. The lead may change from call to call, as a speaker's does."""
    r = Random(seed)
    plan = Session(segment=tuple(_segment(r) for _ in range(r.randint(1, 4))))
    leads = r.choice(((0,), (3,), (1,), (0, 3, 6)))
    at = r.randint(0, 3)
    calls = [Press(at=at, what="go", lead=r.choice(leads))]
    for _ in range(r.randint(0, 40)):
        at += r.choice((0, 1, r.randint(0, 4), r.randint(0, 25)))
        what = r.choices(list(OFTEN), list(OFTEN.values()))[0]
        calls.append(Press(at=at, what=what, number=r.choice((0, 0, 1, 2, 3)), lead=r.choice(leads)))
    return plan, calls, at + r.randint(0, 100)


def _segment(r: Random) -> Segment:
    setup, change, time = r.choice((0, 3)), r.randint(0, 4), r.randint(5, 60)
    match r.choices(("drill", "stations", "spots", "plain"), (13, 2, 2, 3))[0]:
        case "drill":
            return _drill(r)
        case "stations":
            station = (Station(name="one"),) * r.randint(1, 3)
            return Segment(kind="stations", time=time, setup=setup, change=change, each=r.randint(2, 9), station=station)
        case "spots":
            spots, rounds = ("top",) * r.randint(1, 3), r.randint(1, 2)
            return Segment(kind="spots", time=time, setup=setup, change=change, within=r.randint(2, 9), spots=spots, rounds=rounds)
    return Segment(kind=r.choice(("warm-up", "water", "talk", "rest")), time=r.randint(3, 30), setup=setup)


def _drill(r: Random) -> Segment:
    rep = Rep(
        live=None if r.random() < 0.15 else r.randint(1, 12), off=r.choice((0, r.randint(1, 6))),
        starts=r.choice(("by itself", "by itself", "on call", "on call", "at once")),
        after_hold=r.choice(("again", "again", "goes on")),
    )  # fmt: skip
    windows = tuple(
        Window(name=name, time=r.choice((VOID, r.randint(1, 14))), opens=r.choice(("with the rep", "on call")))
        for name in ("drive", "shot")[: r.choice((0, 1, 1, 2))]
    )
    return Segment(
        kind=r.choice(("drill", "drill", "scrimmage")), time=r.randint(5, 80), setup=r.choice((0, r.randint(1, 8))),
        rep=None if r.random() < 0.08 else rep, window=windows, outcome=r.choice(OUTCOMES),
    )  # fmt: skip
