"""A whole practice, run from the command line into a null sink with calls on standard input, and recorded."""

import json
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from threading import Event
from typing import Any

import numpy as np
import pytest
from scipy.signal import correlate

from courttimer.locations import sounds
from courttimer.sound import recipes
from courttimer.sound.tones import render
from tests.sound.rig import ROOT, Server, Sound, dry, server, sound

pytestmark = pytest.mark.rig
SESSION = """
title = "Rig"
voice = { say = "horns" }

[[segment]]
kind = "drill"
name = "Break through"
time = "20 s"
setup = "4 s"
rep = { starts = "by itself", live = "11 s", off = "2 s" }

[[segment.window]]
name = "drive"
time = "3 s"
opens = "on call"
"""
OPEN_AT = (7.9, 11.4)
"""Seconds after the start of the program at which the window is called."""


@pytest.fixture
def gym(tmp_path: Path) -> Iterator[Server]:
    with server(tmp_path / "server", "gym") as made:
        yield made


def _run(gym: Server, folder: Path) -> tuple[Sound, list[dict[str, Any]]]:
    """What was recorded, and the journal."""
    (folder / "rig.toml").write_text(SESSION)
    command = (sys.executable, "-m", "courttimer", "run", str(folder / "rig.toml"), "--plain", "--go")
    with gym.recording(folder / "out.raw"):
        process = subprocess.Popen(command, cwd=ROOT, env=gym.env, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True)
        assert process.stdin is not None
        waited = 0.0
        for at in OPEN_AT:
            Event().wait(at - waited)
            waited = at
            process.stdin.write("open\n")
            process.stdin.flush()
        process.stdin.close()
        process.wait(timeout=40)
    journal = max((Path(gym.env["COURTTIMER_HOME"]) / "data" / "journals").glob("*.jsonl"))
    events = [json.loads(line) for line in journal.read_text().splitlines()]
    return sound(folder / "out.raw"), [e for e in events if "at" in e]


def _where(tone: str, recorded: Sound) -> list[int]:
    """The frames on which a tone begins: peaks of its correlation with what was recorded."""
    made = render(recipes.read(sounds() / "tones.toml")[tone])
    likeness = correlate(recorded, made, "valid") / float(np.sum(made.astype(np.float64) ** 2))
    found, reach = list[int](), len(made)
    while float(likeness.max()) > 0.9:
        peak = int(np.argmax(likeness))
        found.append(peak)
        likeness[max(0, peak - reach) : peak + reach] = 0
    return sorted(found)


def _heard(events: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    return [e for e in events if e["what"] == "cue heard"]


def test_a_window_opened_by_a_call_closes_144_000_frames_later(gym: Server, tmp_path: Path) -> None:
    """The go and end tones of each rep are 11 s apart to the frame, too, and the journal holds what was asked and achieved of all.

    Played again, at most twice, when the card ran dry.
    """
    recorded, events = np.zeros(0, np.float32), list[dict[str, Any]]()
    for n in range(3):
        (tmp_path / f"{n}").mkdir()
        recorded, events = _run(gym, tmp_path / f"{n}")
        if not dry(events):
            break
    opens, closes, goes, ends = (_where(tone, recorded) for tone in ("open", "close", "go", "end"))
    assert [c - o for o, c in zip(opens, closes, strict=True)] == [144_000] * len(OPEN_AT)
    assert [e - g for g, e in zip(goes, ends[:1], strict=True)] == [528_000]
    heard = _heard(events)
    assert len(heard) >= len(opens + closes + goes + ends)
    assert max(abs(e["played"] - e["asked"]) for e in heard) <= 5
    assert not [e for e in events if e["what"] == "cue dropped"]
