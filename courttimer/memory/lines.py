"""The append-only file of JSON lines, and how it is written so that nothing is lost; recovery.py reads it again.

The file. One JSON object a line, UTF-8, compact, ended by one line feed. Text stands as it is; only one that UTF-8 cannot hold
(half of a surrogate pair, from a badly named file) makes its line be written in escapes. A line is whole when it has its line
feed and is a JSON object. This room knows nothing of a practice: what the objects mean is the journal's business.

The theory. The memory's copy is the truth until the disk has promised otherwise. Three lengths, in bytes, tell how far it is:

    0 ........ safe ........ whole ........ end of what was appended
      on disk,      in the file,    in memory only
      promised      not promised    (the disk is full, or away)

`kept` holds every byte behind `safe`. An append adds to it and writes at once what is behind `whole`: a line in the file
survives the death of the program (the system has it), not yet a power cut. `tend` runs on a helper thread just behind: it asks
the disk for its promise and moves `safe` up. Nobody on the caller's thread ever waits for the disk to turn.

What is not tidy:
- A full disk takes 42 of 120 bytes without an error, and the next line would be glued to them. So a write that ends inside a
  line is cut back to `whole` at once, and nothing is written while that cut has not succeeded.
- After a failed sync the system may have thrown the pages away and call the next sync a success. So all behind `safe` is
  written over again, in place, before the promise is asked for again.
- A crash or a power cut leaves a torn tail. It is expected: the good part is kept, the tail is set aside in NAME.torn-0
  (.torn-1 and so on), then cut off. Whole lines *after* a damaged one are not expected: someone or something has been in
  the file. Then nothing is touched, and the line is named.
"""

import errno
import json
import os
import threading
from collections.abc import Callable
from typing import Any

from courttimer.errors import FULL
from courttimer.memory.disk import Raw, sync

_ENCODER = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), allow_nan=False)
_CLOSED_TO_US = {errno.EACCES, errno.EPERM, errno.EROFS}

Record = dict[str, Any]


def encode(record: Record) -> bytes:
    """The record's line, with its line feed. Raises ValueError for nan and infinity, TypeError for what JSON cannot hold."""
    text = _ENCODER.encode(record) + "\n"
    try:
        return text.encode()
    except UnicodeEncodeError:
        return json.dumps(record, separators=(",", ":")).encode() + b"\n"


class Lines:
    """Lives as long as one writer of one file. `append` and `tend` may be called by two threads; neither raises OSError."""

    def __init__(self, opens: Callable[[], Raw], *, length: int = 0, syncs: Callable[[Raw], None] = sync) -> None:
        """`opens` gives the file, or raises OSError and is asked again; `length` bytes are in it already, and safe."""
        self._opens = opens
        self._syncs = syncs
        self._lock = threading.Lock()
        self._raw: Raw | None = None
        self._safe = self._whole = length
        self._kept = bytearray()
        self._torn = False
        self._closed = False
        self._write_fault: OSError | None = None
        self._sync_fault: OSError | None = None

    def append(self, record: Record) -> None:
        """Keep the record, and write it if the disk takes it. Raises ValueError after `close`, and what `encode` raises."""
        line = encode(record)
        with self._lock:
            if self._closed:
                raise ValueError("the file of lines is closed")
            self._kept += line
            self._write()

    def retry(self) -> None:
        """Have the file opened, and write what is still in memory, if that can be done now."""
        with self._lock:
            self._write()

    def tend(self) -> bool:
        """Write what is still in memory, and sync: for the helper thread. True when everything is safe."""
        self.retry()
        with self._lock:
            raw, reached = self._raw, self._whole
        if raw is None or (reached == self._safe and self._sync_fault is None):
            return not self._kept
        try:
            self._syncs(raw)
        except OSError as fault:
            self._doubt(fault)
        else:
            self._promise(reached)
        return not self._kept

    def trouble(self) -> str:
        """In words for the board, why what happens is in memory only; empty when there is no trouble."""
        fault = self._write_fault or self._sync_fault
        return f"Nothing is being remembered: {_words(fault)}." if fault else ""

    def synced(self) -> int:
        """How many bytes of the file a power cut cannot take any more."""
        return self._safe

    def close(self) -> None:
        """Try once more to have everything safe, then let the file go. `trouble` still tells how it ended."""
        self.tend()
        with self._lock:
            self._closed = True
            if self._raw is not None:
                self._raw.close()
            self._raw = None

    def _write(self) -> None:
        if self._closed or (self._raw and self._whole - self._safe == len(self._kept) and not self._torn):
            return
        try:
            if self._raw is None:
                self._raw = self._opens()
            self._cut(self._raw)
            self._push(self._raw)
            self._write_fault = None
        except OSError as fault:
            self._write_fault = fault
            self._torn = True
            self._try_to_cut()

    def _push(self, raw: Raw) -> None:
        rest = bytes(self._kept[self._whole - self._safe :])
        raw.seek(self._whole)
        done = 0
        try:
            while done < len(rest):
                taken = raw.write(rest[done:])
                if not taken:
                    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
                done += taken
        finally:
            self._whole += rest.rfind(b"\n", 0, done) + 1

    def _cut(self, raw: Raw) -> None:
        if self._torn:
            raw.truncate(self._whole)
            self._torn = False

    def _try_to_cut(self) -> None:
        try:
            if self._raw is not None:
                self._cut(self._raw)
        except OSError:
            return  # still torn: nothing is written before the cut succeeds

    def _doubt(self, fault: OSError) -> None:
        with self._lock:
            self._sync_fault = fault
            self._whole = self._safe

    def _promise(self, reached: int) -> None:
        with self._lock:
            self._sync_fault = None
            del self._kept[: reached - self._safe]
            self._safe = reached


def _words(fault: OSError) -> str:
    if fault.errno in FULL:
        return "the disk is full"
    if fault.errno in _CLOSED_TO_US:
        return f"{fault.filename or 'the folder'} may not be written"
    return f"{fault.filename or 'the disk'} gives an error ({fault.strerror or fault})"
