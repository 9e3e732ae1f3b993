"""Sessions and readers for the tests of what is printed."""

import re
from functools import cache
from io import BytesIO

from pypdf import PdfReader

from courttimer import locations
from courttimer.plan.model import Session
from courttimer.plan.reading import read
from courttimer.report.lineups import lineups
from courttimer.report.sheet import Sheet, sheet

SHIPPED = sorted(path.stem for path in locations.sessions().glob("*.toml"))


def shipped(name: str) -> Session:
    path = locations.find_session(name)
    return read(path.name, locations.read(path), locations.reader(path.parent)).session


@cache
def made(name: str, begins: int | None = None) -> Sheet:
    session = shipped(name)
    return sheet(session, begins, lineups(session))


def words(text: str) -> list[str]:
    """The words of a text, however it was wrapped."""
    return re.findall(r"\S+", text)


def printed(document: bytes) -> list[str]:
    """The text of each page of a PDF, as pypdf reads it."""
    return [page.extract_text() for page in PdfReader(BytesIO(document)).pages]


def said(page: Sheet) -> list[str]:
    """Every text that stands on a sheet."""
    pairs = (*page.teams, *page.fetch, *page.card)
    of = [
        text
        for part in page.parts
        for text in (part.at, *part.under, part.title, part.aside, *(w for o in part.lines for w in (o.label, o.text)))
    ]
    return [page.title, page.hours, page.under, page.ends, page.first, *page.cautions, *(w for pair in pairs for w in pair), *of]
