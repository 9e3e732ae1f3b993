"""The sheet as a page: valid, sufficient to itself, legible, and all that the sheet says."""

import re
import warnings
from html.parser import HTMLParser

import html5lib
import pytest

from courttimer.plan.model import Segment, Session, Squad
from courttimer.report.page import INK, PALE, PAPER, SOFT
from courttimer.report.sheet import sheet
from courttimer.report.sheet_html import html
from tests.report.papers import SHIPPED, made, said, words


class Text(HTMLParser):
    """The text of a page, its style left out."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self._inside = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._inside = tag

    def handle_data(self, data: str) -> None:
        if self._inside != "style":
            self.found.append(data)


def valid(page: str) -> None:
    """The HTML Standard's parser, as html5lib has it, finds no parse error."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of html5lib's own
        html5lib.HTMLParser(strict=True).parse(page)


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_session_is_a_valid_page_with_every_word_of_the_sheet(name: str) -> None:
    page = html(made(name))
    valid(page)
    there = set(words(" ".join(Text(page).found)))

    assert [word for one in said(made(name)) for word in words(one) if word not in there] == []


def test_the_check_can_fail() -> None:
    with pytest.raises(html5lib.html5parser.ParseError):
        valid("<!DOCTYPE html><title>x</title><p></div>")


def test_it_needs_no_other_file_and_runs_nothing() -> None:
    page = html(made("team-practice"))

    assert re.findall(r"(?i)https?:|url\(|@import|<script|<link|<img|\bon[a-z]+=", page) == []


def test_what_looks_like_html_in_a_name_is_shown_as_it_is() -> None:
    name = '<script>alert("x")</script> & \x07co'
    page = html(sheet(Session(title=name, squad=Squad(players=(name,)), segment=(Segment(kind="talk", name=name, time=60_000),))))
    valid(page)

    assert "<script" not in page
    assert Text(page).found.count('<script>alert("x")</script> & co') == 3


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2 (W3C Recommendation of 2023), section 8, "relative luminance"."""
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("pair", [(INK, PAPER), (SOFT, PAPER), (INK, PALE), (SOFT, PALE), (PAPER, INK)])
def test_text_keeps_a_contrast_of_seven_to_one(pair: tuple[str, str]) -> None:
    """WCAG 2.2, success criterion 1.4.6, asks for 7:1."""
    light, dark = sorted(map(luminance, pair), reverse=True)

    assert (light + 0.05) / (dark + 0.05) >= 7


def test_an_empty_session_is_a_valid_page_too() -> None:
    valid(html(sheet(Session())))
    valid(html(made("first-practice")._replace(card=(), teams=(), fetch=())))
