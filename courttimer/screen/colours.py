"""Two sets of colours, dark and light, and the pairs in which they are used: every pair keeps a contrast of 7:1 or more."""

from typing import Literal

Theme = Literal["dark", "light"]

DARK = {
    "ground": "#10151a", "ink": "#f4f1e6", "soft": "#bcc6cd", "live": "#ffd166", "go": "#ffffff", "off": "#9ad1ff",
    "rest": "#b5e3c8", "hold": "#ffb8dc", "window": "#ffffff", "warn": "#ffb48f", "said": "#d9ccff", "under": "#10151a",
}  # fmt: skip
LIGHT = {
    "ground": "#fbf8ef", "ink": "#14181c", "soft": "#3d474f", "live": "#3a2a00", "go": "#000000", "off": "#0a3a70",
    "rest": "#1b4630", "hold": "#6a0a45", "window": "#000000", "warn": "#7a1f00", "said": "#3c2a78", "under": "#fbf8ef",
}  # fmt: skip
SETS: dict[Theme, dict[str, str]] = {"dark": DARK, "light": LIGHT}

STYLES: dict[str, tuple[str, str, bool]] = {
    "plain": ("ink", "ground", False),
    "strong": ("ink", "ground", True),
    "quiet": ("soft", "ground", False),
    "go": ("go", "ground", True),
    "off": ("off", "ground", True),
    "rest": ("rest", "ground", True),
    "hold": ("hold", "ground", True),
    "window": ("window", "ground", True),
    "warn": ("warn", "ground", True),
    "said": ("said", "ground", True),
    "live": ("under", "live", True),
    "halt": ("under", "ink", True),
    "alarm": ("under", "warn", True),
    "key": ("under", "soft", True),
    "pick": ("under", "go", True),
}
"""Each style: the colour of its text, of what lies under it, and whether it is bold. Live, halt and alarm are reversed."""


def pairs(theme: Theme) -> dict[str, tuple[str, str]]:
    """Every style's text colour and ground, as `#rrggbb`."""
    colours = SETS[theme]
    return {style: (colours[text], colours[ground]) for style, (text, ground, _) in STYLES.items()}
