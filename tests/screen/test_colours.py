"""Every pair of colours can be read: in true colour, in 16 colours, without colour, and by those who see fewer."""

import pytest
from rich.color import Color, ColorSystem

from courttimer.screen.canvas import styles
from courttimer.screen.colours import STYLES, Theme, pairs

Triple = tuple[float, float, float]
THEMES: tuple[Theme, ...] = ("dark", "light")
PAIRS = [(theme, style) for theme in THEMES for style in STYLES]

VGA = ("000000", "aa0000", "00aa00", "aa5500", "0000aa", "aa00aa", "00aaaa", "aaaaaa",
       "555555", "ff5555", "55ff55", "ffff55", "5555ff", "ff55ff", "55ffff", "ffffff")  # fmt: skip
"""The 16 colours of a text console, in their numbers' order (from memory)."""


def linear(colour: str) -> Triple:
    """WCAG 2.2, definition of relative luminance: the linear parts of an sRGB colour."""
    parts = [int(colour.lstrip("#")[n : n + 2], 16) / 255 for n in (0, 2, 4)]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return red, green, blue


def luminance(of: Triple) -> float:
    return 0.2126 * of[0] + 0.7152 * of[1] + 0.0722 * of[2]


def ratio(one: Triple, other: Triple) -> float:
    """WCAG 2.2, definition of contrast ratio."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize(
    ("one", "other", "worked"),
    [("#000000", "#ffffff", 21.0), ("#777777", "#ffffff", 4.4781), ("#999999", "#ffffff", 2.849), ("#767676", "#ffffff", 4.5422),
     ("#ff0000", "#ffffff", 3.9985), ("#ff0000", "#000000", 5.252), ("#ffff00", "#000000", 19.556), ("#0000ff", "#ffffff", 8.5925)],
)  # fmt: skip
def test_the_formula_gives_the_published_ratios(one: str, other: str, worked: float) -> None:
    assert ratio(linear(one), linear(other)) == pytest.approx(worked, abs=0.0006)


@pytest.mark.parametrize(("theme", "style"), PAIRS)
def test_every_pair_has_a_contrast_of_seven_to_one(theme: Theme, style: str) -> None:
    """WCAG 2.2, success criterion 1.4.6 (and so 1.4.3)."""
    text, ground = pairs(theme)[style]
    assert ratio(linear(text), linear(ground)) >= 7


@pytest.mark.parametrize(("theme", "style"), PAIRS)
def test_the_contrast_survives_a_terminal_of_16_colours(theme: Theme, style: str) -> None:
    text, ground = (Color.parse(c).downgrade(ColorSystem.STANDARD).number or 0 for c in pairs(theme)[style])
    assert ratio(linear(VGA[text]), linear(VGA[ground])) >= 7


def seen(of: Triple, kind: str) -> Triple:
    """What a dichromat sees: Viénot, Brettel and Mollon 1999, Color Res. Appl. 24:243-252 (matrices from memory)."""
    red, green, blue = of
    long = 17.8824 * red + 43.5161 * green + 4.11935 * blue
    middle = 3.45565 * red + 27.1554 * green + 3.86714 * blue
    short = 0.0299566 * red + 0.184309 * green + 1.46709 * blue
    if kind == "protan":
        long = 2.02344 * middle - 2.52581 * short
    if kind == "deutan":
        middle = 0.494207 * long + 1.24827 * short
    back = (
        0.080944 * long - 0.130504 * middle + 0.116721 * short,
        -0.0102485 * long + 0.0540194 * middle - 0.113615 * short,
        -0.000365294 * long - 0.00412163 * middle + 0.693513 * short,
    )
    red, green, blue = (min(1.0, max(0.0, c)) for c in back)
    return red, green, blue


def test_the_simulation_leaves_grey_and_full_sight_alone() -> None:
    grey = linear("#808080")
    assert seen(linear("#9ad1ff"), "none") == pytest.approx(linear("#9ad1ff"), abs=0.002)
    assert seen(grey, "protan") == pytest.approx(grey, abs=0.01)
    assert seen(grey, "deutan") == pytest.approx(grey, abs=0.01)


@pytest.mark.parametrize("kind", ["protan", "deutan"])
@pytest.mark.parametrize(("theme", "style"), PAIRS)
def test_the_contrast_survives_colour_blindness(theme: Theme, style: str, kind: str) -> None:
    text, ground = (seen(linear(c), kind) for c in pairs(theme)[style])
    assert ratio(text, ground) >= 7


def test_without_colours_reversed_stays_reversed() -> None:
    """no-color.org: NO_COLOR, when present, prevents the addition of ANSI colour; bold and reverse are no colours."""
    bare = styles("dark", colourless=True)
    assert all(style.color is None and style.bgcolor is None for style in bare.values())
    assert [bool(bare[name].reverse) for name in ("live", "halt", "alarm", "key", "off", "plain")] == [True] * 4 + [False] * 2


@pytest.mark.parametrize("theme", THEMES)
def test_live_is_reversed_and_off_is_plain(theme: Theme) -> None:
    of = pairs(theme)
    darker = {style: luminance(linear(text)) < luminance(linear(ground)) for style, (text, ground) in of.items()}
    assert darker["live"] != darker["plain"] == darker["off"]
    assert of["off"][1] == of["plain"][1]
    assert of["live"][1] != of["plain"][1]


@pytest.mark.parametrize("theme", THEMES)
def test_no_ground_is_green_or_red(theme: Theme) -> None:
    """No flooding with the colours of traffic lights: a ground that fills more than a line is grey, or yellow to brown."""
    for style in ("plain", "live", "halt", "pick"):
        red, green, blue = linear(pairs(theme)[style][1])
        assert green <= red * 1.15 + 0.01
        assert red <= max(green * 3, blue * 4) + 0.05
