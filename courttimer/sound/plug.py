"""Keeps a line open to the best speaker there is: takes it, sees when it is gone, and goes back to a better one that has returned."""

from collections.abc import Callable, Sequence

from courttimer.errors import DeviceError
from courttimer.sound.devices import Device, System, Watching, ordered, rank
from courttimer.sound.line import Playing

RETRY_NS, DEAD_NS, WAKING_NS = 200_000_000, 500_000_000, 3_000_000_000
"""Between two tries; how long no frame may move; the same after opening."""
LONG_NS, RARELY_NS = 20_000_000_000, 800_000_000
"""After so long without any speaker a try is made only so often: PortAudio grows by 12 kB each time it looks (Debian 12, measured)."""
AWAKE = 96_000
"""Frames after which a speaker is awake: an idle one takes some, and goes on a second later."""
QUIET, PATIENCE_NS = 600, 900_000_000
"""ms without a cue in which the speaker is changed; after so long a wait for them any moment will do in which nothing sounds."""
SHY_NS, SHYEST_NS = 4_000_000_000, 64_000_000_000
"""A speaker that did not play when it was taken is left alone for so long; twice as long each time, up to the second."""
SETTLED_NS = 3_000_000_000
"""After so long the child that looks out is started: a start has better things to do."""


class Plug:
    """Lives as long as a practice. For one thread; `trouble` and `device` may be read by others."""

    def __init__(
        self, *, system: System, tick: Callable[[], int], wanted: Sequence[str] = (), log: Callable[[str], None] = lambda words: None
    ) -> None:
        """`wanted`: names of speakers, or parts of them, best first."""
        self.line: Playing | None = None
        self.device: Device | None = None
        """The speaker that plays, or the one that played last."""
        self.trouble = ""
        """What is wrong, in words for the board."""
        self._system, self._tick, self._wanted, self._log = system, tick, tuple(wanted), log
        self._watch: Watching | None = None
        self._retry = self._frames = self._moved = self._taken = self._patient = self._missed = 0
        self._shy: dict[str, tuple[int, int]] = {}
        """By title: until when it is left alone, and for how long that was."""

    def leaves(self, calm: Callable[[int], bool]) -> str:
        """Why the line must be left now, or nothing. `calm` says whether nothing sounds, and nothing will for so many ms."""
        assert self.line is not None
        assert self.device is not None
        tick = self._tick()
        if self.line.frames != self._frames:
            self._frames, self._moved = self.line.frames, tick
        if self.line.ended or tick - self._moved > (DEAD_NS if self._frames > AWAKE else WAKING_NS):
            self._be_shy(self.device, unless=self._frames > AWAKE)
            return "lost"
        if self._watch is None:
            if self._server_has_it(self.device) and tick - self._taken > SETTLED_NS:
                self._watch = self._system.watch(self._wanted[: rank(self.device.name, self._wanted)])
            return ""
        return self._seen(self._watch, self.device, calm)

    def _seen(self, watch: Watching, device: Device, calm: Callable[[int], bool]) -> str:
        if device.sink and watch.names and device.title not in watch.names:
            return "lost"
        here = rank(device.name, self._wanted)
        if any(rank(name, self._wanted) < here and not self._is_shy(name) for name in watch.names):
            why = "left for a better one"
        elif device.behind and watch.usual and watch.usual != device.title:
            why = "left: the machine's own speaker is another one now"
        else:
            self._patient = 0
            return ""
        self._patient = self._patient or self._tick()
        waited = min(self._tick() - self._patient, PATIENCE_NS)
        return why if calm(QUIET - QUIET * waited // PATIENCE_NS) else ""

    @staticmethod
    def _server_has_it(device: Device) -> bool:
        return bool(device.sink or device.behind)

    def _is_shy(self, title: str) -> bool:
        return self._shy.get(title, (0, 0))[0] > self._tick()

    def _be_shy(self, device: Device, *, unless: bool = False) -> None:
        if unless:
            self._shy.pop(device.title, None)
            return
        wait = min(2 * self._shy.get(device.title, (0, SHY_NS // 2))[1], SHYEST_NS)
        self._shy[device.title] = (self._tick() + wait, wait)

    def take(self) -> bool:
        """Open the best speaker that can be opened, if it is time to try. Without one, `trouble` says why."""
        if self._tick() < self._retry:
            return False
        refused: dict[str, str] = {}
        words = "no speaker is there; connect or switch one on"
        try:
            devices = ordered(self._system.look(), self._wanted)
        except DeviceError as fault:
            devices, words = [], str(fault)
        for device in devices:
            try:
                self.line = self._system.open(device, self._tick)
            except DeviceError as fault:
                self._log(f"{device.title}: {fault}")
                self._be_shy(device)
                refused[device.title] = str(fault)
                words = f'"{device.title}" cannot be opened: {fault}'
                continue
            self._begin(device, refused)
            return True
        self.trouble = f"no sound: {words}"
        tick = self._tick()
        self._missed = self._missed or tick
        self._retry = tick + (RETRY_NS if tick - self._missed < LONG_NS else RARELY_NS)
        return False

    def _begin(self, device: Device, refused: dict[str, str]) -> None:
        self.device, self._frames, self._patient, self._missed = device, 0, 0, 0
        self._taken = self._moved = self._tick()
        here = rank(device.name, self._wanted)
        self.trouble = "" if not self._wanted or not here else f'{self._instead(refused)}; "{device.title}" plays'
        self._watch = self._system.watch(self._wanted[:here]) if self.trouble else None

    def _instead(self, refused: dict[str, str]) -> str:
        first = self._wanted[0]
        why = next((why for title, why in refused.items() if not rank(title, (first,))), None)
        return f'"{first}" is not there' if why is None else f'"{first}" cannot be opened: {why}'

    def leave(self) -> None:
        """Give everything back; the next try is made at once."""
        if self._watch is not None:
            self._watch.close()
        if self.line is not None:
            self.line.close()
        self.line = self._watch = None
        self._retry = 0
