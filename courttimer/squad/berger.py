"""Who plays whom in a small tournament: a round robin among teams in the order of the Berger tables."""

Pair = tuple[str, str]


def rounds(teams: tuple[str, ...]) -> tuple[tuple[Pair, ...], ...]:
    """Every team against every other once, round by round, the first-named at home (FIDE Handbook C.05 Annex 1).

    With an odd number of teams the one that would meet the missing highest number has no game in that round.
    """
    table = numbered(len(teams) + len(teams) % 2) if len(teams) > 1 else ()
    return tuple(tuple((teams[home - 1], teams[away - 1]) for home, away in one if max(home, away) <= len(teams)) for one in table)


def slots(teams: tuple[str, ...], places: int) -> tuple[tuple[Pair, ...], ...]:
    """The games one after the other, so many at once, in the order of the tables; nobody is in two games at once."""
    left, found = [game for one in rounds(teams) for game in one], list[tuple[Pair, ...]]()
    while left:
        now: list[Pair] = []
        for game in left:
            if len(now) < places and not any({*game} & {*other} for other in now):
                now.append(game)
        found.append(tuple(now))
        left = [game for game in left if game not in now]
    return tuple(found)


def numbered(count: int) -> tuple[tuple[tuple[int, int], ...], ...]:
    """The table for an even `count` of teams by their numbers from 1; empty for none."""
    return tuple(_round(at, count) for at in range(1, count))


def _round(at: int, count: int) -> tuple[tuple[int, int], ...]:
    """In each round the numbers stand half a table further on; the highest stays, and is at home in every second round."""
    ring = count - 1
    first = (at - 1) * (count // 2) % ring
    top = (first + 1, count) if at % 2 else (count, first + 1)
    return (top, *(((first + step) % ring + 1, (first - step) % ring + 1) for step in range(1, count // 2)))
