"""The printed sheet: one page that says all that the sheet says, in letters that can be read, and no letter lost."""

import re
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from courttimer.plan.model import Segment, Session, Squad
from courttimer.report.pen import BODY, GREY, HEIGHT, INK, MARGIN, PALE, PAPER, WIDTH, Paper, unprintable
from courttimer.report.sheet import sheet
from courttimer.report.sheet_pdf import LARGEST, SMALLEST, fit, pdf
from tests.report.papers import SHIPPED, made, printed, said, shipped, words
from tests.report.test_sheet_html import luminance

LONG = Session(
    title="A long evening",
    squad=Squad(players=tuple(f"Player {n}" for n in range(24))),
    segment=tuple(
        Segment(kind="drill", name=f"Drill {n}", time=300_000, rule=f"Rule {n}: " + "keep low. " * 9, announce="One on one. " * 4)
        for n in range(45)
    ),
)


@pytest.mark.parametrize("paper", ["a4", pytest.param("letter", marks=pytest.mark.long)])
@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_session_is_one_page_with_every_word_of_the_sheet(name: str, paper: Paper) -> None:
    document = pdf(made(name), paper)
    (text,) = printed(document)
    box = PdfReader(BytesIO(document)).pages[0].mediabox
    there = set(words(text.lower()))

    assert [word for one in said(made(name)) for word in words(one.lower()) if not there & {word, f"{word}.", f"{word}:"}] == []
    assert (float(box.width), float(box.height)) == pytest.approx((WIDTH[paper] * 72 / 25.4, HEIGHT[paper] * 72 / 25.4), abs=0.1)


def sizes(document: bytes) -> set[float]:
    """The points of all letters in a document."""
    found = set[float]()
    for page in PdfReader(BytesIO(document)).pages:
        page.extract_text(visitor_text=lambda text, cm, tm, font, size: found.add(size) if text.strip() else None)
    return found


@pytest.mark.parametrize("paper", ["a4", pytest.param("letter", marks=pytest.mark.long)])
@pytest.mark.parametrize("name", SHIPPED)
def test_the_smallest_print_of_a_shipped_session_is_eight_and_a_half_points(name: str, paper: Paper) -> None:
    found = sizes(pdf(made(name), paper))

    assert len(found) > 3
    assert min(found) >= 8.5


def test_a_sheet_that_is_fuller_still_is_one_page_in_smaller_letters() -> None:
    session = shipped("competitive-evening")
    fuller = sheet(replace(session, segment=(*session.segment, *session.segment[-2:])))
    (_,) = printed(document := pdf(fuller))

    assert min(sizes(document)) >= SMALLEST * BODY - 0.01


def test_where_the_sheet_is_full_short_lines_stand_side_by_side() -> None:
    (text,) = printed(pdf(made("competitive-evening")))

    assert re.search(r"Score and you stay on\. Stop them and it is yours\.\s+say\s+“Stay on", text.replace("\n", " "))
    assert fit(made("competitive-evening")).compact
    assert not fit(made("workout-alone")).compact


def test_nothing_stands_outside_the_margins() -> None:
    edge, width, height = MARGIN * 72 / 25.4, WIDTH["a4"] * 72 / 25.4, HEIGHT["a4"] * 72 / 25.4
    found: list[tuple[float, float]] = []
    page = PdfReader(BytesIO(pdf(made("team-practice")))).pages[0]
    page.extract_text(visitor_text=lambda text, cm, tm, font, size: found.append((tm[4], tm[5])) if text.strip() else None)

    assert found
    assert all(edge - 1 < x < width - edge and edge - 1 < y < height - edge for x, y in found)


def test_a_short_session_is_printed_larger_and_never_above_the_largest() -> None:
    short = sheet(Session(segment=(Segment(kind="talk", time=60_000),)))

    assert fit(short).scale == pytest.approx(LARGEST)
    assert SMALLEST < fit(made("competitive-evening")).scale < fit(made("first-practice")).scale < LARGEST


def test_a_long_session_stays_legible_and_goes_on_over_pages_that_say_what_they_are() -> None:
    pages = printed(pdf(sheet(LONG)))

    assert SMALLEST * BODY >= 7.3
    assert len(pages) > 1
    assert [f"A long evening, {sheet(LONG).hours}, page {n}" in page for n, page in enumerate(pages, 1)][1:] == [True] * (
        len(pages) - 1
    )
    assert [n for n in range(45) if not any(f"Drill {n}\n" in page for page in pages)] == []


def test_names_in_latin_greek_and_cyrillic_letters_are_not_lost() -> None:
    names = ("Łucja", "Živa", "Ñusta", "Ελένη", "Злата", "Đurđa", "O’Shea")
    (text,) = printed(pdf(sheet(Session(squad=Squad(players=names)))))

    assert [name for name in names if name not in text] == []
    assert unprintable(" ".join(names)) == ""


def test_letters_that_the_font_does_not_have_are_told() -> None:
    assert unprintable("Ada 漢字 Bea 漢") == "漢字"


def test_a_word_longer_than_its_line_is_cut_and_not_lost() -> None:
    session = shipped("first-practice")
    long = replace(session.segment[0], rule="ж" * 300)
    (text,) = printed(pdf(sheet(replace(session, segment=(long,)))))

    assert text.count("ж") == 300


@pytest.mark.parametrize("pair", [(INK, PAPER), (GREY, PAPER), (INK, PALE), (PAPER, INK)])
def test_printed_text_keeps_a_contrast_of_seven_to_one(pair: tuple[tuple[int, int, int], tuple[int, int, int]]) -> None:
    """WCAG 2.2, success criterion 1.4.6."""
    light, dark = sorted((luminance("#{:02x}{:02x}{:02x}".format(*colour)) for colour in pair), reverse=True)

    assert (light + 0.05) / (dark + 0.05) >= 7
