"""Where the samples of a cue come from: a tone from its recipe, words from what was rendered."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from courttimer.plan.model import Voice
from courttimer.practice.cue import Placed
from courttimer.sound.recipes import Recipe
from courttimer.sound.voice import rendering

if TYPE_CHECKING:
    from courttimer.sound.mixer import Samples

PHRASES = 16
"""Renderings kept in memory; the others are read again, in a few ms."""


class Bank:
    """Lives as long as a practice. Imports numpy when it is asked for the first samples, and not before. For one thread."""

    def __init__(self, recipes: Mapping[str, Recipe], *, folder: Path | None = None, voice: Voice | None = None) -> None:
        """`folder` is the cache that phrases were prepared in, for `voice`; without it nothing is said."""
        self._recipes = recipes
        self._folder = folder
        self._voice = voice or Voice()
        self._tones: dict[str, Samples] = {}
        self._phrases: dict[str, Samples] = {}

    def samples(self, placed: Placed) -> "Samples | None":
        """Mono float32 at 48 kHz; None for words that are not rendered, and for a tone that has no recipe."""
        return self._said(placed.text) if placed.cue.sort == "speech" else self._tone(placed.cue.name)

    def render_tones(self) -> None:
        """Have every tone at hand: none is late for being made the first time it is called."""
        for name in self._recipes:
            self._tone(name)

    def _tone(self, name: str) -> "Samples | None":
        from courttimer.sound.tones import render

        if name not in self._tones and name in self._recipes:
            self._tones[name] = render(self._recipes[name])
        return self._tones.get(name)

    def _said(self, text: str) -> "Samples | None":
        if text not in self._phrases:
            found = self._read(text)
            if found is None:
                return None
            self._phrases[text] = found
            while len(self._phrases) > PHRASES:
                del self._phrases[next(iter(self._phrases))]
        return self._phrases[text]

    def _read(self, text: str) -> "Samples | None":
        import numpy as np

        if self._folder is None:
            return None
        try:
            found = np.load(rendering(self._folder, self._voice, text), allow_pickle=False)
        except (OSError, ValueError, EOFError):
            return None
        return found if found.dtype == np.float32 and found.ndim == 1 else None
