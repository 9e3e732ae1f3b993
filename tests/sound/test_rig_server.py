"""Several speakers behind one sound server: the one that is named plays, and is taken again; and one is tapped to."""

import json
import os
import pty
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from threading import Event, Timer

import numpy as np
import pytest

from tests.sound.rig import ROOT, Server, onsets, play, server, sound, told

pytestmark = pytest.mark.rig
LATE_S = 0.2


@pytest.fixture
def gym(tmp_path: Path) -> Iterator[Server]:
    with server(tmp_path / "server", "gym", "hall") as made:
        yield made


def test_the_named_speaker_plays_the_next_one_takes_over_and_the_first_is_taken_again_within_2_seconds(
    gym: Server, tmp_path: Path
) -> None:
    cues = [{"name": "tick", "at": 2_000 + 250 * n, "group": f"{n}"} for n in range(60)]
    player = play(gym, cues, 16, ("hall", "gym"))
    with gym.recording(tmp_path / "gym.raw", "gym"):
        Event().wait(6)
        gym.remove("hall")
        Event().wait(3)
        gym.add("hall")
        with gym.recording(tmp_path / "hall.raw", "hall"):
            facts = told(player)
    changes = [(f["speaker"], f["change"]) for f in facts if f["what"] == "sound changed" and "slipped" not in f["change"]]
    assert changes == [
        ("hall", "taken"), ("hall", "lost"), ("gym", "found again"), ("gym", "left for a better one"), ("hall", "found again"),
    ]  # fmt: skip
    away = np.array(onsets(sound(tmp_path / "gym.raw"))) / 48_000
    assert len(away) >= 8
    assert away[0] > 5
    assert onsets(sound(tmp_path / "hall.raw"))[0] / 48_000 < 2
    assert facts[-1]["trouble"] == ""


def test_what_is_tapped_to_a_speaker_is_kept_for_it(gym: Server) -> None:
    """The tapper hears the sink's monitor, and presses 200 ms after each beat; on this way some 10 ms are lost."""
    command = (sys.executable, "-m", "courttimer", "speaker", "--tap", "--speaker", "hall")
    here, there = pty.openpty()
    child = subprocess.Popen(command, cwd=ROOT, env=gym.env, stdin=there, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    os.close(there)
    _tap_along(gym, child, here)
    out, _ = child.communicate(timeout=30)
    os.close(here)
    kept = json.loads((Path(gym.env["COURTTIMER_HOME"]) / "data" / "speakers.json").read_text())
    assert out.splitlines()[-1].startswith("Kept: hall gets its cues"), out
    assert list(kept) == ["hall"]
    assert kept["hall"] == pytest.approx(1000 * LATE_S, abs=60)


def _tap_along(gym: Server, child: "subprocess.Popen[str]", here: int) -> None:
    command = ("parec", "-d", "hall.monitor", "--raw", "--format=float32le", "--rate=48000", "--channels=1", "--latency-msec=10")
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=gym.env, bufsize=0) as listening:
        assert listening.stdout is not None
        ends = Timer(24, listening.kill)
        ends.start()
        loud = False
        while (chunk := listening.stdout.read(1 << 11)) and child.poll() is None:
            sounds = bool(np.abs(np.frombuffer(chunk[: len(chunk) // 4 * 4], np.float32)).max(initial=0) > 0.01)
            if sounds and not loud:
                Timer(LATE_S, os.write, (here, b" ")).start()
            loud = sounds
        listening.kill()
        ends.cancel()
