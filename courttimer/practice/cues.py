"""What is to be heard from now on: `upcoming` walks the same `next_due` as the clock, so a horn and its fact cannot disagree.

Each state plans what is heard while it lasts (`standing`), each event brings its tones (`tones`). Nothing is planned while the clock
stands.
"""

from collections.abc import Iterator
from dataclasses import replace

from courttimer.practice import events as ev
from courttimer.practice.cue import Cue
from courttimer.practice.due import next_due
from courttimer.practice.fold import fold
from courttimer.practice.spoken import spoken
from courttimer.practice.state import State
from courttimer.practice.toned import brought, tones, warnings

LATE_MS = 500
"""A tone that a call has brought is still wanted so long after its moment."""


def upcoming(s: State, since: int, until: int) -> tuple[Cue, ...]:
    """Every cue wanted from `since` to `until` (ms of practice time) if nobody calls, in the order of its moments."""
    cues: dict[str, Cue] = {c.id: c for c in brought(s) if c.at > since - LATE_MS}
    begins = 0
    while True:
        e = next_due(s)
        for c in _standing(s):
            wish = _within(c, begins, None if e is None else e.at)
            if wish is not None and wish.at < until and _still(wish, since):
                _add(cues, wish, begins)
        if e is None or e.at > until:
            return tuple(sorted(cues.values(), key=lambda c: (c.at, c.id)))
        after = fold(s, e)
        for c in tones(s, e, after):
            cues.setdefault(c.id, c)
        s, begins = after, e.at


def _within(c: Cue, begins: int, ends: int | None) -> Cue | None:
    """The part of a wish that lies in its state, so that no words spill into a rep; a moment or an end cannot be moved."""
    if c.sort == "tone" or c.right == "countdown":
        return c if begins <= c.at and (ends is None or c.at < ends) else None
    if c.ends and ends is not None and c.until > ends:
        return None
    c = replace(c, at=max(c.at, begins), until=c.until if ends is None else min(c.until, ends))
    return c if c.at < c.until else None


def _add(cues: dict[str, Cue], c: Cue, begins: int) -> None:
    """A wish goes on from one state into the next one, if that has it too."""
    known = cues.setdefault(c.id, c)
    if known.until == begins < c.until:
        cues[c.id] = replace(known, until=c.until)


def _standing(s: State) -> Iterator[Cue]:
    if not s.held and s.on:
        yield from warnings(s)
        yield from spoken(s)


def _still(c: Cue, since: int) -> bool:
    return c.until > since if c.sort == "speech" else c.at > since - LATE_MS


def hush(e: ev.Event) -> str:
    """How the sound falls silent when a call has made `e`.

    "halt": all of it, at once; "hold": begun tones finish; "speech": only what is being said, for what it was said for begins.
    A station that is held or goes silences nobody: the others play on.
    """
    if e.lane > 0:
        return ""
    match e:
        case ev.Halted() | ev.ThunderHeard():
            return "halt"
        case ev.Held():
            return "hold"
        case ev.Went() | ev.Moved() | ev.CalledOff() | ev.VoiceSwitched(on=False):
            return "speech"
    return ""
