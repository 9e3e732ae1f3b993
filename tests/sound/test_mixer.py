"""The mixer: every sound on its frame, whatever the block size, and no click when something is cut."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from courttimer.sound.mixer import DUCK, DUCK_RAMP, FADE, Mixer, Samples

LENGTH = 4000


def noise(frames: int, seed: int = 0) -> Samples:
    return np.random.default_rng(seed).uniform(-0.5, 0.5, frames).astype(np.float32)


def play(mixer: Mixer, blocks: Sequence[int], begin: int = 0) -> Samples:
    """What is heard when the card asks for blocks of these sizes."""
    heard = []
    for size in blocks:
        out = np.full(size, np.nan, np.float32)
        mixer.fill(out, begin)
        heard.append(out)
        begin += size
    return np.concatenate(heard)


def cut(sizes: Sequence[int], frames: int = LENGTH) -> list[int]:
    """The sizes, again and again, until `frames` are full."""
    blocks: list[int] = []
    while (left := frames - sum(blocks)) > 0:
        blocks.append(min(left, sizes[len(blocks) % len(sizes)]))
    return blocks


class AtBlockEdge(Mixer):
    """The twin without the safeguard: a sound begins with the block it falls into."""

    def fill(self, out: Samples, frame: int) -> None:
        for voice in self._voices.values():
            if frame < voice.start < frame + len(out):
                voice.start = frame
        super().fill(out, frame)


sounds = st.lists(
    st.tuples(
        st.integers(0, LENGTH),
        st.integers(0, 2500),
        st.none() | st.integers(0, LENGTH),
        st.integers(0, LENGTH),
        st.integers(0, 900),
    ),
    max_size=4,
)
"""Of each: its frame, its length, the frame it is faded from, and where and for how long it is ducked."""


def load(mixer: Mixer, wishes: Sequence[tuple[int, int, int | None, int, int]]) -> Mixer:
    for i, (frame, length, fade, duck, ducked_for) in enumerate(wishes):
        mixer.queue(str(i), frame, noise(length, i), [(duck, duck + ducked_for)] if ducked_for else ())
        if fade is not None:
            mixer.fade(str(i), fade)
    return mixer


@settings(deadline=None)  # a block a frame is slow on a busy machine
@given(sounds, st.lists(st.integers(1, 1500), min_size=1, max_size=5))
def test_any_block_sizes_give_the_same_samples(wishes: list[tuple[int, int, int | None, int, int]], sizes: list[int]) -> None:
    whole = play(load(Mixer(), wishes), [LENGTH])
    assert np.array_equal(play(load(Mixer(), wishes), cut(sizes)), whole)


def test_the_slice_test_sees_a_mixer_that_begins_at_block_edges() -> None:
    wishes = [(700, 500, None, 0, 0)]
    whole = play(load(Mixer(), wishes), [LENGTH])
    assert not np.array_equal(play(load(AtBlockEdge(), wishes), cut([512])), whole)


def test_a_sound_is_heard_unchanged_on_its_own_frame_and_forgotten_after() -> None:
    mixer = Mixer()
    mixer.queue("go", 700, noise(500))
    heard = play(mixer, cut([512], 1500))
    assert np.array_equal(heard[700:1200], noise(500))
    assert not heard[:700].any()
    assert not heard[1200:].any()
    assert not mixer.withdraw("go", 0)


def test_two_sounds_add_up() -> None:
    mixer = Mixer()
    mixer.queue("horn", 10, noise(100, 1))
    mixer.queue("words", 50, noise(100, 2))
    assert np.array_equal(play(mixer, [200])[50:110], noise(100, 1)[40:] + noise(100, 2)[:60])


def test_what_has_not_begun_can_be_withdrawn() -> None:
    mixer = Mixer()
    mixer.queue("go", 700, noise(500))
    play(mixer, [512])
    assert mixer.withdraw("go", 512)
    assert not play(mixer, [512, 512], 512).any()


def test_what_has_begun_cannot_be_withdrawn() -> None:
    mixer = Mixer()
    mixer.queue("go", 500, noise(500))
    play(mixer, [512])
    assert not mixer.withdraw("go", 512)
    assert not mixer.withdraw("go", 0), "also when asked with an old frame: the block is out"
    assert np.array_equal(play(mixer, [512], 512)[:488], noise(500)[12:])


def test_who_takes_the_ticket_first_decides_between_the_two_threads() -> None:
    mixer = Mixer()
    mixer.queue("go", 100, noise(500))
    voice = mixer._voices["go"]
    assert mixer.withdraw("go", 0)
    mixer._voices["go"] = voice  # as a block sees it that copied the list just before
    assert not play(mixer, [512]).any()


def test_a_fade_takes_20_ms_and_is_never_steeper_than_its_curve() -> None:
    mixer = Mixer()
    mixer.queue("words", 0, np.ones(4000, np.float32))
    mixer.fade("words", 1000)
    heard = play(mixer, cut([300]))
    assert np.array_equal(heard[:1001], np.ones(1001, np.float32))
    assert not heard[1000 + FADE :].any()
    assert np.abs(np.diff(heard)).max() <= np.pi / 2 / FADE * 1.01


def test_a_fade_asked_for_a_frame_that_is_out_begins_with_the_next_block() -> None:
    mixer = Mixer()
    mixer.queue("words", 0, np.ones(4000, np.float32))
    play(mixer, [2048])
    mixer.fade("words", 100)
    heard = play(mixer, [512, 512], 2048)
    assert heard[0] == 1
    assert np.abs(np.diff(heard)).max() <= np.pi / 2 / FADE * 1.01
    assert not heard[FADE:].any()


def test_ducked_words_are_12_db_down_under_the_whole_tone_and_come_back() -> None:
    mixer = Mixer()
    mixer.queue("words", 0, np.ones(4000, np.float32), [(1000, 2000)])
    heard = play(mixer, [4000])
    assert heard[1000:2000] == pytest.approx(DUCK)
    assert 20 * np.log10(DUCK) == pytest.approx(-12, abs=0.1)
    assert (heard[: 1000 - DUCK_RAMP] == 1).all()
    assert (heard[2000 + DUCK_RAMP :] == 1).all()
    assert np.abs(np.diff(heard)).max() <= np.pi / 2 / DUCK_RAMP * (1 - DUCK) * 1.01


def test_words_that_have_begun_step_back_for_a_tone_that_a_call_brought() -> None:
    mixer = Mixer()
    mixer.queue("words", 0, np.ones(6000, np.float32), [(500, 1100)])
    before = play(mixer, [1024])
    mixer.duck("words", [(1200, 2000)], 1024)
    after = play(mixer, cut([256], 3000), 1024)
    heard = np.concatenate([before, after])
    assert np.abs(np.diff(heard)).max() <= np.pi / 2 / DUCK_RAMP * (1 - DUCK) * 1.01, "no click, though the ramp comes late"
    assert heard[1504:2000] == pytest.approx(DUCK)
    assert heard[-1] == 1


def test_every_sample_is_written_also_when_nothing_sounds() -> None:
    assert not play(Mixer(), [64, 1, 7]).any()
