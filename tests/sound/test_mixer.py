"""The mixer: every sound on its frame, whatever the block size, and no click when something is cut."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from courttimer.sound.mixer import AHEAD, DUCK, DUCK_RAMP, FADE, Mixer, Samples

LENGTH = 4000


def noise(frames: int, seed: int = 0, height: float = 0.5) -> Samples:
    return np.random.default_rng(seed).uniform(-height, height, frames).astype(np.float32)


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

    def _mix(self, frame: int, end: int) -> Samples:
        for voice in self._voices.values():
            if frame < voice.start < end:
                voice.start = frame
        return super()._mix(frame, end)


Sound = tuple[int, int, int | None, int, int, bool]
sounds = st.lists(
    st.tuples(
        st.integers(0, LENGTH),
        st.integers(0, 2500),
        st.none() | st.integers(0, LENGTH),
        st.integers(0, LENGTH),
        st.integers(0, 900),
        st.booleans(),
    ),
    max_size=4,
)
"""Of each: its frame, its length, the frame it is faded from, where and for how long it is ducked, and whether it is speech."""


def load(mixer: Mixer, wishes: Sequence[Sound]) -> Mixer:
    for i, (frame, length, fade, duck, ducked_for, speech) in enumerate(wishes):
        mixer.queue(str(i), frame, noise(length, i), [(duck, duck + ducked_for)] if ducked_for else (), speech=speech)
        if fade is not None:
            mixer.fade(str(i), fade)
    mixer.volume(len(wishes) - 2, -3)
    return mixer


block_sizes = st.tuples(st.integers(200, 1500), st.lists(st.integers(1, 1500), max_size=5)).map(lambda sizes: [sizes[0], *sizes[1]])
"""Of any size, one of them not small: blocks of one frame and nothing else would take for ever."""


@settings(deadline=None)  # many blocks are slow on a busy machine
@given(sounds, block_sizes)
def test_any_block_sizes_give_the_same_samples(wishes: list[Sound], sizes: list[int]) -> None:
    """Two sounds at once go over the ceiling, so the limiter is at work, too."""
    whole = play(load(Mixer(), wishes), [LENGTH])
    assert np.array_equal(play(load(Mixer(), wishes), cut(sizes)), whole)


def test_the_slice_test_sees_a_mixer_that_begins_at_block_edges() -> None:
    wishes: list[Sound] = [(700, 500, None, 0, 0, False)]
    whole = play(load(Mixer(), wishes), [LENGTH])
    assert not np.array_equal(play(load(AtBlockEdge(), wishes), cut([512])), whole)


def test_a_sound_is_heard_unchanged_on_its_own_frame_and_forgotten_after() -> None:
    mixer = Mixer()
    mixer.queue("go", 700, noise(500))
    heard = play(mixer, cut([512], 1500))
    assert np.array_equal(heard[700:1200], noise(500)), "the limiter looks ahead, and moves nothing"
    assert not heard[:700].any()
    assert not heard[1200:].any()
    assert not mixer.withdraw("go", 0)


def test_two_sounds_add_up() -> None:
    mixer = Mixer()
    horn, words = noise(100, 1, 0.25), noise(100, 2, 0.25)
    mixer.queue("horn", 10, horn)
    mixer.queue("words", 50, words, speech=True)
    assert np.array_equal(play(mixer, [200])[50:110], horn[40:] + words[:60])


def test_what_has_not_begun_can_be_withdrawn() -> None:
    mixer = Mixer()
    mixer.queue("go", 512 + AHEAD, noise(500))
    play(mixer, [512])
    assert mixer.head == 512 + AHEAD
    assert mixer.withdraw("go", mixer.head)
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


def steady(frames: int) -> Samples:
    """A sound of which every sample is a half, so that what is heard of it is the gain, halved."""
    return np.full(frames, 0.5, np.float32)


def test_a_fade_takes_20_ms_and_is_never_steeper_than_its_curve() -> None:
    mixer = Mixer()
    mixer.queue("words", 0, steady(4000))
    mixer.fade("words", 1000)
    heard = 2 * play(mixer, cut([300]))
    assert np.array_equal(heard[:1001], np.ones(1001, np.float32))
    assert not heard[1000 + FADE :].any()
    assert np.abs(np.diff(heard)).max() <= np.pi / 2 / FADE * 1.01


def test_a_fade_asked_for_a_frame_that_is_out_begins_with_the_next_block() -> None:
    mixer = Mixer()
    mixer.queue("words", 0, steady(4000))
    play(mixer, [2048])
    mixer.fade("words", 100)
    heard = 2 * play(mixer, [512, 512, 512], 2048)
    assert (heard[:AHEAD] == 1).all(), "this much was mixed when the fade was asked for"
    assert np.abs(np.diff(heard)).max() <= np.pi / 2 / FADE * 1.01
    assert not heard[AHEAD + FADE :].any()


def test_ducked_words_are_12_db_down_under_the_whole_tone_and_come_back() -> None:
    mixer = Mixer()
    mixer.queue("words", 0, steady(4000), [(1000, 2000)])
    heard = 2 * play(mixer, [4000])
    assert heard[1000:2000] == pytest.approx(DUCK)
    assert 20 * np.log10(DUCK) == pytest.approx(-12, abs=0.1)
    assert (heard[: 1000 - DUCK_RAMP] == 1).all()
    assert (heard[2000 + DUCK_RAMP :] == 1).all()
    assert np.abs(np.diff(heard)).max() <= np.pi / 2 / DUCK_RAMP * (1 - DUCK) * 1.01


def test_words_that_have_begun_step_back_for_a_tone_that_a_call_brought() -> None:
    mixer = Mixer()
    mixer.queue("words", 0, steady(6000), [(500, 1100)])
    before = play(mixer, [1024])
    mixer.duck("words", [(500, 1100), (1200, 2000)], 1024)
    after = play(mixer, cut([256], 3000), 1024)
    heard = 2 * np.concatenate([before, after])
    assert steepest(heard) <= SMOOTH, "no click, though the ramp comes late"
    assert heard[1024 + AHEAD + DUCK_RAMP : 2000] == pytest.approx(DUCK)
    assert heard[-1] == 1


SMOOTH = np.pi / 2 / DUCK_RAMP * (1 - DUCK) * 1.01
"""The steepest step of the gain, from frame to frame, while speech steps back."""


def steepest(heard: Samples) -> float:
    return float(np.abs(np.diff(heard)).max())


tones = st.lists(st.tuples(st.integers(0, 6000), st.integers(1, 1500)), max_size=3)


@settings(deadline=None)
@given(tones, st.lists(st.tuples(st.integers(1, 1500), tones), min_size=1, max_size=6))
def test_speech_never_clicks_however_often_its_tones_change(
    first: list[tuple[int, int]], later: list[tuple[int, list[tuple[int, int]]]]
) -> None:
    """Other tones are brought, moved, cut off and taken back between the blocks, also some whose time has passed."""
    mixer, heard, at = Mixer(), [steady(1)], 0
    mixer.queue("words", 0, steady(12_000), ranges(first))
    for size, wanted in later:
        heard.append(play(mixer, [size], at))
        at += size
        mixer.duck("words", ranges(wanted), mixer.head)
    gain = 2 * np.concatenate([*heard, play(mixer, cut([512], 11_000 - at), at)])
    assert steepest(gain[1:]) <= SMOOTH
    for a, length in later[-1][1]:
        if a > mixed(later) + DUCK_RAMP:
            assert gain[a + 1 : a + length + 1] == pytest.approx(DUCK), "under a tone that is still to come it has stepped back"


def ranges(wanted: list[tuple[int, int]]) -> list[tuple[int, int]]:
    return [(a, a + length) for a, length in wanted]


def mixed(later: list[tuple[int, list[tuple[int, int]]]]) -> int:
    """Up to where the mix was made when the last change was asked for."""
    return sum(size for size, _ in later) + AHEAD


@pytest.mark.parametrize("then", [[], [(1000, 1200)], [(1000, 1700)], [(1000, 9000)], [(1200, 1300)]])
def test_a_tone_that_speech_has_stepped_back_for_may_be_taken_back_or_cut_off(then: list[tuple[int, int]]) -> None:
    mixer = Mixer()
    mixer.queue("words", 0, steady(12_000), [(1000, 3000)])
    before = play(mixer, [1600])
    mixer.duck("words", then, mixer.head)
    heard = 2 * np.concatenate([before, play(mixer, [8000], 1600)])
    assert steepest(heard) <= SMOOTH
    back = max([b for a, b in then if a == 1000] + [1600 + AHEAD])
    assert heard[min(back, 9000) - 1] == pytest.approx(DUCK)
    assert back > 9000 or heard[back + DUCK_RAMP] == 1


class Jumping(Mixer):
    """The twin without the safeguard: new ranges hold from the block's first frame, as if they had always been wanted."""

    def duck(self, key: str, ranges: Sequence[tuple[int, int]], frame: int) -> None:
        if key in self._voices:
            self.queue(key, 0, steady(12_000), ranges)


def test_the_proof_sees_speech_that_jumps_back() -> None:
    mixer = Jumping()
    mixer.queue("words", 0, steady(12_000))
    before = play(mixer, [1024])
    mixer.duck("words", [(1000, 2000)], 1024)
    assert steepest(2 * np.concatenate([before, play(mixer, [1024], 1024)])) > SMOOTH


def test_every_sample_is_written_also_when_nothing_sounds() -> None:
    assert not play(Mixer(), [64, 1, 7]).any()
