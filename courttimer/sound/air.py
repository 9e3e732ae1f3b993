"""Who may be heard when: takes what the practice wishes, and gives every tone and phrase its place, or says why it has none.

Tones come first, for a horn is never moved and never covered:

- Tones of one instant become one: the strongest by right of way, then by TONES. It carries the names of the others.
- A tone that begins while another sounds cuts it off, for a horn has said what it says when it begins. But it is left out
  when the other has a stronger right of way, and of two that begin within NEAR of each other only the stronger sounds.

Then speech, strongest right of way first, each in the room that its wish leaves it:

- A counted word begins on its moment or not at all. Other speech begins as early as it can, or as late if it `ends` at a horn.
- Speech never meets speech. It keeps clear of tones too: the full text if there is room for it, then the short one; then,
  if it matters, with as little of it as can be under a tone, and ducked there; else it is left out.

Places are stable: asked again a moment later, when some of it has begun (`busy`), the rest stays where it was.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from courttimer.practice.cue import RIGHT_OF_WAY, Cue, Placed, Unplaced
from courttimer.sound.lengths import Lengths

TONES = ("go", "water", "change", "end", "open", "close", "warning", "back")
"""Which of two tones of one instant sounds, strongest first: what begins goes before what ends, for it says both."""
NEAR = 150
"""Two tones that begin within so many ms are heard as one muddle."""
AFTER_TONE = 150
"""So many ms after a tone the ear is free for words."""
BREATH = 150
"""Between two speeches, in ms."""
BEFORE_HORN = 250
"""Speech that ends at a horn leaves so many ms before it, if it can."""
DUCKS = ("halt", "countdown", "warning", "where")
"""These are spoken under a tone rather than not at all."""

Span = tuple[int, int]


def place(
    cues: Iterable[Cue], lengths: Lengths, busy: Sequence[Placed] = (), *, now: int = 0
) -> tuple[tuple[Placed, ...], tuple[Unplaced, ...]]:
    """Every wish with its place, in order of time, and those that found none.

    `busy` is what has begun, and is still sounding or may still be wished for. It is given back among the placed: a tone that
    comes into its way has cut it off (an earlier `until`), or ducks it. No speech is placed before `now`; tones stay on their
    moment, whatever `now` is.
    """
    begun = {p.cue.id for p in busy}
    wishes = list({cue.id: cue for cue in cues if cue.id not in begun}.values())
    tones, left_out = _tones([c for c in wishes if c.sort == "tone"], lengths, [p for p in busy if p.cue.sort == "tone"])
    room = _Room(lengths, tuple(tones), now, [p for p in busy if p.cue.sort == "speech"])
    for cue in sorted((c for c in wishes if c.sort == "speech"), key=_rank):
        why = room.put(cue)
        if why:
            left_out.append(Unplaced(cue=cue, why=why))
    placed = sorted((*tones, *room.taken), key=lambda p: (p.at, *_rank(p.cue)))
    return tuple(placed), tuple(left_out)


def _strength(cue: Cue) -> tuple[int, int]:
    """Smaller is stronger."""
    return _right(cue), TONES.index(cue.name) if cue.name in TONES else len(TONES)


def _right(cue: Cue) -> int:
    return RIGHT_OF_WAY.index(cue.right)


def _rank(cue: Cue) -> tuple[int, int, int, int, str]:
    return *_strength(cue), cue.at, cue.lane, cue.id


def _tones(wishes: list[Cue], lengths: Lengths, busy: list[Placed]) -> tuple[list[Placed], list[Unplaced]]:
    merged, begun = _merge(wishes, lengths, busy)
    sounding, left_out = list(begun), []
    for tone in sorted(merged, key=lambda p: _rank(p.cue)):
        rival = _rival(tone, sounding, begun)
        if rival is None:
            sounding.append(tone)
        else:
            left_out.append(Unplaced(cue=tone.cue, why=f'the tone "{rival.cue.name}" sounds at this moment'))
    return _cut(sorted(sounding, key=lambda p: p.at)), left_out


def _merge(wishes: list[Cue], lengths: Lengths, busy: list[Placed]) -> tuple[list[Placed], list[Placed]]:
    """One tone for each instant, and what has begun; wishes of an instant at which one began are said by that one."""
    begun = {p.at: p for p in busy}
    merged = []
    for at, same in groupby(sorted(wishes, key=lambda c: (c.at, *_rank(c))), key=lambda c: c.at):
        first, *rest = same
        if at in begun:
            begun[at] = replace(begun[at], also=_names(begun[at].cue, [*begun[at].also, first.name, *(c.name for c in rest)]))
        else:
            also = _names(first, [c.name for c in rest])
            merged.append(Placed(cue=first, at=at, until=at + lengths.tone(first.name), also=also))
    return merged, list(begun.values())


def _names(cue: Cue, others: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for name in others if name != cue.name))


def _rival(tone: Placed, sounding: list[Placed], begun: list[Placed]) -> Placed | None:
    """The tone for which this one is left out; all that are `sounding` are as strong, or have begun."""
    for other in sounding:
        weaker = other in begun and other.at < tone.at and _strength(tone.cue) < _strength(other.cue)
        if abs(other.at - tone.at) < NEAR and not weaker:
            return other
    before = max((p for p in sounding if p.at <= tone.at), key=lambda p: p.at, default=None)
    covers = before is not None and before.until > tone.at and _right(before.cue) < _right(tone.cue)
    return before if covers else None


def _cut(tones: list[Placed]) -> list[Placed]:
    """Each tone falls silent when the next begins."""
    cut = [replace(a, until=b.at) if b.at < a.until else a for a, b in pairwise(tones)]
    return cut + tones[-1:]


@dataclass(slots=True)
class _Room:
    """Where speech has been placed so far; lives as long as one call of `place`."""

    lengths: Lengths
    tones: tuple[Placed, ...]
    now: int
    taken: list[Placed]

    def __post_init__(self) -> None:
        self.taken = [replace(p, duck=self._ducks_of_begun(p)) for p in self.taken]

    def _ducks_of_begun(self, placed: Placed) -> tuple[Span, ...]:
        past = {a: b for a, b in placed.duck if a < self.now}
        return tuple(sorted((past | dict(self._under(placed.at, placed.until))).items()))

    def put(self, cue: Cue) -> str:
        """Take a place for this speech. Gives nothing, or why there is none, in words."""
        if cue.right == "countdown":
            return self._count(cue)
        texts = [text for text in (cue.text, cue.short) if text]
        found = next(self._places(cue, texts), None)
        if found is None:
            return self._why(cue, texts)
        self.taken.append(found)
        return ""

    def _count(self, cue: Cue) -> str:
        """A counted word has its own moment; what has begun and is weaker falls silent for it."""
        word = self._placed(cue, cue.text, cue.at)
        if cue.at < self.now:
            return "it is too late for it"
        if word.until > cue.until:
            return self._why(cue, [cue.text])
        rivals = [p for p in self.taken if _meet(p, word)]
        if any(_right(p.cue) <= _right(cue) or p.at >= cue.at for p in rivals):
            return "another word sounds at this moment"
        self.taken = [replace(p, until=cue.at) if p in rivals else p for p in self.taken]
        self.taken.append(word)
        return ""

    def _places(self, cue: Cue, texts: list[str]) -> Iterator[Placed]:
        """Every kind of place there is, best first."""
        speech = [(p.at - BREATH, p.until + BREATH) for p in self.taken]
        tones = [(p.at, p.until + AFTER_TONE) for p in self.tones]
        for text in texts:
            for at in self._free(cue, self.lengths.text(text), [*speech, *tones]):
                yield self._placed(cue, text, at)
        if cue.right in DUCKS:
            for text in texts:
                yield from self._ducked(cue, text, speech)

    def _ducked(self, cue: Cue, text: str, speech: list[Span]) -> Iterator[Placed]:
        """The places clear of speech, if at most half of the words are under a tone; the fewer, the better."""
        length = self.lengths.text(text)
        edges = [(p.at, p.until) for p in self.tones]
        ways = [self._placed(cue, text, at) for at in self._free(cue, length, speech, edges)]
        covered = {way.at: sum(b - a for a, b in way.duck) for way in ways}
        yield from sorted((w for w in ways if covered[w.at] * 2 <= length), key=lambda w: covered[w.at])

    def _free(self, cue: Cue, length: int, blocked: list[Span], edges: Sequence[Span] = ()) -> list[int]:
        """Where a speech of that length may begin, best first: at an end of its room, or beside what is blocked (or an edge)."""
        first, last = max(cue.at, self.now), cue.until - length
        calm = max(first, last - BEFORE_HORN) if cue.ends else first
        beside = [at for a, b in (*blocked, *edges) for at in (a - length, b) if first < at < last]
        found = {at for at in (first, last, calm, *beside) if first <= at <= last}
        starts = sorted(found, key=lambda at: (abs(at - calm), at))
        return [at for at in starts if all(at >= b or at + length <= a for a, b in blocked)]

    def _placed(self, cue: Cue, text: str, at: int) -> Placed:
        until = at + self.lengths.text(text)
        return Placed(cue=cue, at=at, until=until, text=text, duck=self._under(at, until))

    def _under(self, at: int, until: int) -> tuple[Span, ...]:
        """From when to when a speech has a tone over it."""
        spans = ((max(p.at, at), min(p.until, until)) for p in self.tones)
        return tuple((a, b) for a, b in spans if a < b)

    def _why(self, cue: Cue, texts: list[str]) -> str:
        if not texts:
            return "it has no words"
        shortest, room = min(map(self.lengths.text, texts)), cue.until - max(cue.at, self.now)
        if shortest > room:
            return f"it lasts {shortest / 1000:.1f} s and there are {max(room, 0) / 1000:.1f} s for it"
        return f"other cues leave no room for its {shortest / 1000:.1f} s"


def _meet(one: Placed, other: Placed) -> bool:
    return one.at < other.until and other.at < one.until
