"""Everything a session may say, for the voice to prepare before the practice."""

from collections.abc import Iterator, Sequence

from courttimer.plan.derived import outcomes_of
from courttimer.plan.fit import part_of
from courttimer.plan.model import Score, Segment, Session, Station
from courttimer.practice import follows
from courttimer.practice.cue import Saying
from courttimer.practice.room import BREAKS
from courttimer.practice.spoken import COUNT, THIRTY_MS, break_saying, fit_saying
from courttimer.practice.telling import LOST_MS, MOST_NUMBERS
from courttimer.practice.toned import MINUTE_MS


def sayings(session: Session) -> Iterator[str | Saying]:
    """Every phrase and text, each perhaps more than once."""
    names = ("ready", "last-one", "thirty-seconds", "one-minute", *(word for _, word in COUNT))
    yield from (Saying(phrase=name) for name in names)
    yield from dict.fromkeys(_fits(session))
    for i, segment in enumerate(session.segment):
        if segment.kind in BREAKS:
            yield from (break_saying(segment, segment.time, then) for then in _thens(session.segment[i + 1 :]))
        elif segment.announce:
            yield segment.announce
        yield f"{segment.title}."
        yield Saying(phrase="next", what=segment.title)
        yield from filter(None, (segment.rule, *segment.reminders))
        yield from _inside(session, segment)


def _thens(after: Sequence[Segment]) -> Iterator[str]:
    """What may come after a break: the next segment, and the one after it when the next may be left out."""
    for one in after:
        yield one.title
        if not one.optional:
            return
    yield ""


def _fits(session: Session) -> Iterator[Saying]:
    """What may have to be said of lost time; no more can be lost than segments can give."""
    parts = [part_of(segment) for segment in session.segment]
    gives = [part.time if part.optional else part.time - part.least for part in parts]
    for segment, part, most in zip(session.segment, parts, gives, strict=True):
        lates = range(THIRTY_MS, sum(gives) + MINUTE_MS, THIRTY_MS) if most and session.floor else ()
        yield from (fit_saying(segment, False, late) for late in lates if part.least < part.time)
        yield from (fit_saying(segment, True, late) for late in lates if part.optional)


def _inside(session: Session, segment: Segment) -> Iterator[str | Saying]:
    """What is said between the reps of a drill, at the stations and the spots."""
    teams = _teams(session, segment)
    plays: tuple[Segment | Station, ...] = (segment, *segment.station)
    for play in plays:
        yield from (one.say for one in play.outcome if one.say)
        if play.score:
            yield from _score(play, play.score, (*teams, *_groups(session, segment), *_sides(session, play)))
    yield from (Saying(phrase="on", what=team) for team in (*teams, *_groups(session, segment)))
    if segment.consequence:
        yield from [segment.consequence.say] if segment.consequence.say else _pays(session, segment.consequence.time)
    if segment.kind == "stations":
        yield Saying(phrase="change-to")
        half_minutes = range(1, (segment.each or 0) // LOST_MS + 2)
        yield from (Saying(phrase="held-lost", what=one.name, time=n * LOST_MS) for one in segment.station for n in half_minutes)
    if segment.kind == "spots":
        yield from (Saying(phrase="spot", what=spot) for spot in segment.spots)
        yield Saying(phrase="enter")


def _pays(session: Session, time: int) -> Iterator[Saying]:
    """How long losers pay: as written, or what is left of somebody's minute after any consequences of this evening."""
    times = {one.consequence.time for one in session.segment if one.consequence}
    paid, left = {0}, set[int]()
    while more := {min(was + one, follows.PAY_MS) for was in paid for one in times | left} - paid:
        paid |= more
        left = {follows.PAY_MS - was for was in paid if follows.LEAST_PAY_MS <= follows.PAY_MS - was < max(times)}
    yield from (Saying(phrase="pays", time=one) for one in sorted({time} | {one for one in left if one < time}))


def _teams(session: Session, segment: Segment) -> tuple[str, ...]:
    if segment.teams == "squad":
        return tuple(name for name, _ in session.squad.teams)
    return tuple(f"team {n + 1}" for n in range(segment.teams)) if isinstance(segment.teams, int) else ()


def _groups(session: Session, segment: Segment) -> tuple[str, ...]:
    """The groups that may be made at stations, or where players turn together."""
    if segment.kind == "stations":
        worn = tuple(name for name, _ in session.squad.teams)
        return (*worn, *(f"group {n + 1}" for n in range(len(segment.station))))
    least = min((role.size[0] for role in segment.roles if role.plays), default=1)
    return tuple(f"group {n + 1}" for n in range(len(session.squad.players) // least)) if least > 1 and not segment.teams else ()


def _sides(session: Session, play: Segment | Station) -> tuple[str, ...]:
    roles = tuple(role.name for role in play.roles if role.plays)
    players = session.squad.players if play.score and play.score.by in ("player", "group") else ()
    rival = ("us", "rival") if play.score and play.score.by == "rival" else ()
    return (*roles, *players, *rival, "all")


def _score(play: Segment | Station, score: Score, sides: tuple[str, ...]) -> Iterator[Saying]:
    if score.counted == "players":
        yield Saying(phrase="reached", n=score.race or score.row or 0)
        yield Saying(phrase="wins")
        yield from (Saying(phrase="broken") for one in outcomes_of(play) if one.breaks)
        return
    for side in dict.fromkeys(sides):
        if score.row:
            yield Saying(phrase="in-a-row", what=side, n=score.row)
            yield Saying(phrase="broken", what=side)
        else:
            yield Saying(phrase="wins", what=side)
            yield from _leads(side, score)


def _leads(side: str, score: Score) -> Iterator[Saying]:
    """What may be told when the time of a race is over."""
    if score.cap and (score.race or 0) <= MOST_NUMBERS:
        yield from (Saying(phrase="leads", what=side, n=n, m=m) for n in range(1, (score.race or 0) + 1) for m in range(n))
        yield from (Saying(phrase="tie", n=n) for n in range((score.race or 0) + 1))
