"""What is to be heard from now on: `upcoming` walks the same `next_due` as the clock, so a horn and its fact cannot disagree.

Each state plans what is heard while it lasts (`standing`), each event brings its tones (`tones`). Nothing is planned while the clock
stands.
"""

from collections.abc import Iterator

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
    first = True
    while True:
        e = next_due(s)
        to = until if e is None else min(e.at, until)
        for c in _standing(s):
            if (c.until <= to if c.ends else c.at < to) and (c.at >= s.at or first) and _still(c, since):
                cues.setdefault(c.id, c)
        if e is None or e.at > until:
            return tuple(sorted(cues.values(), key=lambda c: (c.at, c.id)))
        after = fold(s, e)
        for c in tones(s, e, after):
            cues.setdefault(c.id, c)
        s, first = after, False


def _standing(s: State) -> Iterator[Cue]:
    if not s.held and s.on:
        yield from warnings(s)
        yield from spoken(s)


def _still(c: Cue, since: int) -> bool:
    return c.until > since if c.sort == "speech" else c.at > since - LATE_MS


def hush(e: ev.Event) -> str:
    """How the sound falls silent when a call has made `e`.

    "halt": all of it, at once; "hold": begun tones finish; "speech": only what is being said, for what it was said for begins.
    """
    match e:
        case ev.Halted():
            return "halt"
        case ev.Held():
            return "hold"
        case ev.Went() | ev.Moved() | ev.CalledOff() | ev.VoiceSwitched(on=False):
            return "speech"
    return ""
