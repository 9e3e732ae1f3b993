"""The rig: a sound server of its own with null sinks in place of a sound card, and a recording of what was played.

Needs PulseAudio, its tools and ALSA's plugin for it (Debian: pulseaudio, pulseaudio-utils, libasound2-plugins, libportaudio2).
"""

import json
import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import Event
from typing import Any

import numpy as np
from numpy.typing import NDArray

ROOT = Path(__file__).parents[2]
CONFIG = """
pcm.!default { type pulse }
ctl.!default { type pulse }
"""
SPEAKER = 'pcm.{name} {{ type pulse server "unix:{folder}/run/pulse/native" hint {{ show on description {name} }} }}'
Sound = NDArray[np.float32]


@dataclass(kw_only=True)
class Server:
    """A PulseAudio server whose sinks are null; `env` makes a program use it."""

    env: dict[str, str]
    sinks: dict[str, str]
    process: subprocess.Popen[bytes] | None = None

    def pactl(self, *words: str) -> str:
        return subprocess.run(("pactl", *words), env=self.env, capture_output=True, text=True, check=True).stdout.strip()

    def add(self, sink: str) -> None:
        """Like a card, and unlike a null sink as it comes, it does not play two seconds of silence first: `norewinds` sees to that."""
        options = (f"sink_name={sink}", "rate=48000", "channels=2", "norewinds=1", f"sink_properties=device.description={sink}")
        self.sinks[sink] = self.pactl("load-module", "module-null-sink", *options)

    def remove(self, sink: str) -> None:
        self.pactl("unload-module", self.sinks.pop(sink))

    @contextmanager
    def recording(self, file: Path, sink: str = "gym") -> Iterator[None]:
        """What comes out of the sink, as float32, into a file."""
        command = ("parec", "-d", f"{sink}.monitor", "--raw", "--format=float32le", "--rate=48000", "--channels=2")
        with file.open("wb") as out:
            process = subprocess.Popen(command, stdout=out, env=self.env)
            try:
                yield
            finally:
                Event().wait(0.5)
                process.terminate()
                process.wait()

    def also(self, name: str, other: "Server") -> None:
        """Let programs of this server see another server as a speaker."""
        with (Path(self.env["HOME"]) / ".asoundrc").open("a") as config:
            config.write(SPEAKER.format(name=name, folder=Path(other.env["HOME"]).parent) + "\n")

    def start(self, *sinks: str) -> None:
        command = ("pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--load=module-native-protocol-unix")
        self.process = subprocess.Popen(command, env=self.env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        for _ in range(100):
            if subprocess.run(("pactl", "info"), env=self.env, capture_output=True, check=False).returncode == 0:
                break
            Event().wait(0.05)
        for sink in sinks:
            self.add(sink)

    def stop(self) -> None:
        if self.process is not None:
            self.process.terminate()
            self.process.wait()


@contextmanager
def server(folder: Path, *sinks: str) -> Iterator[Server]:
    """Lives as long as a test; its own home, so that the machine's sound is left alone."""
    home, runtime = folder / "home", folder / "run"
    home.mkdir(parents=True)
    runtime.mkdir(mode=0o700)
    (home / ".asoundrc").write_text(CONFIG)
    env = os.environ | {"HOME": str(home), "XDG_RUNTIME_DIR": str(runtime), "COURTTIMER_HOME": str(home / "courttimer")}
    made = Server(env=env, sinks={})
    try:
        made.start(*sinks)
        yield made
    finally:
        made.stop()


def play(server: Server, cues: Sequence[dict[str, Any]], seconds: float, wanted: Sequence[str] = ()) -> subprocess.Popen[str]:
    """A Speaker in a process of its own, for so long; `heard` reads what it tells. Its practice time begins when it does."""
    order = json.dumps({"cues": list(cues), "seconds": seconds, "wanted": list(wanted)})
    command = (sys.executable, "-m", "tests.sound.rig_player", order)
    return subprocess.Popen(command, env=server.env, cwd=ROOT, stdout=subprocess.PIPE, text=True)


def told(player: subprocess.Popen[str]) -> list[dict[str, Any]]:
    """Every fact, once the player has ended."""
    out, _ = player.communicate(timeout=180)
    assert player.returncode == 0
    facts: list[dict[str, Any]] = json.loads(out)
    return facts


def dry(facts: Sequence[dict[str, Any]]) -> bool:
    """The card ran out of frames: what was recorded proves nothing."""
    return any("ran dry" in fact.get("change", "") for fact in facts)


def sound(file: Path) -> Sound:
    """The left channel of a recording."""
    data = np.fromfile(file, np.float32)
    return data[: len(data) // 2 * 2].reshape(-1, 2)[:, 0]


def onsets(recorded: Sound) -> list[int]:
    """The frames at which something was heard after silence."""
    loud = np.abs(recorded) > 0.01
    return [int(i) for i in np.flatnonzero(np.diff(loud.astype(np.int8), prepend=0) == 1)]
