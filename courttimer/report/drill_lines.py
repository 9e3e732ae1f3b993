"""A drill in the words of the sheet: its rule, what is said, who, the clock, the keys, the score, the stations; a line each."""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from courttimer.plan.model import Outcome, Rep, Role, Score, Segment, Squad, Station, Window
from courttimer.plan.times import spell
from courttimer.report.lineups import Basket, Lineups
from courttimer.report.standing import played

MANY = 6
"""So many names are no line-up any more, but the squad."""


class Line(NamedTuple):
    """`label` is a word or two in front, or nothing; `strong` is what must be seen first."""

    text: str
    label: str = ""
    strong: bool = False


def aside(segment: Segment, squad: Squad) -> str:
    """A few words beside the title: the kind where the name does not say it, how hard, how much of the court, how long each plays."""
    told = (
        segment.kind if segment.name and segment.kind != "drill" else "",
        f"{segment.court} court" if segment.court else "",
        f"{segment.places} baskets" if segment.places > 1 else "",
        f"effort {segment.effort}" if segment.effort is not None else "",
        f"may shrink to {spell(segment.at_least)}" if segment.at_least and segment.at_least < segment.time else "",
        "optional" if segment.optional else "",
        _plays(segment, squad),
    )
    return " · ".join(filter(None, told))


def lines_of(segment: Segment, number: int, lineups: Lineups) -> Iterator[Line]:
    """All that is said of the session's segment `number`, the most important first."""
    if segment.rule:
        yield Line(segment.rule, strong=True)
    if segment.announce:
        yield Line(f"“{segment.announce}”", "say")
    if segment.reminders:
        yield Line(" · ".join(segment.reminders), "remind")
    yield from _who(segment.roles, lineups.get((number, 0), ()))
    clock = " · ".join(filter(None, (_reps(segment.rep, segment.setup), _round(segment), _windows(segment.window))))
    if clock:
        yield Line(clock, "clock")
    yield from _counts(segment.outcome, segment.score)
    if segment.consequence:
        cost = segment.consequence
        yield Line(f"{cost.pays}, {spell(cost.time)}" + (f": {cost.say}" if cost.say else ""), "pays")
    yield from _kinds(segment, number, lineups)


def _who(roles: tuple[Role, ...], start: tuple[Basket, ...]) -> Iterator[Line]:
    if roles:
        yield Line(_roles(roles, dict(start[0]) if len(start) == 1 else {}), "roles")
    if len(start) > 1:
        yield Line(_baskets(start, tuple(role.name for role in roles)), "baskets")


def _baskets(start: tuple[Basket, ...], roles: tuple[str, ...]) -> str:
    """Who begins at each: in the order of the roles, which stand above, where every basket has all of them."""
    all_there = all(tuple(role for role, _ in basket) == roles for basket in start)
    told = ((" – " if all_there else ", ").join(names if all_there else f"{role} {names}" for role, names in one) for one in start)
    return " · ".join(f"{at} {text}" for at, text in enumerate(told, 1))


def _roles(roles: tuple[Role, ...], who: Mapping[str, str]) -> str:
    return " · ".join(_role(role, who.get(role.name, "")) for role in roles)


def _role(role: Role, who: str) -> str:
    least, most = role.size
    size = "" if not role.plays else f" {least}" if least == most else f" {least}–{most}"
    named = f" ({who})" if who and who.count(",") < (MANY if role.plays else 1) else ""
    return f"{role.name}{size}{named}" + (f": {role.does}" if role.does else "")


def _reps(rep: Rep | None, setup: int) -> str:
    told = [f"{spell(setup)} set-up"] if setup else []
    if rep is not None:
        live = f"{spell(rep.live)} live" if rep.live else "live until over"
        told.append("play never stops" if rep.starts == "at once" else f"{live}, {spell(rep.off)} off" if rep.off else live)
        told += ["each rep on call"] * (rep.starts == "on call") + [f"turn: {rep.turn.how}"] * (rep.turn.how not in ("", "table"))
    return " · ".join(told)


def _round(segment: Segment) -> str:
    change = f", {spell(segment.change)} to change" if segment.change else ""
    return f"{spell(segment.each)} at each of {len(segment.station)} stations{change}" if segment.each else ""


def _windows(windows: tuple[Window, ...]) -> str:
    return " · ".join(f"{one.name} {spell(one.time)} {one.opens}" for one in windows)


def _counts(outcomes: tuple[Outcome, ...], score: Score | None) -> Iterator[Line]:
    keys = " · ".join(f"{key} {_outcome(one)}" for key, one in enumerate(outcomes, 1))
    told = "; ".join(filter(None, (_score(score) if score else "", f"keys {keys}" if keys else "")))
    if told:
        yield Line(told, "score")


def _outcome(one: Outcome) -> str:
    points = f" {one.points:+d}" if one.points else ""
    return f"{one.name}{points}" + (f" {one.to}" if one.points and one.to else "")


def _score(score: Score) -> str:
    told = (
        f"first to {score.race}" if score.race else "", f"win by {score.win_by}" if score.win_by > 1 else "",
        f"{score.row} in a row" if score.row else "", "makes out of shots" if score.tally else "",
        f"{spell(score.cap)} at the most" if score.cap else "", f"by {score.by}",
        "players count aloud" if score.counted == "players" else "",
    )  # fmt: skip
    return " · ".join(filter(None, told))


def _kinds(segment: Segment, number: int, lineups: Lineups) -> Iterator[Line]:
    """What stations, spots and scrimmages have of their own."""
    for at, station in enumerate(segment.station, 1):
        yield Line(_station(station, lineups.get((number, at), ())), f"{at}")
    if segment.spots:
        shots = f"{segment.shots} shots each" if segment.shots else ""
        within = f"{spell(segment.within)} each" if segment.within else ""
        times = f"{segment.rounds} rounds" if segment.rounds > 1 else ""
        yield Line(" · ".join(filter(None, (", ".join(segment.spots), shots, within, times))), "spots")
    if segment.game:
        score = " : ".join(f"{name} {points}" for name, points in segment.game.score)
        ball = f"ball {segment.game.ball}" if segment.game.ball else ""
        yield Line(" · ".join(filter(None, (f"clock {spell(segment.game.clock)}", score, ball))), "game")


def _station(station: Station, start: tuple[Basket, ...]) -> str:
    begins = ", ".join(names for basket in start for _, names in basket)
    told = (
        station.name + (f", {station.lead} leads" if station.lead else ""), station.rule, _reps(station.rep, 0),
        _roles(station.roles, {}), things(station.gear), f"begin: {begins}" if begins else "",
    )  # fmt: skip
    return " — ".join(filter(None, told))


def _plays(segment: Segment, squad: Squad) -> str:
    """How long each player has the ball live, where some wait."""
    play = played(segment, squad)
    return f"each plays about {_about(play.each)}" if play and 0 < play.on < play.players else ""


def _about(ms: int) -> str:
    """To ten seconds: the turns are not known to the second."""
    minutes, seconds = divmod(max(round(ms, -4), 10_000) // 1000, 60)
    return "\N{NO-BREAK SPACE}".join(f"{count}\N{NO-BREAK SPACE}{unit}" for count, unit in ((minutes, "min"), (seconds, "s")) if count)


def things(gear: Iterable[tuple[str, int]]) -> str:
    """balls 4, cones 2"""
    return ", ".join(f"{thing} {count}" for thing, count in gear)
