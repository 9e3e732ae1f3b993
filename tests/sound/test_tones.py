"""The tones: one family, one loudness, told apart by rhythm, and heard over play."""

from itertools import combinations
from pathlib import Path

import numpy as np
import pyloudnorm
import pytest
import scipy.signal
from hypothesis import given, settings, strategies as st

from courttimer import locations
from courttimer.errors import PlanError
from courttimer.sound.loudness import TARGET, integrated, loudest
from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.recipes import NAMES, Recipe, parse, read
from courttimer.sound.tones import render
from tests.sound.play import OCTAVES, PLAY, a_level, a_weight, masked, needed, noise, total

SHIPPED = locations.sounds() / "tones.toml"
RECIPES = read(SHIPPED)
TEXT = SHIPPED.read_text(encoding="utf-8")


@pytest.fixture(params=NAMES)
def recipe(request: pytest.FixtureRequest) -> Recipe:
    return RECIPES[request.param]


@pytest.fixture
def tone(recipe: Recipe) -> Samples:
    return render(recipe)


def test_a_tone_is_as_long_as_its_recipe_to_the_frame(recipe: Recipe, tone: Samples) -> None:
    assert len(tone) == recipe.length * 48
    assert tone.dtype == np.float32


def test_all_tones_have_one_loudness(tone: Samples) -> None:
    assert loudest(tone) == pytest.approx(TARGET, abs=0.1)


def test_a_library_finds_the_same_loudness(tone: Samples) -> None:
    """pyloudnorm, with its gates; a tone shorter than 400 ms is one block. It would count a last block that is not whole: cut off."""
    tone = tone if len(tone) < 19_200 else tone[: len(tone) // 4800 * 4800]
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan", block_size=min(0.4, len(tone) / RATE))
    assert integrated(tone) == pytest.approx(meter.integrated_loudness(tone.astype(np.float64)), abs=0.1)


def test_the_loudest_400_ms_are_that_loud_for_a_library_too(tone: Samples) -> None:
    """pyloudnorm, over each 400 ms by itself. A part cut out has no ring from what was before it: hence 0.2 and not 0.1 LU."""
    block = min(19_200, len(tone))
    parts = [tone[i : i + block] for i in range(0, len(tone) - block + 1, 4800)]
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan", block_size=block / RATE)
    assert max(meter.integrated_loudness(p.astype(np.float64)) for p in parts) == pytest.approx(TARGET, abs=0.2)


def test_no_true_peak_is_above_minus_1_and_no_tone_needs_the_limiter(tone: Samples) -> None:
    """ITU-R BS.1770-4, Annex 2: at least fourfold oversampling; scipy's filter. 6 dB are left for speech under the tone."""
    assert 20 * np.log10(np.abs(scipy.signal.resample_poly(tone, 16, 1)).max()) < -5


def test_nine_tenths_of_the_energy_lie_where_a_gym_hears_it(tone: Samples) -> None:
    """500 to 2500 Hz: ISO 7731:2003, 5.3, from memory."""
    hz, power = scipy.signal.periodogram(tone, RATE)
    assert power[(hz >= 500) & (hz <= 2500)].sum() >= 0.9 * power.sum()
    assert power[hz < 1200].sum() > 0.05 * power.sum(), "something is left for who does not hear high sounds"


def test_no_edge_clicks_and_nothing_is_off_centre(tone: Samples) -> None:
    """A click is measured as what an edge adds above 5 kHz, where no tone has a partial: 50 dB under the tone in every 5 ms."""
    splash = scipy.signal.sosfilt(scipy.signal.butter(16, 5000, "high", fs=RATE, output="sos"), np.pad(tone, 480))
    highest = (splash[: len(splash) // 240 * 240].reshape(-1, 240) ** 2).mean(axis=1).max()
    loud = np.sort((tone[: len(tone) // 240 * 240].reshape(-1, 240) ** 2).mean(axis=1))[-5:].mean()
    assert 10 * np.log10(highest / loud) < -50
    assert max(abs(tone[0]), abs(tone[-1])) < 1e-3
    assert abs(tone.mean()) < 1e-4


def test_the_measure_hears_a_click(recipe: Recipe) -> None:
    """The twin: the same tone with its first edge cut off where it is high."""
    tone = render(recipe)
    with pytest.raises(AssertionError):
        test_no_edge_clicks_and_nothing_is_off_centre(tone[recipe.rise * 48 + int(np.argmax(tone[recipe.rise * 48 :][:480])) :])


@pytest.mark.parametrize(
    ("hz", "db"),
    [(63, -26.2), (125, -16.1), (250, -8.6), (500, -3.2), (1000, 0.0), (2000, 1.2), (4000, 1.0), (8000, -1.1), (16_000, -6.6)],
)
def test_the_a_weighting_is_that_of_iec_61672(hz: float, db: float) -> None:
    """IEC 61672-1:2013, table 3, at the exact centres 1000 x 10^(0.3 n) Hz of the octaves: printed to 0.1 dB."""
    exact = 1000 * 10 ** (0.3 * round(np.log10(hz / 1000) / 0.3))
    assert float(a_weight(exact)) == pytest.approx(db, abs=0.05)


def test_the_noise_of_play_is_85_db_a() -> None:
    assert total(noise() + a_weight(np.array(OCTAVES))) == pytest.approx(PLAY)
    assert noise().round(1).tolist() == [78.8, 80.8, 81.8, 82.8, 80.8, 76.8, 71.8, 64.8]


def test_a_loud_band_masks_those_above_it() -> None:
    """ISO 7731:2003, annex B: the threshold falls by at most 7.5 dB an octave."""
    assert masked(np.array([90.0, 70.0, 80.0, 60.0]), 7.5).tolist() == [90.0, 82.5, 80.0, 72.5]


def test_a_sine_in_a_band_needs_what_the_standard_asks_of_that_band() -> None:
    """1 kHz: 10 dB above the noise of its octave, or 13 above a third of it; the latter is less."""
    sine = (0.2 * np.sin(2 * np.pi * 1000 * np.arange(RATE) / RATE)).astype(np.float32)
    assert a_level(sine) == pytest.approx(20 * np.log10(0.2), abs=0.01)
    assert needed(sine) == pytest.approx(80.8 - 10 * np.log10(3) + 13, abs=0.05)


def test_every_tone_is_clearly_heard_over_play_at_4_db_above_it(tone: Samples) -> None:
    """ISO 7731:2003, 5.2.2, over 85 dB(A). Without looking at bands it would ask for 15 dB more than play: 100 dB(A)."""
    assert needed(tone) <= PLAY + 4.1


def test_at_one_setting_of_the_speaker_all_tones_are_equally_far_above_play() -> None:
    """What a tone has at its loudness, less what it needs, differs by no more than 5 dB."""
    reserve = [a_level(render(r)) - needed(render(r)) for r in RECIPES.values()]
    assert max(reserve) - min(reserve) < 5


def rhythm(recipe: Recipe) -> list[bool]:
    """Whether it sounds, in each hundredth of a second."""
    return [i % 2 == 0 for i, ms in enumerate(recipe.runs) for _ in range(round(ms / 10))]


def test_any_two_tones_differ_in_a_quarter_of_their_time_whatever_their_pitch() -> None:
    for one, other in combinations(RECIPES.values(), 2):
        a, b = rhythm(one), rhythm(other)
        length = max(len(a), len(b))
        a, b = a + [False] * (length - len(a)), b + [False] * (length - len(b))
        assert sum(x != y for x, y in zip(a, b, strict=True)) >= length / 4, (one.name, other.name)


def changed(name: str, line: str) -> str:
    """The shipped recipes, with this line in place of the one of the same key."""
    key = line.split(" =")[0]
    head, _, tail = TEXT.partition(f"[{name}]\n")
    rows = tail.split("\n")
    here = rows[: rows.index("")] if "" in rows else rows
    at = next((i for i, row in enumerate(here) if row.startswith(f"{key} =")), 0)
    return f"{head}[{name}]\n" + "\n".join([*rows[:at], line, *rows[at + 1 :]])


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("pattern = [500, 500, 500, 500, 500]", "temporal-three, the evacuation signal of ISO 8201; change the rhythm"),
        ("pattern = [100, 100, 100, 100, 100, 100, 100]", "temporal-four"),
        ("pattern = [900, 20]", "must be an odd count of whole ms"),
        ("pattern = [true]", "(got [True])"),
        ("pattern = [9000]", "must be an odd count"),
        ("pattern = [2999, 999, 2999]", "longer than 3000 ms; make it shorter"),
        ("pattern = [20]", "no room for its edges of 48 ms"),
        ("partials = [[100, 1.0]]", "outside 500 to 2500 Hz"),
        ("partials = [[nan, 1.0]]", "must be 1 to 16 pairs [Hz, share]"),
        ("partials = [[700, 0]]", "each share must lie between"),
        (f"rise = 0x{'f' * 9000}", "a number without end"),
        ("partials = [[520, 1.0], [1560, 0.33], [2600, 0.2]]", "may be taken for the low-frequency alarm of 520 Hz"),
        ("fall = 1", "must be a whole number from 5 to 1000 (got 1)"),
        ("times = 3", 'needs "pause"'),
        ("colour = 3", '"colour" is not known; a tone has about, partials'),
    ],
)
def test_a_bad_recipe_is_told_with_its_line_and_what_to_do(line: str, told: str) -> None:
    text = changed("end", line)
    with pytest.raises(PlanError) as caught:
        parse(text, "tones.toml")
    number = text.splitlines().index(line) + 1
    assert [told in row and row.startswith(f'tones.toml:{number}: tone "end"') for row in caught.value.lines] == [True]


def test_all_mistakes_come_at_once_and_a_missing_tone_is_one_of_them() -> None:
    text = changed("end", "fall = 1").replace("[go]", "[went]").replace("times = 5", "times = 0")
    with pytest.raises(PlanError) as caught:
        parse(text, "tones.toml")
    assert len(caught.value.lines) == 3
    assert caught.value.lines[-1] == 'tones.toml: tone "go" is missing; add a table [go]'


def test_a_coachs_own_file_may_replace_one_tone(tmp_path: Path) -> None:
    own = tmp_path / "tones.toml"
    own.write_text("\ufeff[end]\r\npartials = [[900, 1.0]]\r\npattern = [700]\r\n", encoding="utf-8")
    found = read(own, RECIPES)
    assert found["end"].length == 700
    assert found["go"] == RECIPES["go"]


@pytest.mark.parametrize("data", [None, b"\xff\xfe\x00\x01" * 50, b"[go\npattern=", b"a=[" * 5000])
def test_a_file_that_is_none_is_told_in_one_line(tmp_path: Path, data: bytes | None) -> None:
    own = tmp_path / "tones.toml"
    if data is not None:
        own.write_bytes(data)
    with pytest.raises(PlanError) as caught:
        read(own)
    assert len(caught.value.lines) == 1
    assert caught.value.lines[0].startswith("tones.toml")


values = st.recursive(
    st.integers() | st.floats() | st.booleans() | st.text(max_size=5), lambda inner: st.lists(inner, max_size=6), max_leaves=12
)


def toml(value: object) -> str:
    if isinstance(value, list):
        return f"[{', '.join(map(toml, value))}]"
    if isinstance(value, str):
        return '"' + "".join(f"\\U{ord(c):08x}" for c in value if not 0xD800 <= ord(c) < 0xE000) + '"'
    return str(value).lower() if isinstance(value, bool) else repr(value)


@settings(deadline=None)
@given(st.sampled_from(["partials", "pattern", "times", "pause", "pitch", "rise", "fall", "about"]), values)
def test_any_value_for_any_key_gives_a_tone_that_renders_or_a_mistake_in_words(key: str, value: object) -> None:
    try:
        found = parse(changed("close", f"{key} = {toml(value)}"), "tones.toml")
    except PlanError:
        return
    assert np.isfinite(render(found["close"])).all()
