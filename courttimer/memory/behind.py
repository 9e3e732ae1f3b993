"""The helper thread that does just behind the caller what the caller must not wait for."""

import threading
from collections.abc import Callable
from contextlib import suppress
from queue import Empty, SimpleQueue

AGAIN_S = 1.0
"""How long after a failure it is tried again, in seconds of the wall."""

_LAST_WAIT_S = 5.0


class Behind:
    """Lives as long as one journal. Calls `tend` soon after each `poke`, and each AGAIN_S until it says that all is done."""

    def __init__(self, tend: Callable[[], bool]) -> None:
        self._tend = tend
        # A queue in C wakes its reader faster than an event does: a third of a fast disk's whole sync.
        self._pokes: SimpleQueue[None] = SimpleQueue()
        self._leaving = False
        # A disk that never answers must not keep the program from ending: hence a daemon.
        self._thread = threading.Thread(target=self._run, name="memory", daemon=True)
        self._thread.start()

    def poke(self) -> None:
        """There is something to do."""
        self._pokes.put(None)

    def stop(self) -> bool:
        """Let it end. False when it still hangs on the disk after five seconds."""
        self._leaving = True
        self._pokes.put(None)
        self._thread.join(_LAST_WAIT_S)
        return not self._thread.is_alive()

    def _run(self) -> None:
        done = True
        while not self._leaving:
            self._rest(None if done else AGAIN_S)
            done = self._tend()

    def _rest(self, seconds: float | None) -> None:
        with suppress(Empty):
            self._pokes.get(timeout=seconds)
        while not self._pokes.empty():
            self._pokes.get_nowait()
