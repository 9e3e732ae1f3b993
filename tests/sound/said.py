"""Phrases as the voice of this machine renders them, through the child process as it is."""

import json
import subprocess
from collections.abc import Sequence
from pathlib import Path

from courttimer.sound.mixer import Samples
from courttimer.sound.speech import at_rate, read, trimmed
from courttimer.sound.voice import COMMAND

SAMPLE = {
    "en": (
        "Thirty seconds.", "Next, Paint touch.", "Water. Three minutes. Then Stay on.", "Paint touch. One on one from the wing.",
        "Blue up, five to three.", "Change. One to the right.",
    ),
    "es": (
        "Treinta segundos.", "Siguiente: tiros libres.", "Agua. Tres minutos. Después, tiros libres.",
        "Azul por delante, cinco a tres.", "Cambio. Una a la derecha.",
    ),
    "de": (
        "Dreißig Sekunden.", "Als Nächstes: Freiwürfe.", "Trinkpause. Drei Minuten. Dann Freiwürfe.", "Blau vorn, fünf zu drei.",
        "Wechsel. Eins weiter nach rechts.",
    ),
}  # fmt: skip


def rendered(texts: Sequence[str], folder: Path, language: str = "en", pace: int = 160) -> list[Path]:
    """The files that the voice wrote, one a text."""
    files = [folder / f"{n}.wav" for n in range(len(texts))]
    orders = [{"language": language, "pace": pace}]
    orders += [{"n": n, "text": text, "file": str(file)} for n, (text, file) in enumerate(zip(texts, files, strict=True))]
    done = subprocess.run(COMMAND, input="\n".join(map(json.dumps, orders)), capture_output=True, text=True, check=True, timeout=60)
    assert len(done.stdout.splitlines()) == 1 + len(texts)
    assert done.stderr == ""
    return files


def clean(file: Path) -> Samples:
    """As the voice wrote it, at 48 kHz, trimmed, its highest sample at 1."""
    samples = at_rate(*read(file))
    return trimmed(samples / abs(samples).max())
