"""How long a practice may be, and how much basketball a week, by the age of the youngest player."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from courttimer.care.sources import Source

PRACTICE_SOURCE = Source("NBA and USA Basketball youth guidelines 2016", "the table of practices by age")
WEEK_SOURCE = Source("DiFiori et al. 2018, Sports Medicine 48:2053-2065", "Table 4")
AGES_SOURCE = Source("the ages of grades 9 to 12", memory=True)


class Youth(NamedTuple):
    """Ages `youngest` to `oldest`: ms of a practice, practices and hours of organised sport a week, least rest days a week."""

    youngest: int
    oldest: int
    practice: tuple[int, int]
    practices: tuple[int, int]
    hours: int
    rest_days: int


_MIN = 60_000
YOUTH = (
    Youth(0, 8, (30 * _MIN, 60 * _MIN), (1, 1), 3, 2),
    Youth(9, 11, (45 * _MIN, 75 * _MIN), (2, 2), 5, 2),
    Youth(12, 14, (60 * _MIN, 90 * _MIN), (2, 4), 10, 1),
    Youth(15, 18, (90 * _MIN, 120 * _MIN), (3, 4), 14, 1),
)
"""`practice` and `practices`: `PRACTICE_SOURCE` (one newspaper has 40 min as the least of ages 9 to 11). `hours` and `rest_days`:
`WEEK_SOURCE`. The table begins at 7: younger players are taken as 7. Its "grades 9 to 12" are taken as 15 to 18 (`AGES_SOURCE`)."""


def youth(age: int | None) -> Youth | None:
    """The row of an age; None for adults, and when no age is given."""
    return next((row for row in YOUTH if age is not None and row.youngest <= age <= row.oldest), None)


def over_week(age: int | None, days: Sequence[Sequence[int]]) -> Iterator[tuple[str, Source]]:
    """What seven days have too much of, or too little, each with its source; `days`: the ms of the practices of each, today's last.

    Only what courttimer has seen is counted: other sports and games count too, and the coach knows of them.
    """
    row = youth(age)
    if row is None:
        return
    practices, hours, free = sum(map(len, days)), sum(map(sum, days)), 7 - sum(bool(one) for one in days)
    if practices > row.practices[1]:
        yield f"{practices} practices in seven days; at age {age} {row.practices[1]} at the most", PRACTICE_SOURCE
    if hours > row.hours * 60 * _MIN:
        told = -(-hours // (6 * _MIN)) / 10
        yield f"{told:g} h in seven days; at age {age} {row.hours} h at the most, other sports and games included", WEEK_SOURCE
    if free < row.rest_days:
        yield f"{free} days without practice in seven; at age {age} at least {row.rest_days}", WEEK_SOURCE
