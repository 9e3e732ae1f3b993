"""From a press to its sound, and what a running session costs, beside a bare callback player: `python -m tests.benchmarks.sound`.

Limits of the design, "How fast, how small": p95 from key to sound at most 1.25 × the bare player's when idle, 1.5 × with both cores
busy; processor at most 2 × that of the bare player with Textual's digits at ten a second; from the start of the program to the first
stream at the sound server at most 2.5 × a bare script's. Needs the rig of tests/sound/rig.py: all
play into a null sink. Ours is a whole practice, with calls on standard input: from the moment it is stamped to the moment the journal
says it was heard. The bare player writes into its next block after a press, and reckons with the same word of the card.
"""

import fcntl
import json
import os
import pty
import random
import select
import shutil
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.benchmarks._row import compiled
from tests.sound.rig import ROOT, Server, server

PRESSES = 40
ROUNDS = 7
WATCHED = 20.0
SESSION = """
title = "Benchmark"
voice = { say = "horns" }

[[segment]]
kind = "drill"
name = "Break through"
time = "10 min"
setup = "2 s"
rep = { starts = "by itself", live = "120 s", off = "5 s" }

[[segment.window]]
name = "drive"
time = "0.5 s"
opens = "on call"
"""
BARE = """
import random, sys, time
import numpy as np
import sounddevice as sd
frame, pressed, heard = 0, [], []
def call(out, frames, moments, status):
    out.fill(0)
    ahead, now = moments.outputBufferDacTime - stream.time, time.perf_counter()
    while pressed:
        out[:] = 0.5
        heard.append(now + ahead - pressed.pop())
stream = sd.OutputStream(samplerate=48000, channels=2, blocksize=512, latency=0.1, callback=call)
stream.start()
"""
PRESSING = f"""
time.sleep(4)
for _ in range({PRESSES}):
    pressed.append(time.perf_counter())
    time.sleep(0.9 + random.random() / 5)
sys.stdout.write(str(heard))
"""
DIGITS = """
from textual.app import App
from textual.widgets import Digits
class Small(App):
    def compose(self):
        yield Digits("0")
    def on_mount(self):
        self.set_interval(0.1, lambda: self.query_one(Digits).update(f"{time.monotonic():.1f}"))
Small().run()
"""


def bare(gym: Server) -> list[float]:
    """Seconds from each press to its sound."""
    command = (sys.executable, "-c", BARE + PRESSING)
    out = subprocess.run(command, env=gym.env, check=True, capture_output=True, text=True).stdout
    return [float(s) for s in out.strip("[]").split(",")]


def ours(gym: Server) -> list[float]:
    """The same for calls that open a window, in a practice."""
    with tempfile.TemporaryDirectory() as there:
        session, home = Path(there) / "session.toml", Path(there) / "home"
        session.write_text(SESSION)
        command = (sys.executable, "-m", "courttimer", "run", str(session), "--plain", "--go")
        env = gym.env | {"COURTTIMER_HOME": str(home)}
        process = subprocess.Popen(command, cwd=ROOT, env=env, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True)
        assert process.stdin is not None
        time.sleep(7)
        for _ in range(PRESSES):
            process.stdin.write("open\n")
            process.stdin.flush()
            time.sleep(0.9 + random.random() / 5)
        process.kill()
        process.wait()
        process.stdin.close()
        journal = next((home / "data" / "journals").glob("*.jsonl"))
        events = [json.loads(line) for line in journal.read_text().splitlines()]
    heard = {e["asked"]: e["played"] for e in events if e["what"] == "cue heard" and ".open." in e["cue"]}
    return [(heard[e["starts"]] - e["at"]) / 1000 for e in events if e["what"] == "window called" and e["starts"] in heard]


def first_stream(gym: Server, *command: str) -> float:
    """Seconds from the start of a program until the sound server has a stream of it."""
    seeing = subprocess.Popen(("pactl", "subscribe"), env=gym.env, stdout=subprocess.PIPE, text=True)
    assert seeing.stdout is not None
    time.sleep(1)
    begun = time.perf_counter()
    child = subprocess.Popen(command, cwd=ROOT, env=compiled(gym.env), stdin=subprocess.PIPE, stdout=subprocess.DEVNULL)
    next(line for line in seeing.stdout if "'new' on sink-input" in line)
    took = time.perf_counter() - begun
    for process in (child, seeing):
        process.kill()
        process.communicate()
    return took


def processor(gym: Server, *command: str) -> float:
    """The share of a core that a program takes in a terminal of 100 by 30, once it runs."""
    here, there = pty.openpty()
    fcntl.ioctl(there, termios.TIOCSWINSZ, struct.pack("HHHH", 30, 100, 0, 0))
    env = gym.env | {"TERM": "xterm-256color"}
    child = subprocess.Popen(command, cwd=ROOT, env=env, stdin=there, stdout=there, stderr=there, start_new_session=True)
    os.close(there)
    _drain(here, 8)
    before = _used(child.pid)
    _drain(here, WATCHED)
    used = _used(child.pid) - before
    child.kill()
    child.wait()
    os.close(here)
    return used / WATCHED


def _drain(end: int, seconds: float) -> None:
    until = time.monotonic() + seconds
    while (left := until - time.monotonic()) > 0:
        if select.select([end], [], [], left)[0]:
            os.read(end, 65536)


def _used(pid: int) -> float:
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


@contextmanager
def busy() -> Iterator[None]:
    """Both cores have something else to do."""
    loads = [subprocess.Popen((sys.executable, "-c", "while True: pass")) for _ in range(os.cpu_count() or 2)]
    try:
        yield
    finally:
        for load in loads:
            load.kill()
            load.wait()


def _p95(seconds: list[float]) -> float:
    return statistics.quantiles(seconds, n=20)[-1]


def _compare(name: str, gym: Server, limit: float) -> None:
    small, practice = bare(gym), ours(gym)
    print(
        f"key to sound, {name}: bare player p95 {_p95(small) * 1000:.0f} ms, practice p95 {_p95(practice) * 1000:.0f} ms "
        f"({len(practice)} of {PRESSES} heard), {_p95(practice) / _p95(small):.2f} x (limit {limit})"
    )


def main() -> None:
    if shutil.which("pulseaudio") is None:
        print("Not measured: there is no PulseAudio here, and so no server to play to.")
        return
    with tempfile.TemporaryDirectory() as there, server(Path(there) / "server", "gym") as gym:
        session = Path(there) / "session.toml"
        session.write_text(SESSION)
        run = (sys.executable, "-m", "courttimer", "run", str(session), "--go")
        starts = [
            (first_stream(gym, sys.executable, "-c", BARE + "time.sleep(9)"), first_stream(gym, *run, "--plain"))
            for _ in range(ROUNDS + 1)
        ][1:]
        small, practice = (statistics.median(way) for way in zip(*starts, strict=True))
        print(
            f"first stream: bare player {small * 1000:.0f} ms, practice {practice * 1000:.0f} ms, {practice / small:.2f} x (limit 2.5)"
        )
        _compare("idle", gym, 1.25)
        with busy():
            _compare("both cores busy", gym, 1.5)
        small = processor(gym, sys.executable, "-c", BARE + DIGITS)
        practice = processor(gym, *run)
        print(f"processor: bare player and digits {small:.1%}, practice {practice:.1%}, {practice / small:.2f} x (limit 2)")


if __name__ == "__main__":
    main()
