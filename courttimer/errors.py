"""Errors say whose move it is: the coach's, the device's, or the journal's."""


class PlanError(Exception):
    """The coach's file or words are at fault. `lines` holds every mistake, each told with file, line, what and remedy."""

    def __init__(self, *lines: str) -> None:
        super().__init__("\n".join(lines))
        self.lines = lines


class DeviceError(Exception):
    """A device or a library of the machine is not there. The practice goes on without it, and says so."""


class JournalError(Exception):
    """A file of ours cannot be trusted or written. It is left as it is; the message says file, line and what to do."""


class BusyError(JournalError):
    """Another program is writing this practice."""
