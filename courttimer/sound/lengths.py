"""How long each tone and each phrase lasts, measured where it is known and estimated from the words where it is not."""

import json
from collections.abc import Mapping
from pathlib import Path

from courttimer.practice.pace import estimate
from courttimer.sound.recipes import Recipe


class Lengths:
    """Lives as long as a practice; a phrase that is rendered meanwhile is added with `learn`."""

    def __init__(self, recipes: Mapping[str, Recipe], measured: Mapping[str, int] | None = None) -> None:
        """`measured`: ms by text, as rendered."""
        self._tones = {name: recipe.length for name, recipe in recipes.items()}
        self._measured = dict(measured or {})

    def tone(self, name: str) -> int:
        """The length of a tone in ms. Raises KeyError for a name that no recipe has."""
        return self._tones[name]

    def text(self, text: str) -> int:
        """The length of a phrase in ms."""
        return self._measured.get(text) or estimate(text)

    def sure(self, text: str) -> bool:
        """Whether the phrase was measured; otherwise its length is about right."""
        return text in self._measured

    def learn(self, text: str, ms: int) -> None:
        """From now on this phrase is known to last `ms`."""
        self._measured[text] = ms


def kept(path: Path) -> dict[str, int]:
    """The measured lengths kept in a JSON file beside the rendered speech; none where it is missing or damaged."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    if not isinstance(found, dict):
        return {}
    return {text: ms for text, ms in found.items() if isinstance(ms, int) and not isinstance(ms, bool) and ms > 0}
