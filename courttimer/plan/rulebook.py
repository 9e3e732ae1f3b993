"""What the published rules count: seconds by rule set and name, each beside its article and how sure we are of it.

"verified" was read in the rules' text or in a page that reports it; "from memory" is to be compared with the text.
A rule set that has no such count, or whose count was not found, is left out of the row.
"""

from typing import NamedTuple

from courttimer.plan.words import listed

SETS = ("fiba", "nfhs", "ncaa", "nba")


class Count(NamedTuple):
    """Milliseconds, the article or rule that sets them, and "verified" or "from memory"."""

    ms: int
    article: str
    status: str = "verified"


class NoSuchCountError(Exception):
    """The rule set has no count of this name; the message says what to write instead."""


COUNTS: dict[str, dict[str, Count]] = {
    "shot clock": {
        "fiba": Count(24_000, "Art. 29"),
        "nfhs": Count(35_000, "Rule 2-14, where the state has adopted it (2022-23)"),
        "ncaa": Count(30_000, "men from 2015-16, women"),
        "nba": Count(24_000, "Rule 7"),
    },
    "short reset": {
        "fiba": Count(14_000, "Art. 29"),
        "ncaa": Count(20_000, "women 2019-20; men from memory"),
        "nba": Count(14_000, "Rule 7", "from memory"),
    },
    "backcourt": {
        "fiba": Count(8_000, "Art. 28"),
        "nfhs": Count(10_000, "Rule 9-8"),
        "ncaa": Count(10_000, "men, and women from 2013-14"),
        "nba": Count(8_000, "Rule 4"),
    },
    "closely guarded": {
        "fiba": Count(5_000, "Art. 27, within 1 m"),
        "nfhs": Count(5_000, "Rules 9-10 and 4-10, within 6 ft"),
        "ncaa": Count(5_000, "men within 6 ft, women within 3 ft"),
    },
    "throw-in": {
        "fiba": Count(5_000, "Art. 17"),
        "nfhs": Count(5_000, "Rule 9-2-4"),
        "ncaa": Count(5_000, "men and women"),
        "nba": Count(5_000, "Rule 8", "from memory"),
    },
    "free throw": {
        "fiba": Count(5_000, "Art. 43"),
        "nfhs": Count(10_000, "Rule 9-1", "from memory"),
        "ncaa": Count(10_000, "Rule 9", "from memory"),
        "nba": Count(10_000, "Rule 9", "from memory"),
    },
    "lane": {
        "fiba": Count(3_000, "Art. 26, restricted area"),
        "nfhs": Count(3_000, "Rule 9-7"),
        "ncaa": Count(3_000, "Rule 9-7", "from memory"),
        "nba": Count(3_000, "Rule 10", "from memory"),
    },
    "time-out": {
        "fiba": Count(60_000, "Art. 18"),
        "nfhs": Count(60_000, "Rule 5-12"),
        "ncaa": Count(60_000, "Rule 5-14.10 (2019-20)"),
        "nba": Count(75_000, "from 2017-18"),
    },
    "short time-out": {
        "nfhs": Count(30_000, "Rule 5-12"),
        "ncaa": Count(30_000, "Rule 5-14.10 (2019-20)"),
    },
}
NAMES = tuple(COUNTS)


def count(rules: str, name: str) -> int:
    """Milliseconds of a count; raises `NoSuchCountError` for a name that is not here, or that this rule set has none of."""
    if name not in COUNTS:
        raise NoSuchCountError(f'neither a time nor a count of the rules (got "{name[:40]}"); write "24 s", or {listed(NAMES)}')
    if rules not in SETS:
        raise NoSuchCountError(f'"{name}" needs to know whose rules; write rules = {listed(SETS)} at the top of the session')
    if rules not in COUNTS[name]:
        has = [one for one in NAMES if rules in COUNTS[one]]
        raise NoSuchCountError(f'the rules of {rules} have no "{name}"; write a time such as "5 s", or {listed(has)}')
    return COUNTS[name][rules].ms
