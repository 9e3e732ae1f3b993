"""Journals for the tests of the history, and a producer that reads its rows straight from their marks."""

from pathlib import Path
from random import Random

from courttimer.memory.history import History
from courttimer.memory.journal import Header, Told
from courttimer.memory.lines import encode
from courttimer.practice.events import Event, Marked, PracticeEnded
from courttimer.practice.records import record
from courttimer.report.rows import Player, Practice, Result, Rows, Shot, Work

PLAYERS = ("Ada", "Bea", "Cleo")
SPOTS = ("top", "left wing", "right corner")
SESSION = 'title = "Tern Street"\n[[segment]]\nkind = "warm-up"\ntime = "5 min"\n'


def lines(wall: str, events: tuple[Event, ...], *, title: str = "Tern Street", session: str = SESSION) -> bytes:
    """A journal's bytes."""
    files = {"tern.toml": session}
    head = {"what": "journal", "wall": wall, "program": "0.1.0", "title": title, "session": "tern.toml", "files": files, "format": 1}
    return b"".join(map(encode, (head, *map(record, events))))


def wall(number: int) -> str:
    """The time of day of practice `number`: three a week from the autumn of 2020."""
    day = number % 28 + 1
    return f"{2020 + number // 336}-{number // 28 % 12 + 1:02d}-{day:02d}T18:00:00.000+01:00"


def events(number: int) -> tuple[Event, ...]:
    """Ten shots a player and spot, the makes in the words of a mark."""
    r = Random(number)
    shots = (Marked(at=at, words=f"{p}/{s}/{r.randint(0, 10)}") for at, (p, s) in enumerate((p, s) for p in PLAYERS for s in SPOTS))
    return (*shots, PracticeEnded(at=1_000_000 + number))


def write(folder: Path, number: int) -> Path:
    """Practice `number`, as a journal in the folder."""
    folder.mkdir(exist_ok=True)
    path = folder / f"practice-{number:05d}.jsonl"
    path.write_bytes(lines(wall(number), events(number)))
    return path


def produce(told: Told) -> Rows:
    """The rows of such a journal."""
    return rows(told.header, told.events)


def rows(header: Header, told: tuple[Event, ...]) -> Rows:
    words = [e.words.split("/") for e in told if isinstance(e, Marked)]
    shots = tuple(Shot(player=p, spot=s, makes=int(n), attempts=10) for p, s, n in words)
    played = max((e.at for e in told), default=0)
    return Rows(
        practice=Practice(
            wall=header.wall, title=header.title, planned=300_000, played=played, live=600_000, reps=9, load=100, ended=True,
        ),
        work=(Work(kind="drill", planned=200_000, played=played, live=600_000, reps=9),),
        shots=shots,
        results=tuple(Result(drill="Spots", who=shot.player, sort="makes", value=shot.makes) for shot in shots),
        players=tuple(Player(player=p, played=played, reps=9, load=100) for p in PLAYERS),
    )  # fmt: skip


def dump(history: History) -> list[str]:
    """All that the history holds, in an order of its own."""
    return sorted(history.base.iterdump())
