"""The score of a drill: a line of words, and the same drawn as large as there is room, so that it is read from the floor."""

from courttimer.practice.view import Inside, ScoreLine
from courttimer.screen import digits
from courttimer.screen.ink import Line, line

MOST = 4
"""More sides than these are not drawn: nobody would find the own one."""
US = "us"
"""The side against an imagined rival, as those read it who are it."""
BETWEEN = "   │   "
"""Without it 1 and 0 and 0 would be read as a hundred."""


def sides(inside: Inside) -> tuple[ScoreLine, ...]:
    """The lines of the score: of few sides all, in their order, of many those that have something, the best first."""
    known = {one.side: one for one in inside.score}
    wanted = _wanted(inside)
    if inside.target and 0 < len(wanted) <= MOST:
        return tuple(known.get(side, ScoreLine(side=side)) for side in wanted)
    if len(inside.score) <= MOST:
        return inside.score
    return tuple(sorted((one for one in inside.score if _worth(one, inside)), key=lambda one: -_worth(one, inside)))


def _wanted(inside: Inside) -> tuple[str, ...]:
    """Everyone who may score; a role only when it has."""
    roles = {one.role for one in inside.roles} - {one.side for one in inside.score}
    return tuple(side for side in inside.sides if side not in roles)


def rows_count(inside: Inside) -> bool:
    """Is it about so many in a row?"""
    return inside.target.endswith("in a row")


def _worth(one: ScoreLine, inside: Inside) -> int:
    if rows_count(inside):
        return one.row
    return one.makes if one.attempts else one.points


def figure(one: ScoreLine, inside: Inside) -> str:
    """What a side has: points, how long its row is, or makes out of attempts."""
    return f"{one.makes}/{one.attempts}" if one.attempts and not rows_count(inside) else str(_worth(one, inside))


def leader(inside: Inside) -> str:
    """Who leads, or nothing when nobody does alone."""
    told = sides(inside)
    best = max((_worth(one, inside) for one in told), default=0)
    first = [one.side for one in told if _worth(one, inside) == best]
    return first[0] if best and len(first) == 1 and len(told) > 1 else ""


def words(inside: Inside) -> str:
    """The whole score in words: "first to 5: blue 3, red 4, red leads"; nothing where none is kept."""
    told = [_told(one, inside) for one in _ranked(inside)]
    ahead = leader(inside)
    if inside.won:
        told.append(has_won(inside.won))
    elif ahead:
        told.append("we lead" if ahead == US else f"{ahead} leads")
    won = [f"{side} {count}" for side, count in inside.wins if count and side in inside.sides]
    about = inside.target or ("score" if told else "")
    score = f"{about}: {', '.join(told)}" if told else about
    ball = f"ball {inside.ball}" if inside.ball else ""
    return " · ".join(part for part in (score, ball, f"won today: {', '.join(won)}" if won and inside.target else "") if part)


def has_won(side: str) -> str:
    """That a side has won, in words."""
    return "we have won" if side == US else f"{side} has won"


def _ranked(inside: Inside) -> tuple[ScoreLine, ...]:
    """In their order while everyone has a place of their own; of many the best first."""
    shown = sides(inside)
    return tuple(sorted(shown, key=lambda one: -_worth(one, inside))) if len(_wanted(inside)) > MOST else shown


def _told(one: ScoreLine, inside: Inside) -> str:
    if rows_count(inside):
        return f"{one.side} {one.row}" + (f" (best {one.best})" if one.best > one.row else "")
    return f"{one.side} {one.makes} of {one.attempts}" if one.attempts else f"{one.side} {one.points}"


def score_line(inside: Inside, cells: int) -> list[Line]:
    """One line of it, if a score is kept; of a line that is too long the end is cut."""
    told = words(inside)
    about, colon, rest = told.partition(": ")
    return [line((f"{about[:1].upper()}{about[1:]}{colon}", "quiet"), (rest, "strong"))] if told else []


def drawn(inside: Inside, cells: int, rows: int) -> list[str]:
    """Names with their figures large below them, side by side, in so much room; nothing when it does not fit, or for many sides."""
    told = sides(inside)
    if not 0 < len(told) <= MOST or rows < 4:
        return []
    ahead = inside.won or leader(inside)
    heads = [f"► {one.side.upper()}" if one.side == ahead else one.side.upper() for one in told]
    return _columns(heads, [figure(one, inside) for one in told], cells, rows - 1)


def _columns(heads: list[str], figures: list[str], cells: int, rows: int) -> list[str]:
    each = (cells - len(BETWEEN) * (len(heads) - 1)) // len(heads)
    scale = min((digits.fit(figure, each, rows) or digits.Scale(0, 0) for figure in figures), key=lambda one: one.y)
    if scale.y < 2 or any(len(head) > each for head in heads):
        return []
    wide = [max(len(head), digits.cells(figure, scale)) for head, figure in zip(heads, figures, strict=True)]
    top = BETWEEN.join(head.ljust(room) for head, room in zip(heads, wide, strict=True))
    below = zip(*(digits.draw(figure, scale) for figure in figures), strict=True)
    return [top, *(BETWEEN.join(part.ljust(room) for part, room in zip(row, wide, strict=True)) for row in below)]
