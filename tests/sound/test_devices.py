"""Which speakers there are: the doors of PortAudio, and what a sound server has behind them."""

import json
import os
import shutil
import subprocess
import sys

import pytest

from courttimer.errors import DeviceError
from courttimer.sound import behind, devices, watch
from courttimer.sound.behind import Sink, sinks
from courttimer.sound.devices import Device, Either, PortAudio, System, seen_through
from courttimer.sound.line import in_words
from courttimer.sound.pipe import COMMANDS, Programs

BUILT_IN = Sink(name="alsa_output.pci-0000_00", words="Built-in Audio", usual=True)
BOX = Sink(name="bluez_output.AA_BB", words="Gym box", wireless=True)
FOUND = [
    Device(number=0, name="HDA Intel (hw:0,0)"),
    Device(number=1, name="pulse"),
    Device(number=2, name="default", usual=True, hz=44_100),
]


def test_the_speakers_of_the_sound_server_stand_behind_its_door() -> None:
    first, *others = seen_through(FOUND, [BUILT_IN, BOX])
    assert (first.title, first.usual, first.wireless, first.hz) == ("Built-in Audio", True, False, 44_100)
    assert [(d.number, d.title, d.sink, d.wireless) for d in others] == [
        (1, "Built-in Audio", "alsa_output.pci-0000_00", False),
        (1, "Gym box", "bluez_output.AA_BB", True),
        (0, "HDA Intel (hw:0,0)", "", False),
    ]


def test_speakers_of_one_name_are_told_apart() -> None:
    twins = [Sink(name="a", words="USB Audio", usual=True), Sink(name="b", words="USB Audio")]
    assert [d.title for d in seen_through(FOUND, twins) if d.sink] == ["USB Audio (a)", "USB Audio (b)"]


def test_without_a_server_or_its_door_portaudios_list_stands() -> None:
    assert seen_through(FOUND, None) == FOUND
    assert seen_through(FOUND[:1], [BUILT_IN]) == FOUND[:1]


def test_a_door_that_lets_nobody_choose_still_tells_where_it_leads() -> None:
    """PipeWire's own door for ALSA, where that for PulseAudio is not installed."""
    found = [FOUND[0], Device(number=1, name="pipewire"), FOUND[2]]
    first, *others = seen_through(found, [BUILT_IN, BOX])
    assert (first.number, first.title) == (2, "Built-in Audio")
    assert others == FOUND[:1]


def test_a_door_with_nothing_behind_it_leads_nowhere() -> None:
    assert seen_through(FOUND, []) == FOUND[:1]


@pytest.mark.parametrize(("name", "wireless"), [("Headset (Bluetooth Hands-Free)", True), ("AirPods", True), ("Gym box", False)])
def test_a_name_tells_what_is_wireless_where_nothing_else_does(name: str, wireless: bool) -> None:
    assert Device(number=0, name=name).wireless is wireless


LISTED = [
    {"name": "alsa_output.usb", "description": "Gym box", "properties": {"device.bus": "usb", "device.api": "alsa"}},
    {"name": "bluez_sink.00_11", "description": "(null)", "properties": {"device.api": "bluez"}},
    {"name": "x", "description": "Courtside", "properties": {"device.bus": "bluetooth"}},
]


def test_what_pactl_says_is_understood(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(behind, "_asked", lambda *questions: [json.dumps(LISTED), "x\n"])
    monkeypatch.setattr(shutil, "which", lambda name: name)
    monkeypatch.setattr(sys, "platform", "linux")
    assert sinks() == (
        Sink(name="alsa_output.usb", words="Gym box"),
        Sink(name="bluez_sink.00_11", words="bluez_sink.00_11", wireless=True),
        Sink(name="x", words="Courtside", wireless=True, usual=True),
    )


FAULTS = [OSError(), ValueError(), subprocess.TimeoutExpired("pactl", 1), subprocess.CalledProcessError(1, "pactl")]


@pytest.mark.parametrize("fault", FAULTS)
def test_a_server_that_does_not_answer_has_no_names(fault: Exception, monkeypatch: pytest.MonkeyPatch) -> None:
    def asked(*questions: tuple[str, ...]) -> list[str]:
        raise fault

    monkeypatch.setattr(behind, "_asked", asked)
    monkeypatch.setattr(shutil, "which", lambda name: name)
    assert sinks() is None


def test_a_door_is_opened_to_the_speaker_that_was_chosen_and_closed_behind_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """libpulse reads PULSE_SINK when a client begins (pulse-client.conf(5), from memory)."""
    seen = []

    class Sounddevice:
        def check_output_settings(self, number: int, samplerate: int) -> None:
            seen.append((number, os.environ.get("PULSE_SINK")))

    monkeypatch.setattr(devices, "_sounddevice", Sounddevice)
    monkeypatch.delenv("PULSE_SINK", raising=False)
    assert PortAudio().can_open(Device(number=1, name="Gym box", sink="bluez_output.AA_BB"))
    assert seen == [(1, "bluez_output.AA_BB")]
    assert "PULSE_SINK" not in os.environ


def test_who_looks_out_while_the_best_plays_asks_the_server_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(watch, "sinks", lambda: (BUILT_IN, BOX))
    assert watch._there(PortAudio(), ()) == (["Built-in Audio", "Gym box"], "Built-in Audio")


def test_who_looks_out_for_a_better_one_leaves_out_what_cannot_be_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    system = PortAudio()
    found = seen_through(FOUND, [BUILT_IN, BOX])
    monkeypatch.setattr(system, "look", lambda: found)
    monkeypatch.setattr(system, "can_open", lambda device: False)
    names, usual = watch._there(system, ("gym box",))
    assert "Gym box" not in names
    assert "HDA Intel (hw:0,0)" in names
    assert usual == "Built-in Audio"


def test_portaudios_numbers_are_told_in_words() -> None:
    """portaudio.h: paDeviceUnavailable is -9985, paInvalidSampleRate -9997 (from memory)."""
    assert in_words(OSError("Error opening OutputStream: Device unavailable [PaErrorCode -9985]")).startswith("another program has it")
    assert "rates" in in_words(OSError("Error opening OutputStream: Invalid sample rate [PaErrorCode -9997]"))
    assert in_words(OSError("no channels")) == "no channels"


class Missing:
    """PortAudio where its library is not installed."""

    def look(self) -> list[Device]:
        raise DeviceError("PortAudio is not installed") from OSError()


def _without_portaudio(monkeypatch: pytest.MonkeyPatch, *programs: str) -> System:
    from courttimer.sound import pipe

    monkeypatch.setattr(devices, "PortAudio", Missing)
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(shutil, "which", lambda name: name if name in programs else None)
    monkeypatch.setattr(pipe, "sinks", lambda: (BUILT_IN, BOX))
    return Either()


@pytest.mark.parametrize("program", COMMANDS)
def test_without_portaudio_a_program_that_plays_is_a_way(program: str, monkeypatch: pytest.MonkeyPatch) -> None:
    found = _without_portaudio(monkeypatch, program).look()
    assert found[0].usual
    assert [d.sink for d in found[1:]] == ([] if program == "aplay" else [BUILT_IN.name, BOX.name])


def test_without_any_program_the_remedy_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    system = _without_portaudio(monkeypatch)
    with pytest.raises(DeviceError, match="PortAudio is not installed"):
        system.look()


def test_a_server_that_is_gone_is_no_reason_to_leave_portaudio(monkeypatch: pytest.MonkeyPatch) -> None:
    class Silent(Missing):
        def look(self) -> list[Device]:
            raise DeviceError("the sound system does not answer") from RuntimeError()

    system = _without_portaudio(monkeypatch, "pacat")
    monkeypatch.setattr(system, "_way", Silent())
    with pytest.raises(DeviceError, match="does not answer"):
        system.look()


def test_programs_that_end_at_once_are_no_speaker(monkeypatch: pytest.MonkeyPatch) -> None:
    from courttimer.sound import pipe

    monkeypatch.setattr(pipe, "COMMANDS", {"false": (), "no-such-program": ()})
    with pytest.raises(DeviceError, match="no program plays on it"):
        Programs().open(Device(number=-1, name="default"), lambda: 0)
