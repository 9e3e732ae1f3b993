"""Who worked when, counted from the lines of a journal alone: no state, no clocks, only what was written down.

For practices without take back, and without holds in play that never stops.
"""

from collections.abc import Iterable, Iterator
from random import Random

from courttimer.plan.model import Consequence, Outcome, Rep, Role, Score, Segment, Session, Squad, Turn
from courttimer.practice import events as ev
from tests.practice.oracle import Press

NAMES = tuple("ABCDEFGHIJKL")
Names = tuple[str, ...]
Span = tuple[int, int, int | None]
"""Start, end, effort."""


def work(plan: Session, journal: Iterable[ev.Event]) -> dict[str, list[Span]]:
    """Each player's live stretches and consequences."""
    count = _Count(plan)
    for e in journal:
        count.take(e)
    return count.found


class _Count:
    """What of a journal has been read."""

    def __init__(self, plan: Session) -> None:
        self.plan = plan
        self.found: dict[str, list[Span]] = {}
        self.segment = plan.segment[0]
        self.units: dict[str, Names] = {}
        self.on: Names = ()
        self.pays: Names = ()
        self.working: Names = ()
        self.since = 0
        self.live = False

    def take(self, e: ev.Event) -> None:
        for name in self.working:
            if e.at > self.since:
                self.found.setdefault(name, []).append((self.since, e.at, self.segment.effort))
        self.since = e.at
        match e:
            case ev.SegmentBegan():
                self.segment, self.on, self.units = self.plan.segment[e.segment], (), {}
            case ev.LinedUp():
                self.units = dict(e.units)
                self.on = self._playing(e)
            case ev.Turned():
                self.on = self._playing(e)
            case ev.TargetReached():
                self.pays = e.pays
        if isinstance(e, ev.RepBegan | ev.RepEnded):
            self.live = isinstance(e, ev.RepBegan)
        if isinstance(e, ev.RepEnded | ev.StretchBegan | ev.SegmentEnded):
            self.working = self.pays if isinstance(e, ev.StretchBegan) and e.stretch == "consequence" else ()
        if self.live:
            self.working = self.on if self.segment.roles else self.plan.squad.players

    def _playing(self, e: ev.LinedUp | ev.Turned) -> Names:
        plays = {role.name for role in self.segment.roles if role.plays}
        sides = [name for place in e.standing for role, names in place if role in plays for name in names]
        return tuple(name for side in sides for name in self.units.get(side, (side,)))


def gaps(spans: Iterable[Span]) -> Iterator[tuple[Span, int]]:
    """Each run of work that touches, as long as it was in all, and the rest until the next; work of effort 3 and less is rest."""
    runs: list[Span] = []
    for start, end, effort in sorted(one for one in spans if one[2] is None or one[2] > 3):
        if runs and start <= runs[-1][1]:
            efforts = [x for x in (runs[-1][2], effort) if x is not None]
            runs[-1] = (runs[-1][0], max(end, runs[-1][1]), max(efforts, default=None))
        else:
            runs.append((start, end, effort))
    yield from ((one, runs[at + 1][0] - one[1]) for at, one in enumerate(runs[:-1]))


def practice(seed: int) -> tuple[Session, list[Press]]:
    """Drills in which some wait, with targets and consequences, and the outcomes that are called in them."""
    r = Random(seed)
    players = NAMES[: r.randint(2, 12)]
    plan = tuple(_segment(r, len(players)) for _ in range(r.randint(1, 3)))
    calls = [Press(at=0, what="go")]
    for at in sorted(r.sample(range(1, sum(one.time for one in plan) // 1_000), r.randint(0, 12))):
        calls.append(Press(at=at * 1_000, what="outcome", number=r.randint(0, 1)))
    return Session(squad=Squad(players=players), segment=plan), calls


def _segment(r: Random, players: int) -> Segment:
    if r.random() < 0.15:
        return Segment(kind=r.choice(("water", "talk")), time=r.randint(30, 90) * 1_000)
    most = max(1, min(3, players // 2))
    size = r.randint(1, most)
    roles = (Role(name="attack", size=(size, size)), Role(name="defend", size=(size, size)), Role(name="off", plays=False))
    rep = Rep(live=r.randint(3, 40) * 1_000, off=r.randint(0, 40) * 1_000, turn=Turn(how=r.choice(("fair", "advance", "swap", ""))))
    pays = r.random() < 0.5
    return Segment(
        kind="drill", time=r.randint(60, 240) * 1_000, setup=r.choice((0, 10_000)), effort=r.choice((None, 2, 5, 6, 7, 8, 9, 10)),
        roles=roles if players >= 2 * size and r.random() < 0.8 else (), rep=rep,
        outcome=(Outcome(name="basket", points=1, to="attack", ends="rep"),),
        score=Score(race=2, by="player", then="again") if pays else None,
        consequence=Consequence(pays="others", time=10_000) if pays else None,
    )  # fmt: skip
