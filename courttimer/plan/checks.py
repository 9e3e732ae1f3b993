"""Rules that bind several keys together: times that must fit, keys that a kind of segment has, and who is in which team.

Names that point at other names are in `pointers.py`. A rule is not applied to keys that could not be read: one slip, one line.
"""

from collections.abc import Iterable
from dataclasses import fields

from courttimer.plan.case import Case
from courttimer.plan.derived import lasting
from courttimer.plan.kinds import Notes
from courttimer.plan.model import Heat, Segment, Session, Squad
from courttimer.plan.pointers import point_game, point_play, point_score
from courttimer.plan.times import spell
from courttimer.plan.words import listed

_LONGEST = 180 * 60_000
_MOVING = ("warm-up", "drill", "scrimmage", "cool-down")
_ONLY = {
    "each": ("stations",),
    "change": ("stations",),
    "station": ("stations",),
    "spots": ("spots",),
    "shots": ("spots",),
    "within": ("spots",),
    "rounds": ("spots",),
    "enter": ("spots",),
    "shuffled": ("spots",),
    "game": ("scrimmage",),
    "rest": _MOVING,
    "rep": _MOVING,
    "roles": _MOVING,
    "window": _MOVING,
    "outcome": _MOVING,
    "grace": _MOVING,
    "teams": _MOVING,
    "places": (*_MOVING, "spots"),
    "score": (*_MOVING, "spots"),
    "consequence": (*_MOVING, "spots"),
}
_DEFAULTS = {one.name: one.default for one in fields(Segment)}


def check(notes: Notes) -> None:
    """Notes every mistake between the keys of the tables that could be made."""
    spoilt = frozenset(path[:end] for path, _, _ in notes.mistakes for end in range(len(path) + 1))
    squads = [made for _, made in notes.made if isinstance(made, Squad)]
    for path, made in list(notes.made):
        case = Case(path, notes, spoilt)
        if isinstance(made, Segment):
            _segment(case, made, None if ("squad",) in spoilt else (squads or [Squad()])[0])
        elif isinstance(made, Squad):
            _squad(case, made)
        elif isinstance(made, Heat):
            _heat(case, made)
        elif isinstance(made, Session):
            _session(case, made)


def _session(case: Case, session: Session) -> None:
    if not session.segment:
        case.say(("segment",), 'there are no segments; write at least one: [[segment]], kind = "drill", time = "10 min"')
    case.alike(("staff", "coaches"), session.staff.coaches, "given name")
    if session.floor and session.clear >= session.floor[1] - session.floor[0]:
        case.say(("clear",), f"the clearing ({spell(session.clear)}) takes the whole floor time")


def _heat(case: Case, heat: Heat) -> None:
    if (heat.air is None) != (heat.humidity is None):
        missing = "humidity" if heat.humidity is None else "air"
        case.say((), f"air and humidity go together: {missing} is missing", ("air",), ("humidity",))
    elif heat.air is None and heat.wbgt is None:
        case.say((), 'write air and humidity, such as { air = "31 C", humidity = 60 }, or a measured wbgt', ("wbgt",))


def _squad(case: Case, squad: Squad) -> None:
    case.alike(("players",), squad.players, "given name")
    case.alike(("teams",), [name for name, _ in squad.teams], "team")
    team_of: dict[str, str] = {}
    for team, players in squad.teams:
        for at, player in enumerate(players):
            case.known(("teams", team, at), player, squad.players, "player", ("players",) if squad.players else ())
            if player in team_of:
                case.say(("teams", team, at), f'"{player}" is already in {team_of[player]}; one team for each player')
            team_of[player] = team


def _segment(case: Case, segment: Segment, squad: Squad | None) -> None:
    for key, kinds in _ONLY.items():
        if segment.kind not in kinds and getattr(segment, key) != _DEFAULTS[key]:
            case.say((key,), f'a segment of kind "{segment.kind}" has no {key}; it belongs to {listed(kinds)}')
    _needed(case, segment)
    _times(case, segment)
    if segment.kind in _MOVING:
        point_play(case, segment, (segment.time or _LONGEST) - segment.setup, rep_needed=segment.kind != "scrimmage")
    if segment.kind == "stations":
        case.alike(("station",), [one.name for one in segment.station], "station", "name")
        for at, station in enumerate(segment.station):
            point_play(case.inside("station", at), station, segment.each or _LONGEST, rep_needed=True)
    _score(case, segment)
    if squad is not None:
        _teams(case, segment, [team for team, _ in squad.teams])


def _needed(case: Case, segment: Segment) -> None:
    if segment.kind == "stations" and not segment.station:
        case.say(("station",), 'stations need their list: station = [ { name = "Closeouts" }, { name = "Form shooting" } ]')
    if segment.kind == "stations" and not segment.each:
        case.say(("each",), 'stations need the time at each: each = "4:00"')
    if segment.kind == "spots" and not segment.spots:
        case.say(("spots",), 'spots need their list: spots = ["left corner", "top"]')
    if segment.kind == "spots" and not (segment.shots or segment.within):
        case.say(("shots",), 'spots need shots = 10 or within = "2 min" for each', ("within",))


def _times(case: Case, segment: Segment) -> None:
    parts = lasting(segment)
    whole = segment.time or parts
    if not whole:
        if segment.kind != "stations":
            case.say(("time",), '"time" is missing: how long it lasts, set-up included; write time = "10 min"')
        return
    setup, least, most = segment.setup, segment.at_least or 0, segment.at_most or whole
    for key, wrong, what in (
        ("time", whole > _LONGEST, f"its parts take {spell(whole)}; {spell(_LONGEST)} is the most"),
        ("time", whole < (parts or 0), f"its parts take {spell(parts or 0)} (got {spell(whole)}); leave the time out"),
        ("at_least", least > whole, f"at_least ({spell(least)}) is longer than the time ({spell(whole)})"),
        ("at_most", most < whole, f"at_most ({spell(most)}) is shorter than the time ({spell(whole)})"),
        ("setup", setup >= whole, f"the set-up ({spell(setup)}) leaves nothing of the time ({spell(whole)})"),
        ("at_least", setup >= least > 0, f"the set-up ({spell(setup)}) leaves nothing of at_least ({spell(least)})"),
    ):
        if wrong:
            case.say((key,), what, ("time",), ("setup",))


def _score(case: Case, segment: Segment) -> None:
    if segment.consequence and not segment.score:
        case.say(("consequence",), "a consequence needs a score; without one nobody loses", ("score",))
    score = segment.score
    if score is None:
        return
    if segment.kind == "spots":
        point_score(case, score, ())
    if score.by == "spot" and segment.kind != "spots":
        case.say(("score", "by"), 'only segments of kind "spots" score by spot')
    if score.by == "team" and not segment.teams:
        case.say(("score", "by"), 'a score by team needs teams; write teams = "squad", or how many', ("teams",))


def _teams(case: Case, segment: Segment, teams: Iterable[str]) -> None:
    if segment.teams == "squad" and not teams:
        case.say(("teams",), 'teams = "squad" needs the teams in [squad]: teams = { blue = ["Ada", …], red = ["Bea", …] }')
    point_game(case, segment.game, list(teams))
