"""A real terminal: it comes up without the sound's libraries, it is closed, and the practice lives on."""

import os
import pty
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

LIVES_ON = textwrap.dedent("""
    import pathlib, sys
    from courttimer.screen.app import run
    from courttimer.screen.given import Given
    from tests.screen.looks import look
    result = run(Given(call=lambda call: None, view=look))
    pathlib.Path(sys.argv[1]).write_text(result)
""")
MOVING = LIVES_ON.replace("view=look", "view=lambda: look(left=next(left))").replace(
    "result =", "left = iter(range(0, 10**9, 1000))\nresult ="
)


def closed_after_the_first_frame(script: str, out: Path) -> None:
    """Run the script in a terminal of its own, and close the terminal as soon as the board stands."""
    child, ours = pty.fork()
    if child == 0:
        os.execv(sys.executable, [sys.executable, "-c", script, str(out)])
    seen = b""
    while b"PAINT TOUCH" not in seen:
        seen += os.read(ours, 65536)
    os.close(ours)
    os.waitpid(child, 0)


@pytest.mark.rig
def test_when_the_terminal_is_closed_the_screen_is_gone_and_the_program_lives_on(tmp_path: Path) -> None:
    out = tmp_path / "result"
    closed_after_the_first_frame(LIVES_ON, out)
    assert out.read_text() == "gone"


@pytest.mark.rig
def test_without_the_safeguard_the_program_would_have_died(tmp_path: Path) -> None:
    """The twin that proves the test above can fail: of five, one at least; on a busy machine a failed write may come first."""
    fatal = "import signal; signal.signal(signal.SIGHUP, signal.SIG_DFL)\n"  # also where whoever runs the tests outlives hangups
    unguarded = fatal + "import courttimer.screen.app as a; a.outlive_the_terminal = lambda close: None\n" + LIVES_ON
    outs = [tmp_path / f"{n}" for n in range(5)]
    for out in outs:
        closed_after_the_first_frame(unguarded, out)
    assert not all(out.exists() for out in outs)


NARROW = "import textual.drivers._writer_thread as w\nw.MAX_QUEUED_WRITES = 2\n"
"""Room for two writes instead of thirty, so that on any machine the queue is full when the terminal goes."""


@pytest.mark.rig
@pytest.mark.parametrize("script", [MOVING, NARROW + MOVING], ids=["room", "full"])
def test_a_terminal_that_vanishes_without_hanging_up_is_noticed(script: str, tmp_path: Path) -> None:
    """As when the other end of a pipe to a far machine is gone: no signal comes, only writing fails."""
    out = tmp_path / "result"
    ours, theirs = pty.openpty()
    command = [sys.executable, "-c", script, str(out)]
    with subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True) as child:
        os.close(theirs)
        seen = b""
        while b"PAINT TOUCH" not in seen:
            seen += os.read(ours, 65536)
        os.close(ours)
        try:
            child.wait(20)
        finally:
            child.kill()
    assert out.read_text() == "gone"


@pytest.mark.rig
def test_a_practice_that_has_not_begun_ends_with_its_terminal(tmp_path: Path) -> None:
    """Nobody could begin it any more; a twin that has begun goes on."""
    waits, goes_on = (in_a_terminal(tmp_path / name, *words) for name, words in (("waits", ()), ("goes on", ("--go",))))
    try:
        assert waits.wait(20) == 0
        with pytest.raises(subprocess.TimeoutExpired):
            goes_on.wait(2)
    finally:
        goes_on.kill()
        goes_on.wait()
        waits.kill()


def in_a_terminal(home: Path, *words: str) -> "subprocess.Popen[bytes]":
    """A practice whose terminal is closed as soon as it stands."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "courttimer", "run", "first-practice", "--silent", *words]
    env = os.environ | {"COURTTIMER_HOME": str(home)}
    child = subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True, env=env)
    os.close(theirs)
    seen = b""
    while b"LANES" not in seen.upper():
        seen += os.read(ours, 65536)
    os.close(ours)
    return child


def test_the_screen_comes_up_without_the_libraries_of_the_sound() -> None:
    probe = "import sys, courttimer.screen.app; print([m for m in ('numpy', 'sounddevice', 'pyttsx3', 'soxr') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True, timeout=30)
    assert done.stdout.strip() == "[]"


def test_escape_is_not_held_back() -> None:
    probe = "import courttimer.screen.app; from textual.constants import ESCAPE_DELAY; print(ESCAPE_DELAY)"
    bare = {k: v for k, v in os.environ.items() if k != "ESCDELAY"}
    done = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True, timeout=30, env=bare)
    assert done.stdout.strip() == "0.025"
