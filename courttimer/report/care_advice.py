"""What the coach is told before the practice about heat, water, rest and length, each piece with its source."""

from collections.abc import Iterator, Sequence

from courttimer.care import heat, length, water, words
from courttimer.care.rest import off_needed, off_time, rest
from courttimer.care.sources import COMMON, Source
from courttimer.plan import hot
from courttimer.plan.model import Heat, Segment, Session, Squad, Station
from courttimer.plan.times import spell
from courttimer.plan.words import shown
from courttimer.report.told import Advice, Lines, called, line_of

PAUSES = ("water", "rest")


def care_advice(session: Session, lines: Lines) -> tuple[Advice, ...]:
    """Everything worth saying about what keeps the players safe; blocks nothing."""
    answer = hot.answer(session.heat, session.region)
    level = answer.level if answer else 0
    return (
        *(_heat(session, answer, lines) if answer else ()),
        *_water(session, level, lines),
        *_rest(session, level, lines),
        *_length(session, lines),
    )


def cautions_for(told: tuple[Advice, ...]) -> tuple[str, ...]:
    """The page of cautions, a line each, when some of the advice is about care; else nothing."""
    return ("", words.FIRST, *(f"- {one}" for one in words.CAUTIONS)) if any(one.care for one in told) else ()


def beside(told: tuple[Advice, ...]) -> tuple[str, ...]:
    """The advice as lines; when some of it is about care, what goes first is said with it."""
    return (*map(str, told), *cautions_for(told)[1:2])


def week_advice(session: Session, days: Sequence[Sequence[int]]) -> tuple[Advice, ...]:
    """What is too much in the seven days that this practice ends; `days`: the ms of the practices of each, this one's plan last."""
    return tuple(_care(text, source, where="week") for text, source in length.over_week(session.age, days))


def _care(text: str, source: Source | str, line: str = "", where: str = "") -> Advice:
    return Advice(text=text, line=line, where=where, source=str(source), care=True)


def _heat(session: Session, answer: heat.Answer, lines: Lines) -> Iterator[Advice]:
    place, level = line_of(("heat",), lines), answer.level
    head = f"{answer.told}: level {level} of {heat.NONE_ABOVE + 1}"
    if level > heat.NONE_ABOVE:
        yield _care(f"{head}; do not practise", answer.source, place, "heat")
        return
    if level == 0:
        return
    asks = isinstance(session.heat, Heat) and not session.heat.first_week
    new = "; is it the players' first hot week? then write first_week = true" * asks
    yield _care(f"{head}; {heat.rules(level)[0]}{new}", answer.source, place, "heat")
    limits = heat.BREAKS[level]
    yield from _too_long_for_heat(session, limits, lines)
    yield from _breaks(session, limits, lines)
    yield from _hard_in_heat(session, level, lines)


def _too_long_for_heat(session: Session, limits: heat.Breaks, lines: Lines) -> Iterator[Advice]:
    whole = _whole(session)
    if limits.longest is not None and whole > limits.longest:
        text = f"in this heat a practice lasts {spell(limits.longest)} at the most; this one is {spell(whole - limits.longest)} longer"
        yield _care(text, heat.BREAKS_SOURCE, line_of(("heat",), lines), "heat")


def _breaks(session: Session, limits: heat.Breaks, lines: Lines) -> Iterator[Advice]:
    has = sum(one.time for one in session.segment if one.kind in PAUSES)
    asked = -(-_whole(session) * limits.times * limits.each // 3_600_000)
    if has < asked:
        missing = spell(-(-(asked - has) // 1000) * 1000)
        text = f"waters and rests take {spell(has)} in all; in this heat {missing} more are asked for"
        yield _care(text, heat.BREAKS_SOURCE, line_of(("heat",), lines), "heat")


def _hard_in_heat(session: Session, level: int, lines: Lines) -> Iterator[Advice]:
    for at, one in enumerate(session.segment):
        if not heat.BREAKS[level].conditioning and (one.effort or 0) > 8:
            text = "no conditioning in this heat: take it out, or lower its effort"
            yield _care(text, heat.BREAKS_SOURCE, line_of(("segment", at), lines), called(one))
        if one.consequence is not None and not heat.consequence_allowed(level):
            text = "in this heat nobody pays: take the consequence out"
            yield _care(text, COMMON, line_of(("segment", at, "consequence"), lines), called(one))


def _water(session: Session, level: int, lines: Lines) -> Iterator[Advice]:
    every, source = water.every(session.age, level)
    dry, told = 0, False
    much = water.spoken(session.age)
    for at, one in enumerate(session.segment):
        dry, told = (0, False) if one.kind == "water" else (dry + (one.at_most or one.time), told)
        if dry > every and not told:
            told = True
            text = f'{spell(dry)} without water when it ends; put a segment of kind "water" in every {spell(every)}'
            text += f", for {much} each" * bool(much) + f"; {water.ANY_TIME}"
            said = f"{source}; {water.AAP}" if much and water.AAP.work not in source.work and source != water.EVERY_SOURCE else source
            yield _care(text, said, line_of(("segment", at), lines), called(one))


def _rest(session: Session, level: int, lines: Lines) -> Iterator[Advice]:
    """Per clock, those of stations too; where a role waits, by how soon the turns bring the same player on again."""
    squad = session.squad
    for at, one in enumerate(session.segment):
        if one.rest != "auto":
            told = tuple(_short(one.effort, one, squad, 'or rest = "auto"', line_of(("segment", at, "rep"), lines), called(one)))
            paying = heat.consequence_allowed(level) and not told
            yield from told or (_paid(one, squad, line_of(("segment", at, "consequence"), lines)) if paying else ())
        for n, station in enumerate(one.station):
            where = f"{called(one)}, station {shown(station.name)}"
            group = Squad(players=squad.players[: -(-len(squad.players) // len(one.station))])
            yield from _short(one.effort, station, group, "or a lower effort", line_of(("segment", at, "station", n), lines), where)


def _short(effort: int | None, play: Segment | Station, squad: Squad, cure: str, line: str, where: str) -> Iterator[Advice]:
    rep = play.rep
    if rep is None or rep.live is None or rep.starts != "by itself":
        return
    asked = rest(effort, rep.live)
    if asked is None or rep.off >= asked.least:
        return
    from courttimer.report.turning import again_after  # what plays the turns: most drills are well without

    again = again_after(play, squad.players, squad.teams)
    has = off_time(rep.live, rep.off, again)
    if has >= asked.least:
        return
    text = f"{spell(rep.live)} live at effort {effort} want {spell(asked.least)} of rest, {spell(asked.least - has)} more "
    text += f'than there are; write off = "{spell(off_needed(effort, rep.live, again))}", {cure}'
    yield _care(text + (": for quality, not safety" if asked.quality else ""), asked.source, line, where)


def _paid(one: Segment, squad: Squad, line: str) -> Iterator[Advice]:
    """Rest after the consequence, which is work right behind the rep; one that ends the drill is followed by none of its reps."""
    rep, cost = one.rep, one.consequence
    if rep is None or rep.live is None or rep.starts != "by itself" or cost is None or (one.score and one.score.then == "end drill"):
        return
    asked = max((rest(one.effort, ms) for ms in (rep.live, rep.live + cost.time)), key=lambda of: of.least if of else 0)
    if asked is None or rep.off >= asked.least:
        return
    from courttimer.report.turning import again_after

    if (missing := asked.least - off_time(rep.live, rep.off, again_after(one, squad.players, squad.teams))) > 0:
        text = f"who pays works {spell(rep.live + cost.time)} and wants {spell(asked.least)} of rest, {spell(missing)} more than there "
        yield _care(text + 'are; write rest = "auto", or make it shorter', asked.source, line, called(one))


def _length(session: Session, lines: Lines) -> Iterator[Advice]:
    row, whole = length.youth(session.age), _whole(session)
    if row is None or whole <= row.practice[1]:
        return
    least, most = row.practices
    times = f"{least} to {most} practices" if least < most else f"{most} {'practice' if most == 1 else 'practices'}"
    week = f"{times} and at most {row.hours} h a week, with {row.rest_days} rest {'day' if row.rest_days == 1 else 'days'}"
    text = f"{spell(whole)} is {spell(whole - row.practice[1])} more than age {session.age} should practise at a time; {week}"
    yield _care(text, f"{length.PRACTICE_SOURCE}; {length.WEEK_SOURCE}", line_of(("age",), lines), "age")


def _whole(session: Session) -> int:
    """What the segments take together, and with `at_most` may take, when the floor time has room for it."""
    planned = sum(one.time for one in session.segment)
    if session.floor is None:
        return planned
    room = session.floor[1] - session.floor[0] - session.clear
    return max(planned, min(room, sum(one.at_most or one.time for one in session.segment)))
