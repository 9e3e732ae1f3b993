"""What the coach is told before the practice, and may leave as it is: each piece of advice with its place and its source."""

from collections.abc import Iterator

from courttimer.plan.model import Session
from courttimer.plan.times import spell
from courttimer.plan.words import shown
from courttimer.practice.pace import estimate
from courttimer.practice.room import BREAKS, READY_ROOM_MS, room
from courttimer.report.care_advice import care_advice, cautions_for
from courttimer.report.enough import enough
from courttimer.report.standing import standing_advice
from courttimer.report.told import Advice, Lines, called, line_of

__all__ = ["Advice", "advice", "cautions_for"]

TONE = 1_000
"""ms until the tone with which a segment begins is over, and the ear is free for words."""


def advice(session: Session, lines: Lines | None = None) -> tuple[Advice, ...]:
    """Everything worth saying about a session that was read without mistakes; `lines` are those of its `Reading`."""
    known = lines or {}
    fits = (*_floor(session, known), *care_advice(session, known), *_announced(session, known))
    return (*fits, *_undone(session, known), *_together(session, known), *enough(session, known), *standing_advice(session, known))


def _floor(session: Session, lines: Lines) -> Iterator[Advice]:
    if session.floor is None:
        return
    floor = session.floor[1] - session.floor[0]
    whole = session.clear + sum(one.time for one in session.segment)
    least = session.clear + sum(one.time if one.at_least is None else one.at_least for one in session.segment)
    if whole <= floor:
        return
    text = f"the segments and clearing take {spell(whole)}, {spell(whole - floor)} more than the floor time ({spell(floor)})"
    fits = "; it fits when segments shrink to their at_least"
    if least == whole:
        fits = "; give segments an at_least, or take one out"
    elif least > floor:
        fits = f"; even at their at_least they take {spell(least - floor)} too much: take one out"
    yield Advice(line=line_of(("floor",), lines), where="floor", text=text + fits)


def _announced(session: Session, lines: Lines) -> Iterator[Advice]:
    """An announcement without room for it; it is never cut, the segment's name is said instead."""
    for at, one in enumerate(session.segment):
        takes = TONE + estimate(one.announce, session.voice.pace)
        if session.voice.say == "horns" or one.kind in BREAKS or not one.announce or takes <= room(one):
            continue
        short = TONE + estimate(f"{one.title}.", session.voice.pace) <= room(one)
        said = f"only {shown(one.title)} is said" if short else "nothing is said"
        cure = f'give it setup = "{spell(-(-(takes + READY_ROOM_MS) // 1000) * 1000)}", or fewer words'
        yield Advice(
            line=line_of(("segment", at, "announce"), lines),
            where=called(one),
            text=f"its announcement takes about {spell(round(takes, -2))} with the tone, more than there is: {said}; {cure}",
        )


def _undone(session: Session, lines: Lines) -> Iterator[Advice]:
    """A consequence for which play that never stops leaves no time."""
    for at, one in enumerate(session.segment):
        stops = one.rep is None or one.rep.starts != "at once" or any(outcome.ends for outcome in one.outcome)
        if one.consequence is None or stops or (one.score is not None and one.score.then == "end drill"):
            continue
        text = 'play that starts "at once" never stops, so nobody does its consequence; write then = "end drill", or take it out'
        yield Advice(line=line_of(("segment", at, "consequence"), lines), where=called(one), text=text)


def _together(session: Session, lines: Lines) -> Iterator[Advice]:
    """A race by player between players who always score together: nobody is ever ahead."""
    for at, one in enumerate(session.segment):
        alone = one.score is None or not one.score.race or one.score.by != "player" or one.score.counted == "players"
        role = next((x for x in one.roles if x.plays and x.size[1] > 1 and any(o.points and o.to == x.name for o in one.outcome)), None)
        if alone or role is None:
            continue
        text = f'the players of {shown(role.name)} score together, so a race by player is won by nobody; write by = "group"'
        yield Advice(line=line_of(("segment", at, "score"), lines), where=called(one), text=text)
