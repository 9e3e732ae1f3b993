"""Speakers on Linux without PortAudio: a program that plays what it is fed, through a pipe kept so short that little waits in it.

`pacat` tells twenty times a second how far behind its card is. The others tell nothing: then what is known is how much they took, and
how long a buffer they were asked to keep, so that the spacing is right and the moment is right to that buffer.
"""

import os
import re
import shutil
import subprocess
from collections import deque
from collections.abc import Callable, Sequence
from threading import Event, Thread

import numpy as np

from courttimer.errors import DeviceError
from courttimer.sound.awake import hum
from courttimer.sound.behind import sinks
from courttimer.sound.devices import Device, Watching, named
from courttimer.sound.line import Stamp
from courttimer.sound.mixer import RATE, Mixer, Samples
from courttimer.sound.watch import AGAIN, AGAIN_TOLD, Server

BUFFER_MS = 80
"""What the program is asked to keep before the card."""
REPORTS = 41
"""About two seconds of what a program tells: a single report is wrong by a whole piece when one was taken while it was made."""
PIPE = 8_192
"""Bytes: two pages, so that one is written while the other is taken; 43 ms."""
BLOCK = 256
BYTES = 4
"""Of a frame: two channels of 16 bits."""
PROBE_S = 0.15
"""A program that finds no speaker ends sooner."""
LATENCY = re.compile(rb"Latency: (\d+) usec")
DRY = b"underrun"
COMMANDS = {
    "pacat": ("--playback", "--raw", "--format=s16le", f"--rate={RATE}", "--channels=2", f"--latency-msec={BUFFER_MS}", "-v"),
    "pw-cat": ("--playback", "--raw", "--format=s16", f"--rate={RATE}", "--channels=2", f"--latency={BUFFER_MS}ms", "-"),
    "aplay": ("-q", "-t", "raw", "-f", "S16_LE", "-r", f"{RATE}", "-c", "2", f"--buffer-time={BUFFER_MS}000", "--period-time=10000"),
}
"""Tried in this order; `pw-cat` takes raw frames from version 1.0 on, an older one ends at once."""
CHOOSES = {"pacat": "--device", "pw-cat": "--target"}
TELLS = ("pacat",)


class Programs:
    """The programs of this machine, as a way to speakers."""

    def look(self) -> list[Device]:
        """One speaker when the sound server names none; nothing where no program is."""
        if not any(map(shutil.which, COMMANDS)):
            return []
        found = (sinks() if any(map(shutil.which, CHOOSES)) else None) or ()
        words = named(found)
        usual = next((s for s in found if s.usual), None)
        first = Device(
            number=-1, name="default", usual=True, behind=words[usual.name] if usual else "", radio=bool(usual and usual.wireless)
        )
        return [first, *(Device(number=n, name=words[s.name], sink=s.name, radio=s.wireless) for n, s in enumerate(found))]

    def open(self, device: Device, tick: Callable[[], int]) -> "Pipe":
        """Through the first program that plays. Raises DeviceError when none does."""
        for name, words in COMMANDS.items():
            if shutil.which(name) is None or (device.sink and name not in CHOOSES):
                continue
            chosen = (f"{CHOOSES[name]}={device.sink}",) if device.sink else ()
            pipe = Pipe((name, *chosen, *words), tick, tells=name in TELLS)
            if pipe.plays():
                return pipe
            pipe.close()
        raise DeviceError("no program plays on it")

    def watch(self, better: Sequence[str]) -> Watching:
        return Looking(self)


class Pipe:
    """Lives from the start of a program to its end; the same to a booth as a line to a card."""

    def __init__(self, command: Sequence[str], tick: Callable[[], int], *, tells: bool = False) -> None:
        """`tells`: the program writes its latency to its standard error, as pacat does. Raises DeviceError when it cannot start."""
        self.mixer = Mixer()
        self.stamps: deque[Stamp] = deque(maxlen=4096)
        self.ended = False
        self.latency = BUFFER_MS + PIPE // BYTES * 1000 // RATE
        self._tick, self._tells = tick, tells
        self._frame = 0
        self._hum: int | None = None
        self._dry = False
        self._zeros: deque[int] = deque(maxlen=REPORTS)
        """The moments, in ns, at which frame 0 would have been heard, by one report each."""
        self._mono: Samples = np.zeros(BLOCK, np.float32)
        try:
            self._process = subprocess.Popen(
                command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, bufsize=0, pipesize=PIPE,
                start_new_session=True,
            )  # fmt: skip
        except OSError as fault:
            raise DeviceError(f"{command[0]} cannot be started ({fault.strerror})") from fault
        for work in (self._feed, self._listen):
            Thread(target=work, name=f"{command[0]} {work.__name__}", daemon=True).start()

    def plays(self) -> bool:
        """Whether the program is still there after a moment; waits for it."""
        try:
            self._process.wait(PROBE_S)
        except subprocess.TimeoutExpired:
            return True
        return False

    @property
    def frames(self) -> int:
        return self._frame

    def keep_awake(self) -> None:
        self._hum = self._frame

    def close(self) -> None:
        self._process.kill()
        self._process.wait()

    def _feed(self) -> None:
        assert self._process.stdin is not None
        end = self._process.stdin
        out = np.zeros((BLOCK, 2), "<i2")
        try:
            while not self.ended:
                self.mixer.fill(self._mono, self._frame)
                if self._hum is not None:
                    hum(self._mono, self._frame, self._hum)
                out[:] = np.clip(np.rint(self._mono * 32767), -32768, 32767)[:, None]
                end.write(out.tobytes())
                self._frame += BLOCK
                self._stamp(end.fileno())
        except (OSError, ValueError):  # the program is gone
            pass
        self.ended = True
        end.close()

    def _stamp(self, end: int) -> None:
        """Note when the next frame will be heard."""
        now = self._tick()
        zeros = sorted(self._zeros) if self._tells else [now + BUFFER_MS * 1_000_000 - _ns(self._taken(end))]
        if zeros:
            heard = zeros[len(zeros) // 2] + _ns(self._frame)
            self.stamps.append(Stamp(self._frame, heard, now, self._dry, True))
            self._dry = False

    def _taken(self, end: int) -> int:
        """How many frames the program has taken out of the pipe."""
        import fcntl
        import termios

        frame = self._frame
        waiting = int.from_bytes(fcntl.ioctl(end, termios.FIONREAD, bytes(4)), "little")
        return frame - waiting // BYTES

    def _listen(self) -> None:
        """Read what the program says of itself, until it ends."""
        assert self._process.stderr is not None
        assert self._process.stdin is not None
        said, end = self._process.stderr, self._process.stdin
        while words := os.read(said.fileno(), 4096):
            if DRY in words:
                self._dry = True
                self._zeros.clear()
            found = LATENCY.findall(words)
            if found and self._tells and not end.closed:
                self._zeros.append(self._tick() + int(found[-1]) * 1000 - _ns(self._taken(end.fileno())))
        self.ended = True
        said.close()


def _ns(frames: int) -> int:
    return frames * 62_500 // 3


class Looking:
    """Looks again whenever the sound server tells of a change, and every now and then."""

    def __init__(self, programs: Programs) -> None:
        self.names: list[str] = []
        self.usual = ""
        self._programs = programs
        self._changed, self._over = Event(), Event()
        Thread(target=self._look, name="sinks", daemon=True).start()

    def _look(self) -> None:
        server = Server(self._changed)
        while not self._over.is_set():
            self._changed.clear()
            found = self._programs.look()
            self.names, self.usual = [d.title for d in found], next((d.title for d in found if d.usual), "")
            self._changed.wait(AGAIN_TOLD if server.there else AGAIN)
        server.close()

    def close(self) -> None:
        self._over.set()
        self._changed.set()
