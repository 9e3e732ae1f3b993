"""Cues come out of a real line on their moments; what goes wrong with a speaker is told, outlived and healed."""

import sys
from pathlib import Path
from threading import Event

import numpy as np
import pytest

from courttimer import locations
from courttimer.errors import DeviceError
from courttimer.practice.events import CueDropped, CueHeard, SoundChanged
from courttimer.sound.bank import Bank as Shipped
from courttimer.sound.devices import Device, PortAudio, System, ordered
from courttimer.sound.line import BLOCK_NS, Line
from courttimer.sound.mixer import AHEAD, Samples
from courttimer.sound.recipes import Recipe, read
from courttimer.sound.speaker import Speaker
from tests.sound.gym import Bank, Gym, Moment
from tests.sound.wishes import placed

REP = (placed("open", 4_000, stretch=1, group="rep"), placed("close", 7_000, stretch=1, group="rep"))


def test_a_cue_is_heard_on_its_moment() -> None:
    gym = Gym("box")
    gym.wishes = (placed("go", 4_000),)
    gym.run(6_000)
    assert gym.onsets() == [pytest.approx(4_000, abs=0.03)]


def test_a_window_of_3_seconds_is_144_000_frames() -> None:
    gym = Gym("box")
    gym.wishes = REP
    gym.run(9_000)
    opens, closes = gym.onsets()
    assert (closes - opens) * 48 == pytest.approx(144_000, abs=0.02)


def test_what_was_asked_and_what_was_heard_is_told_of_every_cue() -> None:
    gym = Gym("box")
    gym.wishes = REP
    gym.run(9_000)
    heard = gym.told(CueHeard)
    assert [(f.cue, f.asked) for f in heard] == [("0.1.open.0", 4_000), ("0.1.close.0", 7_000)]
    assert [f.played for f in heard] == [pytest.approx(o, abs=0.03) for o in gym.onsets()]


def test_a_cue_is_told_only_once_it_was_heard() -> None:
    gym = Gym("box")
    gym.wishes = (placed("go", 4_000),)
    gym.run(2_950)
    assert not gym.told(CueHeard)
    gym.run(150)
    assert gym.told(CueHeard)


def test_what_is_not_wished_any_more_is_not_heard() -> None:
    gym = Gym("box")
    gym.wishes = REP
    gym.run(4_500)
    gym.wishes = REP[:1]
    gym.run(4_000)
    assert len(gym.onsets()) == 1


def test_what_has_begun_is_never_repeated_even_with_another_time() -> None:
    gym = Gym("box")
    gym.wishes = (placed("go", 4_000, stretch=1),)
    gym.run(3_500)
    gym.wishes = (placed("go", 4_800, stretch=1),)
    gym.run(3_000)
    assert len(gym.onsets()) == 1


def test_a_cue_that_moves_before_it_begins_is_heard_at_its_new_time() -> None:
    gym = Gym("box")
    gym.wishes = (placed("end", 4_000, stretch=1),)
    gym.run(2_800)
    gym.wishes = (placed("end", 4_300, stretch=1),)
    gym.run(3_000)
    assert gym.onsets() == [pytest.approx(4_300, abs=0.03)]


def test_a_hold_fades_speech_in_20_ms_and_lets_a_begun_tone_finish() -> None:
    gym = Gym("box")
    gym.wishes = (placed("where", 4_000, sort="speech", text="Water.", lasts=1_000, until=9_000), placed("go", 4_100))
    gym.run(3_050)
    pressed = gym.clock.now()
    gym.want((), hush="hold")
    gym.run(2_000)
    assert gym.loud(pressed + 150, 4_290) == pytest.approx(0.5)
    assert gym.loud(4_310, 9_000) == 0


def test_a_halt_silences_everything_within_20_ms_of_what_the_card_and_the_limiter_have() -> None:
    gym = Gym("box")
    gym.wishes = (placed("go", 4_000), placed("end", 4_900))
    gym.run(3_050)
    pressed = gym.clock.ns_now
    gym.want((), hush="halt")
    gym.run(3_000)
    reach = (pressed + 100_000_000 + BLOCK_NS) / 1e6 + AHEAD / 48
    assert gym.loud(reach + 21, 9_000) == 0


def test_begun_speech_steps_aside_for_other_speech() -> None:
    gym = Gym("box")
    said = placed("where", 4_000, stretch=1, sort="speech", text="Water.", lasts=1_000, until=9_000)
    gym.wishes = (said,)
    gym.run(3_200)
    gym.wishes = (placed("where", 4_600, stretch=2, sort="speech", text="Next.", lasts=1_000, until=9_000),)
    gym.run(3_000)
    assert gym.onsets() == [pytest.approx(4_000, abs=0.03), pytest.approx(4_600, abs=0.03)]
    assert gym.loud(0, 9_000) == 0.25


def test_a_late_horn_is_played_and_a_late_count_is_dropped() -> None:
    gym = Gym("box")
    gym.run(2_000)
    soon = gym.clock.now() + 60
    gym.wishes = (placed("end", soon, group="a"), placed("warning", soon, if_late="drop", group="b"))
    gym.run(2_000)
    assert [f.cue for f in gym.told(CueHeard)] == ["0.0.end.0"]
    assert [f.cue for f in gym.told(CueDropped)] == ["0.0.warning.0"]
    assert gym.onsets()[0] - soon < 250


def test_a_window_that_a_call_opens_too_late_for_the_card_is_still_144_000_frames() -> None:
    gym = Gym("box")
    gym.run(2_000)
    soon = gym.clock.now() + 80
    gym.wishes = (placed("open", soon, group="window"), placed("close", soon + 3_000, group="window"))
    gym.run(5_000)
    opens, closes = gym.onsets()
    assert (closes - opens) * 48 == pytest.approx(144_000, abs=0.02)
    assert 0 < opens - soon < 60


def test_words_that_are_not_rendered_are_dropped_and_told() -> None:
    gym = Gym("box")
    gym.bank.missing.add("Water.")
    gym.wishes = (placed("where", 4_000, sort="speech", text="Water.", until=9_000),)
    gym.run(5_000)
    assert [f.why for f in gym.told(CueDropped)] == ["these words are not rendered"]


def test_the_lead_is_how_far_ahead_the_card_takes_its_frames_and_a_little() -> None:
    gym = Gym("box", delays={"box": 40})
    gym.run(3_000)
    assert gym.booth.lead == pytest.approx((100_000_000 + BLOCK_NS) / 1e6 + 20 + 40, abs=5)


def test_a_slow_speaker_gets_its_cues_earlier() -> None:
    gym = Gym("Bluetooth box", delays={"bluetooth": 200})
    gym.wishes = (placed("go", 4_000),)
    gym.run(6_000)
    assert gym.onsets() == [pytest.approx(3_800, abs=0.03)]
    assert gym.told(CueHeard)[0].played == pytest.approx(4_000, abs=0.03)


def test_a_slip_of_the_card_is_told_and_what_follows_is_on_time() -> None:
    gym = Gym("box")
    gym.run(3_000)
    gym.stream.shift = 100_000_000
    gym.wishes = (placed("go", 6_000),)
    gym.run(5_000)
    assert [f.change for f in gym.told(SoundChanged)] == ["taken", "slipped by 100 ms"]
    assert gym.onsets() == [pytest.approx(6_000, abs=0.03)]


def test_running_dry_is_told() -> None:
    gym = Gym("box")
    gym.run(500)
    gym.stream.block(dry=True)
    gym.run(500)
    assert "ran dry 1 times" in [f.change for f in gym.told(SoundChanged)]


def test_a_card_without_a_clock_plays_after_its_latency_and_says_so() -> None:
    gym = Gym("box")
    gym.run(2_000, sense=False)
    gym.wishes = (placed("go", 4_000),)
    gym.run(4_000, sense=False)
    assert gym.onsets() == [pytest.approx(4_000, abs=11)]
    assert "tells no time of its own; the sound may be early or late by its latency" in [f.change for f in gym.told(SoundChanged)]


def test_speakers_are_taken_in_the_order_of_the_wishes_then_the_usual_one() -> None:
    devices = [Device(number=0, name="HDMI"), Device(number=1, name="Built-in", usual=True), Device(number=2, name="USB Gym Box")]
    assert [d.name for d in ordered(devices, ["gym box"])] == ["USB Gym Box", "Built-in", "HDMI"]
    assert [d.name for d in ordered(devices, [])] == ["Built-in", "HDMI", "USB Gym Box"]


def test_when_the_speaker_is_pulled_out_the_next_one_plays_on_time() -> None:
    gym = Gym("built-in", "gym box", wanted=("Gym box", "built-in"))
    gym.wishes = (placed("go", 4_000), placed("end", 8_000))
    gym.run(4_000)
    gym.plugged.remove("gym box")
    gym.run(5_000)
    assert [s.name for s in gym.streams] == ["gym box", "built-in"]
    assert gym.onsets() == [pytest.approx(4_000, abs=0.03), pytest.approx(8_000, abs=0.03)]
    assert gym.booth.trouble == '"Gym box" is not there; "built-in" plays'


def test_a_driver_that_says_so_is_believed_at_once() -> None:
    gym = Gym("built-in", "gym box", wanted=("gym box",))
    gym.run(1_000)
    gym.plugged.remove("gym box")
    gym.stream.end()
    gym.run(100)
    assert gym.stream.name == "built-in"


def test_the_first_speaker_is_taken_again_when_it_returns_but_not_inside_a_horn() -> None:
    gym = Gym("built-in", wanted=("gym box",))
    gym.wishes = (placed("go", 3_000, lasts=200),)
    gym.run(1_900)
    gym.plugged.append("gym box")
    gym.run(300)
    assert gym.stream.name == "built-in"
    gym.run(2_000)
    assert (gym.stream.name, gym.booth.trouble) == ("gym box", "")
    assert [f.change for f in gym.told(SoundChanged)] == ["taken", "left for a better one", "found again"]


def test_without_any_speaker_the_cues_are_dropped_in_words_and_nothing_is_piled_up() -> None:
    gym = Gym()
    gym.wishes = (placed("go", 2_000), placed("end", 6_000))
    gym.run(3_000)
    assert gym.booth.trouble == "no sound: no speaker is there; connect or switch one on"
    assert [f.why for f in gym.told(CueDropped)] == ["no sound: no speaker is there; connect or switch one on"]
    gym.plugged.append("box")
    gym.run(4_000)
    assert gym.booth.trouble == ""
    assert gym.onsets() == [pytest.approx(6_000, abs=0.03)]


def test_a_cue_whose_wish_ends_with_its_moment_is_dropped_in_words_too() -> None:
    """The practice wishes for a tone until it is due, and no longer."""
    gym = Gym()
    gym.wishes = (placed("go", 2_000),)
    gym.run(1_050)
    gym.wishes = ()
    gym.run(500)
    assert [(f.cue, f.why) for f in gym.told(CueDropped)] == [("0.0.go.0", "no sound: no speaker is there; connect or switch one on")]


def test_a_speaker_is_ready_half_a_second_after_it_was_taken_and_not_at_once() -> None:
    gym = Gym("box")
    gym.run(100)
    assert not gym.booth.ready
    gym.run(600)
    assert gym.booth.ready


def test_sound_is_back_within_a_second_of_a_speakers_return() -> None:
    gym = Gym()
    gym.run(3_000)
    gym.plugged.append("box")
    back = gym.clock.now()
    gym.wishes = (placed("go", back + 1_000),)
    gym.run(3_000)
    assert gym.onsets() == [pytest.approx(back + 1_000, abs=0.03)]


def test_a_speaker_that_is_away_for_long_is_looked_for_less_often_and_found_within_a_second() -> None:
    gym = Gym()
    gym.run(3_000)
    looks, gym.looks = gym.looks, 0
    gym.run(27_000)
    gym.looks = 0
    gym.run(3_000)
    assert 3 <= gym.looks <= 4 < looks
    gym.plugged.append("box")
    back = gym.clock.now()
    gym.wishes = (placed("go", back + 1_000),)
    gym.run(3_000)
    assert gym.onsets() == [pytest.approx(back + 1_000, abs=0.03)]


def test_a_speaker_taken_by_another_program_is_passed_over() -> None:
    gym = Gym("broken box", "built-in", wanted=("broken box",))
    gym.run(1_000)
    assert gym.stream.name == "built-in"
    assert gym.booth.trouble == '"broken box" cannot be opened: it is taken by another program; "built-in" plays'


def test_a_missing_sound_system_is_told_with_its_remedy() -> None:
    gym = Gym("box")
    gym.fault = "PortAudio is not installed (on Debian and Ubuntu: sudo apt install libportaudio2)"
    gym.stream.end()
    gym.run(1_000)
    assert gym.booth.trouble == f"no sound: {gym.fault}"


def test_a_callback_that_fails_gives_silence_and_goes_on() -> None:
    gym = Gym("box")
    gym.run(1_000)
    mixer = gym.booth._plug.line.mixer if gym.booth._plug.line else None
    assert mixer is not None
    mixer.queue("bad", mixer.head + 100, np.zeros((3, 3), np.float32))
    gym.stream.block()
    assert float(np.abs(gym.stream.heard[-1][1]).max()) == 0
    assert isinstance(gym.booth._plug.line, Line)
    assert gym.booth._plug.line.faults == 1


class Hanging:
    """A sound system that never answers, until the test is over."""

    def __init__(self) -> None:
        self.asked, self.over = Event(), Event()

    def look(self) -> list[Device]:
        self.asked.set()
        self.over.wait()
        raise DeviceError("it was over")


def test_a_sound_system_that_hangs_blocks_nobody_and_is_told() -> None:
    hanging, clock = Hanging(), Moment()
    system: System = hanging  # type: ignore[assignment]  # it never gets as far as the other methods
    speaker = Speaker(Bank(), clock, system=lambda: system)
    hanging.asked.wait()
    for _ in range(200):
        speaker.want((placed("go", 2_000),), now=1_000)
    clock.ns_now += 4_000_000_000
    assert speaker.trouble() == "no sound: the sound system does not answer"
    assert (speaker.facts(), speaker.lead()) == ([], 180)
    hanging.over.set()
    speaker.close()


def test_a_speaker_that_cannot_even_begin_says_so() -> None:
    def missing() -> System:
        raise RuntimeError("no numpy")

    speaker = Speaker(Bank(), Moment(), system=missing)
    speaker._thread.join()
    assert speaker.trouble() == "no sound: no numpy"


def test_without_the_portaudio_library_the_remedy_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """As sounddevice's Linux wheel behaves without libportaudio2: its import raises OSError."""
    (tmp_path / "sounddevice.py").write_text('raise OSError("PortAudio library not found")')
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.delitem(sys.modules, "sounddevice", raising=False)
    with pytest.raises(DeviceError, match=r"^PortAudio is not installed \(on Debian and Ubuntu: sudo apt install libportaudio2\)$"):
        PortAudio().look()


def test_every_tone_is_made_before_the_speaker_is_ready_so_that_none_is_late_the_first_time() -> None:
    gym = Gym("Gym box")
    speaker = Speaker(gym.bank, gym.clock, system=lambda: gym)
    assert gym.bank.rendered.wait(20)
    speaker.close()


def test_a_tone_that_was_made_is_not_made_again_when_it_is_called(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[Recipe] = []

    def render(recipe: Recipe) -> Samples:
        made.append(recipe)
        return np.zeros(1, np.float32)

    monkeypatch.setattr("courttimer.sound.tones.render", render)
    recipes = read(locations.sounds() / "tones.toml")
    bank = Shipped(recipes)
    bank.render_tones()
    assert all(bank.samples(placed(name, 0)) is not None for name in recipes)
    assert made == list(recipes.values())
