"""From a key to the screen, beside an application with one Static: `python -m tests.benchmarks.keys`.

The design sets no bar for it. Both run in a pseudo-terminal of 100 by 30 cells. Ours is a whole silent practice, whose running
segment is made longer and shorter in turn: the key is a call, the conductor answers, and the board tells it.
"""

import os
import random
import select
import statistics
import tempfile
import time
from pathlib import Path

from tests.benchmarks.screen import start
from tests.benchmarks.sound import SESSION

PRESSES = 60
SETTLED = 4.0
STATIC = """
from textual.app import App
from textual.widgets import Static
class Small(App):
    def compose(self):
        yield Static("")
    def on_key(self, event):
        self.query_one(Static).update("Longer" if event.character == "+" else "Shorter")
Small().run()
"""
PRACTICE = """
import os
os.environ["COURTTIMER_HOME"] = {home!r}
from courttimer.__main__ import main
main(["run", {session!r}, "--silent", "--go"])
"""


def answers(script: str) -> list[float]:
    """Milliseconds from each key to the bytes that tell of it."""
    child, ours = start(script)
    _read(ours, SETTLED)
    took = []
    for n in range(PRESSES):
        key, word = (b"+", b"Longer") if n % 2 == 0 else (b"-", b"Shorter")
        began = time.perf_counter()
        os.write(ours, key)
        if not _read(ours, 2, word):
            raise RuntimeError(f"{word.decode()} was not answered")
        took.append(1000 * (time.perf_counter() - began))
        _read(ours, 0.2 + random.random() / 5)
    child.kill()
    child.wait()
    os.close(ours)
    return took


def _read(end: int, seconds: float, word: bytes = b"never written") -> bool:
    """Read until the word came, or so long."""
    until, seen = time.perf_counter() + seconds, b""
    while (left := until - time.perf_counter()) > 0 and word not in seen:
        if select.select([end], [], [], left)[0]:
            seen += os.read(end, 65536)
    return word in seen


def main() -> None:
    with tempfile.TemporaryDirectory() as there:
        session = Path(there) / "session.toml"
        session.write_text(SESSION)
        practice = PRACTICE.format(home=there, session=str(session))
        rounds = [(answers(STATIC), answers(practice)) for _ in range(2)]
    small, ours = ([one for each in way for one in each] for way in zip(*rounds, strict=True))
    for name, of in (("median", statistics.median), ("p95", lambda ms: statistics.quantiles(ms, n=20)[-1])):
        figures = f"{of(ours):8.1f} ms  beside {'one Static':<42} {of(small):8.1f} ms  {of(ours) / of(small):6.2f} x"
        print(f"{'key to screen, ' + name:<34} {figures}  no bar")


if __name__ == "__main__":
    main()
