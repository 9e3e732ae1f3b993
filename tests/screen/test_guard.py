"""What C libraries print never reaches the board."""

import os
import pty
import subprocess
import sys
import textwrap
from pathlib import Path

NOISY = textwrap.dedent("""
    import ctypes, os, sys
    from courttimer.screen.guard import guard
    log = os.open(sys.argv[1], os.O_WRONLY | os.O_CREAT)
    with guard(log):
        ctypes.CDLL(None).perror(b"ALSA lib says")
        os.write(2, b"raw\\n")
        print("python", file=sys.stderr)
        sys.__stderr__.write("the board")
        sys.__stderr__.flush()
    print("after", file=sys.stderr)
""")


def test_a_c_library_writes_into_the_log_and_the_board_onto_the_terminal(tmp_path: Path) -> None:
    log = tmp_path / "log"
    ours, theirs = pty.openpty()
    subprocess.run([sys.executable, "-c", NOISY, str(log)], stderr=theirs, check=True, timeout=20)
    os.close(theirs)
    seen = os.read(ours, 4096).decode()
    os.close(ours)
    logged = log.read_text()
    assert "the board" in seen
    assert "after" in seen
    assert all(word in logged for word in ("ALSA lib says", "raw", "python"))
    assert not any(word in seen for word in ("ALSA", "raw", "python"))


def test_without_a_terminal_nothing_is_changed(tmp_path: Path) -> None:
    log = tmp_path / "log"
    done = subprocess.run([sys.executable, "-c", NOISY, str(log)], capture_output=True, text=True, check=True, timeout=20)
    assert "raw" in done.stderr
    assert log.read_text() == ""
