"""What a running practice holds in memory, and how it grows: `python -m tests.benchmarks.memory`.

Limits of the design, "How fast, how small": 1.4 × that of Textual, numpy and sounddevice, imported and idle; over two hours 1.05 ×.
Memory is what is resident (RSS, Linux; PSS would grow when another Python ends that shares pages). The first figure is a practice
on its screen, with sound where the rig of tests/sound/rig.py can run. Two hours are played at sixty times the pace, without sound,
whose buffers are of fixed length. The screen draws ten times a second of real time, a sixtieth of its frames: from the fifth minute
on, still warming up (50 frames), and from the twentieth.
"""

import os
import select
import shutil
import statistics
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.benchmarks._row import row
from tests.benchmarks.screen import start
from tests.sound.rig import server

ROUNDS = 3
SETTLED = 12.0
PACE = 60
FROM_MIN, WARM_MIN, LASTS_MIN = 5, 20, 120
IMPORTED = """
import textual.app, textual.widgets, numpy, sounddevice, time
time.sleep(600)
"""
PRACTICE = """
import os
os.environ.update({env!r})
from courttimer.__main__ import main
main(["run", {session!r}, "--go", *{words!r}])
"""
SESSION = """
title = "Benchmark"
voice = { say = "horns" }

[[segment]]
kind = "drill"
name = "Break through"
time = "150 min"
setup = "2 s"
rep = { starts = "by itself", live = "8 s", off = "16 s" }
window = [{ name = "drive", time = "3 s" }]
"""


def held(script: str, *moments: float) -> list[float]:
    """MB that the program holds, so many seconds after its start."""
    child, ours = start(script)
    began, out = time.perf_counter(), []
    for moment in moments:
        while (left := began + moment - time.perf_counter()) > 0:
            if select.select([ours], [], [], left)[0]:
                os.read(ours, 65536)
        resident = Path(f"/proc/{child.pid}/status").read_text().split("\nVmRSS:")[1]
        out.append(int(resident.split()[0]) / 1000)
    child.kill()
    child.wait()
    os.close(ours)
    return out


@contextmanager
def heard(there: Path) -> Iterator[tuple[dict[str, str], tuple[str, ...]]]:
    """The environment and the words of a practice with sound, or without it where there is no server to play to."""
    if shutil.which("pulseaudio") is None:
        print("Not measured with sound: there is no PulseAudio here.")
        yield {}, ("--silent",)
        return
    with server(there / "server", "gym") as gym:
        yield {name: gym.env[name] for name in ("HOME", "XDG_RUNTIME_DIR")}, ()


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        there = Path(folder)
        session = there / "session.toml"
        session.write_text(SESSION)
        home = {"COURTTIMER_HOME": str(there / "home")}
        with heard(there) as (env, words):
            script = PRACTICE.format(env=env | home, session=str(session), words=words)
            rounds = [(*held(IMPORTED, SETTLED / 3), *held(script, SETTLED)) for _ in range(ROUNDS)]
        small, ours = (statistics.median(way) for way in zip(*rounds, strict=True))
        print(row("memory running", ours, "textual, numpy, sounddevice imported", small, 1.4, unit="MB"))
        script = PRACTICE.format(env=home, session=str(session), words=("--silent", "--rate", str(PACE)))
        moments = (FROM_MIN, WARM_MIN, FROM_MIN + LASTS_MIN, WARM_MIN + LASTS_MIN)
        early, warm, *late = held(script, *(minutes * 60 / PACE for minutes in moments))
        for minutes, before, after in zip(moments, (early, warm), late, strict=False):
            print(row("memory after 2 h", after, f"itself at {minutes} min", before, 1.05, unit="MB"))


if __name__ == "__main__":
    main()
