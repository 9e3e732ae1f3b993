"""The volumes: one for everything and one for the voice, turned while it sounds."""

import numpy as np
import pytest

from courttimer.sound.mixer import AHEAD, Mixer, Samples
from courttimer.sound.volume import GLIDE, HIGHEST, LOWEST, Fader
from tests.sound.test_mixer import cut, play, steady


def sounding(*, speech: bool) -> Mixer:
    mixer = Mixer()
    mixer.queue("one", 0, steady(20_000), speech=speech)
    return mixer


def heard(session: float, voice: float, *, speech: bool) -> float:
    """The gain of what sounds, in dB."""
    mixer = sounding(speech=speech)
    mixer.volume(session, voice)
    return float(20 * np.log10(2 * play(mixer, [9000])[-1]))


def test_a_volume_holds_for_tones_and_speech_and_the_voices_own_for_speech_alone() -> None:
    assert heard(-6, -4, speech=False) == pytest.approx(-6, abs=1e-4)
    assert heard(-6, -4, speech=True) == pytest.approx(-10, abs=1e-4)
    assert heard(0, 0, speech=True) == pytest.approx(0)


def test_a_volume_turned_while_it_sounds_glides_there_within_50_ms() -> None:
    mixer = sounding(speech=False)
    before = play(mixer, [1024])
    mixer.volume(-20)
    after = play(mixer, cut([512], 8000), 1024)
    gain = 2 * np.concatenate([before, after])
    assert np.abs(np.diff(gain)).max() <= 0.9 / GLIDE * 1.01
    assert (gain[: 1024 + AHEAD] == 1).all(), "this much was mixed"
    assert gain[1024 + AHEAD + GLIDE :] == pytest.approx(0.1)


def test_a_volume_turned_again_in_its_glide_goes_on_from_there() -> None:
    mixer = sounding(speech=True)
    parts = []
    for n, voice_db in enumerate((0, -30, -3, -30, 0)):
        mixer.volume(0, voice_db)
        parts.append(play(mixer, [1000], 1000 * n))
    gain = 2 * np.concatenate(parts)
    assert np.abs(np.diff(gain)).max() <= 1 / GLIDE * 1.01


@pytest.mark.parametrize("sizes", [[1], [7, 900], [512]])
def test_any_block_sizes_glide_the_same_way(sizes: list[int]) -> None:
    def glide(blocks: list[int]) -> Samples:
        mixer = sounding(speech=True)
        play(mixer, [100])
        mixer.volume(-3, -7)
        return play(mixer, blocks, 100)

    assert np.array_equal(glide(cut(sizes, 5000)), glide([5000]))


def test_all_the_way_down_is_silence_and_up_has_an_end() -> None:
    fader = Fader()
    fader.ask(LOWEST)
    fader.gain(0, 100)
    assert fader.gain(GLIDE, GLIDE + 1) == 0
    fader.ask(100)
    fader.gain(GLIDE, GLIDE + 1)
    assert fader.gain(2 * GLIDE, 2 * GLIDE + 1) == pytest.approx(10 ** (HIGHEST / 20))
