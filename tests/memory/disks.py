"""A disk made of bytes, with as much room and as much trouble as a test asks for."""

import errno
import os


class Disk:
    """One file on a disk that can be full, fail to cut, and fail to sync. Stands for the file and for what a power cut leaves.

    After a failed sync the written pages count as clean, as on Linux: the next sync does not write them again
    (Rebello and others, "Can Applications Recover from fsync Failures?", USENIX ATC 2020).
    """

    def __init__(self, *, room: int = 1_000_000, appends: bool = False) -> None:
        self.content = bytearray()
        self.after_power_cut = bytearray()
        self.room = room
        self.cuts = True
        self.syncs = True
        self._appends = appends
        self._place = 0
        self._dirty: list[tuple[int, bytes]] = []

    def seek(self, offset: int, /) -> int:
        self._place = offset
        return offset

    def write(self, data: bytes, /) -> int:
        place = len(self.content) if self._appends else self._place
        taken = data[: max(0, self.room - place)]
        if data and not taken:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        self.content[place : place + len(taken)] = taken
        self._dirty.append((place, bytes(taken)))
        self._place = place + len(taken)
        return len(taken)

    def truncate(self, size: int, /) -> int:
        if not self.cuts:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        del self.content[size:]
        return size

    def sync(self, _raw: object) -> None:
        dirty, self._dirty = self._dirty, []
        if not self.syncs:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        for place, data in dirty:
            self.after_power_cut[place : place + len(data)] = data
        del self.after_power_cut[len(self.content) :]

    def fileno(self) -> int:
        raise AssertionError("no test needs the number of this file")

    def close(self) -> None:
        return
