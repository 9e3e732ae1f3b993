"""The tones: one family, one loudness, told apart by rhythm, and none that may be taken for an alarm."""

from itertools import combinations
from pathlib import Path

import numpy as np
import pyloudnorm
import pytest
import scipy.signal
from hypothesis import given, settings
from hypothesis import strategies as st

from courttimer import locations
from courttimer.errors import PlanError
from courttimer.sound.loudness import PEAK, TONES, loudest
from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.patterns import taken_for
from courttimer.sound.recipes import NAMES, Recipe, parse, read
from courttimer.sound.tones import render

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
    assert loudest(tone) == pytest.approx(TONES, abs=0.1)


def test_a_library_finds_the_same_loudness(tone: Samples) -> None:
    """pyloudnorm, over the loudest 400 ms; a shorter tone over its length."""
    block = min(19_200, len(tone))
    parts = [tone[i : i + block] for i in range(0, len(tone) - block + 1, 4800)]
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan", block_size=block / RATE)
    # A part cut out of a sound has no ring from what was before it: hence 0.2 and not 0.1 LU.
    assert max(meter.integrated_loudness(p.astype(np.float64)) for p in parts) == pytest.approx(TONES, abs=0.2)


def test_no_sample_is_higher_than_agreed_and_no_true_peak_above_minus_1(tone: Samples) -> None:
    """True peak as in ITU-R BS.1770-4, Annex 2: at least fourfold oversampling; scipy's filter."""
    assert np.abs(tone).max() <= PEAK + 1e-6
    assert 20 * np.log10(np.abs(scipy.signal.resample_poly(tone, 8, 1)).max()) < -1


def test_nine_tenths_of_the_energy_lie_where_a_gym_hears_it(tone: Samples) -> None:
    """500 to 2500 Hz: ISO 7731:2003, 5.3, from memory."""
    hz, power = scipy.signal.periodogram(tone, RATE)
    assert power[(hz >= 500) & (hz <= 2500)].sum() >= 0.9 * power.sum()
    assert power[hz > 2500].sum() > 0.0005 * power.sum() or power[(hz > 1200)].sum() > 0.05 * power.sum(), "it has harmonics"


def test_edges_are_soft_and_nothing_is_off_centre(tone: Samples) -> None:
    """No step is higher than a full 5 kHz sine of the same peak makes, and the ends lie at zero."""
    assert np.abs(np.diff(tone, prepend=0, append=0)).max() < PEAK * 2 * np.pi * 5000 / RATE
    assert max(abs(tone[0]), abs(tone[-1])) < 1e-3
    assert abs(tone.mean()) < 1e-4


def rhythm(recipe: Recipe) -> list[bool]:
    """Whether it sounds, in each hundredth of a second."""
    return [i % 2 == 0 for i, ms in enumerate(recipe.runs) for _ in range(round(ms / 10))]


def test_any_two_tones_differ_in_a_quarter_of_their_time_whatever_their_pitch() -> None:
    for one, other in combinations(RECIPES.values(), 2):
        a, b = rhythm(one), rhythm(other)
        length = max(len(a), len(b))
        a, b = a + [False] * (length - len(a)), b + [False] * (length - len(b))
        assert sum(x != y for x, y in zip(a, b, strict=True)) >= length / 4, (one.name, other.name)


@pytest.mark.parametrize(
    ("runs", "signal"),
    [
        ([500, 500, 500, 500, 500], "temporal-three"),
        ([500, 500, 500, 500, 500, 1500], "temporal-three"),
        ([455, 545, 540, 460, 500, 1400], "temporal-three"),
        ([500, 500], "temporal-three"),
        ([200, 300, 500, 500, 500, 500, 500], "temporal-three"),
        ([100, 100, 100, 100, 100, 100, 100], "temporal-four"),
        ([91, 109, 100, 95, 105, 108, 92, 5000], "temporal-four"),
        ([100, 900, 100, 900, 100], "bell"),
        ([300, 700, 200, 850, 100, 1900], "bell"),
        ([5000, 10_000], "5 s in 15 s"),
        ([500, 2500, 500], "alert"),
    ],
)
def test_rhythms_within_a_tenth_of_a_danger_signal_are_known(runs: list[int], signal: str) -> None:
    """ISO 8201 and NFPA 72 temporal-three, NFPA 720 temporal-four, a fire panel's manual for the other codes."""
    assert signal in taken_for(runs)


@pytest.mark.parametrize(
    "runs",
    [
        [500],
        [500, 500, 500],
        [430, 440, 430, 440, 430],
        [500, 380, 500, 380, 500],
        [100, 100, 100, 100, 100],
        [85, 115, 85, 115, 85, 115, 85],
        [100, 1200, 100, 1200, 100],
        [100, 900, 100, 900, 100, 900, 900],
    ],
)
def test_near_misses_are_let_through(runs: list[int]) -> None:
    assert taken_for(runs) == ""


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
    assert [told in row and row.startswith(f'tones.toml:{number}: tone "end": ') for row in caught.value.lines] == [True]


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
