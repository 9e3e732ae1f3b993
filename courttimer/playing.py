"""The commands that play a practice, put together: run and resume, on a screen or as lines.

Imported with the command line, so nothing is imported here that `--help` need not pay for.
"""

import argparse
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from courttimer.errors import PlanError

if TYPE_CHECKING:
    from courttimer.evening import Evening
    from courttimer.plan.reading import Reading
    from courttimer.practice.view import View

Reads = Callable[[str], "Reading"]
LAST_ONES = 3
"""So many of the sessions run last are offered to be run again."""
DONE = 0


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]", reading: Reads) -> None:
    """Add the commands; `reading` gives the session that a word names."""
    run = commands.add_parser("run", help="runs a practice")
    run.add_argument("session", nargs="?", help="a session file, or the name of a shipped or kept one")
    run.add_argument("--present", metavar="NAMES", help='who is here, such as "Ada, Bea"; all others are out')
    _playing(run, lambda given: _run(given, reading))
    resume = commands.add_parser("resume", help="goes on with the practice that was cut off")
    resume.add_argument("journal", nargs="?", help="its journal; without it, the last one that did not end")
    _playing(resume, _resume)


def _playing(command: argparse.ArgumentParser, act: Callable[[argparse.Namespace], int]) -> None:
    command.add_argument("--plain", action="store_true", help="lines instead of a screen; calls on standard input, one a line")
    command.add_argument("--go", action="store_true", help="starts at once")
    command.add_argument("--silent", action="store_true", help="no sound")
    command.add_argument("--speaker", metavar="NAME", help="the speaker to use, before those of the session")
    command.add_argument("--light", action="store_true", help="dark on light")
    command.add_argument("--rate", type=_rate, default=1, help=argparse.SUPPRESS)
    command.set_defaults(act=act)


def _rate(word: str) -> int:
    """How many times faster than the wall's the practice's clock runs."""
    if not word.isdecimal() or int(word) < 1:
        raise argparse.ArgumentTypeError(f"a whole number from 1 on is wanted (got {word})")
    return int(word)


def _run(given: argparse.Namespace, reading: Reads) -> int:
    from courttimer.evening import absent, begin

    word = given.session
    if word is None:
        if given.plain or not _terminal():
            raise PlanError("run wants a session file, or the name of a shipped or kept one")
        word = _picked(given)
        if word is None:
            return DONE
    found = reading(word)
    out = absent(found.session, given.present) if given.present is not None else ()
    evening = begin(found, rate=given.rate)
    evening.out(out)
    return _play(evening, found, given)


def _resume(given: argparse.Namespace) -> int:
    from courttimer import evening, locations
    from courttimer.errors import BusyError
    from courttimer.memory.shelf import cut_off

    paths = [Path(given.journal)] if given.journal else cut_off(locations.journals())
    busy: BusyError | None = None
    for path in paths:
        try:
            found, again = evening.found(path, rate=given.rate)
        except BusyError as fault:  # that practice still runs somewhere; one before it may be the one that was cut off
            busy = busy or fault
        else:
            return _play(again, found, given)
    raise busy or PlanError("there is no practice to go on with: the last one ended, or none was run yet")


def _picked(given: argparse.Namespace) -> str | None:
    """The coach's choice among the sessions run last, those kept, and those that come with the program."""
    from courttimer import locations
    from courttimer.memory.shelf import latest
    from courttimer.screen.picker import pick

    shelf = [(f"again: {title}", str(path)) for title, path in latest(locations.journals(), LAST_ONES)]
    for folder in (locations.kept(), locations.sessions()):
        if folder.is_dir():
            shelf += [(path.stem.replace("-", " "), str(path)) for path in sorted(folder.glob("*.toml"))]
    chosen = pick(tuple(shelf), theme="light" if given.light else "dark")
    return None if chosen is None else str(chosen)


def _terminal() -> bool:
    # Either is None when it was closed before the start.
    return all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stdout))


def _play(evening: "Evening", found: "Reading", given: argparse.Namespace) -> int:
    import threading

    show: Callable[..., str] | None = None
    if _terminal() and not given.plain:
        from courttimer import shown  # before the speaker: its own imports would hold the first screen up

        show = shown.run
    with evening.playing(found, silent=given.silent, speaker=given.speaker):
        if given.go:
            threading.Thread(target=evening.go, name="go", daemon=True).start()
        if show is None:
            _plainly(evening, listen=True)
        elif show(evening, found, theme="light" if given.light else "dark") == "gone" and (given.go or _begun(evening)):
            _plainly(evening, listen=False)
    return DONE


def _begun(evening: "Evening") -> bool:
    """A practice outlives its terminal; one that waits for go would wait for ever."""
    return evening.conductor.view().phase != "start"


def _plainly(evening: "Evening", *, listen: bool) -> None:
    """Lines instead of a screen, until the practice has ended; calls come on standard input."""
    from courttimer.screen import plain

    if listen and sys.stdin is not None:
        evening.listen(sys.stdin)
    before: View | None = None
    troubled: tuple[str, ...] = ()
    noted = ""
    while True:
        view, trouble = evening.conductor.view(), evening.trouble()
        new, noted = [evening.noted] * (evening.noted != noted), evening.noted
        _print(*plain.lines(before, view), *new, *plain.troubles(troubled, trouble))
        before, troubled = view, trouble
        if evening.over():
            _print(*_after(evening))
            return
        evening.wait(0.1)


def _after(evening: "Evening") -> Iterator[str]:
    """What the board shows after the last horn."""
    from courttimer.errors import JournalError
    from courttimer.reporting import short_form

    with suppress(JournalError):
        yield from short_form(evening.journal.path)
    yield f"Kept: {evening.journal.path}"
    yield "How hard was it, 0 to 10? courttimer report --effort 7 keeps it, or effort 7 at the next start."


def _print(*lines: str) -> None:
    with suppress(OSError):  # nobody reads any more: the practice goes on all the same
        for line in lines:
            print(line, flush=True)
