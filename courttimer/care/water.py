"""How often players drink, and how much, by age and heat."""

from typing import NamedTuple

from courttimer.care.heat import BREAKS, BREAKS_SOURCE
from courttimer.care.sources import COMMON, Source

AAP = Source("American Academy of Pediatrics 2011", "Pediatrics 128(3):e741")
EVERY = 20 * 60_000
"""ms from one water to the next at the most. Source: common practice; amounts for ages 9 to 12 are given per 20 min in `AAP`."""
EVERY_SOURCE = Source("common practice; amounts for ages 9 to 12 are given per 20 min in AAP 2011, Pediatrics 128(3):e741")
YOUNG, YOUNG_EVERY = 8, 15 * 60_000
"""To this age so often. Source: `COMMON`."""
ANY_TIME = "whoever is thirsty drinks at any time"


class Amount(NamedTuple):
    """Ages `youngest` to `oldest` drink `low` to `high` mL in `per` ms."""

    youngest: int
    oldest: int
    low: int
    high: int
    per: int


AMOUNTS = (Amount(9, 12, 100, 250, 20 * 60_000), Amount(13, 18, 1_000, 1_500, 3_600_000))
"""Source: `AAP`; its "adolescents" are taken as 13 to 18. For other ages no figure is known here."""


def every(age: int | None, level: int = 0) -> tuple[int, Source]:
    """The longest time without water in ms, by the youngest player's age and the heat's level."""
    young = age is not None and age <= YOUNG
    told = [(EVERY, EVERY_SOURCE), *([(YOUNG_EVERY, COMMON)] if young else [])]
    times = BREAKS[level].times
    return min([*told, *([(3_600_000 // times, BREAKS_SOURCE)] if times else [])], key=lambda one: one[0])


def amount(age: int | None) -> Amount | None:
    """How much a player of this age drinks: a range; mixed squads by the youngest. None when no figure is known."""
    return next((row for row in AMOUNTS if age is not None and row.youngest <= age <= row.oldest), None)


def spoken(age: int | None) -> str:
    """ "100 to 250 mL every 20 min", or nothing when no figure is known."""
    row = amount(age)
    return f"{row.low} to {row.high} mL {'an hour' if row.per == 3_600_000 else 'every 20 min'}" if row else ""


def card(age: int | None) -> str:
    """What the screen says at every water: how much, when that is known, and that thirst goes first."""
    much = spoken(age)
    return f"{much} each; {ANY_TIME}" if much else ANY_TIME


def due(last: int, age: int | None, level: int = 0) -> int:
    """The moment by which there is to be water again, from when the last one ended; a hold that was counted as water is one."""
    return last + every(age, level)[0]
