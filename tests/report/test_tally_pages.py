"""The report as a page, as text and as the short form on the board: valid, legible, and with the numbers of the tally in it."""

import re
from dataclasses import replace
from functools import cache

import pytest

from courttimer.plan.model import Segment, Session
from courttimer.report import charts
from courttimer.report.charts import FILLS, Piece
from courttimer.report.entries import Person, Score, Win
from courttimer.report.in_words import report, short, why_of
from courttimer.report.page import BAR, EDGE, PALE, PAPER
from courttimer.report.pages import html
from courttimer.report.tables import clock
from courttimer.report.tally import Tally, tally
from tests.report.tally_practices import practice
from tests.report.test_sheet_html import Text, valid
from tests.screen.test_colours import linear, ratio

WALL = "2026-11-24T18:00:00.000+01:00"
SEEDS = range(12)


def contrast(one: str, other: str) -> float:
    return ratio(linear(one), linear(other))


@cache
def told(seed: int) -> Tally:
    return tally(WALL, *practice(seed))


@pytest.mark.parametrize("seed", SEEDS)
def test_every_page_is_valid_and_needs_nothing_else(seed: int) -> None:
    page = html(told(seed))

    valid(page)
    assert re.findall(r"(?i)https?:|url\(|@import|<script|<link|<img|\bon[a-z]+=", page) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_the_page_holds_the_numbers_of_every_segment_and_player(seed: int) -> None:
    of = told(seed)
    text = " ".join(Text(html(of)).found)
    numbers = [clock(one.planned) for one in of.segments] + [clock(one.played) for one in of.segments]
    numbers += [clock(n) for one in of.players for n in (one.played, one.standing)] + [str(one.load) for one in of.players if one.load]
    numbers += [str(one.points) for one in of.scores] + [one.outcome for one in of.outcomes] + [one.why for one in of.refused]

    assert [one for one in numbers if one not in text] == []


@pytest.mark.parametrize("kind", FILLS)
def test_letters_on_a_piece_of_the_strip_keep_a_contrast_of_seven_to_one(kind: str) -> None:
    """WCAG 2.2, success criterion 1.4.6."""
    assert contrast(*FILLS[kind]) >= 7


def test_bars_stand_out_from_the_paper_and_from_each_other() -> None:
    """WCAG 2.2, success criterion 1.4.11: 3 to 1 for what a drawing needs to be understood. Every light fill has an edge of it."""
    assert contrast(BAR, PAPER) >= 3
    assert contrast(BAR, charts.LIGHT) >= 3
    assert contrast(EDGE, PAPER) >= 3
    assert contrast(charts.DARK, PALE) >= 3


def test_a_strip_is_drawn_to_scale() -> None:
    planned, played = [Piece("drill", 30_000, "1"), Piece("water", 10_000)], [Piece("drill", 20_000, "1")]
    drawn = charts.strip((("Planned", planned), ("Played", played)), "x")
    rects = [(float(x), float(wide)) for x, wide in re.findall(r'<rect x="([\d.]+)%" y="\d+" width="([\d.]+)%"', drawn)]

    assert rects == [(0.0, 75.0), (75.0, 25.0), (0.0, 50.0)]
    assert charts.strip((("Planned", ()),), "x") == ""


def test_a_share_is_drawn_on_its_interval() -> None:
    drawn = charts.interval(0.5, 0.25, 0.75, "50 %")

    assert 'cx="50.00%"' in drawn
    assert '<rect x="25.00%" width="50.00%"' in drawn


def test_names_cannot_break_out_of_the_page() -> None:
    segment = Segment(kind="warm-up", name='<script>alert("x")</script>', time=60_000)
    page = html(tally(WALL, Session(title="<b>&", segment=(segment,)), ()))

    valid(page)
    assert "<script" not in page
    assert "<title>&lt;b&gt;&amp;" in page


@pytest.mark.parametrize("seed", SEEDS)
def test_the_short_form_fits_the_board(seed: int) -> None:
    lines = short(told(seed))

    assert 1 <= len(lines) <= 9
    assert lines[0].startswith(f"Played {clock(told(seed).head.played)} of {clock(told(seed).head.planned)}")
    assert max(map(len, lines)) <= 110
    assert all(line.endswith(".") for line in lines)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_text_names_every_segment_and_why_it_changed(seed: int) -> None:
    of = told(seed)
    lines = report(of)

    for one in of.segments:
        assert any(one.segment in line and why_of(of.changes, one.n) in line for line in lines)


def test_a_practice_that_was_never_begun_is_told_too() -> None:
    of = tally(WALL, Session(segment=(Segment(kind="warm-up", time=60_000),)), ())

    assert report(of)[3] == "Played 0:00 of 1:00, 0:00 of it live, in 0 reps."
    valid(html(of))


def person(name: str, played: int) -> Person:
    return Person(name, 600_000, 3, played, 0, 0, 0, 0, 0, None, None)


def score(n: int, side: str, points: int, **more: float | None) -> Score:
    empty: dict[str, float | None] = {"row": None, "makes": None, "attempts": None, "share": None, "low": None, "high": None}
    return Score(n=n, segment=f"Drill {n}", station="", side=side, points=points, wins=0, last=None, **{**empty, **more})  # type: ignore[arg-type]  # whole or parts


def test_the_short_form_names_all_that_are_equally_good() -> None:
    of = tally(WALL, Session(segment=(Segment(kind="warm-up", time=60_000),)), ())
    scores = (score(1, "red", 4), score(1, "white", 4), score(1, "blue", 2), score(2, "Ada", 0), score(3, "blue", 3))
    players = (person("Ada", 90_000), person("Bea", 90_400), person("Cleo", 60_000))
    wins = (Win("Ada", "player", 2), *(Win(name, "player", 1) for name in ("Bea", "Cleo", "Dina", "Edda", "Fern")))
    lines = short(replace(of, scores=scores, players=players, wins=wins))

    assert "Wins: Ada 2; Bea, Cleo, Dina and 2 more 1 each." in lines
    assert "Points: red and white 4 each; blue 3." in lines
    assert "On the floor: Ada and Bea most, 1:30; Cleo least, 1:00." in lines


def test_where_all_were_on_the_floor_alike_nobody_is_named_for_it() -> None:
    of = tally(WALL, Session(segment=(Segment(kind="warm-up", time=60_000),)), ())

    assert "On the floor: each 1:30." in short(replace(of, players=(person("Ada", 90_000), person("Bea", 90_000))))


def test_the_page_tells_the_interval_of_a_tally_in_numbers_too() -> None:
    """The ends themselves are checked in `test_wilson`."""
    of = tally(WALL, Session(segment=(Segment(kind="drill", name="Drill 1", time=60_000),)), ())
    made = score(1, "Ada", 7, makes=7, attempts=10, share=0.7, low=0.3968, high=0.8922)
    text = " ".join(Text(html(replace(of, scores=(made,)))).found)

    assert "7 of 10" in text
    assert "40–89 %" in text
