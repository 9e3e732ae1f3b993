"""How hot it is: what the session's file or the coach says, as the one answer that `care.heat` gives."""

import re

from courttimer.care import heat
from courttimer.plan.model import Heat

SAID = 'how hot it is, such as "31 C 60 %", "wbgt 28 C", or "hot"; "cool" for not hot'
_DEGREES = "(-?[0-9]{1,3}(?:[.,][0-9]{1,2})?) *°? *([cf])"
_AIR = re.compile(f"(?:air +)?{_DEGREES}(?: *, *| +)(?:humidity +)?([0-9]{{1,3}}) *%?")
_WBGT = re.compile(f"wbgt +{_DEGREES}")
_WEEK = " first week"


def answer(said: Heat | str | None, region: int | None = None) -> heat.Answer | None:
    """The level, its words and its source; None when nothing is said of heat."""
    if not isinstance(said, Heat):
        return heat.called_hot() if said else None
    if said.wbgt is not None:
        return heat.measured(said.wbgt, region, said.first_week)
    if said.air is None or said.humidity is None:
        return None
    return heat.estimated(said.air, said.humidity, region, said.first_week)


def level(said: Heat | str | None, region: int | None = None) -> int:
    """0 (normal, or nothing is said) to 4 (no practice)."""
    found = answer(said, region)
    return found.level if found else 0


def ask_week(said: Heat | str | None, level: int) -> bool:
    """Is it worth asking whether the players are not used to the heat? Of what was not measured nothing follows from it."""
    return isinstance(said, Heat) and not said.first_week and 0 < level <= heat.NONE_ABOVE


def heard(text: str) -> Heat | str | None:
    """What a coach types on the running board: "31 C 60 %", "88 F 60", "wbgt 28 C", "hot", "cool"; "first week" may follow a number.

    Raises ValueError with what to type for all else.
    """
    said = " ".join(text.lower().split()) if len(text) <= 60 else ""
    if said in ("hot", "cool"):
        return "hot" if said == "hot" else None
    new, said = said.endswith(_WEEK), said.removesuffix(_WEEK)
    if found := _WBGT.fullmatch(said):
        return Heat(wbgt=_celsius(found[1], found[2], 50), first_week=new)
    if (found := _AIR.fullmatch(said)) and 1 <= int(found[3]) <= 100:
        return Heat(air=_celsius(found[1], found[2], 55), humidity=int(found[3]), first_week=new)
    raise ValueError(f"type {SAID}")


def _celsius(number: str, scale: str, most: int) -> float:
    """Raises ValueError for what no thermometer in a gym shows."""
    given = float(number.replace(",", "."))
    found = given if scale == "c" else (given - 32) / 1.8
    if not -10 <= found <= most:
        raise ValueError(f"from -10 to {most} °C is expected; type {SAID}")
    return found
