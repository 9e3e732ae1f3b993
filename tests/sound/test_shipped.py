"""The sessions that come with the program, as they are heard: few words, never over one another, a tone or the ball."""

from itertools import pairwise
from pathlib import Path

import pytest

from courttimer.practice import events as ev
from courttimer.practice.cue import Cue, Placed, Unplaced
from courttimer.rehearsal import rehearse
from courttimer.sound import hall
from courttimer.sound.lengths import Lengths
from courttimer.sound.words import BEFORE_HORN
from tests.sound.shipped import SESSIONS, live, offs, played, reading, shared, sounds

shipped = pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)


@shipped
def test_no_two_speeches_are_heard_at_once(path: Path) -> None:
    assert all(one.until <= other.placed.at for one, other in pairwise(sounds(path, "speech")))


@shipped
def test_no_tone_is_covered_by_words(path: Path) -> None:
    tones = [(t.placed.at, t.until) for t in sounds(path, "tone")]
    assert not any(shared((w.placed.at, w.until), tone) for w in sounds(path, "speech") for tone in tones)


@shipped
def test_every_announcement_ends_before_the_next_tone(path: Path) -> None:
    tones = [t.placed.at for t in sounds(path, "tone")]
    for w in sounds(path, "speech"):
        assert w.until <= next(at for at in tones if at > w.placed.at)
        assert w.until == w.placed.until, "nothing was cut off"


@shipped
def test_ready_ends_a_quarter_of_a_second_before_its_go(path: Path) -> None:
    goes = {t.placed.at for t in sounds(path, "tone") if t.placed.cue.name == "go"}
    ends = {w.until for w in sounds(path, "speech") if w.placed.cue.name == "ready"}
    assert ends, "somebody is told to be ready"
    assert {end + BEFORE_HORN for end in ends} <= goes


@shipped
def test_nothing_is_spoken_while_the_ball_is_live(path: Path) -> None:
    """A station speaks into its own pauses; the others hear of it, as they hear everything in a hall."""
    spans = live(played(path).events)
    assert spans
    for w in sounds(path, "speech"):
        own = [span for lane, span in spans if lane == max(w.placed.cue.lane, 0)]
        assert not any(shared((w.placed.at, w.until), span) for span in own), w.placed.text


@shipped
def test_speech_fills_at_most_a_third_of_any_off_time(path: Path) -> None:
    words = [(w.placed.at, w.until) for w in sounds(path, "speech")]
    for off in offs(played(path).events):
        assert 3 * sum(shared(word, off) for word in words) <= off[1] - off[0]


@shipped
def test_everything_wished_for_is_heard_and_nothing_is_dropped(path: Path) -> None:
    assert not [e for e in played(path).events if isinstance(e, ev.CueDropped)]
    assert all(w.placed.text == w.placed.cue.text for w in sounds(path, "speech")), "nothing had to be shortened"


@shipped
def test_every_tone_is_heard_at_the_ms_it_was_asked_for(path: Path) -> None:
    assert all(t.placed.at == t.placed.cue.at for t in sounds(path, "tone"))


@shipped
def test_every_event_that_players_must_hear_has_its_tone_at_its_own_ms(path: Path) -> None:
    """From the events alone, without asking the practice for its cues."""
    at: dict[int, set[str]] = {}
    for t in sounds(path, "tone"):
        at.setdefault(t.placed.at, set()).update((t.placed.cue.name, *t.placed.also))
    quiet = {(at, n) for at, one in enumerate(reading(path).session.segment) for n, s in enumerate(one.station, 1) if not s.heard}
    segment = 0
    for e in played(path).events:
        segment = e.segment if isinstance(e, ev.SegmentBegan) else segment
        if (segment, e.lane) in quiet:
            continue
        match e:
            case ev.RepBegan():
                assert "go" in at[e.at]
            case ev.RepEnded(why="time") | ev.PracticeEnded():
                assert {"end", "change"} & at[e.at]
            case ev.SegmentBegan():
                assert {"water", "change"} & at[e.at]
            case ev.WindowClosed(why="time"):
                assert "close" in at[e.at]


def test_the_tests_see_words_that_are_placed_without_the_air(monkeypatch: pytest.MonkeyPatch) -> None:
    """The twin: everything begins as soon as it is wished for."""

    def everything(
        cues: list[Cue], lengths: Lengths, busy: tuple[Placed, ...], *, now: int
    ) -> tuple[tuple[Placed, ...], tuple[Unplaced, ...]]:
        long = {c.id: lengths.tone(c.name) if c.sort == "tone" else lengths.text(c.text) for c in cues}
        begun = {p.cue.id for p in busy}
        return (*busy, *(Placed(cue=c, at=c.at, until=c.at + long[c.id], text=c.text) for c in cues if c.id not in begun)), ()

    monkeypatch.setattr(hall, "place", everything)
    heard = rehearse(reading(SESSIONS[0])).tape.heard()
    words = [h for h in heard if h.placed.cue.sort == "speech"]
    tones = [h for h in heard if h.placed.cue.sort == "tone"]
    assert any(one.until > other.placed.at for one, other in pairwise(words))
    assert any(shared((w.placed.at, w.until), (t.placed.at, t.until)) for w in words for t in tones)
