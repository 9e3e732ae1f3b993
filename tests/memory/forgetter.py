"""Forgets a player and dies at its Nth touch of the disk: `python -m tests.memory.forgetter HOME NAME N`; see test_forget_kill.py."""

import os
import signal
import sys
from itertools import count
from pathlib import Path

from tests.memory.keeping import forgotten

TOUCHES = ("os.rename", "os.remove", "os.utime", "os.truncate", "open")


def main(home: Path, name: str, last: int) -> None:
    numbers = count()

    def die(event: str, args: tuple[object, ...]) -> None:
        reads = event == "open" and (not isinstance(args[2], int) or not args[2] & (os.O_WRONLY | os.O_RDWR))
        if event in TOUCHES and not reads and next(numbers) == last:
            os.kill(os.getpid(), getattr(signal, "SIGKILL", signal.SIGTERM))

    sys.addaudithook(die)
    forgotten(home, name)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))
