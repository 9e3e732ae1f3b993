"""The sheet as one HTML page: the same as the PDF when printed, a column to scroll on a phone."""

from courttimer.report.drill_lines import Line
from courttimer.report.page import EDGE, INK, PALE, PAPER, SOFT, around, page, tag, text
from courttimer.report.pen import LEAST
from courttimer.report.sheet import Part, Sheet

_STYLE = f"""
header {{ display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline; column-gap: 1em;
  border-bottom: 3px solid {INK}; }}
h1, .hours {{ font-size: 2.1em; font-weight: bold; line-height: 1.15; }}
header p.soft {{ flex-basis: 100%; padding-bottom: .2em; }}
.boxes {{ display: flex; flex-wrap: wrap; column-gap: 2em; padding: .3em 0 .5em; }}
.boxes section {{ flex: 1 1 14em; }}
.boxes h2, footer h2 {{ font-size: .85em; color: {SOFT}; }}
dl {{ display: grid; grid-template-columns: max-content 1fr; column-gap: 1em; }}
dt {{ font-weight: bold; }}
article {{ display: grid; grid-template-columns: 5.6em 1fr; column-gap: .6em; border-top: 1px solid {EDGE}; padding: .2em .2em .3em;
  break-inside: avoid; }}
article.pause {{ background: {PALE}; }}
b, article h2 {{ font-size: 1.25em; font-weight: bold; line-height: 1.2; }}
.when small {{ display: block; font-size: .84em; }}
.when small.long {{ font-size: 1em; color: {INK}; }}
article h2 small {{ font-size: .68em; font-weight: normal; padding-left: .8em; }}
.notes {{ display: none; }}
li {{ display: grid; grid-template-columns: 4.2em 1fr; list-style: none; }}
li small {{ font-size: .84em; padding-top: .1em; }}
li.whole {{ display: block; font-weight: bold; }}
li.say {{ font-style: italic; }} li.say small {{ font-style: normal; }}
footer {{ border-top: 3px solid {INK}; padding-top: .3em; }}
footer p {{ font-size: .84em; }} footer p.ends {{ font-size: 1em; font-weight: bold; }}
.card {{ background: {INK}; color: {PAPER}; padding: .3em .6em; margin: .3em 0; font-weight: bold;
  -webkit-print-color-adjust: exact; print-color-adjust: exact; }}
.lines {{ height: 4em; background: repeating-linear-gradient({PAPER} 0 calc(2em - 1px), {EDGE} calc(2em - 1px) 2em); }}
@media (max-width: 40rem) {{
  article {{ grid-template-columns: 4.6em 1fr; }}
  li {{ display: block; }} li small {{ padding-right: .4em; }}
}}
@media (min-width: 40rem) {{
  article {{ grid-template-columns: 5.6em 1fr 9em; }}
  .notes {{ display: block; margin-top: .3em;
    background: repeating-linear-gradient({PAPER} 0 calc(1.9em - 1px), {EDGE} calc(1.9em - 1px) 1.9em); }}
  .pause .notes {{ background: none; }}
  .card dl {{ grid-template-columns: max-content 1fr max-content 1fr; }}
}}
@media print {{
  .when small, li small, article h2 small, header p.soft, .boxes h2, footer h2, footer p {{ font-size: max(.84em, {LEAST}pt); }}
  .pause {{ -webkit-print-color-adjust: exact; print-color-adjust: exact; }}
  article {{ padding: .1em .2em .15em; grid-template-columns: 5.6em 1fr 8.5em; }}
  .boxes section {{ flex-basis: 100%; display: flex; gap: 1em; }}
  .boxes dl {{ display: block; }} .boxes dt, .boxes dd {{ display: inline; }} .boxes dd {{ padding: 0 2em 0 .3em; }}
  .lines {{ height: 2em; }}
}}
"""


_RUN_ON = """
li.run { display: inline; } li.run small { font-size: 1em; color: inherit; font-weight: bold; } li.run small::after { content: ": "; }
li.whole { display: inline; } li.run::after, li.whole::after { content: "\\2003 "; }
body { line-height: 1.2; } article { padding: .05em .2em .1em; }"""


_OTHER_LETTERS = 0.95
"""The fonts of a browser are its own, and some are wider than ours."""

_ROOMIER = 1.045
"""Here a drill's lines run on and break anywhere, in the PDF none but short ones stand side by side."""


def html(sheet: Sheet, scale: float = 1.0, compact: bool = False) -> str:
    """The page; `scale` and `compact` are those of the PDF (`sheet_pdf.fit`), and hold when it is printed."""
    letters = 9 * scale * _OTHER_LETTERS * (_ROOMIER if compact else 1)
    size = f"body {{ font-size: {letters:.2f}pt; line-height: 1.25; }}" + _RUN_ON * compact
    body = "\n".join((_header(sheet), _boxes(sheet), *map(_part, sheet.parts), _footer(sheet)))
    return page(f"{sheet.title}, {sheet.hours}", f"{_STYLE}@media print {{ {size} }}", body)


def _header(sheet: Sheet) -> str:
    under = tag("p", sheet.under, of="soft") if sheet.under else ""
    return around("header", tag("h1", sheet.title) + tag("p", sheet.hours, of="hours") + under)


def _boxes(sheet: Sheet) -> str:
    pairs = (("Who", sheet.teams), ("Fetch", sheet.fetch))
    boxes = "".join(around("section", tag("h2", head) + _pairs(of)) for head, of in pairs if of)
    return around("div", boxes, of="boxes") if boxes else ""


def _pairs(pairs: tuple[tuple[str, str], ...]) -> str:
    return around("dl", "".join(tag("dt", name) + tag("dd", words) for name, words in pairs))


def _part(part: Part) -> str:
    under = "".join(tag("small", words, of="" if at else "long") for at, words in enumerate(part.under))
    aside = tag("small", part.aside) if part.aside else ""
    lines = around("ul", "".join(map(_line, part.lines))) if part.lines else ""
    when = around("div", tag("b", part.at) + under, of="when")
    what = around("div", around("h2", text(part.title) + aside) + lines)
    return around("article", when + what + tag("div", "", of="notes"), of="pause" if part.pause else "")


def _line(line: Line) -> str:
    if not line.label:
        return tag("li", line.text, of="whole")
    sort = "" if line.label.isdigit() else "run say" if line.label == "say" else "run"
    return around("li", tag("small", line.label) + tag("span", line.text), of=sort)


def _footer(sheet: Sheet) -> str:
    parts = (
        tag("p", sheet.ends, of="ends"), around("div", _pairs(sheet.card), of="card"),
        tag("p", " ".join(sheet.cautions)), tag("p", sheet.first, of="soft"), tag("h2", "Notes"), tag("div", "", of="lines"),
    )  # fmt: skip
    return around("footer", "".join(parts))
