"""Makes the samples of a tone from its recipe, or from the coach's recording of it."""

import numpy as np

from courttimer.sound import horns
from courttimer.sound.loudness import level, loudest
from courttimer.sound.mixer import FRAMES_A_MS, RATE, Samples
from courttimer.sound.recipes import Recipe


def render(recipe: Recipe) -> Samples:
    """Mono float32 at 48 kHz, `recipe.length` ms long, at the loudness that all cues share."""
    if recipe.recording is not None:
        return horns.recorded(recipe.recording)
    tone = np.zeros(recipe.length * FRAMES_A_MS)
    begin = 0
    for i, ms in enumerate(recipe.runs):
        frames = ms * FRAMES_A_MS
        if i % 2 == 0:
            tone[begin : begin + frames] = _sound(recipe, recipe.pitch[i // 2], frames)
        begin += frames
    return level(tone.astype(np.float32), loudest)


def _sound(recipe: Recipe, pitch: float, frames: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """One unbroken sound. The partials' phases are spread as M. R. Schroeder advised in 1970, so that the peak stays low."""
    time = np.arange(frames) / RATE
    count = len(recipe.partials)
    sound = np.zeros(frames)
    for k, (hz, share) in enumerate(recipe.partials):
        sound += share * np.sin(2 * np.pi * hz * pitch * time - np.pi * k * (k + 1) / count)
    rise, fall = recipe.rise * FRAMES_A_MS, recipe.fall * FRAMES_A_MS
    sound[:rise] *= 0.5 - 0.5 * np.cos(np.pi * np.arange(1, rise + 1) / (rise + 1))
    sound[frames - fall :] *= 0.5 + 0.5 * np.cos(np.pi * np.arange(1, fall + 1) / (fall + 1))
    return sound
