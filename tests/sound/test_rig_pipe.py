"""Without PortAudio, on Linux: a program that plays is fed through a pipe, and what is heard is as exact as before."""

from collections.abc import Iterator
from pathlib import Path
from threading import Event
from typing import Any

import numpy as np
import pytest

from tests.sound.rig import Server, dry, onsets, play, server, sound, told

pytestmark = pytest.mark.rig


@pytest.fixture
def gym(tmp_path: Path) -> Iterator[Server]:
    """A machine whose sounddevice behaves as its Linux wheel does without libportaudio2."""
    with server(tmp_path / "server", "gym") as made:
        (tmp_path / "none").mkdir()
        (tmp_path / "none" / "sounddevice.py").write_text('raise OSError("PortAudio library not found")')
        made.env["PYTHONPATH"] = str(tmp_path / "none")
        yield made


def test_a_window_is_144_000_frames_and_groups_are_right_to_5_ms(gym: Server, tmp_path: Path) -> None:
    cues = [{"name": f"{n}", "at": 3_000 + 750 * n, "group": f"{n // 2}"} for n in range(8)]
    window = [{"name": "open", "at": 9_500, "group": "w"}, {"name": "close", "at": 12_500, "group": "w"}]
    facts = list[dict[str, Any]]()
    for _ in range(3):
        with gym.recording(tmp_path / "out.raw"):
            facts = told(play(gym, [*cues, *window], 14))
        if not dry(facts):
            break
    assert not dry(facts)
    heard = onsets(sound(tmp_path / "out.raw"))
    assert heard[9] - heard[8] == 144_000
    assert np.diff(heard)[0:8:2].tolist() == [36_000] * 4
    assert np.abs(np.diff(heard) - np.array([36_000] * 7 + [60_000, 144_000])).max() <= 240
    played = [f for f in facts if f["what"] == "cue heard"]
    assert max(abs(f["played"] - f["asked"]) for f in played) <= 5


def test_a_server_that_is_killed_and_comes_back_is_heard_within_2_seconds(gym: Server, tmp_path: Path) -> None:
    cues = [{"name": "tick", "at": 2_000 + 250 * n, "group": f"{n}"} for n in range(48)]
    player = play(gym, cues, 13)
    Event().wait(5)
    gym.stop()
    Event().wait(1)
    gym.start("gym")
    with gym.recording(tmp_path / "out.raw"):
        facts = told(player)
    assert [f["change"] for f in facts if f["what"] == "sound changed"][:2] == ["taken", "lost"]
    assert onsets(sound(tmp_path / "out.raw"))[0] / 48_000 < 2
    assert facts[-1]["trouble"] == ""
