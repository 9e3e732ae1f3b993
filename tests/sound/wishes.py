"""Wishes for the tests of sound: short ways to write a cue and its place."""

from courttimer.practice.cue import Cue, Late, Placed, Sort


def cue(
    name: str,
    at: int,
    *,
    until: int | None = None,
    lane: int = 0,
    stretch: int = 0,
    n: int = 0,
    sort: Sort = "tone",
    text: str = "",
    group: str = "",
    if_late: Late = "play",
) -> Cue:
    """A cue at `at` ms; its group is its own unless given."""
    return Cue(
        lane=lane,
        stretch=stretch,
        name=name,
        n=n,
        sort=sort,
        at=at,
        until=at if until is None else until,
        text=text,
        segment=0,
        right="horn" if sort == "tone" else "where",
        if_late=if_late,
        group=group or f"{stretch}.{name}.{n}.{at}",
    )


def placed(
    name: str,
    at: int,
    *,
    lasts: int = 300,
    until: int | None = None,
    stretch: int = 0,
    n: int = 0,
    sort: Sort = "tone",
    text: str = "",
    group: str = "",
    if_late: Late = "play",
    duck: tuple[tuple[int, int], ...] = (),
) -> Placed:
    """A cue with its place: from `at` for `lasts` ms."""
    wish = cue(name, at, until=until, stretch=stretch, n=n, sort=sort, text=text, group=group, if_late=if_late)
    return Placed(cue=wish, at=at, until=at + lasts, text=text, duck=duck)
