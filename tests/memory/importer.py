"""Imports a folder of journals and dies before its statement N, as by `kill -9`: `python -m tests.memory.importer HOME N`."""

import os
import signal
import sys
from itertools import count
from pathlib import Path

from courttimer.memory import history
from tests.memory.practices import produce


def main(home: Path, last: int) -> None:
    history.AT_ONCE = 3
    told = history.History(home / "history.sqlite", rules=1)
    numbers = count()

    def die(statement: str) -> None:
        if next(numbers) == last:
            os.kill(os.getpid(), getattr(signal, "SIGKILL", signal.SIGTERM))

    told.base.set_trace_callback(die)
    told.bring(home / "journals", produce)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
