"""A program that writes a practice at speed: `python -m tests.memory.writer FOLDER`; killed by test_kill.py.

It prints the number of each event when `write` has returned, so that whoever reads the pipe knows what must be there.
"""

import sys
from pathlib import Path

from courttimer.memory.journal import Header, Journal
from courttimer.practice.events import Event, Marked, Still

HEADER = Header(wall="2026-11-24T18:05:12+01:00", program="0.1.0", title="Writer", session="", files={})


def event(number: int) -> Event:
    """The event of that number, from 1: of many lengths, so that a kill can fall anywhere in a line and in a block."""
    if number % 3:
        return Still(at=number)
    return Marked(at=number, words="ä" * (number * 37 % 600))


def main(folder: Path) -> None:
    journal = Journal.create(folder, HEADER)
    number = 0
    while True:
        number += 1
        journal.write(event(number))
        sys.stdout.write(f"{number}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
