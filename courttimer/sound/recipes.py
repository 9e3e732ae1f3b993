"""What each tone is made of, read from `tones.toml` of the folder `sounds`, with every mistake told at once."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeGuard

from courttimer.errors import PlanError
from courttimer.sound.patterns import low_alarm, taken_for

NAMES = ("go", "end", "open", "close", "warning", "change", "water", "back")
"""The tones that a practice asks for: a file that replaces ours may leave out any of them."""
LOWEST, HIGHEST = 500, 2500
"""The band in which most of a tone's energy must lie, in Hz (ISO 7731:2003, 5.3, from memory)."""
SOFT = 5
"""No edge is shorter, in ms: it would click."""
LONGEST = 3000
_FIELDS = ("about", "partials", "pattern", "times", "pause", "pitch", "rise", "fall")


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """One tone."""

    name: str
    partials: tuple[tuple[float, float], ...]
    """Of each: its frequency in Hz, and its share of the amplitude."""
    runs: tuple[int, ...]
    """The rhythm: ms of sound, ms of silence, ms of sound, and so on; it ends with sound."""
    pitch: tuple[float, ...]
    """Of each sound in the rhythm: by what its partials are multiplied."""
    rise: int
    fall: int
    """How long its soft edges are, in ms."""
    recording: Path | None = None
    """A coach's own, heard instead of the partials; `runs` are then as measured from it."""
    lasts: int = 0
    """Of a recording: how long it is with its ends, in ms."""

    @property
    def length(self) -> int:
        """In ms."""
        return self.lasts or sum(self.runs)


def read(path: Path, base: Mapping[str, Recipe] | None = None) -> dict[str, Recipe]:
    """The recipes of a file by name, over those of `base`.

    Raises PlanError with a line for each mistake, among them a tone that is in neither, or that sounds like a danger signal.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, ValueError) as fault:
        raise PlanError(f"{path.name}: cannot be read as text ({_why(fault)}); put back the file that came with the program") from fault
    return dict(base or {}) | parse(text, path.name, known=tuple(base or ()))


def _why(fault: Exception) -> str:
    return fault.strerror or "unreadable" if isinstance(fault, OSError) else "it is not UTF-8"


def parse(text: str, file: str, known: tuple[str, ...] = ()) -> dict[str, Recipe]:
    """The recipes written in `text`; those `known` elsewhere may be missing. Raises PlanError, as `read` does."""
    try:
        tables = tomllib.loads(text)
    except (ValueError, RecursionError) as fault:
        at = re.search(r"line (\d+)", str(fault))
        raise PlanError(f"{file}{':' + at[1] if at else ''}: this is not TOML ({fault}); correct this line") from fault
    found, lines = {}, []
    for name, table in tables.items():
        mistakes = tuple(_mistakes(name, table))
        if mistakes:
            lines += [f'{file}:{_line(text, name, key)}: tone "{name}"{f", {key}" if key else ""}: {what}' for key, what in mistakes]
        else:
            found[name] = _recipe(name, table)
    lines += [f'{file}: tone "{n}" is missing; add a table [{n}]' for n in NAMES if n not in tables and n not in known]
    if lines:
        raise PlanError(*lines)
    return found


def _line(text: str, name: str, key: str) -> int:
    """The line of `key` in the table of that name; of its heading, or the first, if it is not found."""
    rows = text.splitlines()
    heading = next((i for i, row in enumerate(rows) if re.match(rf'\s*\[\s*"?{re.escape(name)}"?\s*\]', row)), 0)
    for i in range(heading + 1, len(rows)):
        if rows[i].lstrip().startswith("["):
            break
        if key and re.match(rf"\s*{re.escape(key)}\s*=", rows[i]):
            return i + 1
    return heading + 1


def _recipe(name: str, table: dict[str, Any]) -> Recipe:
    runs = _runs(table)
    pitch = table.get("pitch", [1]) * len(runs)
    return Recipe(
        name=name,
        partials=tuple((float(hz), float(share)) for hz, share in table["partials"]),
        runs=runs,
        pitch=tuple(float(p) for p in pitch[: len(runs) // 2 + 1]),
        rise=table.get("rise", 2 * SOFT),
        fall=table.get("fall", 2 * SOFT),
    )


def _runs(table: dict[str, Any]) -> tuple[int, ...]:
    pattern = table["pattern"]
    return tuple(pattern + [table.get("pause", 0), *pattern] * (table.get("times", 1) - 1))


def _mistakes(name: str, table: object) -> Iterator[tuple[str, str]]:
    """Of each mistake: the key it is under, and what it is and what to do."""
    if not isinstance(table, dict):
        yield "", f"must be a table such as [{name}] (got {_short(table)})"
        return
    for key in table:
        if key not in _FIELDS:
            yield key, f'"{key}" is not known; a tone has {", ".join(_FIELDS)}'
    shape = list(_shape(table))
    yield from shape or _sense(table)


def _shape(table: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """What is missing or has the wrong type or size."""
    partials = table.get("partials")
    if not _is_list(partials, 16) or not all(_is_list(p, 2) and len(p) == 2 and _between(p[0], 50, 5000) for p in partials):
        yield "partials", f"must be 1 to 16 pairs [Hz, share], such as [[700, 1.0], [1400, 0.5]] (got {_short(partials)})"
    elif not all(_between(p[1], 0.001, 1) for p in partials):
        yield "partials", "each share must lie between 0.001 and 1"
    pattern = table.get("pattern")
    if not _is_list(pattern, 39) or len(pattern) % 2 == 0 or not all(_whole(ms, 10, LONGEST) for ms in pattern):
        yield (
            "pattern",
            f"must be an odd count of whole ms from 10 up, sound first and last, such as [90, 60, 330] (got {_short(pattern)})",
        )
    for key, low, high in (("times", 1, 20), ("pause", 10, LONGEST), ("rise", SOFT, 1000), ("fall", SOFT, 1000)):
        if key in table and not _whole(table[key], low, high):
            yield key, f"must be a whole number from {low} to {high} (got {_short(table[key])})"
    if table.get("times", 1) != 1 and "pause" not in table:
        yield "times", 'needs "pause", the ms of silence between the times'
    if "pitch" in table and not (_is_list(table["pitch"], 20) and all(_between(p, 0.25, 4) for p in table["pitch"])):
        yield "pitch", f"must be a list of numbers from 0.25 to 4, one for each sound (got {_short(table['pitch'])})"


def _sense(table: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """What is well formed but must not be heard in a gym."""
    runs = _runs(table)
    edges = table.get("rise", 2 * SOFT) + table.get("fall", 2 * SOFT)
    if min(runs[::2]) < edges:
        yield (
            "pattern",
            f"a sound of {min(runs[::2])} ms has no room for its edges of {edges} ms; make it longer, or rise and fall shorter",
        )
    if sum(runs) > LONGEST:
        yield "pattern", f"lasts {sum(runs)} ms, longer than {LONGEST} ms; make it shorter"
    if signal := taken_for(runs):
        yield "pattern", f"may be taken for {signal}; change the rhythm by more than a tenth"
    signals = (low_alarm((hz * p, share) for hz, share in table["partials"]) for p in table.get("pitch", [1]))
    if signal := next(filter(None, signals), ""):
        yield "partials", f"may be taken for {signal}; move its lowest partial by more than a tenth, or add the octave"
    if _inside(table) < 0.5:
        yield (
            "partials",
            f"most of its energy lies outside {LOWEST} to {HIGHEST} Hz, where a gym does not hear it; move or add partials",
        )


def _inside(table: dict[str, Any]) -> float:
    """The share of the energy that lies in the band where a gym hears it."""
    energies: list[tuple[float, float]] = [(hz * p, share**2) for p in table.get("pitch", [1]) for hz, share in table["partials"]]
    return sum(e for hz, e in energies if LOWEST <= hz <= HIGHEST) / sum(e for _, e in energies)


def _short(value: object) -> str:
    try:
        return repr(value)[:60]
    except ValueError:  # an integer with too many digits to print
        return "a number without end"


def _is_list(value: object, most: int) -> TypeGuard[list[Any]]:
    return isinstance(value, list) and 1 <= len(value) <= most


def _between(value: object, low: float, high: float) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high


def _whole(value: object, low: int, high: int) -> bool:
    return isinstance(value, int) and _between(value, low, high)
