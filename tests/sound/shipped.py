"""The shipped sessions as they are heard, for the tests of sound: rehearsed once, with what was live when."""

from functools import cache
from pathlib import Path

from courttimer import locations
from courttimer.plan.reading import Reading, read
from courttimer.practice import events as ev
from courttimer.rehearsal import Played, rehearse
from courttimer.sound.render import Heard

SESSIONS = tuple(sorted(locations.sessions().glob("*.toml")))
Span = tuple[int, int]


def reading(path: Path) -> Reading:
    return read(path.name, path.read_bytes(), locations.reader(path.parent))


@cache
def played(path: Path) -> Played:
    return rehearse(reading(path))


def sounds(path: Path, sort: str) -> list[Heard]:
    """All tones, or all speech."""
    return [h for h in played(path).tape.heard() if h.placed.cue.sort == sort]


def live(events: list[ev.Event]) -> list[tuple[int, Span]]:
    """When the ball was live, and on which lane, from the events alone."""
    began: dict[int, int] = {}
    spans = []
    for e in events:
        if isinstance(e, ev.RepBegan):
            began[e.lane] = e.at
        elif isinstance(e, ev.RepEnded):
            spans.append((e.lane, (began.pop(e.lane), e.at)))
    assert not began
    return spans


def offs(events: list[ev.Event]) -> list[Span]:
    """The off times between reps, as long as they really were."""
    stretches = [e for e in events if isinstance(e, ev.StretchBegan | ev.RepBegan | ev.SegmentEnded)]
    spans = []
    for i, e in enumerate(stretches):
        if isinstance(e, ev.StretchBegan) and e.stretch == "off":
            spans.append((e.at, next(x.at for x in stretches[i + 1 :] if x.lane in (e.lane, -1))))
    return spans


def shared(one: Span, other: Span) -> int:
    """For how many ms both last."""
    return max(0, min(one[1], other[1]) - max(one[0], other[0]))
