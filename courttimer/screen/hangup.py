"""A terminal that is closed ends the screen, and the process lives on: the practice does not notice."""

import asyncio
import contextlib
import signal
from collections.abc import Callable


def outlive_the_terminal(close: Callable[[], object]) -> None:
    """A closed terminal hangs up on every process in it: from now on that calls `close` on the running loop, and nothing else."""
    loop = asyncio.get_running_loop()

    def hung_up(*_: object) -> None:
        with contextlib.suppress(RuntimeError):
            loop.call_soon_threadsafe(close)

    with contextlib.suppress(AttributeError, ValueError):  # Windows has no such signal; only the main thread may ask for it
        signal.signal(signal.SIGHUP, hung_up)
