"""Who may be heard when: takes what the practice wishes, and gives every tone and phrase its place, or says why it has none.

As much is heard as can be, the strongest right of way first: no speech of one right is left out for a weaker one, nor if another
order, another form or another moment would have kept it. Tones come first, for a horn is never moved and never covered:

- Tones of one instant become one: the strongest by right of way, then by TONES. It carries the names of the others.
- A tone that begins while another sounds cuts it off, for a horn has said what it says when it begins. But it is left out
  when the other has a stronger right of way, and of those that begin within NEAR of each other only some sound: as many as can,
  and of two the stronger.

Then counted words: each begins on its moment or not at all, and no two meet. Then all other speech (foresight.py):

- It begins as early as it can, or as late if it `ends` at a horn. Speech never meets speech.
- It keeps clear of tones too, the full text or the short one. If it matters, it is spoken under a tone, and ducked there, rather
  than not at all: at most a quarter of it, at most half of it.
- Of equals in a second another lane goes first each time, so that no station is always the one that is left out.

Places are stable: asked again a moment later, when some of it has begun (`busy`), the rest stays where it was; unless more speech
hangs together than foresight.py can look through.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from courttimer.practice.cue import Cue, Placed, Unplaced
from courttimer.sound.chain import best_row, knots
from courttimer.sound.lengths import Lengths
from courttimer.sound.words import Room, calm, right

TONES = ("go", "water", "change", "end", "open", "close", "warning", "back")
"""Which of two tones of one instant sounds, strongest first: what begins goes before what ends, for it says both."""
NEAR = 150
"""Two tones that begin within so many ms are heard as one muddle."""
MOVED = 2_000
"""Speech that begins so many ms off its calm moment is told as moved."""


def place(
    cues: Iterable[Cue], lengths: Lengths, busy: Sequence[Placed] = (), *, now: int = 0
) -> tuple[tuple[Placed, ...], tuple[Unplaced, ...]]:
    """Every wish with its place, in order of time, and those that found none.

    `busy` is what has begun, and is still sounding or may still be wished for. It is given back among the placed: a tone that
    comes into its way has cut it off (an earlier `until`), or ducks it. No speech is placed before `now`; tones stay on their
    moment, whatever `now` is.
    """
    begun = {p.cue.id for p in busy}
    wishes = sorted({c.id: c for c in cues if c.id not in begun}.values(), key=_rank)
    tones, silent = _tones([c for c in wishes if c.sort == "tone"], lengths, [p for p in busy if p.cue.sort == "tone"])
    room = Room(lengths, tuple(tones), now, [p for p in busy if p.cue.sort == "speech"])
    unsaid = room.count([c for c in wishes if c.sort == "speech" and c.right == "countdown"])
    unsaid += room.speak([c for c in wishes if c.sort == "speech" and c.right != "countdown"])
    placed = sorted((*tones, *room.taken), key=lambda p: (p.at, *_rank(p.cue)))
    return tuple(placed), (*silent, *unsaid)


def moved(placed: Placed) -> int:
    """By how many ms a speech begins off the moment at which it would have begun alone; 0 for a tone."""
    cue = placed.cue
    return 0 if cue.sort == "tone" else abs(placed.at - calm(cue, placed.until - placed.at))


def _strength(cue: Cue) -> tuple[int, int]:
    """Smaller is stronger."""
    return right(cue), TONES.index(cue.name) if cue.name in TONES else len(TONES)


def _rank(cue: Cue) -> tuple[int, int, int, int, int, str]:
    second = cue.at // 1000
    # Any mixing of the two will do, as long as no lane is first at every moment of a steady rhythm; what concerns all is first.
    turn = (second * 2_654_435_761 ^ (cue.lane + 1) * 2_246_822_519) * 3_266_489_917 >> 13 & 0xFFFF if cue.lane >= 0 else -1
    return *_strength(cue), second, turn, cue.at, cue.id


def _tones(wishes: list[Cue], lengths: Lengths, busy: list[Placed]) -> tuple[list[Placed], list[Unplaced]]:
    begun = {p.at: p for p in busy}
    instants: dict[int, list[Cue]] = {}
    for cue in wishes:
        instants.setdefault(cue.at, []).append(cue)
    tones = [_merged(at, same, begun.get(at), lengths) for at, same in instants.items()]
    sounding, silent = [], []
    for knot in knots(sorted((*tones, *(p for at, p in begun.items() if at not in instants)), key=lambda p: p.at), NEAR):
        row = best_row(knot, lambda p: _worth(p, instants.get(p.at, []), p.at in begun), lambda a, b: _follows(a, b, begun))
        sounding += row
        silent += [Unplaced(cue=c, why=_rival(p, row)) for p in knot if p not in row for c in instants[p.at]]
    return _cut(sounding), silent


def _merged(at: int, same: list[Cue], begun: Placed | None, lengths: Lengths) -> Placed:
    """One tone for an instant; wishes of an instant at which one began are said by that one."""
    first = begun.cue if begun else same[0]
    sounds = begun or Placed(cue=first, at=at, until=at + lengths.tone(first.name))
    names = dict.fromkeys((*sounds.also, *(c.name for c in same)))
    return replace(sounds, also=tuple(name for name in names if name != first.name))


def _worth(tone: Placed, same: list[Cue], begun: bool) -> int:
    """How many cues of each right of way it sounds for, then its own rank; what has begun sounds whatever comes."""
    rights = sum(1 << 10 * (2 * len(TONES) - right(c)) for c in same)
    return rights + (1 << 10 * (len(TONES) - _strength(tone.cue)[1])) + (begun << 30 * len(TONES))


def _follows(tone: Placed, after: Placed, begun: dict[int, Placed]) -> bool:
    weaker = tone.at in begun and _strength(after.cue) < _strength(tone.cue)
    if after.at in begun or (weaker and after.at > tone.at):
        return tone.at in begun or after.at - tone.at >= NEAR
    return after.at - tone.at >= NEAR and not (tone.until > after.at and right(tone.cue) < right(after.cue))


def _rival(tone: Placed, sounding: list[Placed]) -> str:
    """Why this one is left out: the nearest that sounds there."""
    rival = min(sounding, key=lambda p: (abs(p.at - tone.at) >= NEAR, not p.at <= tone.at < p.until, abs(p.at - tone.at), p.at))
    return f'the tone "{rival.cue.name}" sounds at this moment'


def _cut(tones: list[Placed]) -> list[Placed]:
    """Each tone falls silent when the next begins."""
    cut = [replace(a, until=b.at) if b.at < a.until else a for a, b in pairwise(tones)]
    return cut + tones[-1:]
