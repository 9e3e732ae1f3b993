"""Which tones there are: one for each thing that happens on the floor, the strongest first when two share an instant."""

from collections.abc import Iterator

from courttimer.plan.derived import opening
from courttimer.plan.model import Segment, Station
from courttimer.practice import events as ev
from courttimer.practice.cue import FLOOR, Cue
from courttimer.practice.state import State, moment, play_of, played_again, rep_in, window_of

GROUP_MS = 24_000
"""One mapping to the sound card serves for so long: a longer rep's end is a group of its own."""
LONG_MS = 240_000
"""Segments longer than this have their last minute told."""
MINUTE_MS = 60_000
CLOCKED = ("stations", "spots")


def heard(s: State, n: int) -> bool:
    """Does this lane sound? Of the stations only those that say so: the common change is lane 0."""
    play = play_of(s, n) if n > 0 else None
    return not isinstance(play, Station) or play.heard


def tones(s: State, e: ev.Event, after: State) -> Iterator[Cue]:
    """The tones of what time has brought, at their own moments; early ends come from `brought`."""
    if e.lane > 0 and not heard(s, e.lane):
        return
    if isinstance(e, ev.StretchBegan) and s.lanes[e.lane].stretch == "consequence":
        yield _tone(s, e.lane, s.lanes[e.lane].began, "end", e.at, "consequence")
    match e:
        case ev.SegmentBegan():
            kind = s.plan.segment[e.segment].kind
            yield _tone(after, FLOOR, e.at, "water" if kind in ("water", "rest") else "change", e.at, "floor")
        case ev.RepBegan():
            yield _tone(after, e.lane, e.at, "go", e.at, "rep")
        case ev.RepEnded(why="time" | "target"):
            yield _rep_end(s, e)
        case ev.RepEnded(starts=int()):
            yield from brought(after)
        case ev.WindowOpened(quiet=False):
            began = after.lanes[e.lane].began
            yield _tone(after, e.lane, began, "open", e.at, window_group(play_of(s, e.lane), began, e.window, e.at), n=e.at)
        case ev.WindowClosed(why="time" | "rep"):
            began, opened = s.lanes[e.lane].began, next(w.began for w in s.lanes[e.lane].windows if w.name == e.window)
            yield _tone(s, e.lane, began, "close", e.at, window_group(play_of(s, e.lane), began, e.window, opened), n=e.at)
        case ev.HoldEnded(lane=-1) if _plays_on(after):
            yield _tone(after, FLOOR, e.at, "go", e.at, "hold")
        case ev.PracticeEnded():
            yield _tone(s, FLOOR, e.at, "end", e.at, "floor")


def brought(s: State) -> Iterator[Cue]:
    """Tones that a call has brought: dated at the press, heard a moment later."""
    for n, lane in enumerate(s.lanes):
        if lane.tone is not None and heard(s, n):
            # Not the identity of the next rep's own end, which may begin at this very ms.
            yield _tone(s, n, lane.began, *lane.tone, "early", n=1)


def warnings(s: State) -> Iterator[Cue]:
    """Tones before something ends."""
    segment = s.running
    for n, lane in enumerate(s.lanes):
        for window in lane.windows if heard(s, n) and lane.clock.held is None else ():
            early = window_of(play_of(s, n), window.name).warning
            if early:
                at = moment(s, lane, window.ends) - early
                yield _tone(s, n, lane.began, "warning", at, window_group(play_of(s, n), lane.began, window.name, window.began), n=at)
    if segment is not None and s.times[s.segment] > LONG_MS and (rep := rep_in(s, 0)) and rep.starts == "at once":
        yield _tone(s, FLOOR, s.began, "warning", s.clock.outer(s.ends) - MINUTE_MS, "minute", n=s.ends)


def _rep_end(s: State, e: ev.RepEnded) -> Cue:
    """A rep's end belongs to its start, unless it is too long for one mapping; stations change, they do not end."""
    lane = s.lanes[e.lane]
    name = "change" if e.lane == 0 and s.plan.segment[s.segment].kind in CLOCKED else "end"
    return _tone(s, e.lane, lane.began, name, e.at, "rep" if e.at - lane.began <= GROUP_MS else "rep end")


def window_group(play: Segment | Station, rep: int, name: str, opened: int) -> str:
    """Each window is a group of its own; one that opens with its rep or with another's close shares that group, if it fits."""
    window = window_of(play, name)
    how = opening(window)
    if how.how == "with the rep":
        return "rep"
    if how.how == "when window closes" and opened + window.time - rep <= GROUP_MS:
        return window_group(play, rep, how.name, opened - window_of(play, how.name).time)
    return f"window {name} {opened}"


def _plays_on(s: State) -> bool:
    """After this hold play goes on where it stood, so the players need a tone."""
    lane, rep = s.lanes[0] if s.lanes else None, rep_in(s, 0) if s.lanes else None
    return lane is not None and (lane.stretch == "on" or (lane.live and rep is not None and not played_again(rep)))


def _tone(s: State, lane: int, stretch: int, name: str, at: int, group: str, *, n: int = 0) -> Cue:
    return Cue(
        lane=lane, stretch=stretch, name=name, n=n, sort="tone", at=at, until=at, segment=s.segment,
        right="warning" if name == "warning" else "horn", if_late="drop" if name == "warning" else "play",
        group=f"{lane}.{stretch}.{group}",
    )  # fmt: skip
