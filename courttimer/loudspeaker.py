"""The speakers tried out before an evening: what is listed, what is played, what is tapped, and what is kept of it."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event

from courttimer import locations
from courttimer.errors import PlanError
from courttimer.evening import delays
from courttimer.screen.taps import Taps, unbuffered
from courttimer.sound.delays import LONGEST_MS, keep
from courttimer.sound.tapping import BEAT_MS, BEATS, tapped
from courttimer.sound.trial import Trial, listed, tones, walk

Tell = Callable[[str], None]
PAUSE_S = 1.5
"""Between two tones: time to know the one before the next comes."""
LATE_FROM_MS = 30
"""Less than this is what tapping cannot tell from nothing."""


def show(wanted: tuple[str, ...], tell: Tell) -> None:
    """Tell the speakers, the first one tried first. Raises DeviceError when there is no sound system."""
    found = listed(wanted, delays())
    for name in wanted:
        if found and not any(name.casefold() in line.casefold() for line in found):
            tell(f'"{name}" is not there.')
    tell("Speakers, in the order in which they are tried:" if found else "There is no speaker. Connect one, or switch it on.")
    for line in found:
        tell(f"  {line}")


def play(wanted: tuple[str, ...], names: list[str], tell: Tell, *, wait_s: float) -> None:
    """Play these tones, or all of them and a phrase, after time to walk away.

    Raises PlanError for a tone that there is not, DeviceError when nothing can be heard.
    """
    known = tones()
    if unknown := [name for name in names if name not in known]:
        raise PlanError(f"there is no tone {', '.join(unknown)}; there are {', '.join(known)}")
    with _trial(wanted, own=False) as trial:
        tell(f"{trial.taken()} plays, as loud as on the evening.{_trouble(trial)}")
        if wait_s:
            tell(f"Walk to the far corner: it begins in {wait_s:.0f} seconds. Can you tell them apart with your back turned?")
            Event().wait(wait_s)
        for line in walk(trial, names or list(known), PAUSE_S):
            tell(line)
        if not names:
            said = trial.say()
            tell(f'words: "{said}"' if said else "No voice is here: tones only.")


def tap(wanted: tuple[str, ...], tell: Tell) -> None:
    """Find out by tapping how late the speaker is, and keep it. Raises PlanError when the taps tell nothing."""
    if sys.stdin is None:
        raise PlanError("tapping wants a keyboard")
    with _trial(wanted, own=True) as trial:
        name = trial.taken()
        tell(f"{BEATS} beats come from {name}, one a second.{_trouble(trial)}")
        tell("Press space or Enter with each beat that you hear; without looking it goes best.")
        with unbuffered(sys.stdin):
            taps = Taps(sys.stdin, trial.clock.now)
            beats = trial.beats(lambda n: tell(f"  {n + 1}"))
            Event().wait(BEAT_MS / 1000)
        found = tapped(taps.moments, beats)
    if found.trouble:
        raise PlanError(f"{name}: {found.trouble}")
    tell(f"{name} is heard {found.delay} ms late; half of your {found.taps} taps were within {found.spread} ms of that.")
    set_delay(name, found.delay if found.delay >= LATE_FROM_MS else 0, tell)


def set_delay(name: str, ms: int, tell: Tell) -> None:
    """Keep how late a speaker is. Raises PlanError for what no speaker can be."""
    if not 0 <= ms <= LONGEST_MS:
        raise PlanError(f"a speaker is between 0 and {LONGEST_MS} ms late (got {ms})")
    keep(locations.data() / "speakers.json", name, ms)
    tell(f"Kept: {name} gets its cues {ms} ms earlier." if ms else f"Kept: {name} is not late.")
    for other, kept in delays().items():
        if name.casefold() in other.casefold() and len(other) > len(name):
            tell(f"{other} keeps its own {kept} ms.")


@contextmanager
def _trial(wanted: tuple[str, ...], *, own: bool) -> Iterator[Trial]:
    """`own`: without what is kept of each speaker, to find it out anew."""
    trial = Trial(wanted, {} if own else delays())
    try:
        yield trial
    finally:
        trial.close()


def _trouble(trial: Trial) -> str:
    return f" ({trial.trouble()})" if trial.trouble() else ""
