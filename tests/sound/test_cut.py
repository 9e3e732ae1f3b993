"""On a live line a tone stops for the next one, softly, and plays to its end when the next one is not wished for any more."""

from courttimer.sound.mixer import FADE
from tests.sound.gym import TONE, Gym
from tests.sound.wishes import placed

TONE_MS = len(TONE) // 48
CUT = placed("close", 4_000, lasts=TONE_MS // 2, stretch=1, group="rep")
WHOLE = placed("close", 4_000, lasts=TONE_MS, stretch=1, group="rep")


def test_a_tone_that_is_cut_off_is_silent_from_its_end_on() -> None:
    gym = Gym("box")
    gym.wishes = (CUT,)
    gym.run(6_000)
    assert gym.loud(4_000, 4_000 + TONE_MS / 2 - FADE / 48) > 0.05
    assert gym.loud(4_001 + TONE_MS / 2, 5_500) == 0


def test_a_tone_is_whole_again_when_the_next_one_is_called_off_before_it_begins() -> None:
    gym = Gym("box")
    gym.wishes = (CUT,)
    gym.run(2_700)
    gym.wishes = (WHOLE,)
    gym.run(3_000)
    assert gym.loud(4_001 + TONE_MS / 2, 3_999 + TONE_MS) > 0.05
