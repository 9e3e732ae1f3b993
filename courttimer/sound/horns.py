"""The coach's own tones: recipes in `tones.toml` and recordings such as `tone end.wav`, in the user's folder of sounds.

What is wrong with them is told, and ours is heard instead.
"""

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from courttimer.errors import PlanError
from courttimer.sound.recipes import LONGEST, NAMES, Recipe, read

if TYPE_CHECKING:
    from courttimer.sound.mixer import Samples

TONES = "tones.toml"
SUFFIXES = (".wav", ".flac", ".ogg")
EDGE = 240
"""5 ms, in frames."""


def own(shipped: Path, folder: Path) -> tuple[dict[str, Recipe], tuple[str, ...]]:
    """The tones of the folder `shipped`, the coach's of `folder` before them; and what is wrong with those, each in words.

    Raises PlanError when a shipped tone is at fault. Imports numpy when there is a recording, and not before.
    """
    recipes, wrong = read(shipped / TONES), list[str]()
    if (folder / TONES).is_file():
        try:
            recipes = read(folder / TONES, recipes)
        except PlanError as fault:
            wrong += fault.lines
    for name, path in _recordings(folder).items():
        try:
            recipes[name] = _recipe(name, path)
        except ValueError as fault:
            wrong.append(f"{path.name}: {fault}{'; ours is heard' if name in NAMES else ''}")
    return recipes, tuple(wrong)


def _recordings(folder: Path) -> dict[str, Path]:
    """The coach's recordings by the tone that each is named after; of two of one name the first of SUFFIXES."""
    try:
        files = [path for path in folder.iterdir() if path.suffix.lower() in SUFFIXES and path.is_file()]
    except OSError:
        return {}
    files.sort(key=lambda path: (-SUFFIXES.index(path.suffix.lower()), path.name))
    named = {" ".join(path.stem.casefold().split()): path for path in files}
    return {name.removeprefix("tone "): path for name, path in named.items() if name.startswith("tone ")}


def _recipe(name: str, file: Path) -> Recipe:
    if name not in NAMES:
        raise ValueError(f'there is no tone "{name}"; there are {", ".join(NAMES)}')
    from courttimer.sound.mixer import FRAMES_A_MS
    from courttimer.sound.overheard import rhythm

    samples = recorded(file)
    return Recipe(
        name=name, partials=(), runs=rhythm(samples), pitch=(), rise=0, fall=0, recording=file, lasts=len(samples) // FRAMES_A_MS
    )


@lru_cache(len(NAMES))
def recorded(file: Path) -> "Samples":
    """A WAV, FLAC or OGG file as mono float32 at 48 kHz, a whole number of ms, at the loudness of all tones.

    Raises ValueError, in words and with a remedy, for what cannot be read, is silent, too long, or may be taken for an alarm.
    """
    import numpy as np

    from courttimer.sound.loudness import level, loudest
    from courttimer.sound.mixer import FRAMES_A_MS
    from courttimer.sound.overheard import taken_for
    from courttimer.sound.recordings import sound_in
    from courttimer.sound.speech import trimmed

    sound = sound_in(file)
    sound = sound - np.float32(sound.sum(dtype=np.float64) / max(len(sound), 1))
    highest = float(np.abs(sound).max(initial=0.0))
    sound = trimmed(sound[_onset(sound, highest) :] / highest) if highest > 1e-4 else sound[:0]
    sound = np.pad(sound, (0, -len(sound) % FRAMES_A_MS))
    if not len(sound):
        raise ValueError("nothing is heard in it; record it anew, nearer to the microphone")
    if len(sound) > LONGEST * FRAMES_A_MS:
        raise ValueError(f"it is longer than {LONGEST // 1000} s; cut it")
    if alarm := taken_for(sound):
        raise ValueError(f"it may be taken for {alarm}; choose another sound")
    return level(sound, loudest)


def _onset(sound: "Samples", highest: float) -> int:
    """Just before it has a tenth of its height: a tone is heard on its moment, and what is before that is noise or an echo."""
    import numpy as np

    return max(int(np.argmax(np.abs(sound) > 0.1 * highest)) - EDGE, 0)
