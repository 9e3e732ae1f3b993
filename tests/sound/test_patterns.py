"""Danger signals: known by their timing or their pitch, in recipes, in sounds from outside and in all that a session sounds."""

from collections.abc import Sequence
from itertools import pairwise, product
from pathlib import Path

import numpy as np
import pytest
import scipy.signal
from hypothesis import given, strategies as st

from courttimer import locations
from courttimer.plan.reading import read as read_session
from courttimer.rehearsal import rehearse
from courttimer.sound import overheard
from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.patterns import alarming, low_alarm, taken_for
from courttimer.sound.recipes import read
from courttimer.sound.tones import render
from tests.sound.shipped import SESSIONS, sounds

RECIPES = read(locations.sounds() / "tones.toml")

SIGNALS = {
    "temporal-three": [500, 500, 500, 500, 500, 1500],
    "temporal-four": [100, 100, 100, 100, 100, 100, 100, 5000],
    "5 s in 15 s": [5000, 10_000],
    "alert": [500, 2500],
    "bell": [100, 900, 100, 900, 100, 1900],
}
"""One period of each. ISO 8201 and NFPA 72 temporal-three and its bell; NFPA 720 temporal-four; a fire panel's manual for the rest."""
signals = pytest.mark.parametrize(("name", "runs"), list(SIGNALS.items()), ids=SIGNALS)


@signals
@pytest.mark.parametrize("off", [-0.1, 0.0, 0.1])
def test_a_signal_is_known_when_it_is_a_tenth_quicker_or_slower(name: str, runs: list[int], off: float) -> None:
    assert name in taken_for([round(ms * (1 + off)) for ms in runs])


@given(st.sampled_from(["temporal-three", "temporal-four", "5 s in 15 s", "alert"]), st.data())
def test_a_signal_is_known_with_every_run_anywhere_within_a_tenth(name: str, data: st.DataObject) -> None:
    runs = [data.draw(st.integers(-(-9 * ms // 10), 11 * ms // 10)) for ms in SIGNALS[name]]
    assert name in taken_for(runs)


@signals
def test_a_signal_is_known_whose_sounds_warble(name: str, runs: list[int]) -> None:
    """What lies inside a sound does not matter: here each is a row of blips."""
    warbling = [blip for n, ms in enumerate(runs) for blip in ([ms] if n % 2 else [20, 10, *[30, 10] * ((ms - 30) // 40), 20])]
    lasts = sum([20, 10, *[30, 10] * ((100 - 30) // 40), 20])
    assert 90 <= lasts <= 110
    assert name in taken_for(warbling)


@pytest.mark.parametrize(
    ("runs", "signal"),
    [
        ([500, 500, 500, 500, 500], "temporal-three"),
        ([455, 545, 540, 460, 500, 1400], "temporal-three"),
        ([500, 500], "temporal-three"),
        ([200, 300, 500, 500, 500, 500, 500], "temporal-three"),
        ([91, 109, 100, 95, 105, 108, 92, 5000], "temporal-four"),
        ([300, 700, 200, 850, 100, 1900], "bell"),
        ([100, 900, 100, 900, 100], "bell"),
        ([500, 2500, 500], "alert"),
    ],
)
def test_parts_of_a_signal_are_enough(runs: list[int], signal: str) -> None:
    """A march of 0.5 s on and off is found as temporal-three; a bell's three strokes are a bell also when nothing follows."""
    assert signal in taken_for(runs)


NEAR_MISSES = [
    [500],
    [500, 500, 500],
    [430, 440, 430, 440, 430],
    [500, 380, 500, 380, 500],
    [100, 100, 100, 100, 100],
    [85, 115, 85, 115, 85, 115, 85],
    [100, 1200, 100, 1200, 100],
    [100, 900, 100, 900, 100, 900, 900],
    [440, 680, 440, 680, 440],
    [560, 320, 560, 320, 560],
    [500, 2900, 500],
    [4400, 10_000],
]


@pytest.mark.parametrize("runs", NEAR_MISSES)
def test_near_misses_are_let_through(runs: list[int]) -> None:
    assert taken_for(runs) == ""


@pytest.mark.parametrize("runs", list(SIGNALS.values()) + NEAR_MISSES)
def test_a_session_that_sounds_a_rhythm_is_told_what_the_rhythm_alone_is_taken_for(runs: list[int]) -> None:
    """Of single beeps, one after the other, three minutes into the evening."""
    whole = runs if len(runs) % 2 else [*runs, *runs, *runs[:-1]]
    at, beeps = 180_000, []
    for n, ms in enumerate(whole):
        if n % 2 == 0:
            beeps.append((at, at + ms, [ms]))
        at += ms
    found = alarming(beeps)
    assert bool(found) == bool(taken_for(whole))
    assert {name for _, name in found} >= {taken_for(whole)} - {""}
    assert all(180_000 <= moment <= at for moment, _ in found)


def test_tones_that_touch_are_one_sound_and_a_tone_that_is_cut_off_ends_there() -> None:
    halves = [(at, at + 250, [250]) for at in (0, 250, 1000, 1250, 2000, 2250)]
    assert any(at == 0 and "temporal-three" in name for at, name in alarming(halves))
    long = [(at, at + 500, [3000]) for at in (0, 1000, 2000)]
    assert {at for at, _ in alarming(long)} == {0}
    assert alarming([]) == ()


def test_no_order_of_our_tones_half_a_second_to_3_s_apart_is_taken_for_an_alarm_but_strokes_on_the_second() -> None:
    """No tone of ours lasts as long as an alarm's sound: so only three of them a second apart, and silence, are like a bell."""
    for names, apart in product(product(RECIPES, repeat=3), range(500, 3001, 125)):
        heard = [(n * apart, n * apart + RECIPES[name].length, RECIPES[name].runs) for n, name in enumerate(names)]
        heard = [(at, min(until, at + apart), runs) for at, until, runs in heard]
        found = {name for _, name in alarming(heard)}
        assert not found or (900 <= apart <= 1100 and all("bell" in name for name in found)), (names, apart, found)


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)
def test_nothing_that_a_shipped_session_sounds_is_taken_for_an_alarm(path: Path) -> None:
    tones = sounds(path, "tone")
    assert len(tones) > 10
    assert alarming((t.placed.at, t.until, RECIPES[t.placed.cue.name].runs) for t in tones) == ()


STROKES = b"""
title = "Strokes"
voice = { say = "horns" }

[[segment]]
kind = "drill"
time = "2 min"
rep = { live = "2 s", off = "10 s" }
window = [{ name = "drive", time = "1 s", opens = "with the rep" }]
"""


def test_a_session_that_schedules_three_strokes_on_the_second_is_told_where() -> None:
    """Go, the window's end a second later, the rep's end a second after that, then silence."""
    made = rehearse(read_session("strokes.toml", STROKES, dict[str, str]().__getitem__))
    tones = [t for t in made.tape.heard() if t.placed.cue.sort == "tone"]
    found = alarming((t.placed.at, t.until, RECIPES[t.placed.cue.name].runs) for t in tones)
    goes = {t.placed.at for t in tones if t.placed.cue.name == "go"}
    assert goes
    assert {at for at, name in found if "bell" in name} >= {at for at in goes if at + 12_000 < max(goes)}


def square(hz: float, partials: int = 7) -> list[tuple[float, float]]:
    return [(n * hz, 1 / n) for n in range(1, 2 * partials, 2)]


@pytest.mark.parametrize("hz", [468, 500, 520, 560, 572])
def test_a_square_wave_of_520_hz_is_known(hz: float) -> None:
    """NFPA 72, 18.4.5.3: 520 Hz within ±10 %, square."""
    assert "520 Hz" in low_alarm(square(hz))
    assert "520 Hz" in overheard.taken_for(played([900], hz, square_wave=True))


@pytest.mark.parametrize(
    "partials", [square(460), square(580), [(520.0, 1.0)], [(520.0, 1.0), (1040.0, 0.5), (1560.0, 0.33)], square(520, 1)]
)
def test_another_pitch_and_another_timbre_are_let_through(partials: list[tuple[float, float]]) -> None:
    assert low_alarm(partials) == ""


def played(runs: Sequence[int], hz: float = 950.0, *, square_wave: bool = False) -> Samples:
    """This rhythm as a horn of that pitch plays it, with edges of 3 ms."""
    time = np.arange(sum(runs) * 48) / RATE
    wave = scipy.signal.square(2 * np.pi * hz * time) if square_wave else np.sin(2 * np.pi * hz * time)
    on = np.concatenate([np.full(ms * 48, n % 2 == 0) for n, ms in enumerate(runs)])
    soft = np.convolve(on.astype(np.float64), np.ones(144) / 144, "same")
    return np.asarray(0.5 * wave * soft, np.float32)


def in_a_room(samples: Samples, seconds: float = 0.6, noise: float = 0.01) -> Samples:
    """As a microphone near the horn hears it: a room that rings, 10 dB under the horn itself, and some noise."""
    chance = np.random.default_rng(1)
    ring = chance.normal(0, 1, round(seconds * RATE)) * 10 ** (-3 * np.arange(round(seconds * RATE)) / (seconds * RATE))
    ring *= np.sqrt(0.1 / np.sum(ring**2))
    ring[0] += 1
    wet = scipy.signal.fftconvolve(np.pad(samples, (4800, 0)), ring)
    return np.asarray(wet + chance.normal(0, noise, len(wet)), np.float32)


@signals
@pytest.mark.parametrize("off", [-0.1, 0.0, 0.1])
@pytest.mark.parametrize("room", [False, True])
def test_a_coachs_own_sound_that_is_a_danger_signal_is_known(name: str, runs: list[int], off: float, room: bool) -> None:
    """Two periods of it, measured from the samples."""
    whole = [round(ms * (1 + off)) for ms in [*runs, *runs]][:-1]
    sound = played(whole)
    assert name in overheard.taken_for(in_a_room(sound) if room else sound)


@pytest.mark.parametrize("runs", [[900], [300, 100, 300], [400, 400, 400, 400, 400], [560, 330, 560, 330, 560], [60, 160] * 4 + [60]])
@pytest.mark.parametrize("room", [False, True])
def test_a_coachs_own_horn_is_let_through(runs: list[int], room: bool) -> None:
    sound = played(runs)
    assert overheard.taken_for(in_a_room(sound) if room else sound) == ""


@pytest.mark.parametrize("name", RECIPES)
def test_the_rhythm_of_our_tones_is_measured_as_their_recipes_say(name: str) -> None:
    """Within 10 ms and their soft edges: 12 dB under full height an edge of 90 ms has gone two thirds of its way."""
    recipe = RECIPES[name]
    measured = overheard.rhythm(render(recipe))
    assert len(measured) == len(recipe.runs)
    slack = 10 + 0.4 * (recipe.rise + recipe.fall)
    assert all(abs(a - b) <= slack for a, b in zip(measured, recipe.runs, strict=True))
    assert overheard.taken_for(render(recipe)) == ""


def test_silence_has_no_rhythm_and_is_nothing() -> None:
    for silence in (np.zeros(0, np.float32), np.zeros(10, np.float32), np.zeros(RATE, np.float32)):
        assert overheard.rhythm(silence) == ()
        assert overheard.taken_for(silence) == ""


@given(st.lists(st.integers(20, 400), min_size=1, max_size=9).filter(lambda runs: len(runs) % 2 == 1))
def test_any_rhythm_is_measured_within_8_ms(runs: list[int]) -> None:
    measured = overheard.rhythm(played(runs))
    assert len(measured) == len(runs)
    edges, wanted = np.cumsum(measured), np.cumsum(runs)
    assert all(abs(a - b) <= 8 for a, b in zip(edges, wanted, strict=True))
    assert [b > a for a, b in pairwise(edges)] == [True] * (len(edges) - 1)
