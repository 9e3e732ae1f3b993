"""A workout that was played elsewhere, from a phone: kept as a practice of its own, with the makes that the player enters."""

from collections.abc import Callable

from courttimer import __version__, locations
from courttimer.memory.journal import Header, Journal
from courttimer.plan.model import Segment
from courttimer.plan.reading import Reading
from courttimer.practice import events as ev
from courttimer.practice.calls import whole
from courttimer.rehearsal import Played, rehearse

UNKNOWN = ""
"""An empty answer: not entered, which is unknown and not nought."""


def entered(found: Reading, ask: Callable[[str], str], tell: Callable[[str], None], *, at: str | None = None) -> tuple[ev.Event, ...]:
    """The practice as its clock alone plays it, from `at` (a time of day), and the makes that the player answers with."""
    played = rehearse(found, at=at)
    ends = max(e.at for e in played.events)
    makes = tuple(
        ev.MakesEntered(at=ends, by="key", segment=i, spot=spot, round=turn, makes=made, shots=segment.shots)
        for i, segment in enumerate(found.session.segment)
        for turn in range(1, segment.rounds + 1)
        for spot in segment.spots
        if (made := _asked(segment, spot, turn, ask, tell)) is not None
    )
    return (*_facts(played), *makes)


def _facts(played: Played) -> tuple[ev.Event, ...]:
    """What the practice was; what was heard of it here was heard by nobody."""
    return tuple(e for e in played.events if not isinstance(e, ev.CueHeard | ev.CueDropped))


def _asked(segment: Segment, spot: str, turn: int, ask: Callable[[str], str], tell: Callable[[str], None]) -> int | None:
    """How many went in at one spot in one round; None when it is not known."""
    of = f" of {segment.shots}" if segment.shots else ""
    while True:
        answer = ask(f"{segment.title}, round {turn}, {spot}: makes{of}? ").strip()
        if answer == UNKNOWN:
            return None
        if whole(answer) and int(answer) <= (segment.shots or 999):
            return int(answer)
        tell(f"a number up to {segment.shots or 999} is wanted, or nothing when it is not known")


def keep(found: Reading, events: tuple[ev.Event, ...]) -> Journal:
    """A new journal with these events. Raises JournalError when it cannot be kept."""
    wall = next(e.wall for e in events if isinstance(e, ev.Opened))
    head = Header(wall=wall, program=__version__, title=found.session.title, session=next(iter(found.files)), files=found.files)
    journal = Journal.create(locations.journals(), head)
    for e in events:
        journal.write(e)
    journal.close()
    return journal
