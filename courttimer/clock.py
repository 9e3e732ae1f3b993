"""What time it is: practice time in whole milliseconds, handed to whoever needs it. The only file that knows `time`."""

import time
from datetime import UTC, datetime, timedelta
from typing import Protocol

DAY_MS = 86_400_000


class Clock(Protocol):
    """Practice time, and the wall's time of day."""

    def now(self) -> int:
        """Whole milliseconds since the first line of the journal; never goes back."""

    def wall(self) -> datetime:
        """The local time of day, with its zone."""

    def slept(self) -> int:
        """How long the machine was suspended since this was last asked, in ms; practice time has moved on by it."""


class RealClock:
    """Lives as long as one run. `rate` 60 plays a minute in a second; `start` is the practice time at which it begins."""

    def __init__(self, *, rate: int = 1, start: int = 0) -> None:
        self._origin = time.perf_counter_ns()
        self._rate = rate
        self._start = start
        self._behind = _behind()

    def now(self) -> int:
        return self.at(time.perf_counter_ns())

    def tick(self) -> int:
        """This moment of `time.perf_counter_ns`."""
        return time.perf_counter_ns()

    def at(self, ns: int) -> int:
        """The practice time of a moment of `time.perf_counter_ns`."""
        return self._start + (ns - self._origin) * self._rate // 1_000_000

    def ns(self, at: int) -> int:
        """The moment of `time.perf_counter_ns` at which practice time is `at`."""
        return self._origin + (at - self._start) * 1_000_000 // self._rate

    def slept(self) -> int:
        """`perf_counter` stands in a suspend on Linux and macOS; the boot clock does not."""
        behind = _behind()
        ms = (behind - self._behind) // 1_000_000
        if ms >= 1_000:
            self._start += ms
            self._behind = behind
        return ms if ms >= 1_000 else 0

    def wall(self) -> datetime:
        return datetime.now().astimezone()


def _behind() -> int:
    """How far `perf_counter` is behind a clock that runs through a suspend, in ns; on Windows it is that clock itself."""
    clock: int | None = getattr(time, "CLOCK_BOOTTIME", getattr(time, "CLOCK_MONOTONIC", None))
    return 0 if clock is None else time.clock_gettime_ns(clock) - time.perf_counter_ns()


class HandClock:
    """A clock wound by hand: for rehearsals and for tests."""

    def __init__(self, wall: datetime, *, start: int = 0) -> None:
        self._now = start
        self._wall = wall

    def now(self) -> int:
        return self._now

    def wind(self, ms: int) -> None:
        """Go forward by `ms` milliseconds. Raises ValueError when asked to go back."""
        if ms < 0:
            raise ValueError("time does not go back")
        self._now += ms

    def slept(self) -> int:
        return 0

    def wall(self) -> datetime:
        return self._wall


def moment(wall: str) -> datetime:
    """The moment that an ISO 8601 text with its zone tells. Raises ValueError for anything else."""
    return datetime.fromisoformat(wall)


def at_day_ms(moment: datetime, ms: int) -> datetime:
    """That day, so many ms after midnight."""
    return moment.replace(hour=0, minute=0, second=0, microsecond=0) + timedelta(milliseconds=ms)


def utc(moment: datetime) -> str:
    """The moment in UTC, as 20261201T170000Z."""
    return moment.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")


def day_ms(moment: datetime) -> int:
    """Milliseconds since midnight of that moment's day."""
    return ((moment.hour * 60 + moment.minute) * 60 + moment.second) * 1000 + moment.microsecond // 1000
