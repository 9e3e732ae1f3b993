"""Whatever a speaker does, the next one plays, nothing is piled up, and the first is taken again."""

import numpy as np
import pytest

from courttimer.practice.events import CueDropped, CueHeard, SoundChanged
from courttimer.sound.line import BLOCK_NS
from tests.sound.gym import Gym
from tests.sound.wishes import placed


def changes(gym: Gym) -> list[str]:
    return [fact.change for fact in gym.told(SoundChanged)]


def pass_by(gym: Gym, ms: int) -> None:
    """Time in which the card asks for nothing."""
    for _ in range(ms * 1_000_000 // (3 * BLOCK_NS)):
        gym.clock.ns_now += 3 * BLOCK_NS
        gym.want(gym.wishes)


def fill(gym: Gym) -> None:
    """The card takes its buffer full at once, as if it were heard from now on."""
    for _ in range(12):
        gym.stream.shift += BLOCK_NS
        gym.stream.block()
    gym.stream.shift = 0


@pytest.mark.parametrize("soon", range(1_660, 1_720, 10))
def test_a_card_that_is_being_filled_is_not_believed(soon: int) -> None:
    """A quarter of a second later it plays."""
    gym = Gym("box")
    fill(gym)
    gym.wishes = (placed("go", soon), placed("end", 3_700))
    pass_by(gym, 260)
    gym.run(3_000)
    assert gym.onsets() == [pytest.approx(soon, abs=0.03), pytest.approx(3_700, abs=0.03)]


def test_a_sink_that_was_idle_and_plays_a_second_later_delays_nothing() -> None:
    gym = Gym("box")
    fill(gym)
    gym.wishes = (placed("go", 1_700), placed("end", 3_700))
    pass_by(gym, 1_260)
    gym.run(3_000)
    assert gym.onsets() == [pytest.approx(3_700, abs=0.03)]
    assert gym.told(CueDropped)[0].cue == "0.0.go.0"


def test_what_waited_while_the_card_stood_still_is_not_piled_up() -> None:
    gym = Gym("box")
    gym.wishes = (placed("go", 4_000), placed("end", 4_100), placed("open", 6_000))
    gym.run(2_800)
    pass_by(gym, 480)
    gym.stream.shift = 0
    gym.run(3_000)
    assert gym.onsets() == [pytest.approx(6_000, abs=0.03)]
    assert sorted(fact.cue for fact in gym.told(CueDropped)) == ["0.0.end.0", "0.0.go.0"]


def test_a_slip_of_more_than_a_quarter_second_drops_what_it_would_delay() -> None:
    gym = Gym("box")
    gym.wishes = (placed("go", 4_000), placed("end", 6_000))
    gym.run(2_750)
    gym.stream.shift = 400_000_000
    gym.run(4_000)
    assert [fact.cue for fact in gym.told(CueHeard)] == ["0.0.end.0"]
    assert gym.onsets() == [pytest.approx(6_000, abs=0.03)]


def test_a_short_suspend_of_the_machine_moves_the_cues_with_practice_time() -> None:
    """Practice time goes on in it, the card's frames do not; 3 s are too short for a hold."""
    gym = Gym("box")
    gym.wishes = (placed("go", 4_000), placed("end", 8_000))
    gym.run(2_800)
    gym.clock.slept = 3_000
    gym.run(4_000)
    assert gym.onsets() == [pytest.approx(8_000 - 3_000, abs=0.03)]


def test_a_speaker_that_cannot_be_opened_does_not_cost_the_one_that_plays_its_sound() -> None:
    """It is seen to be there all the time, and tried again ever more rarely."""
    gym = Gym("broken box", "built-in", wanted=("broken box",))
    gym.run(30_000)
    assert gym.opened.count("broken box") <= 4
    assert gym.stream.name == "built-in"


def test_the_first_speaker_is_taken_again_within_2_seconds_however_many_tones_there_are() -> None:
    gym = Gym("built-in", wanted=("gym box",))
    gym.wishes = tuple(placed("go", 2_000 + 300 * n, n=n, lasts=200) for n in range(40))
    gym.run(3_000)
    gym.plugged.append("gym box")
    gym.run(1_500)
    assert gym.stream.name == "gym box"


def test_a_speaker_that_the_sound_server_has_lost_is_left_though_its_stream_goes_on() -> None:
    """The server moves the stream to another one, and tells nobody."""
    gym = Gym("default", "gym box", wanted=("gym box",))
    gym.about["gym box"] = {"sink": "usb"}
    gym.stream.end()
    gym.run(4_000)
    gym.about["default"] = {"behind": "built-in"}
    gym.plugged.remove("gym box")
    gym.want(())
    gym.run(100)
    assert changes(gym)[-2:] == ["lost", "found again"]
    assert gym.booth.trouble == '"gym box" is not there; "built-in" plays'


def test_when_the_machine_changes_its_own_speaker_its_name_and_its_delay_are_taken_too() -> None:
    gym = Gym("default", delays={"radio": 200})
    gym.about["default"] = {"behind": "built-in"}
    gym.stream.end()
    gym.run(4_000)
    assert gym.booth.name == "built-in"
    gym.about["default"] = {"behind": "radio"}
    gym.run(1_000)
    assert gym.booth.name == "radio"
    assert gym.booth.lead > 300


def test_a_tone_tells_that_the_sound_is_back_when_it_has_room() -> None:
    gym = Gym()
    gym.wishes = (placed("end", 9_000),)
    gym.run(3_000)
    gym.plugged.append("box")
    gym.run(8_000)
    back, end = gym.onsets()
    assert 4_000 < back < 6_000
    assert end == pytest.approx(9_000, abs=0.03)


def test_no_tone_tells_of_it_when_a_cue_is_near_or_the_practice_is_held() -> None:
    gym = Gym()
    gym.run(3_000)
    gym.plugged.append("box")
    gym.run(8_000)
    assert gym.onsets() == []
    near = Gym()
    near.wishes = tuple(placed("go", 2_000 + 1_000 * n, n=n) for n in range(12))
    near.run(3_000)
    near.plugged.append("box")
    near.run(8_000)
    assert {round(onset) % 1_000 for onset in near.onsets()} == {0}


def test_a_card_that_runs_dry_again_and_again_is_told_on_the_board_until_it_is_over() -> None:
    gym = Gym("box")
    for n in range(3):
        assert gym.booth.trouble == "", n
        gym.run(2_000)
        gym.stream.block(dry=True)
    gym.run(100)
    assert gym.booth.trouble == "the sound stutters: the machine is too busy; close other programs"
    gym.run(20_000)
    assert gym.booth.trouble == ""


@pytest.mark.parametrize(
    ("name", "about", "delays"), [("Bluetooth box", {}, {}), ("box", {"radio": True}, {}), ("box", {}, {"box": 9})]
)
def test_a_wireless_speaker_never_hears_silence(name: str, about: dict[str, bool], delays: dict[str, int]) -> None:
    gym = Gym(delays=delays)
    gym.about[name] = about
    gym.plugged.append(name)
    gym.run(3_000)
    blocks = [block for _, block in gym.stream.heard[20:]]
    assert all(0 < np.abs(block).max() <= 0.0011 for block in blocks)


def test_a_speaker_on_a_wire_hears_nothing_but_the_cues() -> None:
    gym = Gym("box")
    gym.run(3_000)
    assert gym.loud(0, 9_000) == 0


@pytest.mark.parametrize("hz", [44_100, 96_000, 16_000])
def test_a_card_that_refuses_48_khz_plays_at_its_own_rate_on_the_same_moments(hz: int) -> None:
    gym = Gym()
    gym.rates, gym.about["box"] = [hz], {"hz": hz}
    gym.plugged.append("box")
    gym.wishes = (placed("open", 4_000, group="w"), placed("close", 7_000, group="w"))
    gym.run(9_000)
    assert gym.stream.hz == hz
    opens, closes = gym.onsets(0.25)
    assert opens == pytest.approx(4_000, abs=0.1)
    assert closes - opens == pytest.approx(3_000, abs=1_000 / hz + 0.001)


def test_a_card_that_takes_no_rate_is_told_in_words() -> None:
    gym = Gym()
    gym.rates = [192_000]
    gym.plugged.append("box")
    gym.run(1_000)
    assert gym.booth.trouble == 'no sound: "box" cannot be opened: it takes none of the rates that we can play at'
