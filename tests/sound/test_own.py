"""A coach's own recordings and lexicon go before the voice; what is wrong with them is told in words and costs nothing else."""

import os
from pathlib import Path

import numpy as np
import pytest
import soundfile

from courttimer import locations
from courttimer.plan.model import Voice
from courttimer.sound.bank import Bank
from courttimer.sound.lengths import kept
from courttimer.sound.loudness import TARGET, integrated
from courttimer.sound.mixer import RATE, Samples
from courttimer.sound.own import Own, plainly, read
from courttimer.sound.peaks import true_peak
from courttimer.sound.recordings import recorded
from courttimer.sound.voice import Report, home, prepare
from tests.sound.wishes import placed

NOBODY = ("no such program",)


@pytest.fixture
def folder() -> Path:
    """The coach's own."""
    locations.own_sounds().mkdir(parents=True)
    return locations.own_sounds()


def speech_like(seconds: float, rate: int = RATE, dbfs: float = -20.0) -> Samples:
    """A voice that opens and closes four times a second, made in the test."""
    time = np.arange(round(seconds * rate)) / rate
    wave = sum(np.sin(2 * np.pi * 140 * n * time) / n for n in range(1, 25))
    opened = np.sin(np.pi * 4 * time) ** 2
    return np.asarray(10 ** (dbfs / 20) * wave / np.abs(wave).max() * opened, np.float32)


def beeps(*runs: int) -> Samples:
    """ms of sound, ms of silence, ms of sound, …"""
    parts = [(np.sin(2 * np.pi * 3000 * np.arange(48 * ms) / RATE) if n % 2 == 0 else np.zeros(48 * ms)) for n, ms in enumerate(runs)]
    return np.asarray(0.5 * np.concatenate(parts), np.float32)


def said(text: str, cache: Path) -> Samples:
    found = Bank({}, folder=cache).samples(placed("x", 0, sort="speech", text=text))
    assert found is not None
    return found


@pytest.mark.parametrize("suffix", ["wav", "flac", "ogg"])
@pytest.mark.parametrize(("rate", "channels"), [(48_000, 1), (44_100, 2), (16_000, 1)])
def test_a_recording_is_heard_instead_of_the_voice_at_the_loudness_of_all_cues(
    suffix: str, rate: int, channels: int, folder: Path, tmp_path: Path
) -> None:
    sound = np.tile(np.pad(speech_like(1.0, rate), (rate // 2, rate // 4))[:, None], channels)
    soundfile.write(folder / f"LAST one.{suffix}", sound, rate)
    report = prepare(["Last one."], Voice(), tmp_path, command=NOBODY)
    heard = said("Last one.", tmp_path)
    assert report == Report(rendered=1)
    assert integrated(heard) == pytest.approx(TARGET, abs=0.5)
    assert true_peak(heard) <= -1
    assert len(heard) / RATE == pytest.approx(1.0, abs=0.15), "the silence around it is gone"
    assert kept(home(tmp_path, Voice()) / "lengths.json") == {"Last one.": -(-len(heard) // 48)}


def test_a_recording_is_made_once_and_anew_when_it_changes_or_goes(folder: Path, tmp_path: Path) -> None:
    file = folder / "Ready.wav"
    soundfile.write(file, speech_like(0.5), RATE)
    reports = [prepare(["Ready."], Voice(), tmp_path) for _ in range(2)]
    soundfile.write(file, speech_like(0.9), RATE)
    os.utime(file, ns=(1, 1))
    reports.append(prepare(["Ready."], Voice(), tmp_path))
    longer = len(said("Ready.", tmp_path))
    file.unlink()
    reports.append(prepare(["Ready."], Voice(), tmp_path))
    assert reports == [Report(rendered=1), Report(cached=1), Report(rendered=1), Report(rendered=1)]
    assert len(said("Ready.", tmp_path)) != longer


def test_the_pauses_of_a_recording_are_left_as_they_are(folder: Path) -> None:
    word = speech_like(0.5)
    soundfile.write(folder / "x.wav", np.concatenate([word, np.zeros(RATE // 2, np.float32), word]), RATE)
    assert len(recorded(folder / "x.wav")) / RATE == pytest.approx(1.5, abs=0.1)


ALARM = r"it may be taken for .*{}.*; record something else"
REFUSED = {
    "temporal-three": (beeps(500, 500, 500, 500, 500), ALARM.format("temporal-three")),
    "temporal-four": (beeps(100, 100, 100, 100, 100, 100, 100), ALARM.format("carbon-monoxide")),
    "silent": (np.zeros(RATE, np.float32), "nothing is heard in it; record it anew, nearer to the microphone"),
    "empty": (np.zeros(0, np.float32), "nothing is heard in it; record it anew, nearer to the microphone"),
    "long": (speech_like(9.0), "it is longer than 8 s; cut it, or say less"),
}


@pytest.mark.parametrize("what", list(REFUSED))
def test_a_recording_that_cannot_be_taken_is_refused_in_words_and_the_voice_speaks(what: str, folder: Path, tmp_path: Path) -> None:
    sound, why = REFUSED[what]
    soundfile.write(folder / "Ready.wav", sound, RATE)
    with pytest.raises(ValueError, match=f"^{why}$"):
        recorded(folder / "Ready.wav")
    report = prepare(["Ready."], Voice(), tmp_path)
    assert report.rendered == 1
    assert report.trouble.startswith(f"{folder / 'Ready.wav'}: ")
    assert report.trouble.endswith("; the voice speaks instead")
    assert len(said("Ready.", tmp_path)) < RATE


@pytest.mark.parametrize("data", [b"", b"RIFF", b"no sound at all" * 99])
def test_a_file_that_is_no_sound_is_refused_with_a_remedy(data: bytes, folder: Path) -> None:
    (folder / "Ready.flac").write_bytes(data)
    with pytest.raises(ValueError, match=r"^it cannot be read \(.+\); save it anew as WAV, FLAC or OGG$"):
        recorded(folder / "Ready.flac")


def test_a_damaged_number_in_a_recording_is_silence() -> None:
    locations.own_sounds().mkdir(parents=True)
    sound = speech_like(0.5)
    sound[100:110] = np.nan
    soundfile.write(locations.own_sounds() / "x.wav", sound, RATE, subtype="FLOAT")
    assert np.isfinite(recorded(locations.own_sounds() / "x.wav")).all()


def test_names_are_said_as_the_lexicon_has_them_and_shown_as_they_are_written(folder: Path, tmp_path: Path) -> None:
    (folder / "lexicon.toml").write_text(
        'Siobhan = "Shivawn"\nMary = "Mairy"\n"Mary Jo" = "Marry Joe"\nJo = "Yo"\n[es]\nSiobhan = "Chivón"\n', "utf-8"
    )
    english, spanish = read(folder, "en"), read(folder, "es-mx")
    assert english.spoken("Siobhan, Mary Jo and Jo on, not Joan.") == "Shivawn, Marry Joe and Yo on, not Joan."
    assert spanish.spoken("Entra Siobhan.") == "Entra Chivón."
    assert english.trouble == spanish.trouble == ()


def test_a_new_entry_of_the_lexicon_has_the_name_rendered_anew_under_its_own_spelling(folder: Path, tmp_path: Path) -> None:
    first = prepare(["Siobhan on."], Voice(), tmp_path)
    before = said("Siobhan on.", tmp_path)
    (folder / "lexicon.toml").write_text('Siobhan = "Shivawn the third"\n', "utf-8")
    assert [first, prepare(["Siobhan on."], Voice(), tmp_path)] == [Report(rendered=1)] * 2
    assert prepare(["Siobhan on."], Voice(), tmp_path) == Report(cached=1)
    assert len(said("Siobhan on.", tmp_path)) > len(before) + RATE // 4


def test_everything_that_is_wrong_in_the_folder_is_told_and_the_rest_is_used(folder: Path) -> None:
    (folder / "lexicon.toml").write_text('Ada = 3\nBea = ""\nCleo = "Cleeo"\n', "utf-8")
    for name in ("Ready.wav", "ready.flac", "Last one.mp3", "notes.txt"):
        (folder / name).write_bytes(b"")
    found = read(folder, "en")
    assert set(found.trouble) == {
        f'{folder / "lexicon.toml"}: Ada wants its sound in quotation marks, such as Ada = "Shivawn"',
        f'{folder / "lexicon.toml"}: Bea wants its sound in quotation marks, such as Bea = "Shivawn"',
        f"{folder / 'ready.flac'}: Ready.wav says the same and is taken; take one of them away",
        f"{folder / 'Last one.mp3'}: a recording is a WAV, FLAC or OGG file; save it as one of these",
    }
    assert (found.lexicon, list(found.recordings)) == ({"Cleo": "Cleeo"}, ["ready"])


def test_a_lexicon_that_cannot_be_read_is_told() -> None:
    locations.own_sounds().mkdir(parents=True)
    (locations.own_sounds() / "lexicon.toml").write_text("[", "utf-8")
    assert "cannot be read" in read(locations.own_sounds(), "en").trouble[0]


def test_without_a_folder_nothing_is_changed(tmp_path: Path) -> None:
    assert read(tmp_path / "none", "en") == Own()
    assert Own().source("Ready.") == "Ready."


def test_a_recording_is_found_however_its_name_is_written() -> None:
    """With any case, without the dots and commas that a file's name may not hold, and with accents in two pieces (macOS)."""
    assert len({plainly(t) for t in ("Después, Ñandú: ¿sí?", "despue\u0301s n\u0303andu\u0301 si\u0301", "DESPUÉS_ñandú_sí")}) == 1
