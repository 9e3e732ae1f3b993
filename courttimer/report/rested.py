"""What rest each player had between bouts, as the turns really put them on the floor, and what of it was missing: told afterwards."""

from collections.abc import Iterable, Iterator
from itertools import groupby, pairwise
from typing import NamedTuple

from courttimer.care.bouts import Bout, Missing, missing
from courttimer.plan.model import Segment
from courttimer.plan.times import spell
from courttimer.plan.words import shown
from courttimer.practice import events as ev
from courttimer.practice.event import Names
from courttimer.practice.lane import Lane
from courttimer.practice.lineup import on_floor
from courttimer.practice.scoring import members
from courttimer.practice.state import State, play_of, rep_in, stands
from courttimer.report.stands import Stood
from courttimer.report.told import Advice

STILL = ("talk", "rest", "water")
"""Kinds of segments in which nobody works."""
Work = tuple[Names, int | None, bool]
"""Who works, how hard, and whether they pace themselves."""


def bouts(stood: Iterable[Stood]) -> dict[str, list[Bout]]:
    """Each player's work in practice time, consequences included; of a team that subs inside itself everyone counts as on."""
    found: dict[str, list[Bout]] = {}
    paying: dict[int, Names] = {}
    for one, then in pairwise(stood):
        if isinstance(one.event, ev.TargetReached):
            paying[one.event.lane] = one.event.pays
        for names, effort, paced in _at_work(one.after, paying):
            for name in names:
                _goes_on(found.setdefault(name, []), Bout(one.event.at, then.event.at, effort, paced))
    return {name: work for name, work in found.items() if work}


def rest_advice(stood: Iterable[Stood]) -> tuple[Advice, ...]:
    """A line for each segment and each source by which rest was short in it: how often, for how many, and the worst of it."""
    known = tuple(stood)
    began = [(one.event.at, one.after.running.title) for one in known if isinstance(one.event, ev.SegmentBegan) and one.after.running]
    short = [_Short(_at(began, one), name, one) for name, work in bouts(known).items() for one in missing(work)]
    short.sort(key=lambda one: (*one.group, -one.missing.ms, one.name))
    titles = dict(began)
    return tuple(_told(list(of), titles.get(at, "")) for (at, _), of in groupby(short, key=lambda one: one.group))


class _Short(NamedTuple):
    """One bout after which a player rested too little, in the segment that began then."""

    began: int
    name: str
    missing: Missing

    @property
    def group(self) -> tuple[int, str]:
        return self.began, str(self.missing.asked.source)


def _at(began: list[tuple[int, str]], one: Missing) -> int:
    return max((at for at, _ in began if at <= one.bout.start), default=0)


def _told(short: list[_Short], title: str) -> Advice:
    (_, name, worst), players = short[0], len({one.name for one in short})
    times = "once" if len(short) == 1 else f"{len(short)} times"
    text = f"short {times} for {players} {'player' if players == 1 else 'players'}; most for {name}, by {_spelt(worst.ms)} of "
    text += f"{_spelt(worst.asked.least)} after {_spelt(worst.bout.end - worst.bout.start)} at effort {worst.bout.effort}"
    text += ": for quality, not safety" if worst.asked.quality else ""
    return Advice(text=text, where=f"rest, {shown(title)}", source=str(worst.asked.source), care=True)


def _spelt(ms: int) -> str:
    """In whole seconds, the last one begun counted."""
    return spell(-(-ms // 1000) * 1000)


def _goes_on(work: list[Bout], more: Bout) -> None:
    last = work[-1] if work else None
    if last and last.end == more.start and (last.effort, last.paced) == (more.effort, more.paced):
        work[-1] = last._replace(end=more.end)
    elif more.end > more.start:
        work.append(more)


def _at_work(s: State, paying: dict[int, Names]) -> Iterator[Work]:
    segment = s.running
    if segment is None or not s.on or segment.kind in STILL:
        return
    stations = segment.kind == "stations"
    for n, lane in enumerate(s.lanes):
        if stands(s, lane) or (stations and (n == 0 or not s.lanes[0].live)):
            continue
        rep = rep_in(s, n)
        if lane.stretch == "consequence":
            yield paying.get(n, ()), segment.effort, False
        elif lane.live or lane.stretch == "on":
            yield _playing(s, segment, lane, n), segment.effort, rep is None or rep.starts == "at once"


def _playing(s: State, segment: Segment, lane: Lane, n: int) -> Names:
    """Those in a role that plays; without roles the group at the station, or everyone here."""
    standing = lane.was or lane.standing
    names = members(lane.units, on_floor(play_of(s, n), standing)) if standing and play_of(s, n).roles else s.here
    if segment.kind == "stations" and not play_of(s, n).roles:
        common = s.lanes[0]
        groups = [name for place in common.standing[n - 1 : n] for _, of in place for name in of]
        names = members(common.units, groups)
    return tuple(one for one in names if one in s.here)
