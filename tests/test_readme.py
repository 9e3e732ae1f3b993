"""What the README tells a coach to type is what the program takes, and what it names is there."""

import argparse
import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest

from courttimer import __main__ as line, locations
from courttimer.practice.calls import WHATS, parse
from courttimer.rehearsal import rehearse

HERE = Path(__file__).parents[1]
README = (HERE / "README.md").read_text(encoding="utf-8")


def commands() -> dict[str, argparse.ArgumentParser]:
    """The program's commands by their names."""
    found = next(action.choices for action in line._parser()._actions if action.choices is not None)
    assert isinstance(found, dict)
    return found


def typed() -> Iterator[tuple[str, ...]]:
    """Every command of the README, as words; what follows a comment's gap is left out."""
    names = "|".join(commands())
    for found in re.findall(rf"(?:^ {{4}}|`|&& )(?:\S*[/\\])?courttimer ((?:{names})\b[^`\n]*)", README, re.MULTILINE):
        words = shlex.split(re.split(r" {2,}", found)[0].replace("\\", "/"))
        yield tuple("first-practice" if word == "SESSION" else word for word in words)


@pytest.mark.parametrize("words", sorted(set(typed())), ids=" ".join)
def test_every_command_in_it_is_taken(words: tuple[str, ...]) -> None:
    assert line._parser().parse_args(words).act


def test_all_commands_are_told() -> None:
    assert {words[0] for words in typed()} == set(commands())
    assert len(commands()) >= 12


def test_every_option_that_it_names_is_one() -> None:
    options = set(re.findall(r"--[a-z]+", README))
    assert options >= {"--plain", "--go", "--silent", "--speaker", "--calls", "--wav", "--cues", "--journal"}
    assert [one for one in options if one not in helped()] == []


def helped() -> str:
    return "\n".join(command.format_help() for command in commands().values())


def test_every_call_that_can_be_typed_is_named_and_no_other() -> None:
    listed = README.partition("Calls are typed")[2].partition("--go")[0]
    calls = [parse(call) for call in re.findall(r"`([^`-]+)`", listed)]
    assert all(call.by == "line" for call in calls)
    assert {call.what for call in calls} == set(WHATS) - {"space", "forward", "back"}


def test_its_sessions_pages_and_pictures_are_there() -> None:
    named = {*re.findall(r"\bsessions/[\w./-]+\.(?:toml|md)", README)}
    assert named >= {"sessions/first-practice.toml", "sessions/team-practice.toml", "sessions/workout-alone.toml"}
    pictures = re.findall(r"\]\((\.pictures/[\w.]+)\)", README)
    shown = {Path(one).stem for one in pictures}
    assert shown >= {"start", "board", "stations", "here", "report", "sheet"}
    assert [name for name in (*named, *pictures) if not (HERE / name).is_file()] == []


def test_its_file_of_calls_presses_what_it_says_in_the_first_practice() -> None:
    calls = next(block for block in re.findall(r"(?:^ {4}.*\n)+", README, re.MULTILINE) if "0:00 go" in block)
    played = rehearse(line.reading(str(locations.sessions() / "first-practice.toml")), calls)
    assert [told for told in played.told() if "refused" in told] == []
