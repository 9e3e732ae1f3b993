"""What begins next in a lane: the set-up, a wait, a rep, the time between two, a consequence, and the windows that open."""

from collections.abc import Iterator

from courttimer.plan.derived import most_reps
from courttimer.practice.ends import Cut, owed
from courttimer.practice.event import Event
from courttimer.practice.events import RepBegan, StretchBegan, WindowOpened
from courttimer.practice.lane import Lane
from courttimer.practice.rested import resting
from courttimer.practice.state import READY_MS, State, left_in, moment, play_of, rep_in, window_of

CALLED = ("set-up", "waiting", "off")
"""Stretches that go ends."""


def begins(s: State, lane: Lane, n: int, *, last: bool) -> Iterator[Event]:
    """The next stretch of a lane that does not stand, and the windows that open; `last`: there are no more reps."""
    play = play_of(s, n)
    for one in lane.to_open:
        yield WindowOpened(at=max(one.at, s.at), lane=n, window=one.name, lasts=window_of(play, one.name).time, quiet=one.quiet)
    for name, at in lane.every if lane.live else ():
        if not any(w.name == name for w in lane.windows):
            yield WindowOpened(at=moment(s, lane, at), lane=n, window=name, lasts=window_of(play, name).time)
    if last:
        return
    if lane.stretch == "" or (lane.stretch in ("waiting", "spare") and owed(s, lane)):
        yield what_begins(s, lane, n, s.at)
    elif not lane.live and lane.ends is not None:
        yield what_begins(s, lane, n, moment(s, lane, lane.ends))
    going = s.going if n == 0 and lane.going is None else lane.going
    if going is not None and lane.stretch in CALLED:
        yield what_begins(s, lane, n, max(going, s.at), called=True)


def what_begins(s: State, lane: Lane, n: int, at: int, *, called: bool = False) -> Event:
    """What a lane does next when its stretch is over at `at`, or is ended by a call."""
    play, rep = play_of(s, n), rep_in(s, n)
    over = lane.stretch or lane.after
    setup = 0 if n > 0 else s.plan.segment[s.segment].setup + (s.setup_more[1] if s.setup_more[0] == s.segment else 0)
    if over == "segment" and setup:
        return StretchBegan(at=at, lane=n, stretch="set-up", lasts=setup)
    if rep is None:
        return StretchBegan(at=at, lane=n, stretch="on")
    if (owes := owed(s, lane)) and over in ("rep", "off", "waiting", "spare"):
        return StretchBegan(at=at, lane=n, stretch="consequence", lasts=owes)
    if lane.over:
        return StretchBegan(at=at, lane=n, stretch="spare")
    if rep.starts == "at once":
        return RepBegan(at=at, lane=n, rep=lane.rep + 1)
    between = over in ("rep", "consequence")
    off = max(rep.off - lane.shortened, 0) if between else 0
    off = resting(s, lane, n, at, off) if between or over in ("segment", "set-up") else 0
    room = left_in(s, n, at) - (READY_MS if over == "hold" else off)
    if not _fits(room, rep.live, most_reps(play), lane.rep):
        return StretchBegan(at=at, lane=n, stretch="spare")
    if off:
        return StretchBegan(at=at, lane=n, stretch="off", lasts=off)
    if over == "hold":
        return StretchBegan(at=at, lane=n, stretch="ready", lasts=READY_MS)
    if rep.starts == "on call" and not called and not lane.again:
        return StretchBegan(at=at, lane=n, stretch="waiting", lasts=room - (rep.live or 1) + 1)
    return RepBegan(at=at, lane=n, rep=lane.rep + 1, lasts=rep.live)


def _fits(room: int, live: int | None, most: int | None, rep: int) -> bool:
    """Is there room for one more rep, and is one more to be played?"""
    return (most is None or rep < most) and room >= (live or 1)


def reps_end(cut: Cut | None) -> tuple[int, ...]:
    """The moment after which nothing more can come in a lane."""
    return () if cut is None else (cut.at,)
