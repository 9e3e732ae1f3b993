"""Nothing is dropped that could have been kept: of small wish lists every choice is tried, by the rules alone, at every ms."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from random import Random

import pytest
from hypothesis import given, settings, strategies as st

from courttimer.practice.cue import RIGHT_OF_WAY, Cue, Placed
from courttimer.sound.air import MOVED, NEAR, TONES, moved, place
from courttimer.sound.words import AFTER_TONE, BREATH, DUCKS
from tests.sound.stations import LENGTHS as STATIONS, stations
from tests.sound.test_air import LENGTHS, LONG, SHORT, TONE_MS, heard, overlaps, speech, speech_wishes, tone, tone_wishes, wish_lists

Kept = tuple[int, ...]
"""How many are kept of each right of way, and of these how many are clear of tones, strongest first."""


def kept(cues: Sequence[tuple[str, bool]]) -> Kept:
    rights = [RIGHT_OF_WAY.index(right) for right, _ in cues]
    clear = [RIGHT_OF_WAY.index(right) for right, clear in cues if clear]
    return tuple(n for at in range(len(RIGHT_OF_WAY)) for n in (rights.count(at), clear.count(at)))


def of_speech(placed: Sequence[Placed]) -> Kept:
    near = [(p.at, p.until + AFTER_TONE) for p in placed if p.cue.sort == "tone"]
    return kept([(p.cue.right, not meets(p.at, p.until - p.at, near)) for p in placed if p.cue.sort == "speech"])


def meets(at: int, length: int, spans: Sequence[tuple[int, int]]) -> int:
    """How many ms of it lie in the spans."""
    return sum(max(0, min(b, at + length) - max(a, at)) for a, b in spans)


def may_begin(cue: Cue, length: int, tones: Sequence[Placed], *, clear: bool) -> list[int]:
    """Every ms at which the words may begin, if there were no other words."""
    near = [(p.at, p.until + AFTER_TONE) for p in tones]
    under = [(p.at, p.until) for p in tones]
    moments = range(cue.at, cue.until - length + 1)
    return [at for at in moments if not meets(at, length, near) or (not clear and 2 * meets(at, length, under) <= length)]


def best(cues: Sequence[Cue], tones: Sequence[Placed]) -> Kept:
    """The most that is kept in any order, each as short as can be and as early as can be after the one before."""
    ways = [
        (cue, clear, LENGTHS.text(text), may_begin(cue, LENGTHS.text(text), tones, clear=clear))
        for cue in cues for text in {cue.text, cue.short} - {""} for clear in {True, cue.right not in DUCKS}
    ]  # fmt: skip

    def orders(free: int, said: tuple[tuple[Cue, bool], ...]) -> Iterator[Kept]:
        yield kept([(cue.right, clear) for cue, clear in said])
        for cue, clear, length, starts in ways:
            at = bisect_left(starts, free)
            if at < len(starts) and all(cue is not other for other, _ in said):
                yield from orders(starts[at] + length + BREATH, (*said, (cue, clear)))

    return max(orders(0, ()))


few_words = st.lists(tone_wishes | speech_wishes | speech_wishes, max_size=6, unique_by=lambda c: c.id)


def assert_best(cues: list[Cue]) -> None:
    placed, _ = place(cues, LENGTHS)
    tones = [p for p in placed if p.cue.sort == "tone"]
    assert of_speech(placed) == best([c for c in cues if c.sort == "speech"], tones)


@settings(max_examples=60, deadline=None)
@given(few_words)
def test_no_other_order_form_or_moment_keeps_more_of_a_stronger_right(cues: list[Cue]) -> None:
    assert_best(cues)


@pytest.mark.long
@settings(max_examples=500, deadline=None)
@given(few_words)
def test_no_other_order_form_or_moment_keeps_more_many_times(cues: list[Cue]) -> None:
    assert_best(cues)


def sounds(at: Sequence[int], named: dict[int, list[Cue]]) -> bool:
    """Could the tones of these instants be heard one after another?"""
    for one, other in pairwise(at):
        strong, weak = min(map(rank, named[one])), min(map(rank, named[other]))
        if other - one < NEAR or (strong < weak and one + TONE_MS[min(named[one], key=strength).name] > other):
            return False
    return True


def rank(cue: Cue) -> int:
    return RIGHT_OF_WAY.index(cue.right)


def strength(cue: Cue) -> tuple[int, int]:
    return rank(cue), TONES.index(cue.name)


@given(st.lists(tone_wishes, max_size=8, unique_by=lambda c: c.id))
def test_no_other_choice_of_tones_keeps_more_of_a_stronger_right(cues: list[Cue]) -> None:
    named: dict[int, list[Cue]] = {}
    for c in cues:
        named.setdefault(c.at, []).append(c)
    moments = sorted(named)
    choices = [chosen for n in range(len(moments) + 1) for chosen in combinations(moments, n) if sounds(chosen, named)]
    placed, left_out = place(cues, LENGTHS)
    said = {c.id for c in cues} - {u.cue.id for u in left_out}
    assert kept([(c.right, True) for c in cues if c.id in said]) == max(
        kept([(c.right, True) for at in chosen for c in named[at]]) for chosen in choices
    )  # fmt: skip
    assert {p.at for p in placed} == {c.at for c in cues if c.id in said}


@given(st.lists(st.integers(0, 30), max_size=8, unique=True))
def test_no_other_choice_of_counted_words_keeps_more_and_none_leaves_its_second(moments: list[int]) -> None:
    cues = [speech("one", 100 * at, 100 * at + 1000, "countdown", lane=n, name="count", n=at) for n, at in enumerate(moments)]
    placed, left_out = place(cues, LENGTHS)
    spans = sorted((c.at, c.at + 400) for c in cues)
    rows = (row for n in range(len(spans) + 1) for row in combinations(spans, n) if all(a[1] <= b[0] for a, b in pairwise(row)))
    assert len(placed) == max(map(len, rows))
    assert all(p.at == p.cue.at for p in placed)
    assert len(placed) + len(left_out) == len(cues)


@given(wish_lists)
def test_counted_words_are_stronger_than_all_other_speech(cues: list[Cue]) -> None:
    words = [c for c in cues if c.sort == "tone" or c.right == "countdown"]
    assert {p.cue.id for p in place(words, LENGTHS)[0]} <= {p.cue.id for p in place(cues, LENGTHS)[0]}


def test_where_to_go_is_said_in_short_so_that_a_reminder_is_heard_too() -> None:
    found = heard(speech(LONG, 0, 3000, short=SHORT), speech("Thirty seconds.", 0, 2000, "reminder", name="low"))
    assert sorted(found) == [SHORT, "Thirty seconds."]


def test_of_three_horns_close_together_the_outer_two_sound() -> None:
    assert sorted(heard(tone("close", 0), tone("go", 100), tone("end", 200))) == ["close", "end"]


def test_all_that_an_instant_would_have_said_is_told_when_its_tone_is_left_out() -> None:
    _, left_out = place([tone("go", 0), tone("end", 100), tone("close", 100, n=1), tone("warning", 50, "warning")], LENGTHS)
    assert [(u.cue.name, u.why) for u in left_out] == [
        ("go", 'the tone "end" sounds at this moment'), ("warning", 'the tone "end" sounds at this moment')
    ]  # fmt: skip


# Four stations

EVENINGS = 25


@pytest.mark.parametrize("talk", [0.3, 1.0])
def test_four_stations_never_cover_a_horn_nor_each_other(talk: float) -> None:
    for seed in range(EVENINGS):
        cues = stations(Random(seed), talk=talk)
        placed, left_out = place(cues, STATIONS)
        words = [p for p in placed if p.cue.sort == "speech"]
        assert not any(overlaps(a, b) for a, b in combinations(words, 2))
        for t in (p for p in placed if p.cue.sort == "tone"):
            assert t.at == t.cue.at
            assert all((max(w.at, t.at), min(w.until, t.until)) in w.duck for w in words if overlaps(w, t))
        weak = {u.cue.right for u in left_out if u.cue.sort == "speech"}
        assert not weak & {"where", "warning", "countdown"}, "what all must know is heard whatever the stations say"


@pytest.mark.parametrize("period", range(5_000, 60_001, 2_500))
def test_with_room_for_one_word_no_station_is_always_the_one_that_is_left_out(period: int) -> None:
    """Four stations want to speak at once at every beat of a common rhythm: each is heard, at least once in 26 times."""
    lanes = []
    for at in range(0, 60 * period, period):
        placed, _ = place([speech(SHORT, at, at + 1000, "score", lane=n, stretch=at, name="score") for n in range(4)], LENGTHS)
        lanes += [p.cue.lane for p in placed]
    assert len(lanes) == 60
    assert all(set(lanes[at : at + 26]) == {0, 1, 2, 3} for at in range(60 - 25))


def test_speech_that_gave_way_is_told_by_how_much_it_moved() -> None:
    found = heard(tone("water", 0), speech(LONG, 0, 9000), speech(SHORT, 0, 9000, "reminder", ends=True, name="low"))
    assert (moved(found[LONG]), moved(found[SHORT]), moved(found["water"])) == (1310, 0, 0)
    late = heard(speech(LONG, 0, 9000), speech(SHORT, 0, 9000, "turn", name="next"))[SHORT]
    assert moved(late) == 3150 > MOVED
