"""Prints how much longer a sound file of 90 minutes with 400 cues takes than the same bytes of zeros, and that memory stays flat.

    .venv/bin/python tests/benchmarks/render.py

Design: at most 3 × the time, at most 2.5 × the memory of `import numpy`, and flat from 30 to 180 minutes.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

WORK = """
import resource, sys, time
from pathlib import Path
what, path, minutes = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3])
begin = 0.0
if what == "numpy":
    import numpy
elif what == "zeros":
    begin = time.perf_counter()
    with path.open("wb") as file:
        for _ in range(minutes * 60):
            file.write(bytes(96_000))
else:
    import numpy
    from courttimer import locations
    from courttimer.practice.cue import Cue, Placed
    from courttimer.sound.bank import Bank
    from courttimer.sound.recipes import read
    from courttimer.sound.render import Heard, write_sound
    recipes = read(locations.sounds() / "tones.toml")
    names = list(recipes)
    heard = []
    for n in range(minutes * 400 // 90):
        at, name = 13_500 * n + 77 * (n % 13), names[n % len(names)]
        cue = Cue(lane=0, stretch=n, name=name, sort="tone", at=at, until=at, segment=0, right="horn", if_late="play", group=str(n))
        heard.append(Heard(placed=Placed(cue=cue, at=at, until=at + recipes[name].length), until=at + recipes[name].length))
    begin = time.perf_counter()
    write_sound(path, heard, Bank(recipes), minutes * 60_000)
print(time.perf_counter() - begin, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def run(what: str, minutes: int, folder: str) -> tuple[float, float]:
    """Seconds and MB of memory at the most, of a fresh process."""
    path = Path(folder) / f"x.{what}"
    done = subprocess.run([sys.executable, "-c", WORK, what, str(path), str(minutes)], capture_output=True, text=True, check=True)
    path.unlink(missing_ok=True)
    seconds, kilobytes = map(float, done.stdout.split())
    return seconds, kilobytes / 1024


def _grows(suffix: str, folder: str) -> float:
    return run(suffix, 180, folder)[1] / run(suffix, 30, folder)[1]


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        rounds = [(run("zeros", 90, folder)[0], run("wav", 90, folder)[0]) for _ in range(5)]
        zeros, wav = (min(times) for times in zip(*rounds, strict=True))
        print(f"90 min, 400 cues: {wav:.2f} s, zeros {zeros:.2f} s: {wav / zeros:.2f} × (limit 3)")
        numpy = run("numpy", 0, folder)[1]
        memory = {minutes: run("wav", minutes, folder)[1] for minutes in (30, 90, 180)}
        print(f"memory at 90 min: {memory[90]:.0f} MB, import numpy {numpy:.0f} MB: {memory[90] / numpy:.2f} × (limit 2.5)")
        print(f"memory at 180 min against 30 min: {memory[180] / memory[30]:.3f} ×")
        for suffix in ("flac", "ogg"):
            took, at_90 = run(suffix, 90, folder)
            print(f"{suffix}: {took:.1f} s, {at_90 / numpy:.2f} × numpy; at 180 min against 30: {_grows(suffix, folder):.3f} ×")


if __name__ == "__main__":
    main()
