"""The coach's own tones: heard instead of ours when they are good, and told in words when they are not."""

from pathlib import Path

import numpy as np
import pytest
import soundfile

from courttimer import locations
from courttimer.practice.cue import Placed
from courttimer.sound.bank import Bank
from courttimer.sound.horns import own
from courttimer.sound.lengths import Lengths
from courttimer.sound.loudness import TARGET, loudest
from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.peaks import true_peak
from courttimer.sound.recipes import read
from tests.sound.test_patterns import played
from tests.sound.wishes import placed

SHIPPED = locations.sounds()
OURS = read(SHIPPED / "tones.toml")
END: Placed = placed("end", 1_000)


def record(path: Path, samples: Samples, rate: int = RATE) -> None:
    soundfile.write(path, samples, rate)


def test_without_anything_of_the_coachs_ours_are_heard(tmp_path: Path) -> None:
    assert own(SHIPPED, tmp_path) == (OURS, ())
    assert own(SHIPPED, tmp_path / "nowhere") == (OURS, ())


@pytest.mark.parametrize(("suffix", "rate", "channels"), [(".wav", 44_100, 2), (".flac", 48_000, 1), (".ogg", 22_050, 1)])
def test_a_recording_is_heard_at_the_loudness_of_all_tones(tmp_path: Path, suffix: str, rate: int, channels: int) -> None:
    """A soft one, with silence around it, a mean that is not zero, and whatever rate it has."""
    time = np.arange(rate) / rate
    sound = 0.02 * np.sin(2 * np.pi * 880 * time) * ((time > 0.2) & (time < 0.9)) + 0.001
    record(tmp_path / f"tone end{suffix}", np.stack([sound] * channels, axis=1), rate)
    recipes, wrong = own(SHIPPED, tmp_path)
    heard = Bank(recipes).samples(END)
    assert heard is not None
    assert wrong == ()
    assert loudest(heard) == pytest.approx(TARGET, abs=0.3)
    assert true_peak(heard) < -1
    assert len(heard) == 48 * Lengths(recipes).tone("end")
    assert 690 <= recipes["end"].length <= 820, "of a packed file some echo may be left at its end"
    assert np.abs(heard[: 8 * 48]).max() > 0.3 * np.abs(heard).max(), "it begins on its moment"
    assert abs(heard.mean()) < 1e-3
    assert recipes["go"] == OURS["go"]


def test_the_rhythm_of_a_recording_is_known_to_what_looks_for_alarms(tmp_path: Path) -> None:
    record(tmp_path / "tone end.wav", played([300, 150, 400]))
    runs = own(SHIPPED, tmp_path)[0]["end"].runs
    assert runs == pytest.approx((300, 150, 400), abs=8)


@pytest.mark.parametrize(
    ("samples", "told"),
    [
        (played([500, 500, 500, 500, 500]), "tone end.wav: it may be taken for temporal-three, the evacuation signal"),
        (played([900], 520, square_wave=True), "tone end.wav: it may be taken for the low-frequency alarm of 520 Hz"),
        (played([3200]), "tone end.wav: it is longer than 3 s; cut it; ours is heard"),
        (np.zeros(RATE, np.float32), "tone end.wav: nothing is heard in it; record it anew"),
        (np.zeros(0, np.float32), "tone end.wav: nothing is heard in it; record it anew"),
    ],
)
def test_a_recording_that_will_not_do_is_told_and_ours_is_heard(tmp_path: Path, samples: Samples, told: str) -> None:
    record(tmp_path / "tone end.wav", samples)
    recipes, wrong = own(SHIPPED, tmp_path)
    assert recipes == OURS
    assert len(wrong) == 1
    assert wrong[0].startswith(told)


def test_capitals_and_spaces_do_not_matter_in_the_name_of_a_recording(tmp_path: Path) -> None:
    record(tmp_path / "Tone  END.WAV", played([700]))
    recipes, wrong = own(SHIPPED, tmp_path)
    assert (recipes["end"].recording, wrong) == (tmp_path / "Tone  END.WAV", ())


def test_a_recording_for_a_tone_that_there_is_not_is_told(tmp_path: Path) -> None:
    record(tmp_path / "tone edn.wav", played([700]))
    told = 'tone edn.wav: there is no tone "edn"; there are go, end, open, close, warning, change, water, back'
    assert own(SHIPPED, tmp_path) == (OURS, (told,))


def test_a_recipe_that_lacks_a_line_is_told_with_the_name_of_that_line(tmp_path: Path) -> None:
    (tmp_path / "tones.toml").write_text("[end]\npartials = [[900, 1.0]]\n", encoding="utf-8")
    assert own(SHIPPED, tmp_path)[1][0].startswith('tones.toml:1: tone "end", pattern: must be an odd count of whole ms')


def test_what_is_no_sound_is_told(tmp_path: Path) -> None:
    (tmp_path / "tone go.ogg").write_text("no sound", encoding="utf-8")
    recipes, wrong = own(SHIPPED, tmp_path)
    assert recipes == OURS
    assert len(wrong) == 1
    assert wrong[0].startswith("tone go.ogg: it cannot be read (")


def test_a_coachs_recipes_go_before_ours_and_their_mistakes_are_told(tmp_path: Path) -> None:
    (tmp_path / "tones.toml").write_text("[end]\npartials = [[900, 1.0]]\npattern = [700]\n", encoding="utf-8")
    recipes, wrong = own(SHIPPED, tmp_path)
    assert (recipes["end"].length, wrong) == (700, ())
    (tmp_path / "tones.toml").write_text("[end]\npartials = [[900, 1.0]]\npattern = [500, 500, 500, 500, 500]\n", encoding="utf-8")
    recipes, wrong = own(SHIPPED, tmp_path)
    assert recipes == OURS
    assert [line[:30] for line in wrong] == ['tones.toml:3: tone "end", patt']
