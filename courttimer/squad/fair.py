"""The fair turn: who has played least comes on, and everyone has been in each role as often as the others."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

Sizes = tuple[tuple[str, int], ...]

_PLAYED, _ROLE = 10**9, 10**5


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """What each player has had in this drill: reps played, reps in each role, and the rep in which they last played."""

    rep: int = 0
    played: Mapping[str, int]
    roles: Mapping[tuple[str, str], int]
    last: Mapping[str, int]


def begun(here: Sequence[str], before: Past | None = None) -> Past:
    """The past at the first rep of a drill: nothing counts, but who sat out last goes first."""
    last = {one: before.last.get(one, before.rep) - before.rep for one in here} if before else dict.fromkeys(here, 0)
    return Past(played=dict.fromkeys(here, 0), roles={}, last=last)


def joined(past: Past, late: str, here: Sequence[str], roles: Sequence[str]) -> Past:
    """With one more player, who counts as one of those who have played least of those here, so that nobody has to make room."""
    others = [one for one in here if one != late]
    floor = min((past.played.get(one, 0) for one in others), default=0)
    least = {(late, role): min((past.roles.get((one, role), 0) for one in others), default=0) for role in roles}
    return Past(rep=past.rep, played={**past.played, late: floor}, roles={**past.roles, **least}, last={**past.last, late: past.rep})


def chosen(past: Past, here: Sequence[str], sizes: Sizes) -> dict[str, tuple[str, ...]]:
    """Who plays each role in the next rep; all others wait. With fewer here than the sizes need the last roles stay short."""
    slots = [role for role, size in sizes for _ in range(size)][: len(here)]
    if not slots:
        return {role: () for role, _ in sizes}
    least = min(past.played.get(one, 0) for one in here)
    lowest = {role: min(past.roles.get((one, role), 0) for one in here) for role, _ in sizes}
    waits = sorted(here, key=lambda one: past.last.get(one, 0))
    rank = {one: at for at, one in enumerate(waits)}

    def cost(role: str, one: str) -> int:
        more = past.roles.get((one, role), 0) - lowest[role]
        return (past.played.get(one, 0) - least) * _PLAYED + more * more * _ROLE + rank[one]

    goes = assigned([[cost(role, one) for one in here] for role in slots])
    return {role: tuple(here[at] for slot, at in zip(slots, goes, strict=True) if slot == role) for role, _ in sizes}


def counted(past: Past, on: Mapping[str, tuple[str, ...]]) -> Past:
    """The past after a rep in which these played these roles."""
    played, roles, last = dict(past.played), dict(past.roles), dict(past.last)
    for role, players in on.items():
        for one in players:
            played[one] = played.get(one, 0) + 1
            roles[one, role] = roles.get((one, role), 0) + 1
            last[one] = past.rep + 1
    return Past(rep=past.rep + 1, played=played, roles=roles, last=last)


def assigned(costs: Sequence[Sequence[int]]) -> tuple[int, ...]:
    """For each row its own column, at the least total cost; no more rows than columns (Kuhn 1955, with Jonker's potentials)."""
    rows, columns = len(costs), len(costs[0])
    row_price, column_price, taken = [0] * (rows + 1), [0] * (columns + 1), [0] * (columns + 1)
    for row in range(1, rows + 1):
        taken[0] = row
        at, slack, came, seen = 0, [10**18] * (columns + 1), [0] * (columns + 1), [False] * (columns + 1)
        while taken[at]:
            seen[at] = True
            here, best, onward = taken[at], 10**18, 0
            for to in range(1, columns + 1):
                if seen[to]:
                    continue
                rest = costs[here - 1][to - 1] - row_price[here] - column_price[to]
                if rest < slack[to]:
                    slack[to], came[to] = rest, at
                if slack[to] < best:
                    best, onward = slack[to], to
            for to in range(columns + 1):
                if seen[to]:
                    row_price[taken[to]] += best
                    column_price[to] -= best
                else:
                    slack[to] -= best
            at = onward
        while at:
            taken[at] = taken[came[at]]
            at = came[at]
    goes = {taken[to]: to - 1 for to in range(1, columns + 1) if taken[to]}
    return tuple(goes[row] for row in range(1, rows + 1))
