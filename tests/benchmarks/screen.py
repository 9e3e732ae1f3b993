"""What the screen costs beside the smallest application of the same library: python -m tests.benchmarks.screen

Each program runs in a pseudo-terminal of 100 by 30 cells, in turns with the other; printed are medians and their ratio.
"""

import fcntl
import os
import pty
import select
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
import textwrap
import time

from tests.benchmarks._row import compiled
from tests.sound.rig import ROOT

ROUNDS = 9
COLD = 2.0
WATCHED = 10.0

STATIC = """
    from textual.app import App
    from textual.widgets import Static
    class Small(App):
        def compose(self):
            yield Static("FIRST")
    Small().run()
"""
BOARD = """
    from courttimer.screen.app import run
    from courttimer.screen.given import Given
    from tests.screen.looks import look
    first = look(title="FIRST")
    run(Given(call=print, view=lambda: first))
"""
RUN = f"""
    import os, sys
    os.environ["COURTTIMER_HOME"] = {tempfile.mkdtemp()!r}
    sys.argv = ["courttimer", "run", {str(ROOT / "sessions" / "first-practice.toml")!r}]
    from courttimer.__main__ import main
    main()
"""
DIGITS = """
    import time
    from textual.app import App
    from textual.widgets import Digits
    class Small(App):
        def compose(self):
            yield Digits("0")
        def on_mount(self):
            self.set_interval(0.1, lambda: self.query_one(Digits).update(f"{time.monotonic():.1f}"))
            watch(self)
    Small().run()
"""
RUNNING = """
    import time
    from courttimer.practice.view import WindowView
    from courttimer.screen.app import Board
    from courttimer.screen.given import Given
    from tests.screen.looks import look, off
    began = time.monotonic()
    def view():
        ms = int((time.monotonic() - began) * 1000)
        at, rest = ms % 24_000, dict(now=ms, since_go=ms, segment_left=600_000 - ms, rep=1 + ms // 24_000)
        if at >= 8000:
            return off(left=24_000 - at, **rest)
        drive = (WindowView(name="drive", left=3000 - at, lasts=3000),) if at < 3000 else ()
        return look(left=8000 - at, windows=drive, **rest)
    board = Board(Given(call=print, view=view))
    board.call_later(watch, board)
    board.run(mouse=False)
"""
WATCH = f"""
    import os, time
    def watch(app):
        used = []
        app.set_timer({COLD}, lambda: used.append(time.process_time()))
        def told():
            os.write(int(os.environ["TELL"]), f"{{time.process_time() - used[0]}}".encode())
            app.exit()
        app.set_timer({COLD + WATCHED}, told)
"""


def start(script: str, tell: int | None = None) -> tuple[subprocess.Popen[bytes], int]:
    """The script in a terminal of its own, and our end of it."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 30, 100, 0, 0))
    env = compiled() | {"TERM": "xterm-256color", "COLORTERM": "truecolor", "TELL": str(tell)}
    keep = (tell,) if tell is not None else ()
    child = subprocess.Popen([sys.executable, "-c", script], stdin=theirs, stdout=theirs, stderr=theirs, env=env, pass_fds=keep)
    os.close(theirs)
    return child, ours


def first_screen(script: str, words: bytes = b"FIRST") -> float:
    """Seconds from the start of the process until its first words are on the terminal."""
    began = time.perf_counter()
    child, ours = start(textwrap.dedent(script))
    seen = b""
    while words not in seen:
        seen += os.read(ours, 65536)
    took = time.perf_counter() - began
    child.kill()
    child.wait()
    os.close(ours)
    return took


def processor(script: str) -> float:
    """The share of one core that a running program takes."""
    told, tell = os.pipe()
    child, ours = start(textwrap.dedent(WATCH) + textwrap.dedent(script), tell)
    os.close(tell)
    while not select.select([told], [], [], 0)[0]:
        if select.select([ours], [], [], 0.05)[0]:
            os.read(ours, 65536)
    used = float(os.read(told, 100))
    child.kill()
    child.wait()
    os.close(ours)
    os.close(told)
    return used / WATCHED


def main() -> None:
    """Print both ratios, each beside its bar."""
    first = [(first_screen(STATIC), first_screen(BOARD), first_screen(RUN, b"First practice")) for _ in range(ROUNDS + 1)][1:]
    small, board, run = (1000 * statistics.median(of) for of in zip(*first, strict=True))
    print(f"first screen: one Static {small:.0f} ms, `run` {run:.0f} ms, {run / small:.2f} x (bar 1.25)")
    print(f"              the board alone, with nothing to play {board:.0f} ms, {board / small:.2f} x")
    used = [(processor(DIGITS), processor(RUNNING)) for _ in range(3)]
    small, board = (statistics.median(of) for of in zip(*used, strict=True))
    print(f"processor: Digits at 10/s {small:.2%}, running board {board:.2%}, {board / small:.2f} x (bar 2, with a player in both)")


if __name__ == "__main__":
    main()
