"""How a mistake is put in words: what was got, which names there are, and which of them was probably meant."""

from collections.abc import Iterable, Sequence

_SHOWN = 40
_BIG = 10**12


def shown(value: object) -> str:
    """A TOML value as the coach wrote it, on one line and never long: text cut at 40 characters, lists and tables by size."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _quoted(value if len(value) <= _SHOWN else value[:_SHOWN] + "…")
    if isinstance(value, int):
        return str(value) if abs(value) < _BIG else "a very large number"
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, list):
        return "an empty list" if not value else f"a list of {len(value)}"
    return "a table" if isinstance(value, dict) else "a date or a time of day"


def listed(names: Iterable[str]) -> str:
    """"a", "b" or "c", each in quotation marks."""
    return _joined([_quoted(name) for name in names])


def ticked(names: Iterable[str]) -> str:
    """The same for the reference page, each as code."""
    return _joined([f'`"{name}"`' for name in names])


def nearest(name: object, names: Sequence[str]) -> str:
    """"; did you mean …?", or nothing when none is near."""
    if not isinstance(name, str) or len(name) > _SHOWN:
        return ""
    from difflib import get_close_matches  # wanted only after a mistake: `check` of a good file stays quick

    found = get_close_matches(name, names, 1) or get_close_matches(name.lower(), names, 1)
    return f'; did you mean "{found[0]}"?' if found else ""


def _quoted(text: str) -> str:
    seen = "".join(char if char.isprintable() else f"\\u{ord(char):04x}" for char in text.replace("\\", "\\\\"))
    return '"' + seen.replace('"', '\\"') + '"'


def _joined(each: list[str]) -> str:
    return " or ".join(filter(None, (", ".join(each[:-1]), each[-1])))
