"""Who may be heard when: places the wish list on the time line, so that no horn is moved or covered and no two voices speak at once.

Pure: the same wishes give the same places, for the speaker, the tape and the list of cues alike. Tones stay at their moments; those of
one instant become one. Speech goes by right of way, then by time; each keeps to its room, between the tones and beside the speech that
is placed already. What finds no place is said shorter, or left out and told.
"""

from collections.abc import Iterable, Iterator
from typing import Protocol

from courttimer.practice.cue import RIGHT_OF_WAY, Cue, Placed, Unplaced

TONES = ("go", "water", "end", "change", "close", "open", "back", "warning")
"""Which tone is heard when several share an instant: what sets players moving goes before what tells them that something ended."""
BEFORE_HORN = 250
"""ms of silence between speech and the horn that it leads to."""
AFTER_TONE = 150
"""ms between a tone and the speech after it, and between two speeches."""


class Lengths(Protocol):
    """How long things sound, in ms."""

    def tone(self, name: str) -> int: ...
    def text(self, text: str) -> int: ...


Span = tuple[int, int]


def place(cues: Iterable[Cue], lengths: Lengths, busy: tuple[Placed, ...] = ()) -> tuple[tuple[Placed, ...], tuple[Unplaced, ...]]:
    """The cues with their places, in order of time, and those that found none. `busy` has begun, and is not moved."""
    wishes = list(cues)
    placed = _tones([c for c in wishes if c.sort == "tone"], lengths)
    unplaced: list[Unplaced] = []
    tones = [(p.at, p.until) for p in (*busy, *placed) if p.cue.sort == "tone"]
    said = [(p.at, p.until) for p in busy if p.cue.sort == "speech"]
    for cue in sorted((c for c in wishes if c.sort == "speech"), key=_rank):
        found = _speech(cue, lengths, _blocked(tones, said))
        if found is None:
            unplaced.append(Unplaced(cue=cue, why=f'no room for "{cue.short or cue.text}"'))
        else:
            said.append((found.at, found.until))
            placed.append(found)
    return tuple(sorted(placed, key=lambda p: (p.at, p.cue.id))), tuple(unplaced)


def _rank(cue: Cue) -> tuple[int, int, str]:
    return RIGHT_OF_WAY.index(cue.right), cue.at, cue.id


def _tones(tones: list[Cue], lengths: Lengths) -> list[Placed]:
    """One tone an instant; the weaker ones of that instant are named in `also`."""
    instants: dict[int, list[Cue]] = {}
    for cue in tones:
        instants.setdefault(cue.at, []).append(cue)
    out = []
    for at, same in instants.items():
        first, *rest = sorted(same, key=lambda c: (TONES.index(c.name) if c.name in TONES else len(TONES), c.lane, c.id))
        out.append(Placed(cue=first, at=at, until=at + lengths.tone(first.name), also=tuple(c.name for c in rest)))
    return out


def _blocked(tones: list[Span], said: list[Span]) -> list[Span]:
    """Where no speech may be: around tones and other speech, with the silence between them."""
    around = [(a - BEFORE_HORN, b + AFTER_TONE) for a, b in tones] + [(a - AFTER_TONE, b + AFTER_TONE) for a, b in said]
    return sorted(around)


def _speech(cue: Cue, lengths: Lengths, blocked: list[Span]) -> Placed | None:
    for text in filter(None, (cue.text, cue.short)):
        lasts = lengths.text(text)
        start = next((s for s in _starts(cue, lasts, blocked) if _free(s, s + lasts, blocked)), None)
        if start is not None:
            return Placed(cue=cue, at=start, until=start + lasts, text=text)
    return None


def _starts(cue: Cue, lasts: int, blocked: list[Span]) -> Iterator[int]:
    """Every start worth trying, best first."""
    if cue.right == "countdown":
        yield cue.at
        return
    first, latest = cue.at, cue.until - lasts - (BEFORE_HORN if cue.ends else 0)
    edges = [latest, *(a - lasts for a, _ in blocked)] if cue.ends else [first, *(b for _, b in blocked)]
    yield from (s for s in sorted(edges, reverse=cue.ends) if first <= s <= latest)


def _free(start: int, end: int, blocked: list[Span]) -> bool:
    return all(end <= a or start >= b for a, b in blocked)
