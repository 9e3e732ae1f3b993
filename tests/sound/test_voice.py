"""Phrases are rendered before they are needed, exactly on their first frame; and a broken voice costs the speech, not the practice."""

import json
import struct
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.signal import correlate, resample_poly

from courttimer.locations import sounds
from courttimer.plan.model import Voice
from courttimer.sound import recipes
from courttimer.sound.bank import Bank
from courttimer.sound.lengths import kept
from courttimer.sound.loudness import TARGET, integrated
from courttimer.sound.mixer import Mixer
from courttimer.sound.peaks import true_peak
from courttimer.sound.speech import phrase, read, trimmed
from courttimer.sound.voice import COMMAND, Report, home, prepare, write
from courttimer.sound.voice_child import choose
from tests.sound.wishes import placed

COUNTED = ("ten", "nine", "eight", "seven", "six", "five", "four", "three", "two", "one")
TEXTS = ("Ready.", "One minute.", "Thirty seconds.", "Last one.")
ANSWER = """
import json, os, sys, wave, math, struct
print(json.dumps({"voice": "made in the test", "why": ""}), flush=True)
sys.stdin.readline()
def render(order):
    with wave.open(order["file"], "wb") as file:
        file.setnchannels(1); file.setsampwidth(2); file.setframerate(22050)
        file.writeframes(b"".join(struct.pack("<h", int(9000 * math.sin(i / 8))) for i in range(22050)))
"""
"""A child that answers like ours, with a second of one pitch."""


def child(script: str) -> tuple[str, ...]:
    return (sys.executable, "-c", ANSWER + script)


def tones_and_no_speech(folder: Path) -> bool:
    """What a practice starts with when there is no voice."""
    bank = Bank(recipes.read(sounds() / "tones.toml"), folder=folder)
    tone, said = bank.samples(placed("go", 0)), bank.samples(placed("ready", 0, sort="speech", text="Ready."))
    return tone is not None and len(tone) > 0 and said is None


@pytest.fixture(scope="module")
def raw(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The counted words as the voice writes them, through the child as it is."""
    there = tmp_path_factory.mktemp("raw")
    files = {word: there / f"{word}.wav" for word in COUNTED}
    orders = [{"language": "en", "pace": 160}, *({"n": 0, "text": w, "file": str(f)} for w, f in files.items())]
    lines = "\n".join(json.dumps(order) for order in orders)
    done = subprocess.run(COMMAND, input=lines, capture_output=True, text=True, check=True, timeout=30)
    assert len(done.stdout.splitlines()) == 1 + len(COUNTED)
    assert done.stderr == ""
    return files


def test_a_phrase_is_rendered_once_and_then_kept(tmp_path: Path) -> None:
    seen: list[tuple[int, int]] = []
    first = prepare(TEXTS, Voice(), tmp_path, lambda done, of: seen.append((done, of)))
    again = prepare(TEXTS, Voice(), tmp_path, command=("no such program",))
    assert (first, again) == (Report(rendered=4), Report(cached=4))
    assert seen == [(0, 4), (1, 4), (2, 4), (3, 4), (4, 4)]


def test_lengths_are_kept_beside_the_renderings_and_are_right_to_a_ms(tmp_path: Path) -> None:
    prepare(TEXTS, Voice(), tmp_path)
    bank = Bank({}, folder=tmp_path)
    said = {text: bank.samples(placed("x", 0, sort="speech", text=text)) for text in TEXTS}
    assert kept(home(tmp_path, Voice()) / "lengths.json") == {t: -(-len(s) // 48) for t, s in said.items() if s is not None}


def test_another_pace_is_rendered_anew(tmp_path: Path) -> None:
    prepare(TEXTS[:1], Voice(), tmp_path)
    assert prepare(TEXTS[:1], Voice(pace=200), tmp_path) == Report(rendered=1)


def _energy_onset(samples: NDArray[np.float64]) -> int:
    """The first 2 ms whose mean power is above −45 dBFS."""
    power = np.convolve(samples**2, np.ones(96) / 96)[95:]
    return int(np.argmax(power > 10**-4.5))


@pytest.mark.parametrize("word", COUNTED)
def test_a_counted_word_starts_on_its_frame(word: str, raw: dict[str, Path]) -> None:
    """Its first frame above −40 dBFS lies within its first ms, and an energy detector over the untrimmed rendering agrees within 5 ms.

    The rendering is resampled here by scipy, not by soxr.
    """
    said = phrase(raw[word])
    samples, rate = read(raw[word])
    assert rate == 22_050
    whole = resample_poly(samples.astype(np.float64), 320, 147)
    whole *= np.sqrt(np.sum(said.astype(np.float64) ** 2) / np.sum(whole**2))
    first = int(np.argmax(correlate(whole, said.astype(np.float64), "valid")))
    assert np.argmax(np.abs(said) > 0.01) < 48
    assert abs(_energy_onset(whole) - first) <= 5 * 48
    assert np.corrcoef(whole[first : first + 4800], said[:4800])[0, 1] > 0.9, "the same wave, in its band, its peaks held down"


def test_a_counted_word_is_mixed_on_its_second(raw: dict[str, Path]) -> None:
    mixer, out = Mixer(), np.zeros(96_000, np.float32)
    mixer.queue("ten", 48_000, phrase(raw["ten"]))
    mixer.fill(out, 0)
    assert 48_000 <= int(np.argmax(np.abs(out) > 0.01)) < 48_048


def test_all_phrases_are_equally_loud(raw: dict[str, Path]) -> None:
    """At the target within 0.5 LU, and no true peak above -1 dBTP."""
    said = [phrase(file) for file in raw.values()]
    assert all(abs(integrated(s) - TARGET) < 0.5 for s in said)
    assert all(true_peak(s) < -1 for s in said)


def test_what_is_silent_has_no_length() -> None:
    assert len(trimmed(np.full(4800, 0.009, np.float32))) == 0


def test_a_phrase_over_8_seconds_is_refused_with_a_remedy(tmp_path: Path) -> None:
    long = "word " * 30
    report = prepare([long, "Ready."], Voice(), tmp_path)
    assert (report.rendered, report.missing) == (1, (long,))
    assert report.trouble.endswith("(longer than 8 s to say; split it)")


def test_a_child_killed_in_the_middle_is_replaced_and_all_is_said(tmp_path: Path) -> None:
    dying = child(
        "for n, line in enumerate(sys.stdin):\n"
        "    order = json.loads(line)\n"
        "    if n == 2: os._exit(9)\n"
        "    render(order); print(json.dumps({'n': order['n'], 'why': ''}), flush=True)\n"
    )
    assert prepare(TEXTS, Voice(), tmp_path, command=dying) == Report(rendered=4)


def test_a_phrase_that_kills_every_child_is_left_out_and_named(tmp_path: Path) -> None:
    choking = child(
        "for line in sys.stdin:\n"
        "    order = json.loads(line)\n"
        "    if 'Last' in order['text']: os._exit(9)\n"
        "    render(order); print(json.dumps({'n': order['n'], 'why': ''}), flush=True)\n"
    )
    report = prepare(TEXTS, Voice(), tmp_path, command=choking)
    assert (report.rendered, report.missing) == (3, ("Last one.",))
    assert report.trouble == 'not said: "Last one." (the voice of this machine broke off)'


BROKEN = {
    "hangs": child("import threading; threading.Event().wait(60)"),
    "writes nothing": child("for line in sys.stdin: print(json.dumps({'n': json.loads(line)['n'], 'why': ''}), flush=True)"),
    "writes no sound": child(
        "for line in sys.stdin:\n"
        "    order = json.loads(line); open(order['file'], 'w').write('x' * 99)\n"
        "    print(json.dumps({'n': order['n'], 'why': ''}), flush=True)\n"
    ),
    "prints on every stream": (sys.executable, "-c", "import os\nwhile True: os.write(1, b'x' * 999); os.write(2, b'y' * 999)"),
    "dies at once": (sys.executable, "-c", "raise SystemExit(3)"),
    "is not there": ("no such program",),
}


@pytest.mark.parametrize("how", list(BROKEN))
def test_with_a_broken_voice_a_practice_starts_with_tones(how: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    """The coach is told in words; nothing reaches the terminal."""
    report = prepare(TEXTS, Voice(), tmp_path, command=BROKEN[how], patience=0.5)
    assert (report.rendered, report.missing) == (0, TEXTS)
    assert "not said" in report.trouble or "no speech" in report.trouble
    assert tones_and_no_speech(tmp_path)
    assert capfd.readouterr() == ("", "")


def test_a_cache_that_cannot_be_written_costs_the_speech_only(tmp_path: Path) -> None:
    (tmp_path / "speech").write_text("in the way")
    assert prepare(TEXTS, Voice(), tmp_path).trouble.startswith("no speech: ")
    assert tones_and_no_speech(tmp_path)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no limit on the size of a file")
def test_a_full_disk_keeps_no_part_of_a_phrase(tmp_path: Path) -> None:
    """POSIX.1-2017, setrlimit, RLIMIT_FSIZE: what would make a file longer is refused, as on a full disk."""
    import resource

    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1_000, hard))
    try:
        with pytest.raises(OSError, match="File too large"):
            write(tmp_path / "x.npy", bytes(5_000))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert list(tmp_path.iterdir()) == []


def test_a_damaged_rendering_is_not_heard(tmp_path: Path) -> None:
    prepare(["Ready."], Voice(), tmp_path)
    next(home(tmp_path, Voice()).glob("*.npy")).write_bytes(b"\x93NUMPY")
    assert tones_and_no_speech(tmp_path)


def test_a_language_that_no_voice_speaks_is_said_in_words(tmp_path: Path) -> None:
    assert prepare(["Ready."], Voice(language="xx"), tmp_path).trouble.startswith('no voice speaks "xx"')


@pytest.mark.parametrize(
    ("voices", "chosen"),
    [
        ([("gmw/af", ["af"]), ("gmw/en", ["en-gb"])], "gmw/en"),
        ([("com.apple.voice.Anna", ["de_DE"]), ("com.apple.voice.Samantha", ["en_US"])], "com.apple.voice.Samantha"),
        ([("HKEY_LOCAL_MACHINE\\TTS_MS_EN-US", ["en-US"])], "HKEY_LOCAL_MACHINE\\TTS_MS_EN-US"),
        ([("gmw/de", ["de"])], ""),
    ],
)
def test_the_voice_is_chosen_by_language_on_every_system(voices: list[tuple[str, list[str]]], chosen: str) -> None:
    """As espeak-ng, macOS and SAPI name them; the last two from memory, not run."""
    assert choose(voices, "en") == chosen


def test_aiff_is_read_whatever_the_suffix(tmp_path: Path) -> None:
    """As macOS writes it. Audio Interchange File Format 1.3 (Apple, 1989), from memory: COMM with an 80-bit rate, then SSND."""
    common = struct.pack(">hIhHQ", 1, 3, 16, 16383 + 14, 22_050 << 49)
    sound = struct.pack(">II3h", 0, 0, 16_384, -16_384, 0)
    chunks = b"COMM" + struct.pack(">I", 18) + common + b"SSND" + struct.pack(">I", len(sound)) + sound
    (tmp_path / "x.wav").write_bytes(b"FORM" + struct.pack(">I", 4 + len(chunks)) + b"AIFF" + chunks)
    samples, rate = read(tmp_path / "x.wav")
    assert (samples.tolist(), rate) == ([0.5, -0.5, 0.0], 22_050)
