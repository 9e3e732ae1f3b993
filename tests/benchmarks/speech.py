"""How long 40 phrases take, as a ratio to a bare pyttsx3 loop over the same texts: `python -m tests.benchmarks.speech`.

Limits of the design, "How fast, how small": 1.5 cold, 0.2 cached. Each way is a program of its own, in turns with the others, that
measures itself from its first import of anything to do with speech; printed are the medians.
"""

import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.benchmarks._row import compiled

ROUNDS = 7
TEXTS = [
    "Ready.", "Last one.", "Thirty seconds.", "One minute.", "Three.", "Two.", "One.",
    *(f"Water. {n} minutes. Then number {n}." for n in range(1, 12)),
    *(f"Paint touch, round {n}. One on one from the wing." for n in range(1, 12)),
    *(f"Score and you stay on. {n} to go." for n in range(1, 12)),
]  # fmt: skip
BARE = """
import sys, time
begun = time.perf_counter()
import ctypes, os, sys, tempfile
import espeakng_loader
os.environ["ESPEAK_DATA_PATH"] = espeakng_loader.get_data_path()
ctypes.CDLL(espeakng_loader.get_library_path(), ctypes.RTLD_GLOBAL)
import pyttsx3
engine = pyttsx3.init()
engine.setProperty("rate", 160)
with tempfile.TemporaryDirectory() as there:
    for n, text in enumerate(eval(sys.argv[1])):
        engine.save_to_file(text, f"{there}/{n}.wav")
        engine.runAndWait()
sys.stderr.write(str(time.perf_counter() - begun))
"""
OURS = """
import sys, time
from pathlib import Path
from courttimer.plan.model import Voice
begun = time.perf_counter()
from courttimer.sound.voice import prepare
report = prepare(eval(sys.argv[1]), Voice(), Path(sys.argv[2]))
sys.stderr.write(str(time.perf_counter() - begun))
assert not report.missing, report
"""


def took(script: str, *words: str) -> float:
    command = (sys.executable, "-c", script, repr(TEXTS), *words)
    env = compiled() | {"OPENBLAS_NUM_THREADS": "1"}
    return float(subprocess.run(command, check=True, capture_output=True, text=True, env=env).stderr)


def main() -> None:
    assert len(TEXTS) == 40
    bare, cold, cached = [], [], []
    for _ in range(ROUNDS + 1):  # the first one compiles, and is not counted
        with tempfile.TemporaryDirectory() as there:
            folder = str(Path(there) / "cache")
            bare.append(took(BARE))
            cold.append(took(OURS, folder))
            cached.append(took(OURS, folder))
    bare, cold, cached = bare[1:], cold[1:], cached[1:]
    base = statistics.median(bare)
    print(f"bare pyttsx3 loop, {len(TEXTS)} phrases: {base * 1000:.0f} ms")
    print(f"cold:   {statistics.median(cold) / base:.2f} (limit 1.5)")
    print(f"cached: {statistics.median(cached) / base:.2f} (limit 0.2)")


if __name__ == "__main__":
    main()
