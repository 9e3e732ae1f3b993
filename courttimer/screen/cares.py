"""What keeps players safe, and what was changed to end on the minute, as lines of words, a line a change."""

from courttimer.practice.view import CARE, Care, View
from courttimer.screen.say import BY_LENGTH, sentence


def cares(before: View | None, now: View) -> list[str]:
    """What is new since `before`; without it everything that is not as it should be."""
    was, care = before.care if before is not None else CARE, now.care
    told = [BY_LENGTH] if now.by_length and (before is None or not before.by_length) else []
    told += _heat(was, care)
    told += [care.lightning] if care.lightning and not was.lightning else []
    told += [f"Changed: {sentence(care.fitted)}"] if care.fitted and care.fitted != was.fitted else []
    return [*told, *_water(before, now)]


def _heat(was: Care, care: Care) -> list[str]:
    """How hot it is, and what that asks for."""
    if not care.heat or (was.heat, was.heat_told, was.heat_asks) == (care.heat, care.heat_told, care.heat_asks):
        return []
    return [f"Heat, level {care.heat}: {sentence(care.heat_told)}", *(sentence(asks[0].upper() + asks[1:]) for asks in care.heat_asks)]


def _water(before: View | None, now: View) -> list[str]:
    """That it is due, and how much there is to drink when it has come."""
    if now.kind == "water":
        new = before is None or before.segment != now.segment
        return [f"Water: {sentence(now.care.water_card)}"] if new and now.care.water_card else []
    return ["Water is due."] if _due(now) and not (before is not None and _due(before)) else []


def _due(view: View) -> bool:
    return view.phase != "ended" and view.kind != "water" and view.care.water_in is not None and view.care.water_in <= 0
