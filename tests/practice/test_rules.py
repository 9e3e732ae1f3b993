"""The rule book of the keys: one walk through every situation with every call, and its table in the handbook."""

from dataclasses import replace
from pathlib import Path

import pytest

from courttimer.plan.model import Consequence, Game, Outcome, Rep, Score, Segment, Session, Squad, Station, Window
from courttimer.practice import events as ev, rules
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import WHATS, Call, What, parse
from courttimer.practice.rules import ALLOWED, MAKE, allowed, decide, situation
from courttimer.practice.state import opening

HANDBOOK = Path(__file__).parents[2] / "DEVELOPERS.md"
PLAN = Session(
    outdoor=True, squad=Squad(players=("Ada", "Bea", "Cleo")),
    segment=(
        Segment(
            kind="drill", time=300_000, setup=10_000, rep=Rep(live=20_000, off=10_000, starts="on call"),
            window=(Window(name="drive", time=3_000, opens="on call"),), outcome=(Outcome(name="stop", ends="rep", clicker="back"),),
        ),
        Segment(kind="talk", time=300_000),
        Segment(kind="drill", time=90_000, rep=Rep(live=60_000, off=20_000)),
        Segment(
            kind="drill", time=300_000, rep=Rep(live=20_000, off=10_000), score=Score(race=1, then="again"),
            consequence=Consequence(time=20_000), outcome=(Outcome(name="basket", points=1, to="home", ends="rep"),),
        ),
        Segment(kind="scrimmage", time=300_000, game=Game(clock=120_000, stops=True, score=(("home", 4),))),
        Segment(
            kind="stations", time=300_000, each=60_000, change=30_000,
            station=(Station(name="Closeouts", rep=Rep(live=20_000, off=10_000)), Station(name="Form shooting")),
        ),
    ),
)  # fmt: skip
WAY: dict[str, tuple[tuple[int, Call], ...]] = {
    "start": ((0, Call(what="late", who="Cleo")),),
    "set-up": ((0, Call(what="go")), (5_000, Call(what="mark"))),
    "waiting": ((15_000, Call(what="mark")),),
    "live": ((20_000, Call(what="go")), (25_000, Call(what="mark"))),
    "held": ((26_000, Call(what="hold")),),
    "halted": ((27_000, Call(what="halt")),),
    "ready": ((40_000, Call(what="go")), (41_000, Call(what="mark"))),
    "off": ((45_000, Call(what="outcome")), (50_000, Call(what="mark"))),
    "on": ((60_000, Call(what="next")), (120_000, Call(what="mark"))),
    "spare": ((130_000, Call(what="next")), (200_000, Call(what="mark"))),
    "consequence": ((210_000, Call(what="next")), (215_000, Call(what="outcome", number=1)), (220_000, Call(what="mark"))),
    "stopped": (
        (300_000, Call(what="next")), (305_000, Call(what="go")), (310_000, Call(what="forward")), (320_000, Call(what="mark")),
    ),
    "change": ((400_000, Call(what="next")), (470_000, Call(what="mark"))),
    "ended": ((560_000, Call(what="end")),),
}  # fmt: skip
"""One practice, and the calls that lead from each situation to the next."""
LANE = {"change": 1}
"""Where a situation is one of a station."""
WORDS: dict[What, Call] = {
    "here": Call(what="here", who="Cleo"), "late": Call(what="late", who="Ada"), "out": Call(what="out", who="Bea"),
    "score": Call(what="score", who="home", amount=1), "makes": Call(what="makes", who="top", number=3),
    "station": Call(what="station", number=2), "outcome": Call(what="outcome", number=1),
    "heat": Call(what="heat", words="hot"), "effort": Call(what="effort", who="Ada", number=7),
}  # fmt: skip
"""Calls that need words to mean anything; all others stand alone."""


def called(what: What, where: str) -> Call:
    return replace(WORDS.get(what, Call(what=what)), lane=LANE.get(where, -1))


def walk() -> dict[str, tuple[Branch, int]]:
    """The branch in each situation, and the moment."""
    b, at, met = Branch(opening(PLAN, 0)), 0, dict[str, tuple[Branch, int]]()
    for where, calls in WAY.items():
        for at, call in calls:
            b, _ = catch_up(b, at)
            made = decide(b, call, at, 0)
            assert not isinstance(made, ev.Refused), (where, made)
            b, _ = catch_up(happen(b, made), at)
        assert situation(b.now, LANE.get(where, 0)) == where
        met[where] = (b, at)
    return met


def test_every_situation_is_met_and_every_call_is_answered_as_the_table_says() -> None:
    met = walk()
    assert set(met) == set(ALLOWED)
    for where, (b, at) in met.items():
        for what in WHATS:
            made = decide(b, called(what, where), at, 0)
            refused = isinstance(made, ev.Refused)
            assert refused or what in ALLOWED[where] or where in LANE, (where, what, made)
            if isinstance(made, ev.Refused):
                assert made.why, (where, what)
                assert made.at == at


def test_a_call_of_the_table_is_taken_unless_one_more_fact_forbids_it() -> None:
    met = walk()
    refused = {
        (where, what)
        for where, (b, at) in met.items()
        for what in ALLOWED[where]
        if isinstance(decide(b, called(what, where), at, 0), ev.Refused)
    }
    runs = set(ALLOWED) - {"start", "halted", "held", "ended"}
    assert refused == {(where, what) for where in ALLOWED for what in ("put back", "makes")} | {
        *((where, "score") for where in set(ALLOWED) - {"consequence", "stopped"}),
        *((where, "station") for where in set(ALLOWED) - {"change"}),
        *((where, "turn") for where in ("set-up", "waiting", "live", "off", "ready", "consequence", "stopped")),
        *((where, "water") for where in runs - {"ready", "off"}),
        *((where, "outcome") for where in ("waiting", "off", "spare", "consequence", "stopped")),
        *((where, "forward") for where in ("ready", "on", "halted", "consequence", "change", "ended")),
        *(("change", what) for what in ("back", "take back")),
        ("spare", "shorter"), ("stopped", "last"), ("ended", "space"),
    }  # fmt: skip


def test_whatever_is_taken_can_be_played_on_to_the_end() -> None:
    for where, (b, at) in walk().items():
        for what in sorted(allowed(b, at)):
            made = decide(b, called(what, where), at, 150)
            then, _ = catch_up(happen(b, made), at + 3_000_000)
            assert situation(then.now) in ("start", "held", "halted", "ended"), (where, what)


def test_what_may_be_called_is_what_can_be_made() -> None:
    turned = {"space", "forward", "back"}
    assert set().union(*ALLOWED.values()) == set(MAKE) | turned
    assert set(MAKE) | turned <= set(WHATS)


def test_the_table_in_the_handbook_is_the_one_of_the_rules() -> None:
    text = HANDBOOK.read_text(encoding="utf-8")
    _, mark, rest = text.partition("<!-- allowed -->")
    printed, end, _ = rest.partition("<!-- /allowed -->")
    assert (mark, end) == ("<!-- allowed -->", "<!-- /allowed -->"), (
        "DEVELOPERS.md has lost its marks <!-- allowed --> and <!-- /allowed -->"
    )
    assert printed.strip() == rules.table(), (
        "the table in DEVELOPERS.md is old: put between its two marks what this prints:\n"
        "python -c 'from courttimer.practice.rules import table; print(table())'"
    )


BAD = ["outcome \u00b2", "effort Ada \u00b2", "makes top \u00b2", "score Ada +-1", f"station {'9' * 5000}", "here"]


@pytest.mark.parametrize("line", BAD)
def test_what_is_no_number_or_no_name_is_answered_with_an_example(line: str) -> None:
    what = line.split()[0]
    with pytest.raises(ValueError, match=f"^{what} wants "):
        parse(line)
