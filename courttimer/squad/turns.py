"""Who goes where next: the ways to turn, each from who stood where to who stands where."""

from collections.abc import Mapping, Sequence

Standing = Mapping[str, tuple[str, ...]]
"""Who is in each role at one place, longest in first."""

Sizes = tuple[tuple[str, int], ...]
"""The playing roles in the order of the file, and how many each takes."""


def lined_up(line: Sequence[str], sizes: Sizes, off: str = "off") -> dict[str, tuple[str, ...]]:
    """The roles of one line: the front has been in longest and plays the last role, whoever has just come on the first."""
    standing: dict[str, tuple[str, ...]] = {}
    at = 0
    for role, size in reversed(sizes):
        standing[role] = tuple(line[at : at + size])
        at += size
    return standing | {off: tuple(line[at:])}


def advance(line: Sequence[str], sizes: Sizes, turn: int) -> tuple[str, ...]:
    """The line after its turn number `turn` (from 0): as many go to its end as one role holds, longest in first.

    The roles give the step in their order. So every place in the line is played once in each round of roles, and reps played
    differ by at most the number of playing roles, at any length of the line.
    """
    step = sizes[turn % len(sizes)][1] % len(line) if line else 0
    return (*line[step:], *line[:step])


def moved(standing: Standing, table: Sequence[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    """Everyone after the moves of a table from role to role, in one line.

    Along each arrow of a circle move as many as its smallest side holds, longest in first, so that sizes stay. An open row of
    arrows closes on itself: into the place of those who left come the ones at its end. Roles without an arrow stay.
    A role with nobody in it is passed through, so that two who are left change over.
    """
    after = dict(standing)
    for whole in _circles(table, standing):
        circle = tuple(role for role in whole if standing[role])
        if len(circle) < 2:
            continue
        many = min(len(standing[role]) for role in circle)
        for role, before in zip(circle, (circle[-1], *circle[:-1]), strict=True):
            after[role] = (*standing[role][many:], *standing[before][:many])
    return after


def swap(standing: Standing, playing: Sequence[str]) -> dict[str, tuple[str, ...]]:
    """The playing roles change over, the first to the second and so on; those who wait go on waiting."""
    return moved(standing, tuple(zip(playing, (*playing[1:], *playing[:1]), strict=True)))


def winners_stay(standing: Standing, won: str, playing: Sequence[str], off: str = "off") -> dict[str, tuple[str, ...]]:
    """All who did not win go to the end of the line, and as many come on from its front, longest waiting first."""
    after = dict(standing)
    for role in (role for role in playing if role != won):
        after = moved(after, ((role, off), (off, role)))
    return after


def one_for_one(standing: Standing, playing: Sequence[str], off: str = "off") -> dict[str, tuple[str, ...]]:
    """From each playing role the one longest in goes off, and the first of the line comes on, as far as the line goes."""
    after = dict(standing)
    for role in playing[: len(standing.get(off, ()))]:
        if after[role]:
            out, (first, *line) = after[role][0], after[off]
            after |= {role: (*after[role][1:], first), off: (*line, out)}
    return after


def relieved(standing: Standing, waited: Mapping[str, int], playing: Sequence[str], off: str = "off") -> dict[str, tuple[str, ...]]:
    """Nobody waits more than twice the line, whatever happens on the floor: whose wait is up comes on for one longest in.

    `waited` is how many reps in a row each has sat out. Give it the standing after each turn by outcome: it changes nothing as
    long as the outcomes themselves bring the line on. Those in a role with nobody in it have no one to come on for.
    """
    line = standing.get(off, ())
    due = sorted((one for one in line if waited.get(one, 0) >= len(line)), key=lambda one: -waited.get(one, 0))
    after = dict(standing)
    rested = [role for role in playing if any(waited.get(one, 0) == 0 for one in standing[role])]
    for at, one in enumerate(due[: sum(len(standing[role]) for role in rested)]):
        role = rested[at % len(rested)]
        leaves = after[role][0]
        after |= {role: (*after[role][1:], one), off: (*(other for other in after[off] if other != one), leaves)}
    return after


def _circles(table: Sequence[tuple[str, str]], standing: Standing) -> list[tuple[str, ...]]:
    """The rows of arrows among the roles that are there, each as the roles in the order in which players pass them."""
    arrows = {start: goal for start, goal in table if start != goal and {start, goal} <= standing.keys()}
    circles = []
    while arrows:
        start = next((one for one in arrows if one not in arrows.values()), next(iter(arrows)))
        circle = [start]
        while (goal := arrows.pop(circle[-1], None)) is not None and goal not in circle:
            circle.append(goal)
        if len(circle) > 1:
            circles.append(tuple(circle))
    return circles
