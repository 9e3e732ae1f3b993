"""A user's folders with a name in every place where it may stand, and a search for it that knows nothing of how it is taken out."""

import json
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import astuple
from pathlib import Path

from courttimer.memory.forget import Forgotten, forget
from courttimer.memory.history import History
from courttimer.memory.journal import Told
from courttimer.memory.lines import encode
from courttimer.plan.reading import read
from courttimer.practice import events as ev
from courttimer.practice.records import record
from courttimer.report.played import rows
from courttimer.report.rows import Rows
from courttimer.sound import forgetting
from courttimer.sound.voice import stem
from tests.memory.practices import lines, produce

NAME = "Zoë"
BEFORE = ev.HereChanged(at=5, who=NAME, now="late")


def session(name: str, *, players: str = "", title: str = "Tern Street") -> str:
    listed = players or f'"{name}", "Bea"'
    return (
        f'title = "{title}"  # for {name}\n[squad]\nplayers = [{listed}]\nteams = {{ blue = ["{name}"], red = ["Bea"] }}\n'
        f'[[segment]]\nkind = "warm-up"\nname = "With {name}"\ntime = "5 min"\n[[segment]]\nkind = "spots"\nspots = ["top"]\n'
        f'shots = 10\ntime = "5 min"\n'
    )


def events(name: str) -> tuple[ev.Event, ...]:
    """A go, a mark, words, a refusal, makes, and a take back; the marks are those of practices.rows."""
    return (
        ev.Opened(at=0, wall="2026-11-24T18:00:00+01:00", day_ms=64_800_000),
        ev.Went(at=10, starts=10),
        ev.HoldEnded(at=10),
        ev.SegmentBegan(at=10, segment=0, lasts=300_000),
        ev.HereChanged(at=20, who=name, now="late"),
        ev.Marked(at=30, words=f"{name}/top/7"),
        ev.MakesEntered(at=40, segment=1, spot="top", round=1, makes=7),
        ev.Refused(at=50, call=f"here {name.upper()}", why=f"{name} is here"),
        ev.TakenBack(at=60, call="mark"),
    )


def fill(home: Path, name: str = NAME) -> None:
    """Journals whole, torn, damaged, escaped and called by the name; history, kept session, speech, exports, sound of our own."""
    data, journals = home / "data", home / "data" / "journals"
    journals.mkdir(parents=True)
    escaped = "".join(f"\\u{ord(letter):04x}" for letter in name)
    torn = encode(record(ev.Marked(at=70, words=f"well done {name}")))[:-4]
    slug = "zoe"
    whole = lines("2026-11-24T18:00:00.000+01:00", events(name), session=session(name))
    (journals / "2026-11-24-1800-tern.jsonl").write_bytes(whole + torn)
    (journals / "2026-11-24-1800-tern.jsonl.torn-0").write_bytes(torn + b"\xab and more")
    toml = session(name, players=f'"{escaped}", "Bea"')
    (journals / f"2026-11-25-1800-alone-{slug}.jsonl").write_bytes(lines("2026-11-25T18:00:00.000+01:00", events(name), session=toml))
    other = session("Cleo", title="Without")
    (journals / "2026-11-26-1800-without.jsonl").write_bytes(lines("2026-11-26T18:00:00.000+01:00", events("Cleo"), session=other))
    damaged = whole.split(b"\n")
    damaged[3] = damaged[3].replace(b":", b"") + name.encode() + json.dumps(name).encode()
    (journals / "2026-11-27-1800-damaged.jsonl").write_bytes(b"\n".join(damaged))
    by_ascii = b"\n".join(json.dumps(json.loads(line)).encode() for line in whole.split(b"\n")[:-1]) + b"\n"
    (journals / "2026-11-28-1800-ascii.jsonl").write_bytes(by_ascii.replace(b"2026-11-24", b"2026-11-28"))
    (data / "sessions").mkdir()
    (data / "sessions" / "tern.toml").write_text(session(unicodedata.normalize("NFD", name)), encoding="utf-8")
    _speech(home / "cache" / "speech" / "en-160-abc", name)
    told = History(data / "history.sqlite", rules=1)
    told.bring(journals, produce)
    told.close()
    (data / "speakers.json").write_text('{"Gym box": 180}', encoding="utf-8")


def _speech(folder: Path, name: str) -> None:
    folder.mkdir(parents=True)
    texts = {f"{name} to the top.": 900, "Water.": 400}
    (folder / "lengths.json").write_text(json.dumps(texts, ensure_ascii=False), encoding="utf-8")
    sources = {"Water.": "Waw-ter.", f"{name} to the top.": f"{name}, to the top."}
    (folder / "sources.json").write_text(json.dumps(sources, ensure_ascii=False), encoding="utf-8")
    for text in (*texts, f"{name}, not listed."):
        (folder / f"{stem(text)}.npy").write_bytes(b"sound of " + str(len(text)).encode())


def told_rows(told: Told) -> Rows:
    """The rows of a practice, as the program makes them."""
    files = told.header.files
    plan = read(told.header.session, files[told.header.session], files.__getitem__).session
    return rows(told.header.wall, plan, told.events)


def _came_to(told: Told) -> str:
    return json.dumps(astuple(told_rows(told)), ensure_ascii=False)


def forgotten(home: Path, name: str = NAME) -> Forgotten:
    """Take the name out, as the program does."""
    return forget(home / "data", name, prove=_came_to, speech=lambda holds: forgetting.forget(home / "cache", holds))


def traces(home: Path, name: str = NAME) -> list[str]:
    """Every file under the folder that still shows the name, by its bytes, in any of these encodings, or in its own name."""
    forms = set(_forms(name))
    found = []
    for path in sorted(path for path in home.rglob("*") if path.is_file()):
        content = path.read_bytes().lower()
        found += [f"{path.name}: {form!r}" for form in forms if form in content]
        found += [f"{path.name}: its name"] * bool(re.search(r"(?<![a-z])zo[eë](?![a-z])", path.name.lower()))
    return found


def _forms(name: str) -> Iterator[bytes]:
    """UTF-8 and UTF-16 composed and not, escapes of JSON once and twice, of every letter, of HTML; in small letters."""
    for sort in ("NFC", "NFD"):
        form = unicodedata.normalize(sort, name).lower()
        yield form.encode()
        yield form.encode("utf-16-le")
        yield json.dumps(form)[1:-1].encode()
        yield json.dumps(json.dumps(form)[1:-1])[1:-1].encode()
        yield "".join(f"\\u{ord(letter):04x}" for letter in form).encode()
        yield form.encode("ascii", "xmlcharrefreplace")
    yield name.lower().encode("latin-1", "replace")
