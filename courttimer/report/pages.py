"""The report on one practice as a page for a browser: one file that needs nothing else, to print, to read on a phone, to pass on."""

from collections.abc import Iterator

from courttimer.care import words
from courttimer.report import charts
from courttimer.report.cells import drawn, folded, grid, heading, number, plain_grid, section
from courttimer.report.charts import Piece
from courttimer.report.columns import tables
from courttimer.report.in_words import LONGEST, bare, by_hand, short, why_of
from courttimer.report.page import BAR, EDGE, INK, PALE, SOFT, around, page, tag, text
from courttimer.report.pages_players import players, shots
from courttimer.report.pages_scores import drills, wins
from courttimer.report.tables import clock
from courttimer.report.tally import Tally

_STYLE = f"""
body {{ max-width: 64rem; }}
h1 {{ font-size: 1.7em; line-height: 1.15; }}
h2 {{ font-size: 1.25em; margin: 1.6em 0 .4em; border-bottom: 2px solid {INK}; }}
h3 {{ font-size: 1.05em; margin: 1em 0 .2em; }}
header p {{ margin: .2em 0; }}
.figures {{ display: grid; grid-template-columns: repeat(auto-fit, minmax(7.5rem, 1fr)); gap: .5rem; margin: .8rem 0; }}
.figures div {{ border: 1px solid {EDGE}; border-radius: .3rem; padding: .4rem .6rem; }}
.figures b {{ display: block; font-size: 1.5em; font-variant-numeric: tabular-nums; }}
.legend {{ display: flex; flex-wrap: wrap; gap: .2rem 1rem; font-size: .9em; }}
.key {{ width: 14px; height: 14px; vertical-align: -2px; margin-right: .35em; }}
.wide {{ overflow-x: auto; margin-top: .4rem; }}
table {{ border-collapse: collapse; width: 100%; }}
th, td {{ text-align: left; padding: .2em .7em .2em .2em; border-bottom: 1px solid {EDGE}; vertical-align: top; }}
th, thead td {{ background: {PALE}; font-weight: 600; white-space: nowrap; }}
td small {{ display: block; }}
td {{ overflow-wrap: break-word; }}
.number {{ text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }}
.drawn {{ width: 40%; min-width: 7rem; vertical-align: middle; }}
svg {{ display: block; overflow: visible; font: 12px Roboto, "Helvetica Neue", Arial, "Noto Sans", sans-serif; }}
.key {{ display: inline-block; }}
.soft {{ color: {SOFT}; font-size: .9em; }}
summary {{ padding: .3em 0; cursor: pointer; }}
ul {{ padding-left: 1.2em; }}
li {{ margin: .15em 0; }}
tr, .figures div, svg {{ break-inside: avoid; }}
h2, h3 {{ break-after: avoid; }}
@media (max-width: 34rem) {{
  body {{ padding: .7rem; }}
  th, td {{ padding: .2em .45em .2em 0; font-size: .93em; }}
  .drawn {{ width: 34%; min-width: 5.5rem; }}
  .desk {{ display: none; }}
}}
@media print {{ h2 {{ margin-top: 1em; }} body {{ font-size: 10pt; }} .desk {{ display: table-cell; }} }}
"""
_KEYS = {
    "drill": "drills, scrimmage", "stations": "stations, spots", "warm-up": "warm-up, cool-down", "water": "water",
    "talk": "talk, rest", "held": "the clock stood",
}  # fmt: skip
_LIKE = {"scrimmage": "drill", "spots": "stations", "cool-down": "warm-up", "rest": "talk"}
_SAID = {
    "on": "play without reps", "spare": "no rep fitted any more", "waiting": "waiting for the call", "stopped": "the game clock stood",
}  # fmt: skip
PLAIN = ("holds", "stations", "marks", "sound", "cues", "refused", "taken_back")
"""Tables that the page shows as they are, in this order."""


def html(of: Tally) -> str:
    """The page."""
    told_ = (_header(of), _segments(of), _times(of), drills(of), wins(of), players(of), shots(of))
    parts = (*told_, *_plain(of), _care(of), _notes(of))
    return page(f"{of.head.title}, {of.head.wall[:10]}", _STYLE, "\n".join(part for part in parts if part))


def _header(of: Tally) -> str:
    head = of.head
    when = head.wall[:16].replace("T", ", ") + ("" if head.ended else ", not ended")
    figures = [
        (clock(head.played), f"played of {clock(head.planned)}"), (clock(head.live), "live"), (str(head.reps), "reps"),
        (f"{head.segments} of {len(of.segments)}", "segments"), (str(head.load), "load: effort × minutes"),
    ]  # fmt: skip
    if head.effort is not None:
        figures.append((f"{head.effort} of 10", "says the coach"))
    if head.holds:
        figures.append((clock(head.held), "in 1 hold" if head.holds == 1 else f"in {head.holds} holds"))
    tiles = "".join(around("div", tag("b", figure) + text(said)) for figure, said in figures)
    lines = "".join(tag("li", line) for line in short(of)[1:])
    top = tag("h1", head.title) + tag("p", when, of="soft")
    return around("header", top + around("div", tiles, of="figures") + around("ul", lines))


def _segments(of: Tally) -> str:
    planned = [Piece(one.kind, one.planned, str(one.n)) for one in of.segments if one.planned]
    kind = {one.n: one.kind for one in of.segments}
    played = [Piece("held", one.ms) if one.what != "played" else Piece(kind[one.n], one.ms, str(one.n)) for one in of.course]
    said = f"{len(planned)} segments, {clock(of.head.planned)} planned and {clock(of.head.played)} played"
    drawing = charts.strip((("Planned", planned), ("Played", played)), said)
    kinds = {_LIKE.get(piece.kind, piece.kind) for piece in (*planned, *played)}
    legend = "".join(around("span", charts.key(kind) + text(name)) for kind, name in _KEYS.items() if kind in kinds)
    return section("Planned and played", drawing, around("div", legend, of="legend"), _segment_table(of))


def _segment_table(of: Tally) -> str:
    heads = ("", "segment", "planned", "played", "by", "live", "off", "set-up", "reps")
    desk = ("live", "off", "set-up")
    head = "".join(heading(name, number=name != "segment", desk=name in desk) for name in heads)
    rows = []
    for one in of.segments:
        by = one.played - one.planned
        why = why_of(of.changes, one.n)
        cells = (
            number(str(one.n)), around("td", text(one.segment) + (tag("small", why) if why else "")), number(clock(one.planned)),
            number(clock(one.played)), number(by_hand(by) if by else ""),
            *(number(clock(ms) if ms else "", desk=True) for ms in (one.live, one.off, one.setup)),
            number(str(one.reps) if one.reps else ""),
        )  # fmt: skip
        rows.append("".join(cells))
    return grid(head, rows)


def _times(of: Tally) -> str:
    most = max((one.ms for one in of.times), default=0)
    whole = sum(one.ms for one in of.times)
    rows = [
        tag("td", _SAID.get(one.sort, one.sort)) + number(clock(one.ms)) + number(f"{100 * one.ms / whole:.0f} %")
        + drawn(charts.bar(((one.ms, BAR),), most, f"{one.sort}: {clock(one.ms)}"))
        for one in of.times
    ]  # fmt: skip
    head = heading("sort") + heading("time", number=True) + heading("share", number=True) + heading("")
    return section("Where the time went", grid(head, rows)) if rows else ""


def _plain(of: Tally) -> Iterator[str]:
    for table in tables(of):
        if table.name in PLAIN and table.rows:
            grid_ = plain_grid(bare(table))
            yield section(table.title, folded(f"{len(table.rows)} of them", grid_) if len(table.rows) > LONGEST else grid_)


def _care(of: Tally) -> str:
    if not of.advice:
        return ""
    lines = "".join(tag("li", f"{one.about}: {one.text} ({one.source})") for one in of.advice)
    return section("Rest, afterwards", around("ul", lines), tag("p", words.FIRST, of="soft"))


def _notes(of: Tally) -> str:
    return section("How it was counted", *(tag("p", note, of="soft") for note in of.notes)) if of.notes else ""
