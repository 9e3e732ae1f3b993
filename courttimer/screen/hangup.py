"""A terminal that is closed ends the screen, and the process lives on: the practice does not notice."""

import asyncio
import contextlib
import signal
from collections.abc import Callable
from threading import Thread
from typing import Any


def outlive_the_terminal(close: Callable[[], object]) -> None:
    """A closed terminal hangs up on every process in it: from now on that calls `close` on the running loop, and nothing else."""
    loop = asyncio.get_running_loop()

    def hung_up(*_: object) -> None:
        with contextlib.suppress(RuntimeError):
            loop.call_soon_threadsafe(close)

    with contextlib.suppress(AttributeError, ValueError):  # Windows has no such signal; only the main thread may ask for it
        signal.signal(signal.SIGHUP, hung_up)


def outlive_the_writer(driver: object) -> None:
    """The library writes in a thread, which ends at the first write that fails and tells nobody. What is written afterwards waits
    in a queue of few places, and whoever fills it would wait for ever: from then on it is emptied."""
    writer: Any = getattr(driver, "_writer_thread", None)
    if writer is None:
        return

    def empty() -> None:
        writer.join()
        while True:
            writer._queue.get()

    Thread(target=empty, name="dead terminal", daemon=True).start()


def terminal_died(driver: object) -> bool:
    """Whether the thread that writes to the terminal has ended."""
    writer = getattr(driver, "_writer_thread", None)
    return writer is not None and not writer.is_alive()
