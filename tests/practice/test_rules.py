"""The rule book of the keys: one walk through every situation with every call, and its table in the handbook."""

from pathlib import Path

from courttimer.plan.model import Outcome, Rep, Segment, Session, Window
from courttimer.practice import events as ev
from courttimer.practice import rules
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import WHATS, Call
from courttimer.practice.rules import ALLOWED, MAKE, allowed, decide, situation
from courttimer.practice.state import opening

HANDBOOK = Path(__file__).parents[2] / "DEVELOPERS.md"
PLAN = Session(
    segment=(
        Segment(
            kind="drill", time=300_000, setup=10_000, rep=Rep(live=20_000, off=10_000, starts="on call"),
            window=(Window(name="drive", time=3_000, opens="on call"),), outcome=(Outcome(name="stop", ends="rep", clicker="back"),),
        ),
        Segment(kind="talk", time=300_000),
        Segment(kind="drill", time=90_000, rep=Rep(live=60_000, off=20_000)),
    )
)  # fmt: skip
WAY: dict[str, tuple[tuple[int, Call], ...]] = {
    "start": (),
    "set-up": ((0, Call(what="go")), (5_000, Call(what="mark"))),
    "waiting": ((15_000, Call(what="mark")),),
    "live": ((20_000, Call(what="go")), (25_000, Call(what="mark"))),
    "held": ((26_000, Call(what="hold")),),
    "halted": ((27_000, Call(what="halt")),),
    "ready": ((40_000, Call(what="go")), (41_000, Call(what="mark"))),
    "off": ((45_000, Call(what="outcome")), (50_000, Call(what="mark"))),
    "on": ((60_000, Call(what="next")), (70_000, Call(what="mark"))),
    "spare": ((80_000, Call(what="next")), (150_000, Call(what="mark"))),
    "ended": ((160_000, Call(what="end")),),
}
"""One practice, and the calls that lead from each situation to the next."""


def walk() -> dict[str, tuple[Branch, int]]:
    """The branch in each situation, and the moment."""
    b, at, met = Branch(opening(PLAN, 0)), 0, dict[str, tuple[Branch, int]]()
    for where, calls in WAY.items():
        for at, call in calls:
            b, _ = catch_up(b, at)
            made = decide(b, call, at, 0)
            assert not isinstance(made, ev.Refused), (where, made)
            b, _ = catch_up(happen(b, made), at)
        assert situation(b.now) == where
        met[where] = (b, at)
    return met


def test_every_situation_is_met_and_every_call_is_answered_as_the_table_says() -> None:
    met = walk()
    assert set(met) == set(ALLOWED)
    for where, (b, at) in met.items():
        for what in WHATS:
            made = decide(b, Call(what=what), at, 0)
            refused = isinstance(made, ev.Refused)
            assert refused or what in ALLOWED[where], (where, what, made)
            if isinstance(made, ev.Refused):
                assert made.why, (where, what)
                assert made.at == at


def test_a_call_of_the_table_is_taken_unless_one_more_fact_forbids_it() -> None:
    met = walk()
    refused = {
        (where, what)
        for where, (b, at) in met.items()
        for what in ALLOWED[where]
        if isinstance(decide(b, Call(what=what), at, 0), ev.Refused)
    }
    assert refused == {(where, "put back") for where in ALLOWED} | {
        ("start", "take back"), ("start", "back"),
        ("set-up", "water"), ("waiting", "water"), ("live", "water"), ("spare", "water"), ("spare", "shorter"),
        ("ready", "forward"), ("on", "forward"), ("halted", "forward"), ("ended", "forward"), ("ended", "space"),
    }  # fmt: skip


def test_whatever_is_taken_can_be_played_on_to_the_end() -> None:
    for where, (b, at) in walk().items():
        for what in sorted(allowed(b, at)):
            made = decide(b, Call(what=what), at, 150)
            then, _ = catch_up(happen(b, made), at + 900_000)
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
