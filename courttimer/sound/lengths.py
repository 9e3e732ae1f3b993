"""How long each tone and each phrase lasts, measured where it is known and estimated from the words where it is not."""

import json
import re
from collections.abc import Mapping
from pathlib import Path

from courttimer.sound.recipes import Recipe

WORD = 375
"""ms for a word: 160 words a minute, the pace of clear reading aloud (common practice)."""
COMMA, STOP = 250, 400
"""ms of pause after a comma, and after a sentence that another follows."""
SHORTEST = 350


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


def estimate(text: str) -> int:
    """About how long it takes to say `text`, in ms; a number counts as one word for every two digits."""
    words = sum(-(-sum(c.isdigit() for c in word) // 2) or 1 for word in re.findall(r"\w+", text))
    pauses = COMMA * len(re.findall(r"[,;:]\s", text)) + STOP * len(re.findall(r"[.!?]\s+\w", text))
    return max(SHORTEST, WORD * words + pauses)


def kept(path: Path) -> dict[str, int]:
    """The measured lengths kept in a JSON file beside the rendered speech; none where it is missing or damaged."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    if not isinstance(found, dict):
        return {}
    return {text: ms for text, ms in found.items() if isinstance(ms, int) and not isinstance(ms, bool) and ms > 0}
