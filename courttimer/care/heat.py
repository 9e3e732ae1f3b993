"""How hot it is for players, as one level from 0 (normal) to 4 (no practice), and what each level asks for."""

from bisect import bisect_left
from typing import NamedTuple

from courttimer.care.climate import fahrenheit, heat_index, indoor_wbgt
from courttimer.care.sources import COMMON, Source

NONE_ABOVE = 3
"""The last level at which there is a practice."""
STRICTEST_REGION = 1

US_SOCCER = Source("US Soccer heat guidelines", "after Grundstein et al. 2015, Applied Geography 56:55-60; written for outdoors")
GHSA = Source("Georgia High School Association heat policy", "20 min of rest in the hour above 90 F WBGT; written for outdoors")
TSSAA = Source("Tennessee Secondary School Athletic Association heat policy", "October 2022, heat index; written for outdoors")
ACSM = Source("ACSM 2007", "NATA position statement, Table 3, not yet acclimatised")
BREAKS_SOURCE = Source("US Soccer and Georgia High School Association heat guidelines", "the stricter of both; written for outdoors")

WBGT_LEVELS = {
    1: (76.1, 81.0, 84.0, 86.0),
    2: (79.7, 84.6, 87.6, 89.6),
    3: (82.1, 87.0, 90.0, 91.9),
}
"""°F at which a level ends, by region's category; the first is no longer level 0, the others still belong to theirs. What the
table leaves open (82.1 to 82.2, 91.9 to 92.0, …) goes to the stricter row."""
WBGT_SOURCES = {
    1: Source(*US_SOCCER[:2], memory=True),
    2: Source(*US_SOCCER[:2], memory=True),
    3: US_SOCCER,
}
INDEX_LEVELS = (95.0, 99.0, 104.0)
"""Heat index, °F. Source: `TSSAA`: under 95 normal breaks, 95 to 99 level 2, 100 to 104 level 3, above none; gaps to the stricter."""
NEW_LEVELS = (82.0, 86.0)
"""WBGT in °F above which players in their first hot week are at level 2, and at level 4. Source: `ACSM`."""
HOT_LEVEL = 2
"""What a coach without instruments calls hot. Source: `COMMON`."""
LAST_TO_PAY = 1
"""The last level at which losers do something. Source: `COMMON`."""
CONFIRM = "practise anyway"
"""What a coach types to go on above the last level."""
WEEK = 'Is it the players\' first hot week? Then type it again with "first week" behind it.'
"""Asked wherever players who are not used to the heat would have to stop sooner."""


class Breaks(NamedTuple):
    """In every hour `times` breaks of `each` ms; a practice of `longest` ms at the most (None: as at other times)."""

    times: int
    each: int
    longest: int | None = None
    conditioning: bool = True


BREAKS = (
    Breaks(3, 180_000),
    Breaks(3, 240_000),
    Breaks(4, 240_000, 7_200_000),
    Breaks(4, 300_000, 3_600_000, conditioning=False),
    Breaks(0, 0, 0, conditioning=False),
)
"""Source: `US_SOCCER`; at level 3 `GHSA`, which is stricter: 20 min in all."""


class Answer(NamedTuple):
    """The level, how it came about in words, and its source."""

    level: int
    told: str
    source: Source


def by_wbgt(wbgt: float, region: int | None = None, first_week: bool = False) -> int:
    """The level of a WBGT in °C; without a region's category the strictest is taken."""
    f = round(fahrenheit(wbgt), 6)
    ends = WBGT_LEVELS[region or STRICTEST_REGION]
    level = 0 if f < ends[0] else 1 + bisect_left(ends[1:], f)
    return max(level, (0, 2, 4)[bisect_left(NEW_LEVELS, f)] if first_week else 0)


def by_index(index: float) -> int:
    """The level of a heat index in °F."""
    return 0 if index < INDEX_LEVELS[0] else 2 + bisect_left(INDEX_LEVELS[1:], index)


def measured(wbgt: float, region: int | None = None, first_week: bool = False) -> Answer:
    """From a measured WBGT in °C: the only answer there is."""
    level = by_wbgt(wbgt, region, first_week)
    return Answer(level, f"measured WBGT {both(wbgt)}", _wbgt_source(level, wbgt, region))


def estimated(air: float, humidity: float, region: int | None = None, first_week: bool = False) -> Answer:
    """From air in °C and relative humidity in percent: the stricter of heat index and estimated WBGT."""
    index, wbgt = heat_index(fahrenheit(air), humidity), indoor_wbgt(air, humidity)
    one, other = by_index(index), by_wbgt(wbgt, region, first_week)
    told = f"heat index {both((index - 32) / 1.8)}, estimated WBGT {both(wbgt)}"
    return Answer(max(one, other), told, TSSAA if one > other else _wbgt_source(other, wbgt, region))


def called_hot() -> Answer:
    """From a coach without instruments."""
    return Answer(HOT_LEVEL, "hot, not measured", COMMON)


def consequence_allowed(level: int, *, late: bool = False, hurt: bool = False) -> bool:
    """May losers do something now; those who came late or are hurt never do."""
    return level <= LAST_TO_PAY and not late and not hurt


def rules(level: int, *, anyway: bool = False, ask_week: bool = False) -> tuple[str, ...]:
    """What a level asks for, a line each; nothing at level 0. Source: `BREAKS_SOURCE`; of consequences `COMMON`.

    `anyway`: the coach has confirmed to practise above the last level; `ask_week`: ask whether players are not used to it (`ACSM`).
    """
    if level > NONE_ABOVE and anyway:
        return ("Practised anyway, as you have confirmed.",)
    if level > NONE_ABOVE:
        return ("Do not practise.", f'If a doctor or your heat policy has decided otherwise, type "{CONFIRM}".')
    asks = BREAKS[level]
    lines = (
        f"{asks.times} breaks of {asks.each // 60_000} min in every hour, with water, in the coolest place there is",
        f"a practice lasts {(asks.longest or 0) // 3_600_000} h at the most" if asks.longest else "",
        "" if asks.conditioning else "no conditioning",
        "" if consequence_allowed(level) else "nobody pays",
        WEEK if ask_week else "",
    )
    return tuple(line for line in lines if line and level)


def confirmed(text: str) -> bool:
    """Has the coach confirmed in words that there is to be a practice above the last level? A line may begin with "heat"."""
    return " ".join(text.lower().replace(".", " ").split()).removeprefix("heat ") == CONFIRM


def both(celsius: float) -> str:
    """ "31.0 °C (87.8 °F)" """
    return f"{celsius:.1f} °C ({fahrenheit(celsius):.1f} °F)"


def _wbgt_source(level: int, wbgt: float, region: int | None) -> Source:
    return ACSM if level > by_wbgt(wbgt, region) else WBGT_SOURCES[region or STRICTEST_REGION]
