"""The real program running a session sixty times as fast: `python -m tests.memory.runner SESSION STOOD`; killed by test_kill.py.

Calls come on standard input, as in `run --plain`. Each line of the journal is echoed when `write` has returned, and each beat leaves
the practice time in the file STOOD, so that whoever kills it knows what must be there, and where the practice stood.
"""

import mmap
import sys
from pathlib import Path

from courttimer import conductor
from courttimer.__main__ import reading
from courttimer.evening import begin
from courttimer.memory.journal import Journal
from courttimer.memory.lines import encode
from courttimer.practice.cue import Cue
from courttimer.practice.event import Event
from courttimer.practice.records import record
from courttimer.sound.hall import Hall

RATE = 60


def echo_each_line() -> None:
    write = Journal.write

    def echoing(self: Journal, event: Event) -> None:
        write(self, event)
        sys.stdout.buffer.write(encode(record(event)))
        sys.stdout.buffer.flush()

    Journal.write = echoing  # type: ignore[method-assign]  # this program is there to be watched


def leave_each_beat(stood: Path) -> None:
    with stood.open("r+b") as file:
        memory = mmap.mmap(file.fileno(), 8)
    want = Hall.want

    def leaving(self: Hall, cues: tuple[Cue, ...], now: int, hush: str) -> None:
        memory[:] = now.to_bytes(8, "little")
        want(self, cues, now, hush)

    Hall.want = leaving  # type: ignore[method-assign]  # the same


def main(session: str, stood: Path) -> None:
    conductor.BEAT_S = 0.005  # 0.3 s of practice at this rate
    echo_each_line()
    leave_each_beat(stood)
    found = reading(session)
    evening = begin(found, rate=RATE)
    evening.listen(sys.stdin)
    with evening.playing(found, silent=True, speaker=None):
        while not evening.over():
            evening.wait(0.1)


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
