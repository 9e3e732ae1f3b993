"""What the screen is given by whoever starts it: functions to look and to call with, and the facts that no look holds."""

from collections.abc import Callable
from dataclasses import dataclass

from courttimer.practice.calls import Call
from courttimer.practice.view import View


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """What the start screen tells beside the view."""

    floor: str = ""
    """The floor time as it is written: "18:00-19:15"."""
    squad: tuple[str, ...] = ()
    stands: tuple[str, ...] = ()
    """How long each of those here really plays, a line a drill."""
    advice: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    """What is missing (speaker, voice, battery, lid) and what that means, a sentence each."""
    speaker: str = ""
    """Where the sound goes; empty while nothing can be heard."""
    prepared: tuple[int, int] = (0, 0)
    """Phrases that are ready to be spoken, of how many."""
    noted: str = ""
    """What was just kept with the practice before, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Over:
    """What the end screen tells."""

    done: tuple[str, ...] = ()
    """What was done, a line each."""
    marks: tuple[tuple[int, str], ...] = ()
    """Each mark: the practice's time in ms since go, and its words, if it has any."""
    kept: str = ""
    """Where the record lies."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Volume:
    """One of the volumes that can be turned: what it is of, and how loud, in dB beside where it was."""

    of: str
    db: int


def _silent() -> tuple[Volume, ...]:
    return ()


def _unturned(of: str, db: int) -> None:
    """Nothing can be turned."""


def _nothing() -> tuple[str, ...]:
    return ()


def _no_note(number: int, words: str) -> None:
    """Nobody keeps the words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """All functions return at once and may be called from the screen's thread at any time."""

    call: Callable[[Call], None]
    view: Callable[[], View]
    trouble: Callable[[], tuple[str, ...]] = _nothing
    """What is wrong with sound or memory, in words."""
    deaf: Callable[[], bool] = lambda: False
    """No horn can be heard: the screen flashes instead."""
    start: Callable[[], Start] = Start
    over: Callable[[], Over] = Over
    note: Callable[[int, str], None] = _no_note
    """Keeps words for the mark of this index."""
    more: Callable[[], tuple[str, ...]] = _nothing
    """Heat, speaker: lines for the key `o`."""
    volumes: Callable[[], tuple[Volume, ...]] = _silent
    """What can be turned louder or softer, for the key `o`."""
    turn: Callable[[str, int], None] = _unturned
    """Turn one of them to so many dB."""
