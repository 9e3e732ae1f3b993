"""Which words there are, and few of them.

Where to go at the start of a water or a change, the last thirty seconds of those, the last minute of a long segment, "Ready" before a
rep, "Last one". Nothing is spoken while the ball is live.
"""

from collections.abc import Iterator

from courttimer.plan.derived import rep_of
from courttimer.plan.model import Segment
from courttimer.practice.cue import FLOOR, Cue, Late, Saying
from courttimer.practice.fitting import news
from courttimer.practice.lane import Lane
from courttimer.practice.room import BREAKS, READY_ROOM_MS, ROOM_MS, goes
from courttimer.practice.spots import next_spot, round_over
from courttimer.practice.state import State, following, moment, rep_in
from courttimer.practice.toned import CLOCKED, LONG_MS, MINUTE_MS, heard

TRUE_MS = 2_500
"""A time that is told must be over within this, or it is no longer true."""
MINUTE_TRUE_MS = 5_000
"""The same for a minute."""
THIRTY_MS = 30_000
TOLD_MS = 8_000
"""What has happened is told within this, or not at all."""
COUNT = ((3, "three"), (2, "two"), (1, "one"))


def spoken(s: State) -> Iterator[Cue]:
    """The speech that belongs to what runs now."""
    say, segment = s.plan.voice.say, s.running
    if say == "horns" or not s.voice or segment is None:
        return
    yield from _beginning(s, segment)
    yield from _said(s)
    for n, lane in enumerate(s.lanes):
        if not heard(s, n) or lane.clock.held is not None:
            continue
        yield from _between(s, segment, lane, n)
        if n == 0 and lane.stretch == "spare" and (after := _after(s)):
            yield _speech(s, n, lane.began, "then", lane.began, s.clock.outer(s.ends), Saying(phrase="next", what=after), right="where")
        if not lane.live:
            yield from _before_rep(s, segment, lane, n)
        if n == 0 and lane.stretch == "off" and say == "all" and segment.reminders:
            yield _reminder(s, segment, lane, n)
    yield from _times(s, segment)
    if say == "all" and segment.kind in BREAKS:
        yield from _count(s, s.clock.outer(s.ends))


def _said(s: State) -> Iterator[Cue]:
    """What has happened and is to be told as soon as the ball is not live: a target, who comes on, the coach's own words."""
    for one in s.says:
        live = one.lane < len(s.lanes) and s.lanes[one.lane].live
        if not live and heard(s, one.lane if one.lane < len(s.lanes) else 0):
            says, right = one.says if one.says.phrase else one.says.what, "turn" if one.name.startswith("on ") else "score"
            yield _speech(s, one.lane, one.at, one.name, one.at, one.at + TOLD_MS, says, right=right)


def _between(s: State, segment: Segment, lane: Lane, n: int) -> Iterator[Cue]:
    """What the time between two reps is for: the consequence, the next station or spot, the makes."""
    until = moment(s, lane, lane.ends) if lane.ends is not None else lane.began + TOLD_MS
    if lane.stretch == "consequence" and segment.consequence:
        told: str | Saying = segment.consequence.say or Saying(phrase="pays", time=(lane.ends or 0) - lane.since)
        yield _speech(s, n, lane.began, "consequence", lane.began, until, told, right="where")
    if n == 0 and lane.stretch == "off" and segment.kind == "stations":
        yield _speech(s, 0, lane.began, "change to", lane.began, until, Saying(phrase="change-to"), right="where")
    if n == 0 and segment.kind == "spots" and lane.stretch in ("off", "set-up", "spare"):
        if (spot := next_spot(s)) and lane.stretch != "spare":
            yield _speech(s, 0, lane.began, "spot", lane.began, until, Saying(phrase="spot", what=spot), right="where")
        if round_over(s):
            yield _speech(s, 0, lane.began, "enter", lane.began, until, Saying(phrase="enter"), right="turn")


def _beginning(s: State, segment: Segment) -> Iterator[Cue]:
    """Said once, at the start of the segment, before its first rep."""
    lane = s.lanes[0] if s.lanes else None
    if lane is None or lane.stretch not in ("set-up", "waiting", "on") or lane.rep > 0:
        return
    text: str | Saying = segment.announce or f"{segment.title}."
    if segment.kind in BREAKS:
        text = break_saying(segment, s.times[s.segment], _after(s))
    until = min(s.began + ROOM_MS, s.clock.outer(s.ends))
    if lane.stretch == "set-up" and lane.ends is not None and goes(segment):
        until = moment(s, lane, lane.ends) - READY_ROOM_MS
    yield _speech(s, FLOOR, s.began, "where", s.began, until, text, short=f"{segment.title}.", right="where")
    if segment.kind in BREAKS and (lost := news(s)) is not None:
        told = fit_saying(s.plan.segment[lost.segment], lost.left_out, lost.late)
        yield _speech(s, FLOOR, s.began, "fit", s.began, until, told, right="reminder", late="expire")
    if segment.rule:
        yield _speech(s, FLOOR, s.began, "rule", s.began, until, segment.rule, right="reminder", late="expire")


def fit_saying(segment: Segment, left_out: bool, late: int) -> Saying:
    """What the fit has changed, in one sentence: half a minute, or to the minute."""
    about = THIRTY_MS if late < MINUTE_MS * 3 // 4 else round(late / MINUTE_MS) * MINUTE_MS
    return Saying(phrase="fit-out" if left_out else "fit", what=segment.title, time=about)


def _after(s: State) -> str:
    after = following(s, s.segment + 1)
    return s.plan.segment[after].title if after < len(s.plan.segment) else ""


def break_saying(segment: Segment, ms: int, then: str) -> Saying:
    """What a water or a rest says at its start."""
    return Saying(phrase="break-then" if then else "break", what=segment.title, time=ms, then=then)


def _before_rep(s: State, segment: Segment, lane: Lane, n: int) -> Iterator[Cue]:
    """ "Ready", or "Last one", to end just before the go tone."""
    rep = rep_in(s, n)
    if rep is None:
        return
    if s.last is not None and lane.stretch == "waiting":
        yield _speech(s, n, lane.began, "last one", s.last[1], s.last[1] + TRUE_MS, Saying(phrase="last-one"), right="turn")
    known = lane.stretch == "ready" or (rep.starts == "by itself" and lane.stretch in ("set-up", "off"))
    if not known or lane.ends is None or (n == 0 and segment.kind in CLOCKED):
        return
    go = moment(s, lane, lane.ends)
    name = "last-one" if s.last is not None else "ready"
    room = max(lane.began, go - 3_000)
    yield _speech(s, n, lane.began, name.replace("-", " "), room, go, Saying(phrase=name), right="turn", ends=True)


def _reminder(s: State, segment: Segment, lane: Lane, n: int) -> Cue:
    """One of the reminders, each in its turn, in the first third of the off time."""
    rep = rep_of(segment)
    until = lane.began + max((rep.off if rep else 0) // 3, 0)
    text = segment.reminders[(lane.rep - 1) % len(segment.reminders)]
    return _speech(s, n, lane.began, "reminder", lane.began, until, text, right="reminder", late="expire")


def _times(s: State, segment: Segment) -> Iterator[Cue]:
    """How long it still is: thirty seconds of a break or a change, a minute of a long segment."""
    if s.lanes and s.lanes[0].live and segment.kind not in CLOCKED:
        return
    end = s.clock.outer(s.ends)
    if segment.kind in BREAKS and s.times[s.segment] > 2 * THIRTY_MS:
        yield _told(s, FLOOR, s.began, "thirty seconds", end - THIRTY_MS, Saying(phrase="thirty-seconds"), n=s.ends)
    elif s.times[s.segment] > LONG_MS and segment.kind not in CLOCKED:
        yield _told(s, FLOOR, s.began, "one minute", end - MINUTE_MS, Saying(phrase="one-minute"), n=s.ends, true=MINUTE_TRUE_MS)
    for n, lane in enumerate(s.lanes[:1]):
        if segment.kind in CLOCKED and lane.ends is not None and lane.ends - lane.since > 3 * THIRTY_MS // 2 and not lane.live:
            yield _told(s, n, lane.began, "thirty seconds", moment(s, lane, lane.ends) - THIRTY_MS, Saying(phrase="thirty-seconds"))


def _count(s: State, end: int) -> Iterator[Cue]:
    """Three, two, one, each word on its second."""
    for seconds, word in COUNT:
        at = end - 1000 * seconds
        yield Cue(
            lane=FLOOR, stretch=s.began, name="count", n=seconds, sort="speech", at=at, until=at + 1000, segment=s.segment,
            says=Saying(phrase=word), right="countdown", if_late="drop", group=f"{FLOOR}.{s.began}.count",
        )  # fmt: skip


def _told(s: State, lane: int, stretch: int, name: str, at: int, text: Saying, *, n: int = 0, true: int = TRUE_MS) -> Cue:
    return _speech(s, lane, stretch, name, at, at + true, text, right="warning", late="drop", n=n)


def _speech(
    s: State, lane: int, stretch: int, name: str, at: int, until: int, said: str | Saying,
    *, right: str, late: Late = "drop", short: str = "", ends: bool = False, n: int = 0,
) -> Cue:  # fmt: skip
    says, text = (said, "") if isinstance(said, Saying) else (None, said)
    return Cue(
        lane=lane, stretch=stretch, name=name, n=n, sort="speech", at=at, until=until, ends=ends, says=says,
        text=text, short=short, segment=s.segment, right=right, if_late=late, group=f"{lane}.{stretch}.{name}",
    )  # fmt: skip
