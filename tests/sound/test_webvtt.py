"""The cues of a rehearsal as WebVTT, read back by the webvtt library."""

from pathlib import Path

import pytest
import webvtt

from courttimer.__main__ import reading
from courttimer.rehearsal import rehearse
from courttimer.sound.render import Heard, cues_vtt


def heard(name: str) -> tuple[Heard, ...]:
    return rehearse(reading(name)).tape.heard()


@pytest.mark.parametrize("name", ["first-practice", "team-practice"])
def test_every_cue_is_read_back_with_its_moments_and_its_words(name: str, tmp_path: Path) -> None:
    cues = heard(name)
    (tmp_path / "evening.vtt").write_text(cues_vtt(cues), encoding="utf-8")
    captions = webvtt.read(str(tmp_path / "evening.vtt")).captions

    assert len(cues) > 10
    assert [(c.identifier, c.text) for c in captions] == [
        (h.placed.cue.id, h.placed.text or f"[{', '.join((h.placed.cue.name, *h.placed.also))}]") for h in cues
    ]
    starts = [c.start_time for c in captions]
    assert [((t.hours * 60 + t.minutes) * 60 + t.seconds) * 1000 + t.milliseconds for t in starts] == [h.placed.at for h in cues]
    ends = [c.end_time for c in captions]
    assert [((t.hours * 60 + t.minutes) * 60 + t.seconds) * 1000 + t.milliseconds for t in ends] == [h.until for h in cues]
