"""A child process that looks for speakers while ours plays: PortAudio's list is frozen until it starts again, which ends every stream.

The child (`python -m courttimer.sound.watch`) starts PortAudio again and again instead: twice a second where nobody tells it of a
change, and where a sound server does, on its word and every few seconds. While the best speaker plays, only the server is asked.
"""

import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from threading import Event, Thread

from courttimer.errors import DeviceError
from courttimer.sound.behind import sinks
from courttimer.sound.devices import PortAudio, named, rank

AGAIN, AGAIN_TOLD = 0.5, 5.0
"""Seconds between two looks of the child: by itself, and when it is told of changes."""


class Watcher:
    """The child, as its parent sees it; lives until closed."""

    def __init__(self, better: Sequence[str]) -> None:
        self.names: list[str] = []
        self.usual = ""
        package = str(Path(__file__).parents[2])
        path = os.pathsep.join(p for p in (package, os.environ.get("PYTHONPATH", "")) if p)
        self._process = subprocess.Popen(
            (sys.executable, "-m", "courttimer.sound.watch", *better),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=os.environ | {"PYTHONPATH": path},
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
            start_new_session=True,
        )
        Thread(target=self._read, daemon=True, name="device watch").start()

    def _read(self) -> None:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            with suppress(ValueError, TypeError):
                self.names, self.usual = json.loads(line)

    def close(self) -> None:
        if sys.platform == "win32":
            self._process.kill()
        else:
            os.killpg(self._process.pid, signal.SIGKILL)  # with what it has started itself
        self._process.wait()


class Server:
    """What a sound server tells by itself of its speakers; `told` is set whenever one came or went, or the usual one changed."""

    def __init__(self, told: Event) -> None:
        self._told = told
        self._process: subprocess.Popen[str] | None = None

    @property
    def there(self) -> bool:
        """Whether somebody tells; asked again, it tries again."""
        if self._process is not None and self._process.poll() is None:
            return True
        if shutil.which("pactl") is None:
            return False
        self._process = subprocess.Popen(
            ("pactl", "subscribe"), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
        )
        Thread(target=self._read, args=(self._process,), daemon=True).start()
        return False

    def _read(self, process: "subprocess.Popen[str]") -> None:
        assert process.stdout is not None
        line = ""
        for line in process.stdout:
            if ("on sink #" in line and "'change'" not in line) or "on server" in line:
                self._told.set()
        if line:  # a server that was there has ended; one that never was would wake us without end
            self._told.set()

    def close(self) -> None:
        if self._process is not None:
            self._process.kill()


def main() -> None:
    """Print the speakers and the usual one as a JSON line, again whenever they change, until the input is closed."""
    changed, over, system, seen = Event(), Event(), PortAudio(), None
    Thread(target=_until_closed, args=(over, changed), daemon=True).start()
    server = Server(changed)
    while not over.is_set():
        changed.clear()
        there = _there(system, sys.argv[1:])
        if there != seen:
            seen = there
            sys.stdout.write(json.dumps(there) + "\n")
            sys.stdout.flush()
        changed.wait(AGAIN_TOLD if server.there else AGAIN)
    server.close()


def _until_closed(over: Event, changed: Event) -> None:
    sys.stdin.read()
    over.set()
    changed.set()


def _there(system: PortAudio, better: Sequence[str]) -> tuple[list[str], str]:
    """The titles of the speakers that are there, and of the usual one; what somebody waits for must be free, too."""
    if not better:
        behind = sinks() or ()
        words = named(behind)
        return list(words.values()), next((words[s.name] for s in behind if s.usual), "")
    try:
        found = system.look()
    except DeviceError:
        return [], ""
    names = [d.title for d in found if rank(d.name, better) == len(better) or system.can_open(d)]
    return names, next((d.title for d in found if d.usual), "")


if __name__ == "__main__":
    main()
