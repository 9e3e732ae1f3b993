"""Errors say whose move it is: the coach's, the device's, or the journal's."""

import errno

FULL = frozenset((errno.ENOSPC, errno.EFBIG, errno.EDQUOT))
_DO = {
    errno.ENOENT: "make that folder first, or name another",
    errno.ENOTDIR: "what stands before the last slash is a file; name another folder",
    errno.EISDIR: "name a file in it",
    errno.EEXIST: "a file stands there; name a folder",
    errno.EROFS: "name another folder",
    errno.EACCES: "name another folder",
    errno.EPERM: "name another folder",
}
"""What a coach can do about it."""


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


def refused(fault: OSError) -> str:
    """What the disk or the machine refused, and what to do about it."""
    if fault.errno in FULL:
        return "the disk is full; make room on it, and try again"
    said = fault.strerror or str(fault)
    return f"{said}; {_DO[fault.errno]}" if fault.errno in _DO else said
