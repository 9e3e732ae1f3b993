"""Where there is room for words: what may be said, from when to when it may begin, and what is said in the end."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

from courttimer.practice.cue import RIGHT_OF_WAY, Cue, Placed, Unplaced
from courttimer.sound.chain import best_row, knots
from courttimer.sound.foresight import Form, Job, Span, Way, settled, without
from courttimer.sound.lengths import Lengths

AFTER_TONE = 150
"""So many ms after a tone the ear is free for words."""
BREATH = 150
"""Between two speeches, in ms."""
BEFORE_HORN = 250
"""Speech that ends at a horn leaves so many ms before it, if it can."""
DUCKS = ("halt", "countdown", "warning", "where")
"""These are spoken under a tone rather than not at all."""
SHARES = (4, 2)
"""At most a quarter of the words under a tone, if it can be, and at most half."""


def right(cue: Cue) -> int:
    """Its rank of right of way; 0 is the strongest."""
    return RIGHT_OF_WAY.index(cue.right)


def calm(cue: Cue, length: int) -> int:
    """When words of that length would begin if they were alone."""
    return max(cue.at, cue.until - length - BEFORE_HORN) if cue.ends else cue.at


class Room:
    """Where speech has been placed so far; lives as long as one call of `place`."""

    def __init__(self, lengths: Lengths, tones: tuple[Placed, ...], now: int, busy: list[Placed]) -> None:
        self._lengths = lengths
        self._tones = tones
        self._now = now
        self.taken = [replace(p, duck=self._ducks_of_begun(p)) for p in busy]

    def _ducks_of_begun(self, placed: Placed) -> tuple[Span, ...]:
        past = {a: b for a, b in placed.duck if a < self._now}
        return tuple(sorted((past | dict(self._under(placed.at, placed.until))).items()))

    def count(self, wishes: list[Cue]) -> list[Unplaced]:
        """A counted word has its own moment; what has begun and is weaker falls silent for it."""
        unsaid = {c.id: why for c in wishes if (why := self._uncounted(c))}
        words = sorted((self._placed(c, c.text, c.at) for c in wishes if c.id not in unsaid), key=lambda p: p.at)
        said = [p for knot in knots(words) for p in best_row(knot, lambda _: 1, lambda a, b: a.until <= b.at)]
        self.taken = [replace(p, until=min((w.at for w in said if _meet(p, w)), default=p.until)) for p in self.taken] + said
        kept = {p.cue.id for p in said}
        return [Unplaced(cue=c, why=unsaid.get(c.id, "another word sounds at this moment")) for c in wishes if c.id not in kept]

    def _uncounted(self, cue: Cue) -> str:
        if cue.at < self._now:
            return "it is too late for it"
        word = self._placed(cue, cue.text, cue.at)
        if word.until > cue.until:
            return self._why(cue, [cue.text])
        stands = any(_meet(p, word) and (right(p.cue) <= right(cue) or p.at >= cue.at) for p in self.taken)
        return "another word sounds at this moment" if stands else ""

    def speak(self, wishes: list[Cue]) -> list[Unplaced]:
        """All other speech, strongest first."""
        texts = [[text for text in (c.text, c.short) if text] for c in wishes]
        said = [self._forms(c, words) for c, words in zip(wishes, texts, strict=True)]
        ways = self._settled([Job(right=right(c), forms=tuple(f for f, _ in forms)) for c, forms in zip(wishes, said, strict=True)])
        unsaid = []
        for cue, words, forms, way in zip(wishes, texts, said, ways, strict=True):
            if way:
                self.taken.append(self._placed(cue, forms[way[0]][1], way[1]))
            else:
                unsaid.append(Unplaced(cue=cue, why=self._why(cue, words)))
        return unsaid

    def _settled(self, jobs: list[Job]) -> list[Way | None]:
        """As if it were asked in time, for that is known from the beat before; if that is past, from now on."""
        ways = settled(jobs)
        if all(way is None or way[1] >= self._now for way in ways):
            return ways
        still = [[(n, f) for n, form in enumerate(job.forms) if (f := self._from_now(form)).starts] for job in jobs]
        ways = settled([job._replace(forms=tuple(f for _, f in forms)) for job, forms in zip(jobs, still, strict=True)])
        return [way and (forms[way[0]][0], *way[1:]) for way, forms in zip(ways, still, strict=True)]

    def _from_now(self, form: Form) -> Form:
        return form._replace(starts=tuple((max(a, self._now), b) for a, b in form.starts if b >= self._now))

    def _forms(self, cue: Cue, texts: list[str]) -> list[tuple[Form, str]]:
        """Every way to say it for which there is room, best first, with its words."""
        tones = [p for p in self._tones if p.until + AFTER_TONE > cue.at and p.at < cue.until]
        speech = [p for p in self.taken if p.until + BREATH > cue.at and p.at - BREATH < cue.until]
        ways = [(0, text) for text in texts]
        if tones and cue.right in DUCKS:
            ways += [(share, text) for share in SHARES for text in texts]
        forms = []
        for share, text in ways:
            length = self._lengths.text(text)
            starts = _starts(cue, length, speech, () if share else tones)
            if share:
                starts = _bearable(starts, length, [(p.at, p.until) for p in tones], share)
            if starts:
                forms.append((Form(length=length + BREATH, starts=starts, calm=calm(cue, length), clear=not share), text))
        return forms

    def _placed(self, cue: Cue, text: str, at: int) -> Placed:
        until = at + self._lengths.text(text)
        return Placed(cue=cue, at=at, until=until, text=text, duck=self._under(at, until))

    def _under(self, at: int, until: int) -> tuple[Span, ...]:
        """From when to when a speech has a tone over it."""
        return tuple(_covered(at, until, ((p.at, p.until) for p in self._tones)))

    def _why(self, cue: Cue, texts: list[str]) -> str:
        if not texts:
            return "it has no words"
        shortest, room = min(map(self._lengths.text, texts)), cue.until - max(cue.at, self._now)
        if shortest > room:
            return f"it lasts {shortest / 1000:.1f} s and there are {max(room, 0) / 1000:.1f} s for it"
        return f"other cues leave no room for its {shortest / 1000:.1f} s"


def _starts(cue: Cue, length: int, speech: Iterable[Placed], tones: Iterable[Placed]) -> tuple[Span, ...]:
    """From when to when it may begin so that it meets none of these."""
    first, last = cue.at, cue.until - length
    starts: tuple[Span, ...] = ((first, last),) if first <= last else ()
    for p in speech:
        starts = without(starts, p.at - BREATH - length, p.until + BREATH)
    for p in tones:
        starts = without(starts, p.at - length, p.until + AFTER_TONE)
    return starts


def _bearable(starts: tuple[Span, ...], length: int, tones: list[Span], share: int) -> tuple[Span, ...]:
    """Those of the starts with at most one part in `share` of the words under a tone."""

    def over(at: int) -> int:
        """What is covered too much, times `share`; between two of the edges it rises or falls steadily."""
        return share * sum(b - a for a, b in _covered(at, at + length, tones)) - length

    edges = sorted({at for a, b in tones for at in (a - length, b - length, a, b)})
    spans: list[Span] = []
    for first, last in starts:
        for a, b in pairwise((first, *(at for at in edges if first < at < last), last)):
            steps = range(a, b + 1)
            if over(a) <= 0:
                spans.append((a, steps[bisect_right(steps, 0, key=over) - 1]))
            elif over(b) <= 0:
                spans.append((steps[bisect_left(steps, 0, key=lambda at: -over(at))], b))
    return _joined(spans)


def _joined(spans: list[Span]) -> tuple[Span, ...]:
    """Spans that share a moment are one."""
    out: list[Span] = []
    for a, b in spans:
        if out and a <= out[-1][1]:
            out[-1] = (out[-1][0], max(b, out[-1][1]))
        else:
            out.append((a, b))
    return tuple(out)


def _covered(at: int, until: int, tones: Iterable[Span]) -> Iterable[Span]:
    spans = ((max(a, at), min(b, until)) for a, b in tones)
    return ((a, b) for a, b in spans if a < b)


def _meet(one: Placed, other: Placed) -> bool:
    return one.at < other.until and other.at < one.until
