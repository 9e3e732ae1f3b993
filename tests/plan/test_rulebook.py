"""Counts of the rules against the published rules (edition and article beside each), and what a rule set has none of."""

import pytest

from courttimer.plan.rulebook import COUNTS, NoSuchCountError, count
from tests.plan.files import mistakes, reading, swapped


@pytest.mark.parametrize(
    ("rules", "name", "seconds"),
    [
        ("fiba", "shot clock", 24),  # FIBA Official Basketball Rules 2014 to 2022, Art. 29
        ("fiba", "short reset", 14),  # the same, Art. 29
        ("fiba", "backcourt", 8),  # the same, Art. 28
        ("fiba", "lane", 3),  # the same, Art. 26
        ("fiba", "closely guarded", 5),  # the same, Art. 27
        ("fiba", "throw-in", 5),  # the same, Art. 17
        ("fiba", "free throw", 5),  # the same, Art. 43
        ("fiba", "time-out", 60),  # the same, Art. 18
        ("nfhs", "shot clock", 35),  # NFHS rule 2-14, state option from 2022-23
        ("nfhs", "backcourt", 10),  # NFHS rule 9-8
        ("nfhs", "lane", 3),  # NFHS rule 9-7
        ("nfhs", "closely guarded", 5),  # NFHS rules 9-10 and 4-10
        ("nfhs", "throw-in", 5),  # NFHS rule 9-2-4
        ("nfhs", "free throw", 10),  # NFHS rule 9-1, from memory
        ("ncaa", "shot clock", 30),  # NCAA men from 2015-16
        ("ncaa", "short reset", 20),  # NCAA women 2019-20
        ("ncaa", "backcourt", 10),  # NCAA men; women from 2013-14
        ("nba", "shot clock", 24),  # NBA rule 7
        ("nba", "short reset", 14),  # NBA rule 7, from memory
        ("nba", "backcourt", 8),  # NBA, as reported
        ("nba", "time-out", 75),  # NBA Board of Governors' statement, 2017-18
        ("nba", "free throw", 10),  # NBA rule 9, from memory
    ],
)
def test_a_count_is_as_long_as_the_rules_say(rules: str, name: str, seconds: int) -> None:
    assert count(rules, name) == seconds * 1000


def test_every_count_has_its_article_and_how_sure_we_are() -> None:
    assert all(one.article and one.status in ("verified", "from memory") for row in COUNTS.values() for one in row.values())


def test_the_nba_has_no_general_closely_guarded_count() -> None:
    # The rule text has five seconds only with the back to the basket below the free-throw line extended.
    with pytest.raises(NoSuchCountError, match='the rules of nba have no "closely guarded"'):
        count("nba", "closely guarded")


def test_a_window_takes_its_time_from_the_session_s_rules() -> None:
    text = swapped('time = "3 s"', 'time = "throw-in"')
    assert reading('rules = "fiba"\n' + text).session.segment[0].window[0].time == 5_000
    (line,) = mistakes(text)
    assert line.startswith('tuesday.toml:15: segment "Gate", window "drive", time: "throw-in" needs to know whose rules')
