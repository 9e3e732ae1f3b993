"""Random practices in which everything happens that a report counts, and how they are played: each from a seed."""

import json
from dataclasses import replace
from random import Random
from typing import Any

from courttimer.memory.lines import encode
from courttimer.plan.model import Consequence, Game, Outcome, Rep, Role, Score, Segment, Session, Squad, Station, Turn, Window
from courttimer.practice import events as ev, records
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import Call, What
from courttimer.practice.rules import decide
from courttimer.practice.state import opening

NAMES = tuple("ABCDEFGHIJKL")
OFTEN: dict[What, float] = {
    "go": 9, "hold": 2, "halt": 0.4, "outcome": 22, "open": 2, "turn": 2, "last": 0.7, "next": 0.9, "before": 0.4, "longer": 0.7,
    "shorter": 0.7, "score": 2.5, "take back": 3, "put back": 2, "water": 0.5, "voice": 0.3, "mark": 1, "here": 1, "late": 0.5,
    "out": 0.8, "station": 1.5, "makes": 2, "effort": 1, "space": 3, "forward": 4, "back": 1.5, "end": 0.05,
}  # fmt: skip
SIDES = (*NAMES[:4], "blue", "red", "attack", "defend", "all", "us", "rival", "group 1")


def session(r: Random) -> Session:
    players = NAMES[: r.choice((0, 1, 2, 4, 7, 9, 12))]
    third = max(1, len(players) // 3)
    bibs = (("blue", players[:third]), ("red", players[third : 2 * third]), ("white", players[2 * third :]))
    teams = bibs if len(players) >= 6 else ()
    floor = (18 * 3_600_000, 18 * 3_600_000 + r.randint(60, 900) * 1_000) if r.random() < 0.5 else None
    plan = tuple(_segment(r, len(players), bool(teams)) for _ in range(r.randint(1, 5)))
    return Session(squad=Squad(players=players, teams=teams), segment=plan, floor=floor)


def _segment(r: Random, players: int, teams: bool) -> Segment:
    time, effort = r.randint(20, 180) * 1_000, r.choice((None, 0, 3, 6, 8, 10))
    kind = r.choices(("drill", "stations", "spots", "game", "plain"), (12, 3, 2, 2, 4))[0]
    if kind == "drill":
        return _drill(r, players, teams, time, effort)
    if kind == "game":
        game = Game(clock=r.randint(10, 60) * 1_000, stops=r.random() < 0.7, score=(("blue", 41), ("red", 44)), repeat=r.random() < 0.7)
        outcome = (Outcome(name="basket", points=2, to="blue"), Outcome(name="away", points=2, to="red", ends=r.choice(("", "rep"))))
        return Segment(kind="scrimmage", time=time, setup=5_000, effort=effort, game=game, outcome=outcome, teams="squad" * teams)
    if kind == "spots":
        within = r.choice((None, r.randint(5, 30) * 1_000))
        return Segment(
            kind="spots", time=time, effort=effort, spots=("top", "left", "right")[: r.randint(1, 3)], shots=r.choice((5, 10)),
            within=within, rounds=r.randint(1, 3), setup=r.choice((0, 4_000)), shuffled=r.choice((None, 7)),
        )  # fmt: skip
    if kind == "stations":
        count = r.randint(1, 3)
        one = tuple(_station(r, f"station {n}", players) for n in range(count))
        return Segment(
            kind="stations", time=time, each=r.randint(10, 40) * 1_000, change=r.choice((0, 5_000)), setup=r.choice((0, 4_000)),
            effort=effort, station=one,
        )  # fmt: skip
    return Segment(kind=r.choice(("warm-up", "water", "talk", "rest", "scrimmage", "cool-down")), time=time, effort=effort)


def _rep(r: Random, turn: Turn) -> Rep:
    starts = r.choice(("by itself", "by itself", "on call", "at once"))
    return Rep(
        live=r.choice((None, r.randint(3, 25) * 1_000)), off=r.choice((0, r.randint(1, 20) * 1_000)), starts=starts, turn=turn,
        turn_every=r.choice((None, 15_000)) if starts == "at once" else None, after_hold=r.choice(("again", "goes on")),
    )  # fmt: skip


def _outcomes(r: Random, roles: bool) -> tuple[Outcome, ...]:
    to = ("attack", "defend") if roles else ("", "")
    turn = r.choice((Turn(), Turn(), Turn(how="winners stay"), Turn(how="table", moves=(("attack", "off"), ("off", "attack")))))
    turn = turn if roles else Turn()
    return (
        Outcome(name="paint", closes="drive"),
        Outcome(name="basket", points=1, to=to[0], only_in=r.choice(("", "drive")), ends=r.choice(("", "rep")), turn=turn),
        Outcome(name="stop", points=r.choice((0, 1)), to=to[1], ends="rep", breaks=r.random() < 0.5, say=r.choice(("", "Good."))),
        Outcome(name="miss", breaks=r.random() < 0.5),
    )  # fmt: skip


def _score(r: Random, by: tuple[Any, ...]) -> Score | None:
    if r.random() < 0.2:
        return None
    score = Score(
        by=r.choice(by), then=r.choice(("", "again", "end drill", "turn")), tally=r.random() < 0.5,
        counted=r.choice(("keys", "keys", "keys", "players")), cap=r.choice((None, 30_000)), rival=2,
    )  # fmt: skip
    return replace(score, race=r.randint(1, 4)) if r.random() < 0.6 else replace(score, row=r.randint(2, 3))


def _drill(r: Random, players: int, teams: bool, time: int, effort: int | None) -> Segment:
    size = r.randint(1, max(1, min(3, players // 2)))
    sides = (Role(name="attack", size=(size, size)), Role(name="defend", size=(size, r.choice((size, size + 1)))))
    roles = (*sides, Role(name="off", plays=False)) if players >= 2 * size and r.random() < 0.7 else ()
    turn = Turn(how=r.choice(("", "fair", "advance", "swap", "winners stay", "one for one", "round robin"))) if roles else Turn()
    opens = r.choice(("with the rep", "on call"))
    window = Window(name="drive", time=r.randint(2, 8) * 1_000, runs_out=r.choice(("", "stop")), opens=opens)
    worn: str | int = r.choice(("", "squad", 3)) if teams and roles else ""
    score = _score(r, ("player", "group", "team", "rival"))
    consequence = Consequence(pays=r.choice(("others", "losers", "last")), time=8_000) if score and r.random() < 0.6 else None
    return Segment(
        kind=r.choice(("drill", "drill", "scrimmage")), time=time, at_least=r.choice((None, time // 2)), setup=r.choice((0, 6_000)),
        effort=effort, roles=roles, rep=None if r.random() < 0.1 else _rep(r, turn), window=(window,),
        outcome=_outcomes(r, bool(roles)), score=score, consequence=consequence,
        places=r.choice((1, 1, 2)), teams=worn, grace=r.choice((0, 1_000)),
        optional=r.random() < 0.2, at_most=r.choice((None, time * 2)),
    )  # fmt: skip


def _station(r: Random, name: str, players: int) -> Station:
    roles = (Role(name="attack"), Role(name="defend"), Role(name="off", plays=False)) if players > 8 and r.random() < 0.4 else ()
    rep = r.choice((None, _rep(r, Turn(how="advance") if roles else Turn())))
    window = (Window(name="drive", time=2_000),)
    return Station(
        name=name, roles=roles, rep=rep, window=window if rep else (), outcome=_outcomes(r, bool(roles)) if rep else (),
        score=_score(r, ("player", "group")) if rep else None,
    )  # fmt: skip


def calls(r: Random, until: int) -> list[tuple[int, Call]]:
    """Calls at random moments."""
    at = r.randint(0, 3_000)
    out = [(at, Call(what=what, who=r.choice(NAMES))) for what in r.choices(("out", "late", "here"), k=r.randint(0, 2))]
    out.append((at, Call(what="go")))
    while at < until:
        at += r.choice((0, 1, r.randint(1, 3_000), r.randint(1, 15_000)))
        what = r.choices(list(OFTEN), list(OFTEN.values()))[0]
        station = r.choice((-1, -1, -1, 1, 2, 3))
        lane = station if what in ("outcome", "go", "hold", "score", "turn", "take back") else -1
        who = {"score": r.choice(SIDES), "makes": r.choice(("top", "left", "right"))}.get(what, r.choice(("", *NAMES)))
        number = r.randint(0, 3) if what in ("outcome", "station") else r.randint(0, 10)
        amount = r.choice((-1, 1, 2)) if what == "score" else r.randint(0, 2)
        out.append((at, Call(what=what, lane=lane, who=who, number=number, amount=amount, words=r.choice(("", "good")))))
    return out


def practice(seed: int) -> tuple[Session, list[ev.Event]]:
    """A session, and the events of an evening with it; they may end in the middle."""
    r = Random(seed)
    plan = session(r)
    until = r.choice((sum(one.time for one in plan.segment) // 2, sum(one.time for one in plan.segment) + 300_000))
    return plan, played(r, plan, calls(r, until), until)


def played(
    r: Random, plan: Session, called: list[tuple[int, Call]], until: int, *, own_take_backs: bool = False
) -> list[ev.Event]:
    """The journal of the calls; a station takes nothing back by itself unless that is wanted."""
    day = plan.floor[0] if plan.floor else 0
    b = Branch(opening(plan, day))
    out: list[ev.Event] = [ev.Opened(at=0, by="program", wall="2026-11-24T18:00:00+01:00", day_ms=day)]
    for at, call in [*called, (max([until, *(at for at, _ in called)]), None)]:
        b, brought = catch_up(b, at)
        out += brought
        out += _facts(r, at)
        if call is not None:
            made = decide(b, call, max(at, b.now.at), 0)
            if isinstance(made, ev.TakenBack) and made.lane > 0 and not own_take_backs:
                continue
            b, brought = catch_up(happen(b, made), at)
            out += [made, *brought]
            if isinstance(made, ev.Marked) and r.random() < 0.5:
                out.append(ev.MarkWorded(at=made.at, by="key", words="better"))
    return out


def _facts(r: Random, at: int) -> list[ev.Event]:
    match r.randint(0, 12):
        case 0:
            return [ev.CueHeard(at=at, cue=f"0.{at}.end.1", asked=at, played=at + r.choice((0.02, -0.1, 20.0, 20.04, 25.6, 130.0)))]
        case 1:
            return [ev.CueDropped(at=at, cue=f"-1.{at}.one minute.1", why="too late")]
        case 2:
            return [ev.Still(at=at), ev.SoundChanged(at=at, speaker="Gym box", change="lost")]
    return []


def lines(events: list[ev.Event]) -> list[dict[str, Any]]:
    """The journal's lines as they are read from the disk, without its first one."""
    return [json.loads(encode(records.record(e))) for e in events]
