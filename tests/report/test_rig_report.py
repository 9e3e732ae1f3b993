"""The report in a real browser: the page is no wider than a phone or a desk (a wide table scrolls by itself), and it prints."""

import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from courttimer.__main__ import reading
from courttimer.rehearsal import rehearse
from courttimer.report.pages import html
from courttimer.report.tally import tally
from tests.report.tally_practices import practice
from tests.report.test_rig_pages import chromium

pytestmark = pytest.mark.rig
SHIPPED = ("competitive-evening", "stations-evening", "team-practice", "workout-alone")
# In frames as wide as the screen, for a headless window has a least width; how wide each page wants to be is told in their place.
FRAMES = """<!DOCTYPE html><title>x</title>{frames}<p id="told"></p><script>onload = () => {{
told.textContent = "wants " + [...document.querySelectorAll("iframe")].map(f => f.contentDocument.documentElement.scrollWidth);
}}</script>"""


def wants(pages: list[str], width: int, folder: Path) -> list[int]:
    """How wide each page wants to be in a frame of this width, in CSS pixels."""
    for at, page in enumerate(pages):
        (folder / f"{at}.html").write_text(page, encoding="utf-8")
    frames = "".join(f'<iframe width="{width}" height="900" style="border:0" src="{at}.html"></iframe>' for at in range(len(pages)))
    (folder / "frames.html").write_text(FRAMES.format(frames=frames), encoding="utf-8")
    told = chromium("--allow-file-access-from-files", "--virtual-time-budget=9000", "--dump-dom", (folder / "frames.html").as_uri())
    found = re.search(r"wants ([\d,]+)", told)
    assert found, told
    return [int(one) for one in found[1].split(",")]


def shipped(name: str) -> str:
    played = rehearse(reading(name))
    return html(tally(played.wall, played.reading.session, played.events))


@pytest.mark.parametrize("width", [320, 390, 1200])
def test_a_shipped_evening_is_no_wider_than_a_phone_or_a_desk(width: int, tmp_path: Path) -> None:
    assert max(wants([shipped(name) for name in SHIPPED], width, tmp_path)) <= width


def test_no_practice_makes_the_page_wider_than_a_phone(tmp_path: Path) -> None:
    pages = [html(tally("2026-11-24T18:00:00.000+01:00", *practice(seed))) for seed in range(20)]

    assert max(wants(pages, 390, tmp_path)) <= 390


def test_the_measure_can_fail(tmp_path: Path) -> None:
    wide = '<!DOCTYPE html><title>x</title><p style="width:500px">x'
    scrolls = '<!DOCTYPE html><title>x</title><div style="overflow-x:auto"><p style="width:500px">x</div>'

    assert [one > 390 for one in wants([wide, scrolls], 390, tmp_path)] == [True, False]


def test_it_prints_on_a_few_pages(tmp_path: Path) -> None:
    (tmp_path / "page.html").write_text(shipped("team-practice"), encoding="utf-8")
    chromium("--no-pdf-header-footer", f"--print-to-pdf={tmp_path / 'page.pdf'}", (tmp_path / "page.html").as_uri())

    assert len(PdfReader(tmp_path / "page.pdf").pages) <= 5
