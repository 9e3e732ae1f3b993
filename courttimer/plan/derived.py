"""What follows from the keys of a segment without being written: its reps, how a window opens, how long stations and spots last."""

from typing import Literal, NamedTuple

from courttimer.plan.model import Outcome, Rep, Segment, Station, Window
from courttimer.plan.times import parse
from courttimer.squad.groups import Side

How = Literal["with the rep", "on call", "every", "on outcome", "when window closes"]
OPENINGS = '"with the rep", "on call", "every 15 s", "on OUTCOME" or "when WINDOW closes"'


class Opening(NamedTuple):
    """How a window opens: `name` is the outcome or the window that opens it, `every` is in ms; for these ways only."""

    how: How
    name: str = ""
    every: int = 0


def opening(window: Window) -> Opening:
    """The parsed form of `window.opens`; raises ValueError for one that the checks would have refused."""
    text = window.opens
    if text == "with the rep":
        return Opening(how="with the rep")
    if text == "on call":
        return Opening(how="on call")
    if text.startswith("every ") and (every := parse(text.removeprefix("every "))):
        return Opening(how="every", every=every)
    if text.startswith("on ") and (name := text.removeprefix("on ").strip()):
        return Opening(how="on outcome", name=name)
    if text.startswith("when ") and text.endswith(" closes") and (name := text[5:-7].strip()):
        return Opening(how="when window closes", name=name)
    raise ValueError(f"{text!r} is none of {OPENINGS}")


def rep_of(segment: Segment) -> Rep | None:
    """Its reps. Stations and spots on one clock are reps too: the time at each is live, the change is off."""
    if segment.kind == "stations" and segment.each:
        return Rep(live=segment.each, off=segment.change, after_hold="goes on")
    if segment.kind == "spots" and (segment.within or segment.shots):
        return Rep(live=segment.within, off=segment.change, after_hold="goes on")
    if segment.kind == "scrimmage" and segment.game is not None and segment.rep is None:
        return Rep(live=segment.game.clock, starts="on call", after_hold="goes on")
    if segment.kind == "scrimmage" and segment.rep is None:
        return Rep(starts="at once")
    return segment.rep


def lasting(segment: Segment) -> int | None:
    """The ms that stations, or spots with a time at each, take together, set-up included; None for all others."""
    if segment.kind == "stations" and segment.station and segment.each:
        changes = (len(segment.station) - 1) * segment.change
        return segment.setup + len(segment.station) * segment.each + changes
    if segment.kind == "spots" and segment.spots and segment.within:
        return segment.setup + len(segment.spots) * segment.within * segment.rounds
    return None


def most_reps(play: Segment | Station) -> int | None:
    """How many reps there are at the most; None: as many as fit."""
    if isinstance(play, Station):
        return None
    if play.kind == "stations":
        return len(play.station)
    if play.kind == "spots":
        return len(play.spots) * play.rounds
    return 1 if play.game is not None and not play.game.repeat and play.rep is None else None


def outcomes_of(play: Segment | Station) -> tuple[Outcome, ...]:
    """What can happen, in the order of the keys. Where players count, they call only what they have reached or broken."""
    if play.score is None or play.score.counted != "players":
        return play.outcome
    names = {one.name for one in play.outcome}
    own = (REACHED, BROKEN) if play.score.row else (REACHED,)
    return (*play.outcome, *(one for one in own if one.name not in names))[:9]


REACHED, BROKEN = Outcome(name="reached"), Outcome(name="broken", breaks=True)


def waiting_role(play: Segment | Station) -> str:
    """The role of those who wait in line: the one called off, else the first that does not play."""
    waits = [role.name for role in play.roles if not role.plays]
    return "off" if "off" in waits or not waits else waits[0]


def sides_of(play: Segment | Station) -> tuple[Side, ...]:
    """The roles that take a number of players; a second role that does not play takes its number too."""
    off = waiting_role(play)
    return tuple(Side(name=role.name, least=role.size[0], most=role.size[1]) for role in play.roles if role.name != off)
