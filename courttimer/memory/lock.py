"""The lock file beside a journal: one program writes it, and a dead one blocks nobody.

The lock is the system's, not the file's being there: it goes with the process that held it. The journal itself is not locked,
because a locked file cannot be read on Windows.
"""

import os
import sys
from contextlib import suppress
from io import BufferedWriter
from pathlib import Path


class Lock:
    """Lives as long as the writer of one file."""

    def __init__(self, path: Path) -> None:
        """Take the lock. Raises BlockingIOError when another program holds it, OSError when the file cannot be made."""
        self._path = path
        while True:
            self._file = path.open("ab")
            try:
                _hold(self._file)
            except OSError:
                self._file.close()
                raise
            if self._is_the_one_at_its_path():
                self._sign()
                return
            self._file.close()

    def _sign(self) -> None:
        """Who holds it, for the words of a refusal. A full disk takes no signature: the lock holds all the same."""
        with suppress(OSError):
            self._file.truncate(0)
            self._file.write(str(os.getpid()).encode())
            self._file.flush()

    def release(self) -> None:
        """Give it back and take the file away."""
        # Taken away while held, so that nobody else's is. Windows takes no open file away: there it stays for the next time.
        if sys.platform != "win32":
            self._path.unlink(missing_ok=True)
        self._file.close()

    def _is_the_one_at_its_path(self) -> bool:
        # Another program may have taken the file away between our opening and our locking of it.
        try:
            return os.path.samestat(os.fstat(self._file.fileno()), self._path.stat())
        except FileNotFoundError:
            return False


def holder(path: Path) -> str:
    """" (process 1234)", when the lock file says who holds it; else nothing."""
    try:
        signed = path.read_text(encoding="ascii")
    except (OSError, ValueError):
        return ""
    return f" (process {signed})" if signed.isdigit() else ""


if sys.platform == "win32":
    import msvcrt

    def _hold(file: BufferedWriter) -> None:
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError as fault:
            raise BlockingIOError(*fault.args) from fault

else:
    import errno
    import fcntl

    def _hold(file: BufferedWriter) -> None:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as fault:
            # Some network folders know no locks: better to remember there without one than not at all.
            if fault.errno in (errno.EWOULDBLOCK, errno.EACCES):
                raise BlockingIOError(*fault.args) from fault
