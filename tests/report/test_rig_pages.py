"""Our pages in a real browser: nothing is wider than a phone or a desk, and a printed sheet is one page of the browser's own."""

import re
import shutil
import subprocess
from contextlib import closing
from pathlib import Path

import pytest
from pypdf import PdfReader

from courttimer.memory.history import History
from courttimer.memory.views import VIEWS, Asked
from courttimer.report import history_html
from courttimer.report.sheet_html import html
from courttimer.report.sheet_pdf import fit
from tests.memory.practices import produce, write
from tests.report.papers import SHIPPED, made

pytestmark = pytest.mark.rig
OPTIONS = ("--headless", "--no-sandbox", "--disable-gpu")
# In a frame as wide as the screen, for a headless window has a least width; the widest of all elements is told in its place.
FRAME = """<!DOCTYPE html><title>x</title><iframe id="f" width="{width}" height="900" style="border:0" src="{page}"></iframe>
<p id="told"></p><script>f.onload = () => {{ const d = f.contentDocument;
told.textContent = "widest " + Math.max(...[...d.querySelectorAll("{of}")].map(e => Math.ceil(e.getBoundingClientRect().right))); }}
</script>"""


def chromium(*words: str) -> str:
    browser = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert browser, "the rig needs Chromium"
    return subprocess.run((browser, *OPTIONS, *words), capture_output=True, text=True, check=True, timeout=120).stdout


def widest(page: str, width: int, folder: Path, *, of: str = "body *") -> int:
    """The right edge of the page's widest element in a frame of this width, in CSS pixels."""
    (folder / "page.html").write_text(page, encoding="utf-8")
    (folder / "frame.html").write_text(FRAME.format(width=width, page="page.html", of=of), encoding="utf-8")
    told = chromium("--allow-file-access-from-files", "--virtual-time-budget=9000", "--dump-dom", (folder / "frame.html").as_uri())
    found = re.search(r"widest (\d+)", told)
    assert found, told
    return int(found[1])


@pytest.mark.parametrize("width", [320, 390, 1200])
@pytest.mark.parametrize("name", SHIPPED)
def test_the_sheet_is_no_wider_than_a_phone_or_a_desk(name: str, width: int, tmp_path: Path) -> None:
    assert 0 < widest(html(made(name)), width, tmp_path) <= width


@pytest.mark.parametrize("width", [390, 1200])
def test_the_history_is_no_wider_than_its_tables_which_scroll_by_themselves(width: int, tmp_path: Path) -> None:
    for number in range(0, 90, 7):
        write(tmp_path / "journals", number)
    with closing(History(tmp_path / "history.sqlite", rules=1)) as told:
        told.bring(tmp_path / "journals", produce)
        page = history_html.html("All practices", [view(told, Asked()) for view in VIEWS.values()])

    assert 0 < widest(page, width, tmp_path, of="body section, .wide") <= width


def test_the_measure_can_fail(tmp_path: Path) -> None:
    assert widest('<!DOCTYPE html><title>x</title><p style="width:500px">x', 390, tmp_path) > 390


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("name", SHIPPED)
def test_the_browser_prints_it_on_one_page_in_letters_of_eight_and_a_half_points(name: str, paper: str, tmp_path: Path) -> None:
    page = html(made(name), *fit(made(name), "letter")).replace("@page {", f"@page {{ size: {paper};")
    (tmp_path / "page.html").write_text(page, encoding="utf-8")
    chromium("--no-pdf-header-footer", f"--print-to-pdf={tmp_path / 'page.pdf'}", (tmp_path / "page.html").as_uri())

    (printed,) = PdfReader(tmp_path / "page.pdf").pages
    sizes = set[float]()
    printed.extract_text(visitor_text=lambda text, cm, tm, font, size: sizes.add(abs(size * tm[0] * cm[0])) if text.strip() else None)
    assert min(sizes) >= 8.49
