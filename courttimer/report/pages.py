"""The report on one practice as a page for a browser: one file that needs nothing else, to print, to read on a phone, to pass on."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from courttimer.care import words
from courttimer.report import charts
from courttimer.report.charts import Piece
from courttimer.report.columns import tables
from courttimer.report.entries import Made, Score, Target
from courttimer.report.in_words import bare, by_hand, by_role, short, why_of
from courttimer.report.page import BAR, EDGE, INK, PALE, SOFT, around, page, tag, text
from courttimer.report.tables import TIMES, Column, Table, clock, told
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
svg {{ display: block; font: 12px Roboto, "Helvetica Neue", Arial, "Noto Sans", sans-serif; }}
.key {{ display: inline-block; }}
.soft {{ color: {SOFT}; font-size: .9em; }}
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
    told_ = (_header(of), _segments(of), _times(of), *_drills(of), _wins(of), _players(of), _shots(of))
    parts = (*told_, *_plain(of), _care(of), _notes(of))
    return page(f"{of.head.title}, {of.head.wall[:10]}", _STYLE, "\n".join(part for part in parts if part))


def _section(title: str, *inside: str) -> str:
    body = "".join(inside)
    return around("section", tag("h2", title) + body) if body else ""


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
    tiles = "".join(around("div", tag("b", number) + text(said)) for number, said in figures)
    lines = "".join(tag("li", line) for line in short(of)[1:])
    top = tag("h1", head.title) + tag("p", when, of="soft")
    return around("header", top + around("div", tiles, of="figures") + around("ul", lines))


def _segments(of: Tally) -> str:
    planned = [Piece(one.kind, one.planned, str(one.n)) for one in of.segments if one.planned]
    played = [piece for one in of.segments for piece in (Piece(one.kind, one.played, str(one.n)), Piece("held", one.held)) if piece.ms]
    said = f"{len(planned)} segments, {clock(of.head.planned)} planned and {clock(of.head.played)} played"
    drawn = charts.strip((("Planned", planned), ("Played", played)), said)
    kinds = {_LIKE.get(piece.kind, piece.kind) for piece in (*planned, *played)}
    legend = "".join(around("span", charts.key(kind) + text(name)) for kind, name in _KEYS.items() if kind in kinds)
    return _section("Planned and played", drawn, around("div", legend, of="legend"), _segment_table(of))


def _segment_table(of: Tally) -> str:
    heads = ("", "segment", "planned", "played", "by", "live", "off", "set-up", "reps")
    desk = ("live", "off", "set-up")
    head = "".join(_head(name, number=name != "segment", desk=name in desk) for name in heads)
    rows = []
    for one in of.segments:
        by = one.played - one.planned
        why = why_of(of.changes, one.n)
        cells = (
            _number(str(one.n)), around("td", text(one.segment) + (tag("small", why) if why else "")), _number(clock(one.planned)),
            _number(clock(one.played)), _number(by_hand(by) if by else ""),
            *(_number(clock(ms) if ms else "", desk=True) for ms in (one.live, one.off, one.setup)),
            _number(str(one.reps) if one.reps else ""),
        )  # fmt: skip
        rows.append("".join(cells))
    return _table(head, rows)


def _table(head: str, rows: Sequence[str]) -> str:
    body = "".join(around("tr", row) for row in rows)
    return around("div", around("table", around("thead", around("tr", head)) + around("tbody", body)), of="wide")


def _head(name: str, *, number: bool = False, desk: bool = False) -> str:
    of = " ".join(["number"] * number + ["desk"] * desk)
    # a head without words is no head
    return tag("th" if name else "td", name, of=of)


def _number(words: str, *, desk: bool = False) -> str:
    return tag("td", words, of="number desk" if desk else "number")


def _drawn(drawing: str) -> str:
    return around("td", drawing, of="drawn")


def _times(of: Tally) -> str:
    most = max((one.ms for one in of.times), default=0)
    whole = sum(one.ms for one in of.times)
    rows = [
        tag("td", _SAID.get(one.sort, one.sort)) + _number(clock(one.ms)) + _number(f"{100 * one.ms / whole:.0f} %")
        + _drawn(charts.bar(((one.ms, BAR),), most, f"{one.sort}: {clock(one.ms)}"))
        for one in of.times
    ]  # fmt: skip
    head = _head("sort") + _head("time", number=True) + _head("share", number=True) + _head("")
    return _section("Where the time went", _table(head, rows)) if rows else ""


def _drills(of: Tally) -> Iterator[str]:
    """What was scored and what happened, drill by drill."""
    scored = {(one.n, one.station) for one in of.scores} | {(one.n, one.station) for one in of.outcomes}
    titles = {one.n: one.segment for one in of.segments}
    inside = []
    for n, station in sorted(scored):
        title = f"{titles[n]}: {station}" if station else titles[n]
        scores = [one for one in of.scores if (one.n, one.station) == (n, station)]
        inside.append(tag("h3", f"{n}  {title}") + _happened(of, n, station) + _scores(scores) + _targets(of, n, station))
    yield _section("Scores", *inside)


def _happened(of: Tally, n: int, station: str) -> str:
    told_ = [
        f"{one.outcome} {one.counted}" + (f" ({one.not_counted} late)" if one.not_counted else "")
        for one in of.outcomes
        if (one.n, one.station) == (n, station)
    ]
    return tag("p", ", ".join(told_)) if told_ else ""


def _scores(scores: Sequence[Score]) -> str:
    if not scores:
        return ""
    tallied, rows = any(one.attempts for one in scores), any(one.row is not None for one in scores)
    wins, last = any(one.wins for one in scores), any(one.last not in (None, one.points) for one in scores)
    heads = ["points"] + ["at the end"] * last + ["best row"] * rows + ["made"] * tallied + ["wins"] * wins
    head = _head("side") + "".join(_head(name, number=True) for name in heads) + _head("0 to 100 %" if tallied else "")
    most = max(max(one.points for one in scores), 1)
    lines = []
    for one in scores:
        made = f"{one.makes} of {one.attempts}" if one.attempts else ""
        values = [str(one.points)] + [_or_not(one.last)] * last + [_or_not(one.row)] * rows + [made] * tallied + [str(one.wins)] * wins
        drawing = _share(one.share, one.low, one.high) if tallied else charts.bar(((max(one.points, 0), BAR),), most, f"{one.points}")
        lines.append(tag("td", one.side) + "".join(map(_number, values)) + _drawn(drawing))
    return _table(head, lines)


def _or_not(n: int | None) -> str:
    return "–" if n is None else str(n)


def _share(share: float | None, low: float | None, high: float | None) -> str:
    if share is None or low is None or high is None:
        return ""
    return charts.interval(share, low, high, f"{100 * share:.0f} %, from {100 * low:.0f} to {100 * high:.0f} %")


def _targets(of: Tally, n: int, station: str) -> str:
    lines = []
    for one in of.targets:
        if (one.n, one.station) == (n, station):
            pays = f"; consequence for {one.pays}" if one.pays else ""
            lines.append(tag("li", f"{clock(one.at)}  {_decided(one)}{pays}"))
    return around("ul", "".join(lines)) if lines else ""


def _decided(one: Target) -> str:
    """ "blue 7 to 5", "Ada 5 in a row", "reached, says the floor"."""
    if one.why == "called":
        return "reached, as the players counted"
    return f"{one.side} {one.score} in a row" if one.why == "row" else f"{one.side or 'a tie'} {one.score} to {one.next_best}"


def _wins(of: Tally) -> str:
    most = max((one.wins for one in of.wins), default=0)
    rows = [
        tag("td", one.who) + tag("td", one.sort, of="soft") + _number(str(one.wins))
        + _drawn(charts.bar(((one.wins, BAR),), most, f"{one.who}: {one.wins}"))
        for one in of.wins
    ]  # fmt: skip
    head = _head("who") + _head("") + _head("wins", number=True) + _head("")
    return _section("Wins of the evening", _table(head, rows)) if rows else ""


def _players(of: Tally) -> str:
    if not of.players:
        return ""
    most = max(one.played + one.standing for one in of.players)
    head = "".join((_head("player"), *(_head(name, number=True) for name in ("played", "standing", "reps")), _head("")))
    minutes = [
        tag("td", one.player) + "".join(map(_number, (clock(one.played), clock(one.standing), str(one.reps))))
        + _drawn(charts.bar(((one.played, BAR), (one.standing, charts.LIGHT)), most, f"{clock(one.played)} and {clock(one.standing)}"))
        for one in of.players
    ]  # fmt: skip
    said = tag("p", "On the floor while it was live (dark), and waiting meanwhile (light). Off times are rest for everyone.", of="soft")
    roles = tag("h3", "Reps by role") + _plain_table(by_role(of)) if any(one.reps for one in of.roles) else ""
    return _section("Players", said, _table(head, minutes), roles, _points(of), _loads(of))


def _points(of: Tally) -> str:
    shown = [
        ("points", any(one.points for one in of.players)), ("wins", any(one.wins for one in of.players)),
        ("consequence", any(one.paid for one in of.players)),
    ]  # fmt: skip
    heads = [name for name, any_ in shown if any_]
    if not heads:
        return ""
    rows = []
    for one in of.players:
        values = {"points": str(one.points), "wins": str(one.wins), "consequence": clock(one.paid)}
        rows.append(tag("td", one.player) + "".join(_number(values[name]) for name in heads))
    head = _head("player") + "".join(_head(name, number=True) for name in heads)
    return tag("h3", "Points, wins, consequences") + _table(head, rows)


def _loads(of: Tally) -> str:
    own = any(one.own_load is not None for one in of.players)
    most = max(max(one.load, one.own_load or 0) for one in of.players)
    rows = []
    for one in of.players:
        bars = charts.bar(((one.load, BAR),), most, f"load {one.load}")
        bars += charts.bar(((one.own_load, charts.LIGHT),), most, f"own load {one.own_load}") if one.own_load is not None else ""
        values = [str(one.load)] + [_or_not(one.effort), _or_not(one.own_load)] * own
        rows.append(tag("td", one.player) + "".join(map(_number, values)) + _drawn(bars))
    head = _head("player") + "".join(_head(name, number=True) for name in ["load"] + ["says", "own"] * own) + _head("")
    says = "; light: by the player's own word, 0 to 10" * own
    about = f"Load is effort times minutes. Dark: by the efforts in the file{says}."
    return tag("h3", "Load") + tag("p", about, of="soft") + _table(head, rows) if most else ""


def _shots(of: Tally) -> str:
    if not of.shots:
        return ""
    inside = []
    for (n, title), group in groupby(of.shots, key=lambda one: (one.n, one.segment)):
        rows = [_shot(one) for one in group]
        heads = _head("spot") + "".join(_head(name, number=True) for name in ("round", "made", "in")) + _head("0 to 100 %")
        inside.append(tag("h3", f"{n}  {title}") + _table(heads, rows))
    said = "The bar beside each share is its 95 % interval (Wilson): with so few shots the truth may lie anywhere on it."
    return _section("Shooting", tag("p", said, of="soft"), *inside)


def _shot(one: Made) -> str:
    made = "unknown" if one.makes is None else f"{one.makes} of {one.attempts}" if one.attempts else str(one.makes)
    share = "" if one.share is None else f"{100 * one.share:.0f} %"
    numbers = "".join(map(_number, (str(one.round), made, share)))
    return tag("td", one.spot) + numbers + _drawn(_share(one.share, one.low, one.high))


def _plain(of: Tally) -> Iterator[str]:
    for table in tables(of):
        if table.name in PLAIN and table.rows:
            yield _section(table.title, _plain_table(bare(table)))


def _plain_table(table: Table) -> str:
    head = "".join(_head(c.head, number=_right(c)) for c in table.columns)
    lines = (zip(row, table.columns, strict=True) for row in table.rows)
    return _table(head, ["".join(tag("td", told(value, c), of="number" * _right(c)) for value, c in line) for line in lines])


def _right(column: Column) -> bool:
    return column.sort in ("whole", "share", *TIMES)


def _care(of: Tally) -> str:
    if not of.advice:
        return ""
    lines = "".join(tag("li", f"{one.about}: {one.text} ({one.source})") for one in of.advice)
    return _section("Rest, afterwards", around("ul", lines), tag("p", words.FIRST, of="soft"))


def _notes(of: Tally) -> str:
    return _section("How it was counted", *(tag("p", note, of="soft") for note in of.notes)) if of.notes else ""
