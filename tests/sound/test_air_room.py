"""Nothing is left out while there is room: looked for at every ms, not only where the air looks."""

from typing import Any

from hypothesis import given, strategies as st

from courttimer.practice.cue import RIGHT_OF_WAY, Cue, Placed
from courttimer.sound.air import NEAR, TONES, place
from courttimer.sound.words import AFTER_TONE, BREATH
from tests.sound.test_air import LENGTHS, LONG, SHORT, heard, speech, tone, wish_lists


def has_room(cue: Cue, text: str, placed: tuple[Placed, ...]) -> bool:
    """Is there a ms in its room from which the words meet nothing?"""
    length = LENGTHS.text(text)
    taken = [
        (p.at - BREATH, p.until + BREATH) if p.cue.sort == "speech" else (p.at, p.until + AFTER_TONE) for p in placed if p.cue != cue
    ]
    return any(all(at >= b or at + length <= a for a, b in taken) for at in range(cue.at, cue.until - length + 1))


@given(wish_lists)
def test_no_words_are_left_out_or_shortened_that_have_room_among_what_is_heard(cues: list[Cue]) -> None:
    placed, left_out = place(cues, LENGTHS)
    for u in left_out:
        if u.cue.sort == "speech" and u.cue.right != "countdown":
            assert not any(has_room(u.cue, text, placed) for text in (u.cue.text, u.cue.short) if text)
    for p in placed:
        if p.text != p.cue.text and p.cue.sort == "speech":
            assert not has_room(p.cue, p.cue.text, placed)


@given(wish_lists)
def test_of_the_tones_of_an_instant_the_strongest_is_heard_and_names_the_others(cues: list[Cue]) -> None:
    placed, left_out = place(cues, LENGTHS)
    for p in placed:
        if p.cue.sort == "tone":
            same = [c for c in cues if c.sort == "tone" and c.at == p.at]
            best = min(same, key=lambda c: (RIGHT_OF_WAY.index(c.right), TONES.index(c.name)))
            assert p.cue.name == best.name
            assert set(p.also) == {c.name for c in same} - {best.name}
    horns = [p for p in placed if p.cue.right == "horn" and p.cue.sort == "tone"]
    for u in left_out:
        if u.cue.right == "horn" and u.cue.sort == "tone":
            assert any(abs(p.at - u.cue.at) < NEAR for p in horns), "a horn makes way for a horn beside it alone"


@given(wish_lists, st.randoms())
def test_the_order_of_the_wishes_does_not_matter(cues: list[Cue], chance: Any) -> None:
    again = list(cues)
    chance.shuffle(again)
    assert place(again, LENGTHS)[0] == place(cues, LENGTHS)[0]


def test_words_that_end_at_a_horn_give_up_their_pause_before_it_rather_than_be_left_out() -> None:
    first = speech(LONG, 0, 3000, name="first")
    found = heard(first, speech(SHORT, 0, 4000, "turn", ends=True), tone("go", 4000))
    assert found[LONG].at == 0
    assert (found[SHORT].at, found[SHORT].until) == (3150, 3950)
