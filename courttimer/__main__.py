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

from courttimer import papers, playing, recalling, reporting
from courttimer.errors import DeviceError, JournalError, PlanError, refused

if TYPE_CHECKING:
    from courttimer.plan.reading import Reading

DONE, COACH, OURS = 0, 2, 3
"""Exit codes: done; the coach's file or words are at fault; a device or a file of ours is."""


def main(argv: list[str] | None = None) -> int:
    """Run one command; give its exit code. Never a traceback for what a coach, a file or a device can do."""
    _speechless()
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
        return _told((f"{fault.filename or 'what is written'}: {refused(fault)}",), OURS)


def _speechless() -> None:
    """Where a stream was closed before the start Python has none: what would be said there goes nowhere."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115  # until the program ends


def _told(lines: tuple[str, ...], code: int) -> int:
    for line in lines:
        print(line, file=sys.stderr)
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="courttimer", description="The clock, the horn and the voice of a basketball practice.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    playing.add(commands, reading)
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
    speaker.add_argument("--wait", type=_seconds, default=10, metavar="S", help="time to walk to the far corner (10 seconds)")
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


def _rehearse(given: argparse.Namespace) -> int:
    from courttimer.rehearsal import rehearse, spoken, write

    found = reading(given.session)
    calls = _text(given.calls) if given.calls else ""
    trouble = spoken(found, given.wav) if given.wav else ""
    played = rehearse(found, calls, name=str(given.calls), at=given.at)
    write(played, wav=given.wav, cues=given.cues, journal=given.journal)
    for line in (*played.told(), *filter(None, (trouble,))):
        print(line)
    return DONE


def _enter(given: argparse.Namespace) -> int:
    from courttimer.entering import entered, keep

    found = reading(given.session)
    if not any(one.spots for one in found.session.segment):
        raise PlanError(f"{given.session}: there are no spots in it, so there is nothing to enter")
    try:
        events = entered(found, _asked, print, at=given.at)
    except (KeyboardInterrupt, EOFError):
        raise PlanError("stopped: nothing was kept; courttimer enter asks again from the first spot") from None
    print(f"Kept: {keep(found, events).path}")
    return DONE


def _asked(question: str) -> str:
    """One line of what is typed. Raises EOFError when nobody types any more: an empty line would say that the makes are unknown."""
    print(question, end="", flush=True)
    line = sys.stdin.readline() if sys.stdin is not None else ""
    if not line:
        raise EOFError
    return line


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


def _seconds(word: str) -> float:
    """Raises ArgumentTypeError for what nobody waits."""
    try:
        found = float(word)
    except ValueError:
        found = -1.0
    if not 0 <= found <= 600:
        raise argparse.ArgumentTypeError(f"0 to 600 seconds are wanted (got {word})")
    return found


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
    from courttimer.memory.exports import written
    from courttimer.shown import pictures

    with written(given.folder):
        given.folder.mkdir(parents=True, exist_ok=True)
    for name, svg in pictures(reading(given.session)).items():
        papers.leave(given.folder / f"{name}.svg", svg.encode())
    return DONE


if __name__ == "__main__":
    sys.exit(main())
