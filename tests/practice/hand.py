"""Practices written by hand: a session and its calls in, and every event and every cue as a line that a coach could write."""

from courttimer.plan.reading import read
from courttimer.practice import events as ev
from courttimer.practice.event import Standing
from courttimer.rehearsal import Played, rehearse

SQUAD = '[squad]\nplayers = ["Ada", "Bea", "Cleo", "Dina", "Edda", "Fern"]\n'


def play(session: str, calls: str, *, players: str = SQUAD) -> Played:
    """The practice of these calls, a line each, from its first go to its end."""
    text = f'title = "By hand"\n{players}{session}'
    lines = "\n".join(one.partition("#")[0].strip() for one in calls.splitlines())
    return rehearse(read("by-hand.toml", text, dict[str, str]().__getitem__), lines, at="18:00")


def events(played: Played, since: int = 0, until: int = 10**9) -> str:
    """Every event between two moments, facts left out but for refusals."""
    told = [e for e in played.events if e.source != "fact" or isinstance(e, ev.Refused)]
    return "\n".join(line(e) for e in told if since <= e.at <= until)


def cues(played: Played, since: int = 0, until: int = 10**9) -> str:
    """What was heard between two moments: tones with those they stand for, words with their end."""
    heard = [(h.placed, h.until) for h in played.tape.heard() if since <= h.placed.at <= until]
    return "\n".join(
        f"{p.at:>7} {p.text} until {end}" if p.text else " ".join([f"{p.at:>7} {p.cue.name}", *p.also]) for p, end in heard
    )


def line(e: ev.Event) -> str:
    """One event: its moment, the station it concerns, and what came true."""
    lane = f"@{e.lane} " if e.lane > 0 else ""
    return f"{e.at:>7} {lane}{what(e)}"


def what(e: ev.Event) -> str:
    """What came true, in few words."""
    match e:
        case ev.SegmentBegan():
            return f"segment {e.segment} for {e.lasts}"
        case ev.SegmentEnded():
            return f"segment {e.segment} over: {e.why}"
        case ev.StretchBegan():
            return e.stretch + _for(e.lasts)
        case ev.RepBegan():
            return f"rep {e.rep}" + _for(e.lasts)
        case ev.RepEnded():
            return f"rep {e.rep} over: {e.why}"
        case ev.WindowOpened():
            return f"{e.window} opens for {e.lasts}" + ", quietly" * e.quiet
        case ev.WindowClosed():
            return f"{e.window} closes: {e.why}"
        case ev.OutcomeCame():
            return f"{e.outcome} comes for {e.window}"
        case ev.StationEnded():
            return f"station over, lost {e.lost}"
        case ev.HoldEnded():
            return "hold over"
        case ev.PracticeEnded():
            return "practice over"
        case ev.Joined():
            return f"{e.who} joins"
        case ev.SpotsOrdered():
            return "order: " + ", ".join(e.order)
    return _played(e)


def _for(lasts: int | None) -> str:
    return "" if lasts is None else f" for {lasts}"


def _played(e: ev.Event) -> str:
    match e:
        case ev.Scored():
            parts = [" ".join(map(str, one)) for one in (*e.points, *(("row", *x) for x in e.rows), *(("of", *x) for x in e.makes))]
            return f"scored {e.outcome}" + (": " + ", ".join(parts) if parts else "")
        case ev.TargetReached():
            pays = f", {' '.join(e.pays) or 'all'} pay {e.owes}" if e.owes else ""
            return f"target {e.why}: {e.side or '-'} {e.n}:{e.m}" + (f", won by {' '.join(e.winners)}" if e.winners else "") + pays
        case ev.LinedUp():
            return f"line-up {e.why}: {standing(e.standing)}" + (f" ({e.told})" if e.told else "")
        case ev.Turned():
            return f"turn {e.why}: {standing(e.standing)}"
    return _called(e)


def standing(places: Standing) -> str:
    """Who stands where, the places parted by a bar."""
    return " | ".join("; ".join(" ".join([role, *names]) for role, names in place) for place in places)


def _called(e: ev.Event) -> str:
    match e:
        case ev.OutcomeHappened():
            return f"call {e.outcome}" + (f" ({e.why})" if e.counts and e.why else "" if e.counts else f", not: {e.why}")
        case ev.WindowCalled():
            return f"call open {e.window}"
        case ev.ScoreCorrected():
            return f"call score {e.side} {e.amount:+d}"
        case ev.HereChanged():
            return f"call {e.now} {e.who}"
        case ev.MakesEntered():
            return f"call makes {e.spot} {e.makes} round {e.round}"
        case ev.StationChosen():
            return f"call station {e.station}"
        case ev.TakenBack():
            return f"call take back ({e.call})"
        case ev.Refused():
            return f"refused {e.call}: {e.why}"
    return "call " + NAMES.get(type(e), type(e).__name__)


NAMES: dict[type[ev.Event], str] = {
    ev.Went: "go", ev.Held: "hold", ev.Halted: "halt", ev.TurnCalled: "turn", ev.LastCalled: "last", ev.Moved: "move",
    ev.Marked: "mark", ev.PutBack: "put back", ev.CalledOff: "end", ev.WaterTaken: "water",
}  # fmt: skip


def written(text: str) -> str:
    """What is written by hand, without its indentation and remarks."""
    kept = (one.partition("#")[0].rstrip() for one in text.strip("\n").splitlines())
    return "\n".join(_squared(one) for one in kept if one.strip())


def _squared(one: str) -> str:
    at, _, rest = one.strip().partition(" ")
    return f"{at:>7} {rest.strip()}"
