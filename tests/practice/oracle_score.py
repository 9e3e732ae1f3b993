"""What the counting oracle knows of scores: told again from the words of the handbook, and not from `scoring.py`."""

from dataclasses import dataclass, field

from courttimer.plan.model import Outcome, Score, Segment, Station

Play = Segment | Station
PAY, LEAST_PAY = 20, 3
"""The engine's most and least of a consequence, made small."""


@dataclass(slots=True)
class Book:
    """The score of one lane, and who stands where: the role of each team, nothing without teams."""

    points: dict[str, int] = field(default_factory=dict)
    rows: dict[str, int] = field(default_factory=dict)
    won: bool = False


def playing(play: Play) -> list[str]:
    return [role.name for role in play.roles if role.plays]


def side(play: Play, outcome: Outcome, on: dict[str, str]) -> str:
    """Who gets it: the team in that role, or the role; without one the only role that plays, or all together."""
    if play.score and play.score.by == "rival":
        return "us"
    role = outcome.to or (playing(play)[0] if len(playing(play)) == 1 else "")
    return on.get(role, role) or "all"


def tried(play: Play, outcome: Outcome, on: dict[str, str]) -> str:
    if outcome.to or (play.score and play.score.by == "rival"):
        return side(play, outcome, on)
    first = (playing(play) or [""])[0]
    return on.get(first, first) or "all"


def made(score: Score, outcome: Outcome | None) -> bool:
    return outcome is not None and (outcome.name in score.of if score.of else outcome.points > 0)


def missed(score: Score, outcome: Outcome | None) -> bool:
    if made(score, outcome):
        return False
    return outcome is None or (outcome.points == 0 and (outcome.breaks or outcome.ends != ""))


Added = tuple[tuple[tuple[str, int], ...], tuple[tuple[str, int], ...], tuple[tuple[str, int, int], ...]]


def adds(play: Play, name: str, outcome: Outcome | None) -> bool:
    """Is there anything to add up?"""
    if play.score and play.score.counted == "players":
        return name in ("reached", "broken")
    return play.score is not None or (outcome is not None and outcome.points != 0)


def added(play: Play, outcome: Outcome | None, book: Book, on: dict[str, str]) -> Added:
    """New points, new lengths of rows, makes and attempts; the book is not changed."""
    score = play.score
    if score and score.counted == "players":
        return (), (), ()
    points = ((side(play, outcome, on), outcome.points),) if outcome and outcome.points else ()
    if score is None:
        return points, (), ()
    if score.by == "rival" and score.rival and missed(score, outcome):
        points = (("rival", score.rival),)
    counts = made(score, outcome) or missed(score, outcome)
    makes = ((tried(play, outcome, on), int(made(score, outcome)), 1),) if outcome and score.tally and counts else ()
    return points, rows(play, score, outcome, book, on) if outcome and score.row else (), makes


def rows(play: Play, score: Score, outcome: Outcome, book: Book, on: dict[str, str]) -> tuple[tuple[str, int], ...]:
    new = {side(play, outcome, on): book.rows.get(side(play, outcome, on), 0) + 1} if made(score, outcome) else {}
    some_break = any(one.breaks for one in play.outcome)
    if outcome.breaks or (not some_break and not made(score, outcome) and (outcome.ends or outcome.points)):
        spared = side(play, outcome, on) if outcome.to else ""
        new |= {one: 0 for one in sorted(book.rows) if book.rows[one] and one != spared}
    return tuple(new.items())


def note(book: Book, points: tuple[tuple[str, int], ...], new_rows: tuple[tuple[str, int], ...]) -> None:
    for one, more in points:
        book.points[one] = book.points.get(one, 0) + more
    book.rows |= dict(new_rows)


def best(sums: dict[str, int]) -> tuple[str, int, int]:
    """The first of the highest, with theirs and the next best of all others."""
    if not sums:
        return "", 0, 0
    top = max(sums.values())
    first = next(one for one, n in sums.items() if n == top)
    return first, top, max((n for one, n in sums.items() if one != first), default=0)


def target(score: Score, book: Book) -> tuple[str, str, int, int] | None:
    """Who has reached it now: side, why, n, m."""
    if score.counted == "players":
        return None
    if score.row:
        who, long, _ = best(book.rows)
        return (who, "row", long, 0) if long >= score.row else None
    who, most, second = best(book.points)
    if score.race and most >= score.race and most - max(second, 0) >= score.win_by:
        return who, "race", most, second
    return None


def capped(book: Book) -> tuple[str, str, int, int]:
    who, most, second = best(book.points)
    return "" if most == second else who, "cap", most, second
