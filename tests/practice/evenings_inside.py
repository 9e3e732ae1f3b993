"""Random evenings full of what happens inside a drill and at stations, with times so small that every millisecond can be counted."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from random import Random

import pytest

from courttimer.plan import derived
from courttimer.plan.model import Consequence, Outcome, Rep, Role, Score, Segment, Session, Squad, Station, Turn, Window
from courttimer.practice import events as ev, fold_rep, follows, people_calls, play_calls
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import WHATS, Call
from courttimer.practice.rules import decide
from courttimer.practice.state import opening
from tests.practice import oracle, oracle_inside, oracle_score
from tests.practice.evenings import small
from tests.practice.oracle import Press

TEAMS = (("blue", ("Ada", "Cleo")), ("red", ("Bea", "Dina")))
SQUAD = Squad(players=("Ada", "Bea", "Cleo", "Dina"), teams=TEAMS)
ROLES = (Role(name="attack"), Role(name="defend"))
OFTEN = {
    "outcome": 30, "go": 8, "hold": 5, "open": 4, "turn": 3, "score": 3, "out": 1.5, "late": 0.7, "here": 2, "last": 1, "next": 0.7,
    "longer": 0.7, "halt": 0.7, "mark": 0.5, "end": 0.1, "take back": 4, "put back": 3,
}  # fmt: skip


@contextmanager
def tiny() -> Iterator[None]:
    """The engine's own seconds as the oracle has them, also inside drills."""
    with small(), pytest.MonkeyPatch.context() as patch:
        patch.setattr(play_calls, "ACCEPT_MS", oracle_inside.ACCEPT)
        patch.setattr(people_calls, "WARM_UP_MS", oracle_inside.WARM)
        patch.setattr(fold_rep, "STATION_GRACE_MS", oracle_inside.GRACE)
        patch.setattr(follows, "PAY_MS", oracle_score.PAY)
        patch.setattr(follows, "LEAST_PAY_MS", oracle_score.LEAST_PAY)
        patch.setattr(derived, "parse", lambda text: int(text.removesuffix(" ms")))
        yield


def evening(seed: int) -> tuple[Session, list[Press], int]:
    """A session, its calls, and until when it is looked at."""
    r = Random(seed)
    stations = r.random() < 0.35
    squad = SQUAD if not stations and r.random() < 0.6 else Squad()
    segments = tuple(_stations(r) if stations and r.random() < 0.7 else _drill(r, squad) for _ in range(r.randint(1, 3)))
    plan = Session(segment=segments, squad=squad)
    leads = r.choice(((0,), (0,), (3,), (0, 3)))
    at = r.randint(0, 3)
    calls = [Press(at=at, what="go", lead=r.choice(leads))]
    for _ in range(r.randint(3, 60)):
        at += r.choice((0, 1, r.randint(0, 4), r.randint(0, 12)))
        what = r.choices(list(OFTEN), list(OFTEN.values()))[0]
        name = r.choice(("Ada", "Bea")) if what in ("out", "late", "here") else r.choice(("all", "attack", "defend", "us", "blue", "x"))
        lane = r.choice((-1, 1, 2)) if stations else -1
        calls.append(Press(at=at, what=what, number=r.randint(0, 4), lead=r.choice(leads), lane=lane, who=name))
    return plan, calls, at + r.randint(0, 60)


def _drill(r: Random, squad: Squad) -> Segment:
    teams = bool(squad.teams) and r.random() < 0.85
    roles = ROLES if teams or (not squad.teams and r.random() < 0.5) else ()
    rep, window, outcome, score = _play(r, roles)
    if teams:
        turn = r.choice((Turn(), Turn(), Turn(how="swap"), Turn(how="swap")))
        rep = replace(rep, turn=turn, turn_every=r.choice((None, r.randint(3, 12))) if turn.how else None)
    consequence = None
    if score and r.random() < 0.5:
        consequence = Consequence(pays=r.choice(("others", "losers", "last")), time=r.randint(1, 9))
    return Segment(
        kind="drill", time=r.randint(15, 120), setup=r.choice((0, 0, r.randint(1, 6))), grace=r.choice((0, 0, 1, 3, 4)),
        teams="squad" if teams else "", roles=roles, rep=rep, window=window, outcome=outcome, score=score, consequence=consequence,
    )  # fmt: skip


def _stations(r: Random) -> Segment:
    stations = []
    for n in range(r.randint(1, 3)):
        rep, window, outcome, score = _play(r, ())
        moves = r.random() < 0.85
        one = Station(name=f"station {n}", score=score)
        stations.append(replace(one, rep=rep, window=window, outcome=outcome) if moves else one)
    return Segment(
        kind="stations", time=r.randint(20, 120), setup=r.choice((0, 3)), each=r.randint(8, 40), change=r.randint(0, 5),
        station=tuple(stations),
    )  # fmt: skip


def _play(r: Random, roles: tuple[Role, ...]) -> tuple[Rep, tuple[Window, ...], tuple[Outcome, ...], Score | None]:
    outcomes = r.randint(1, 4)
    names = [f"o{n}" for n in range(outcomes)]
    windows = tuple(_window(r, n, names) for n in range(r.choice((0, 1, 1, 2, 3))))
    open_names = [w.name for w in windows]
    outcome = tuple(_outcome(r, name, names, open_names, roles) for name in names)
    rep = Rep(
        live=None if r.random() < 0.1 else r.randint(2, 20), off=r.choice((0, r.randint(1, 6))),
        starts=r.choice(("by itself", "by itself", "on call", "at once")), after_hold=r.choice(("again", "again", "goes on")),
    )  # fmt: skip
    return rep, windows, outcome, _score(r, names, roles)


def _window(r: Random, n: int, outcomes: list[str]) -> Window:
    before = [f"when w{other} closes" for other in range(n)]
    opens = r.choice(("with the rep", "with the rep", "on call", "every", f"on {r.choice(outcomes)}", *before))
    time = r.choice((oracle.VOID, r.randint(1, 9)))
    every = f"every {r.randint(time, time + 5)} ms"
    runs_out = r.choice(("", *outcomes, "over")) if r.random() < 0.6 else ""
    return Window(name=f"w{n}", time=time, opens=every if opens == "every" else opens, runs_out=runs_out)


def _outcome(r: Random, name: str, others: list[str], windows: list[str], roles: tuple[Role, ...]) -> Outcome:
    def some(names: list[str], share: float) -> str:
        return r.choice(names) if names and r.random() < share else ""

    return Outcome(
        name=name, points=r.choice((0, 1, 1, 2, -1)), to=some([role.name for role in roles], 0.8), only_in=some(windows, 0.3),
        only_after=some([one for one in others if one != name], 0.15), opens=some(windows, 0.2), resets=some(windows, 0.2),
        closes=some(windows, 0.3), breaks=r.random() < 0.25, ends=r.choices(("", "rep", "segment"), (5, 5, 0.3))[0],
        turn=Turn(how="swap") if r.random() < 0.25 else Turn(),
    )  # fmt: skip


def _score(r: Random, names: list[str], roles: tuple[Role, ...]) -> Score | None:
    sort = r.choice(("none", "race", "race", "row", "tally"))
    if sort == "none":
        return None
    by = r.choice(("group", "group", "rival"))
    then = r.choice(("", "again", "again", "end drill", "turn"))
    counted = r.choice(("keys", "keys", "keys", "players"))
    tally = sort == "tally" or r.random() < 0.3
    if sort == "race":
        cap, rival = r.choice((None, None, r.randint(5, 40))), r.randint(1, 2) if by == "rival" else None
        race, win_by = r.randint(1, 5), r.choice((1, 1, 2))
        return Score(race=race, win_by=win_by, cap=cap, by=by, rival=rival, counted=counted, then=then, tally=tally)
    of = tuple(one for one in names if r.random() < 0.3)
    row = r.randint(2, 4) if sort == "row" else None
    return Score(row=row, of=of, by=by, counted=counted, then=then if row else "", tally=tally)


def call(p: Press) -> Call:
    amount = 1 if p.what == "score" else 0
    return Call(what=next(w for w in WHATS if w == p.what), number=p.number, lane=p.lane, who=p.who, amount=amount)


def made(plan: Session, calls: list[Press], until: int, *, start: Branch | None = None) -> tuple[Branch, list[ev.Event]]:
    """The engine's evening: its branch at `until` and its journal, from the beginning or from `start`."""
    b, journal = start or Branch(opening(plan, 0)), list[ev.Event]()
    for p in calls:
        b, brought = catch_up(b, p.at)
        event = decide(b, call(p), p.at, p.lead)
        b = happen(b, event)
        journal += [*brought, event]
        b, brought = catch_up(b, p.at)
        journal += brought
    b, brought = catch_up(b, until)
    return b, journal + brought


def bare(journal: list[ev.Event]) -> list[ev.Event]:
    """Refusals and take backs without their words."""
    return [
        ev.Refused(at=e.at, by=e.by, call="", why="") if isinstance(e, ev.Refused)
        else replace(e, call="") if isinstance(e, ev.TakenBack) else e
        for e in journal
    ]  # fmt: skip
