"""Names that point at other names: roles, windows and outcomes of one drill or station, and the teams of a game."""

from collections.abc import Sequence

from courttimer.plan.case import Case
from courttimer.plan.derived import OPENINGS, Opening, opening
from courttimer.plan.kinds import Path
from courttimer.plan.model import Game, Outcome, Score, Segment, Station, Turn, Window
from courttimer.plan.times import spell
from courttimer.plan.words import shown

OVER = "over"

Play = Segment | Station


def point_play(case: Case, play: Play, room: int, *, rep_needed: bool) -> None:
    """Notes what does not fit together in one drill or station; `room` is the ms that a rep may last at most."""
    for key, names in (("roles", play.roles), ("window", play.window), ("outcome", play.outcome)):
        case.alike((key,), [one.name for one in names], key.removesuffix("s"), "name")
        if names and rep_needed and play.rep is None and key != "roles":
            case.say((key,), 'there are no reps for it; write rep = { live = "20 s", off = "10 s" }', ("rep",))
    if play.roles and not any(role.plays for role in play.roles):
        case.say(("roles",), "nobody plays; one role at least is without plays = false")
    _rep(case, play, room)
    for at, window in enumerate(play.window):
        _window(case, play, at, window)
    for at, outcome in enumerate(play.outcome):
        _outcome(case, play, at, outcome)
    _buttons(case, play.outcome)
    if play.score:
        point_score(case, play.score, _outcomes(play))


def point_game(case: Case, game: Game | None, teams: Sequence[str]) -> None:
    """Notes teams of a game that the squad does not have, when the squad has teams."""
    if game is None:
        return
    scored = [team for team, _ in game.score]
    if teams:
        for team in scored:
            case.known(("game", "score", team), team, teams, "team")
    if teams or scored:
        case.known(("game", "ball"), game.ball, [*teams, *scored], "team", ("game", "score"))


def _rep(case: Case, play: Play, room: int) -> None:
    rep = play.rep
    if rep is None:
        return
    if rep.live is None and rep.starts == "by itself":
        case.say(("rep",), 'a rep that starts by itself needs its live time; write live = "20 s", or starts = "on call"')
    if rep.starts == "at once" and rep.off:
        case.say(("rep", "off"), 'play that starts "at once" never stops and has no off time; take off out', ("rep", "starts"))
    if rep.live and rep.live > room > 0:
        what = "the time at the station" if isinstance(play, Station) else "the segment without its set-up"
        said = f"the live time ({spell(rep.live)}) is longer than {what} ({spell(room)})"
        case.say(("rep", "live"), said, ("time",), ("setup",), ("each",))
    _turn(case, ("rep", "turn"), rep.turn, play)


def _window(case: Case, play: Play, at: int, window: Window) -> None:
    key: Path = ("window", at)
    called = "the window" if len(play.window) == 1 else f"the window {shown(window.name)}"
    if 0 < window.time <= window.warning:
        said = f"the warning ({spell(window.warning)}) is not shorter than {called} ({spell(window.time)})"
        case.say((*key, "warning"), said)
    case.known((*key, "runs_out"), window.runs_out, [*_outcomes(play), OVER], "outcome", ("outcome",))
    try:
        opens = opening(window)
    except ValueError:
        case.say((*key, "opens"), f"{OPENINGS} is expected (got {shown(window.opens)})")
        return
    live = play.rep.live if play.rep else None
    if opens.how == "with the rep" and live and window.time > live:
        case.say((*key, "time"), f"{called} ({spell(window.time)}) is longer than the live time ({spell(live)})", ("rep",))
    if opens.how == "with the rep" and not play.rep:
        case.say((*key, "opens"), f'there are no reps that {called} could open with; write opens = "on call"', ("rep",))
    if opens.how == "every" and opens.every < window.time:
        case.say((*key, "opens"), f"{called} ({spell(window.time)}) is still open after {spell(opens.every)}", (*key, "time"))
    _opener(case, play, at, opens)


def _opener(case: Case, play: Play, at: int, opens: Opening) -> None:
    key: Path = ("window", at, "opens")
    if opens.how == "on outcome":
        case.known(key, opens.name, _outcomes(play), "outcome", ("outcome",))
    if opens.how != "when window closes":
        return
    case.known(key, opens.name, _windows(play), "window", ("window",))
    after = {one.name: found.name for one in play.window if (found := _quietly(one)) and found.how == opens.how}
    name, steps = play.window[at].name, 0
    while name in after and steps <= len(after):
        name, steps = after[name], steps + 1
    if steps > len(after):
        case.say(key, "windows that wait for one another never open; let one of them open another way", ("window",))


def _quietly(window: Window) -> Opening | None:
    try:
        return opening(window)
    except ValueError:
        return None


def _outcome(case: Case, play: Play, at: int, outcome: Outcome) -> None:
    key: Path = ("outcome", at)
    if outcome.name.casefold() == OVER:
        case.say((*key, "name"), '"over" is always there, on key 0; choose another name')
    scored = [team for team, _ in play.game.score] if isinstance(play, Segment) and play.game else []
    case.known((*key, "to"), outcome.to, [*(role.name for role in play.roles), *scored], "role", ("roles",))
    for pointer in ("only_in", "opens", "resets", "closes"):
        case.known((*key, pointer), getattr(outcome, pointer), _windows(play), "window", ("window",))
    others = [one.name for one in play.outcome if one is not outcome]
    case.known((*key, "only_after"), outcome.only_after, others, "other outcome", ("outcome",))
    _turn(case, (*key, "turn"), outcome.turn, play)


def _turn(case: Case, key: Path, turn: Turn, play: Play) -> None:
    roles = [role.name for role in play.roles]
    for start, goal in turn.moves:
        case.known((*key, start), start, roles, "role", ("roles",))
        case.known((*key, start), goal, roles, "role", ("roles",))
    starts, goals = [start for start, _ in turn.moves], [goal for _, goal in turn.moves]
    if sorted(starts) != sorted(goals):
        odd = next(iter([one for one in goals if goals.count(one) > 1 or one not in starts] or starts))
        case.say(key, f"who goes to {shown(odd)} and who leaves it do not match; each role in it is left once and gone to once")


def _buttons(case: Case, outcomes: Sequence[Outcome]) -> None:
    first: dict[str, str] = {}
    for at, outcome in enumerate(outcomes):
        if outcome.clicker in first:
            what = f'the clicker\'s "{outcome.clicker}" already makes the call {shown(first[outcome.clicker])}'
            case.say(("outcome", at, "clicker"), what, ("outcome",))
        elif outcome.clicker:
            first[outcome.clicker] = outcome.name


def point_score(case: Case, score: Score, outcomes: Sequence[str]) -> None:
    """Notes outcomes of a row that are not there, and keys of a score that do not go together."""
    for at, name in enumerate(score.of):
        case.known(("score", "of", at), name, outcomes, "outcome", ("outcome",))
    race, row = ("score", "race"), ("score", "row")
    if score.race and score.row:
        case.say(row, "a score is a race or a row, not both; take one of them out", race)
    if not (score.race or score.row or score.tally):
        case.say(("score",), "what is counted is missing; write race = 5, row = 5 or tally = true")
    for key, given, what, base in (
        ("win_by", score.win_by > 1 and not score.race, "race", race),
        ("cap", score.cap and not score.race, "race", race),
        ("rival", score.rival and not score.race, "race", race),
        ("of", score.of and not (score.row or score.tally), "row", row),
        ("then", score.then and not (score.race or score.row), "race", race),
    ):
        if given:
            case.say(("score", key), f"{key} needs a {what}; write {what} = 5", base, row)


def _outcomes(play: Play) -> list[str]:
    return [one.name for one in play.outcome]


def _windows(play: Play) -> list[str]:
    return [one.name for one in play.window]
