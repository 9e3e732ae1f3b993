"""The command line, one small function a command; the only file that knows every room, and ties them together.

Rooms are imported where they are used: `--help` and `check` import neither numpy nor the screen.
"""

import argparse
import gc
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from courttimer import papers, recalling, reporting
from courttimer.errors import DeviceError, JournalError, PlanError

if TYPE_CHECKING:
    from courttimer.evening import Evening
    from courttimer.plan.reading import Reading
    from courttimer.practice.view import View

LAST_ONES = 3
"""So many of the sessions run last are offered to be run again."""
DONE, COACH, OURS = 0, 2, 3
"""Exit codes: done; the coach's file or words are at fault; a device or a file of ours is."""


def main(argv: list[str] | None = None) -> int:
    """Run one command; give its exit code. Never a traceback for what a coach, a file or a device can do."""
    try:
        given = _parser().parse_args(argv)
        act: Callable[[argparse.Namespace], int] = given.act
        return act(given)
    except PlanError as fault:
        return _told(fault.lines, COACH)
    except (JournalError, DeviceError) as fault:
        return _told((str(fault),), OURS)
    except KeyboardInterrupt:
        return _told(("stopped", "courttimer resume goes on with a practice that was cut off"), DONE)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return OURS
    except OSError as fault:
        return _told((f"{fault.filename or 'a file'}: {fault.strerror or fault}",), OURS)


def _told(lines: tuple[str, ...], code: int) -> int:
    for line in lines:
        print(line, file=sys.stderr)
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="courttimer", description="The clock, the horn and the voice of a basketball practice.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    run = commands.add_parser("run", help="runs a practice")
    run.add_argument("session", nargs="?", help="a session file, or the name of a shipped or kept one")
    run.add_argument("--present", metavar="NAMES", help='who is here, such as "Ada, Bea"; all others are out')
    _playing(run, _run)
    resume = commands.add_parser("resume", help="goes on with the practice that was cut off")
    resume.add_argument("journal", nargs="?", help="its journal; without it, the last one that did not end")
    _playing(resume, _resume)
    check = commands.add_parser("check", help="tells mistakes and advice")
    check.add_argument("session", nargs="?", help="a session file, or the name of a shipped or kept one")
    check.add_argument("--json", action="store_true", help="as JSON")
    check.add_argument("--schema", action="store_true", help="prints the JSON Schema of session files")
    check.add_argument("--reference", action="store_true", help="prints the reference page of session files")
    check.set_defaults(act=_check)
    rehearse = commands.add_parser("rehearse", help="plays the whole practice in seconds, with no device")
    rehearse.add_argument("session", help="a session file, or the name of a shipped or kept one")
    rehearse.add_argument("--calls", type=Path, metavar="FILE", help="lines such as `0:41.500 over`")
    rehearse.add_argument("--wav", type=Path, metavar="FILE", help="what is heard, as sound: .wav, .flac or .ogg")
    rehearse.add_argument("--cues", type=Path, metavar="FILE", help="what is heard, as .json or .vtt")
    rehearse.add_argument("--journal", type=Path, metavar="FILE", help="what happened, a line an event")
    rehearse.add_argument("--at", metavar="H:MM", help="the time of day at which it begins; without it, the start of the floor time")
    rehearse.set_defaults(act=_rehearse)
    speaker = commands.add_parser("speaker", help="tries the speakers: lists them, plays every cue, finds out how late one is")
    speaker.add_argument("--list", action="store_true", help="only lists them")
    speaker.add_argument("--play", nargs="*", metavar="TONE", help="plays these tones, or all, at once")
    speaker.add_argument("--tap", action="store_true", help="finds out how late it is: tap along with space or Enter")
    speaker.add_argument("--delay", type=int, metavar="MS", help="keeps that it is so late, without tapping; wants --speaker")
    speaker.add_argument("--speaker", metavar="NAME", help="which one; without it, the one that a practice would take")
    speaker.add_argument("--wait", type=float, default=10, metavar="S", help="time to walk to the far corner (10 seconds)")
    speaker.set_defaults(act=_speaker)
    enter = commands.add_parser("enter", help="keeps a workout that was played from a phone, with its makes")
    enter.add_argument("session", help="a session file, or the name of a shipped or kept one")
    enter.add_argument("--at", metavar="H:MM", help="the time of day at which it began")
    enter.set_defaults(act=_enter)
    papers.add(commands, reading)
    reporting.add(commands)
    recalling.add(commands)
    pictures = commands.add_parser("pictures", help="makes a picture of every screen, as SVG")
    pictures.add_argument("folder", type=Path, help="where they go")
    pictures.add_argument("--session", default="first-practice", help="what is played on them")
    pictures.set_defaults(act=_pictures)
    return parser


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


def reading(word: str) -> "Reading":
    """The session that `word` names. Raises PlanError with every mistake."""
    from courttimer import locations
    from courttimer.plan.reading import read

    path = locations.find_session(word)
    if path.suffix == ".jsonl":  # a practice that was run: its journal holds the session's text
        from courttimer.memory.journal import tell

        header = tell(path).header
        return read(header.session, header.files[header.session], header.files.__getitem__)
    return read(path.name, locations.read(path), locations.reader(path.parent))


def _check(given: argparse.Namespace) -> int:
    gc.disable()  # over in a tenth of a second, of which looking for garbage takes a tenth
    try:
        return _checked(given)
    finally:
        gc.enable()


def _checked(given: argparse.Namespace) -> int:
    if given.schema:
        import json

        from courttimer.plan.schema import schema

        print(json.dumps(schema(), indent=2, ensure_ascii=False))
        return DONE
    if given.reference:
        from courttimer.plan.reference import reference

        print(reference(), end="")
        return DONE
    if given.session is None:
        raise PlanError("check wants a session file, or the name of a shipped or kept one")
    return _advise(given)


def _advise(given: argparse.Namespace) -> int:
    from courttimer.report.advice import advice, cautions_for

    lines: tuple[str, ...] = ()
    mistakes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    try:
        found = reading(given.session)
        told = advice(found.session, found.lines)
        lines = tuple(map(str, told))
        cautions = cautions_for(told)
    except PlanError as fault:
        if not given.json:
            raise
        mistakes = fault.lines
    if given.json:
        import json

        print(json.dumps({"mistakes": mistakes, "advice": lines}, ensure_ascii=False, indent=2))
    else:
        print("\n".join((*lines, *cautions)) or "No mistakes and no advice.")
    return COACH if mistakes else DONE


def _run(given: argparse.Namespace) -> int:
    from courttimer.evening import begin

    word = given.session
    if word is None:
        if given.plain or not _terminal():
            raise PlanError("run wants a session file, or the name of a shipped or kept one")
        word = _picked(given)
        if word is None:
            return DONE
    found = reading(word)
    evening = begin(found, rate=given.rate)
    if given.present is not None:
        evening.present(given.present)
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

    screen = _terminal() and not given.plain
    with evening.playing(found, silent=given.silent, speaker=given.speaker):
        if given.go:
            threading.Thread(target=evening.go, name="go", daemon=True).start()
        if screen and _on_screen(evening, found, given) == "ended":
            return DONE
        _plainly(evening, listen=not screen)
    return DONE


def _on_screen(evening: "Evening", found: "Reading", given: argparse.Namespace) -> str:
    from courttimer import shown

    return shown.run(evening, found, theme="light" if given.light else "dark")


def _plainly(evening: "Evening", *, listen: bool) -> None:
    """Lines instead of a screen, until the practice has ended; calls come on standard input."""
    from courttimer.screen import plain

    if listen and sys.stdin is not None:
        evening.listen(sys.stdin)
    before: View | None = None
    troubled: tuple[str, ...] = ()
    while True:
        view, trouble = evening.conductor.view(), evening.trouble()
        try:
            for line in (*plain.lines(before, view), *plain.troubles(troubled, trouble)):
                print(line, flush=True)
        except OSError:
            pass  # nobody reads any more: the practice goes on all the same
        before, troubled = view, trouble
        if evening.over():
            return
        evening.wait(0.1)


def _rehearse(given: argparse.Namespace) -> int:
    from courttimer.rehearsal import rehearse, spoken, write

    found = reading(given.session)
    calls = _text(given.calls) if given.calls else ""
    trouble = spoken(found, given.wav) if given.wav else ""
    played = rehearse(found, calls, name=str(given.calls), at=given.at)
    write(played, wav=given.wav, cues=given.cues, journal=given.journal)
    papers.left(given.wav, given.cues, given.journal)
    for line in (*played.told(), *filter(None, (trouble,))):
        print(line)
    return DONE


def _enter(given: argparse.Namespace) -> int:
    from courttimer.entering import entered, keep

    found = reading(given.session)
    if not any(one.spots for one in found.session.segment):
        raise PlanError(f"{given.session}: there are no spots in it, so there is nothing to enter")
    events = entered(found, _asked, print, at=given.at)
    print(f"Kept: {keep(found, events).path}")
    return DONE


def _asked(question: str) -> str:
    print(question, end="", flush=True)
    return sys.stdin.readline() if sys.stdin is not None else ""


def _speaker(given: argparse.Namespace) -> int:
    from courttimer import loudspeaker

    wanted = (given.speaker,) if given.speaker else ()
    if given.delay is not None:
        if not wanted:
            raise PlanError("--delay wants --speaker NAME: it is kept under that name")
        loudspeaker.set_delay(given.speaker, given.delay, print)
    elif given.tap:
        loudspeaker.tap(wanted, _flushed)
    elif given.list:
        loudspeaker.show(wanted, print)
    else:
        loudspeaker.show(wanted, _flushed)
        loudspeaker.play(wanted, given.play or [], _flushed, wait_s=given.wait if given.play is None else 0)
    return DONE


def _flushed(line: str) -> None:
    print(line, flush=True)


def _text(path: Path) -> str:
    """The text of the coach's file of calls. Raises PlanError when there is none, or when it is no text."""
    from courttimer import locations

    try:
        return locations.read(path).decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise PlanError(f"{path}: this is no text in UTF-8 (byte {fault.start + 1}); save it as plain text") from None


def _pictures(given: argparse.Namespace) -> int:
    from courttimer.shown import pictures

    given.folder.mkdir(parents=True, exist_ok=True)
    for name, svg in pictures(reading(given.session)).items():
        (given.folder / f"{name}.svg").write_text(svg, encoding="utf-8")
        papers.left(given.folder / f"{name}.svg")
        print(given.folder / f"{name}.svg")
    return DONE


if __name__ == "__main__":
    sys.exit(main())
