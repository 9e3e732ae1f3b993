"""Makes at the spots of a workout: what was entered, spot by spot and round by round; what was not stays unknown."""

from courttimer.practice.view import Inside, SpotView
from courttimer.screen.ink import Line, fold, line

UNKNOWN = "–"


def spots(inside: Inside, cells: int, rows: int) -> list[Line]:
    """Every spot with the makes of each round, in as many lines as allowed; nothing where no spots are shot."""
    if not inside.spots or rows < 1:
        return []
    of = f"Makes of {inside.shots}" if inside.shots is not None else "Makes"
    names = dict.fromkeys(one.spot for one in inside.spots)
    parts = [line((f"{of}:", "quiet")), *(_spot(inside, name) for name in names)]
    return fold(parts, "   ", cells, rows)


def _spot(inside: Inside, name: str) -> Line:
    counts = " ".join(UNKNOWN if one.makes is None else str(one.makes) for one in inside.spots if one.spot == name)
    now = name == inside.spot
    return line((f"{'► ' if now else ''}{name} ", "plain"), (counts, "strong"))


def missing(inside: Inside, *, whole: bool = False) -> tuple[SpotView, ...]:
    """What can be entered now: the spots of this round that are not yet, or all of them for putting one right."""
    return tuple(one for one in inside.spots if whole or (one.round == inside.round and one.makes is None))
