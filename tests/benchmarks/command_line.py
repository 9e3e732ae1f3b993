"""How long `--help` and `check` take beside Python that does nothing: `python -m tests.benchmarks.command_line`.

Limits of the design, "How fast, how small": 4 × and 6 ×. The third line says how much of that is Python's own modules.
"""

import statistics
import subprocess
import sys
import time

from tests.benchmarks._row import compiled, python, row
from tests.sound.rig import ROOT

ROUNDS = 15
SESSION = str(ROOT / "sessions" / "first-practice.toml")
WAYS = {
    "bare": python("pass"),
    "modules": python("import argparse, dataclasses, json, pathlib, tomllib"),
    "help": (sys.executable, "-m", "courttimer", "--help"),
    "check": (sys.executable, "-m", "courttimer", "check", SESSION),
}


def took(*command: str) -> float:
    """Milliseconds from the start of the program to its end."""
    began = time.perf_counter()
    subprocess.run(command, cwd=ROOT, env=compiled(), stdout=subprocess.DEVNULL, check=True)
    return 1000 * (time.perf_counter() - began)


def main() -> None:
    rounds = [[took(*command) for command in WAYS.values()] for _ in range(ROUNDS + 1)][1:]
    bare, modules, helps, check = (statistics.median(way) for way in zip(*rounds, strict=True))
    print(row("--help", helps, "bare Python", bare, 4))
    print(row("check", check, "bare Python", bare, 6))
    print(f"{'':<34} {modules:8.1f} ms  of it are argparse, dataclasses, json, pathlib, tomllib: {modules / bare:.2f} x bare Python")


if __name__ == "__main__":
    main()
