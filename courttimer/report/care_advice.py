"""What the coach is told before the practice about heat, water, rest and length, each piece with its source."""

from collections.abc import Iterator

from courttimer.care import heat, length, water, words
from courttimer.care.rest import off_time, rest, taking_turns
from courttimer.care.sources import COMMON
from courttimer.plan.model import Heat, Segment, Session
from courttimer.plan.times import spell
from courttimer.report.told import Advice, Lines, called, line_of

PAUSES = ("water", "rest")
EVEN_TURNS = ("", "fair", "advance")
"""Ways to turn in which all play about as much; after others somebody may stay in."""


def care_advice(session: Session, lines: Lines) -> tuple[Advice, ...]:
    """Everything worth saying about what keeps the players safe; blocks nothing."""
    hot = heat_answer(session)
    level = hot.level if hot else 0
    return (
        *(_heat(session, hot, lines) if hot else ()),
        *_water(session, level, lines),
        *_rest(session, lines),
        *_length(session, lines),
    )


def cautions_for(told: tuple[Advice, ...]) -> tuple[str, ...]:
    """The page of cautions, a line each, when some of the advice is about care; else nothing."""
    return ("", words.FIRST, *(f"- {one}" for one in words.CAUTIONS)) if any(one.source for one in told) else ()


def beside(told: tuple[Advice, ...]) -> tuple[str, ...]:
    """The advice as lines; when some of it is about care, what goes first is said with it."""
    return (*map(str, told), *cautions_for(told)[1:2])


def heat_answer(session: Session) -> heat.Answer | None:
    """How hot it is by what the session says; None when it says nothing."""
    said, region = session.heat, session.region
    if not isinstance(said, Heat):
        return heat.called_hot() if said else None
    if said.wbgt is not None:
        return heat.measured(said.wbgt, region, said.first_week)
    if said.air is None or said.humidity is None:
        return None
    return heat.estimated(said.air, said.humidity, region, said.first_week)


def _heat(session: Session, hot: heat.Answer, lines: Lines) -> Iterator[Advice]:
    place, limits = line_of(("heat",), lines), heat.BREAKS[hot.level]
    head = f"{hot.told}: level {hot.level} of {heat.NONE_ABOVE + 1}"
    if hot.level > heat.NONE_ABOVE:
        yield Advice(line=place, where="heat", text=f"{head}; do not practise", source=str(hot.source))
        return
    if hot.level == 0:
        return
    asks = f"{limits.times} breaks of {spell(limits.each)} in every hour, with water, in the coolest place there is"
    yield Advice(line=place, where="heat", text=f"{head}; {asks}", source=str(hot.source))
    yield from _too_long_for_heat(session, limits, lines)
    yield from _breaks(session, limits, lines)
    yield from _hard_in_heat(session, hot.level, lines)


def _too_long_for_heat(session: Session, limits: heat.Breaks, lines: Lines) -> Iterator[Advice]:
    whole = _whole(session)
    if limits.longest is not None and whole > limits.longest:
        text = f"in this heat a practice lasts {spell(limits.longest)} at the most; this one is {spell(whole - limits.longest)} longer"
        yield Advice(line=line_of(("heat",), lines), where="heat", text=text, source=str(heat.BREAKS_SOURCE))


def _breaks(session: Session, limits: heat.Breaks, lines: Lines) -> Iterator[Advice]:
    has = sum(one.time for one in session.segment if one.kind in PAUSES)
    asked = -(-_whole(session) * limits.times * limits.each // 3_600_000)
    if has < asked:
        missing = spell(-(-(asked - has) // 1000) * 1000)
        text = f"waters and rests take {spell(has)} in all; in this heat {missing} more are asked for"
        yield Advice(line=line_of(("heat",), lines), where="heat", text=text, source=str(heat.BREAKS_SOURCE))


def _hard_in_heat(session: Session, level: int, lines: Lines) -> Iterator[Advice]:
    for at, one in enumerate(session.segment):
        if not heat.BREAKS[level].conditioning and (one.effort or 0) > 8:
            text = "no conditioning in this heat: take it out, or lower its effort"
            yield Advice(line=line_of(("segment", at), lines), where=called(one), text=text, source=str(heat.BREAKS_SOURCE))
        if one.consequence is not None:
            text = "in the heat nobody pays: take the consequence out"
            place = line_of(("segment", at, "consequence"), lines)
            yield Advice(line=place, where=called(one), text=text, source=str(COMMON))


def _water(session: Session, level: int, lines: Lines) -> Iterator[Advice]:
    every, source = water.every(session.age, level)
    dry, told = 0, False
    much = water.spoken(session.age)
    for at, one in enumerate(session.segment):
        dry, told = (0, False) if one.kind == "water" else (dry + one.time, told)
        if dry > every and not told:
            told = True
            text = f'{spell(dry)} without water when it ends; put a segment of kind "water" in every {spell(every)}'
            text += f", for {much} each" * bool(much) + f"; {water.ANY_TIME}"
            said = f"{source}; {water.AAP}" if much and water.AAP.work not in source.work and source != water.EVERY_SOURCE else source
            yield Advice(line=line_of(("segment", at), lines), where=called(one), text=text, source=str(said))


def _rest(session: Session, lines: Lines) -> Iterator[Advice]:
    """Per clock; where a role waits and turns are even, by the groups that take turns."""
    for at, one in enumerate(session.segment):
        rep = one.rep
        if rep is None or rep.live is None or rep.starts != "by itself":
            continue
        asked = rest(one.effort, rep.live)
        groups = _groups(one, len(session.squad.players))
        has = off_time(rep.live, rep.off, groups)
        if asked is None or has >= asked.least:
            continue
        more = -(-(asked.least - has) // (groups * 1000)) * 1000
        text = f'{spell(rep.live)} live at effort {one.effort} want {spell(asked.least)} of rest, {spell(asked.least - has)} more '
        text += f'than there are; write off = "{spell(rep.off + more)}"' + (": for quality, not safety" if asked.quality else "")
        yield Advice(line=line_of(("segment", at, "rep"), lines), where=called(one), text=text, source=str(asked.source))


def _groups(segment: Segment, players: int) -> int:
    turn = segment.rep.turn.how if segment.rep else ""
    if turn not in EVEN_TURNS or all(role.plays for role in segment.roles):
        return 1
    return taking_turns(players, segment.places * sum(role.size[1] for role in segment.roles if role.plays))


def _length(session: Session, lines: Lines) -> Iterator[Advice]:
    row, whole = length.youth(session.age), _whole(session)
    if row is None or whole <= row.practice[1]:
        return
    least, most = row.practices
    times = f"{least} to {most} practices" if least < most else f"{most} {'practice' if most == 1 else 'practices'}"
    week = f"{times} and at most {row.hours} h a week, with {row.rest_days} rest {'day' if row.rest_days == 1 else 'days'}"
    text = f"{spell(whole)} is {spell(whole - row.practice[1])} more than age {session.age} should practise at a time; {week}"
    yield Advice(line=line_of(("age",), lines), where="age", text=text, source=f"{length.PRACTICE_SOURCE}; {length.WEEK_SOURCE}")


def _whole(session: Session) -> int:
    return sum(one.time for one in session.segment)
