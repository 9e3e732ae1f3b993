"""What the page of the report tells of scores: drill by drill, and the wins of the evening."""

from collections.abc import Sequence

from courttimer.report import charts
from courttimer.report.cells import drawn, grid, heading, interval, number, or_not, section
from courttimer.report.entries import Score, Target
from courttimer.report.page import BAR, around, tag, text
from courttimer.report.tables import clock
from courttimer.report.tally import Tally

OVER = "over"


def drills(of: Tally) -> str:
    """What was scored and what happened, drill by drill."""
    happened = {(one.n, one.station) for one in of.outcomes if one.outcome != OVER}
    scored = {(one.n, one.station) for one in of.scores} | {(one.n, one.station) for one in of.targets} | happened
    titles = {one.n: one.segment for one in of.segments}
    inside = []
    for n, station in sorted(scored):
        title = f"{titles[n]}: {station}" if station else titles[n]
        scores = [one for one in of.scores if (one.n, one.station) == (n, station)]
        inside.append(tag("h3", f"{n}  {title}") + _happened(of, n, station) + _scores(scores) + _targets(of, n, station))
    return section("Scores", *inside)


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
    head = heading("side") + "".join(heading(name, number=True) for name in heads) + heading("0 to 100 %" if tallied else "")
    most = max(max(one.points for one in scores), 1)
    lines = []
    for one in scores:
        values = [str(one.points)] + [or_not(one.last)] * last + [or_not(one.row)] * rows
        drawing = interval(one.share, one.low, one.high) if tallied else charts.bar(((max(one.points, 0), BAR),), most, f"{one.points}")
        made = around("td", _made(one), of="number") * tallied
        lines.append(tag("td", one.side) + "".join(map(number, values)) + made + number(str(one.wins)) * wins + drawn(drawing))
    return grid(head, lines)


def _made(one: Score) -> str:
    """ "7 of 10", and in small print the ends of its interval."""
    return (text(f"{one.makes} of {one.attempts}") + _ends(one.low, one.high)) if one.attempts else ""


def _ends(low: float | None, high: float | None) -> str:
    return "" if low is None or high is None else tag("small", f"{100 * low:.0f}–{100 * high:.0f} %")


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


def wins(of: Tally) -> str:
    """Who has won, and how often."""
    most = max((one.wins for one in of.wins), default=0)
    rows = [
        tag("td", one.who) + tag("td", one.sort, of="soft") + number(str(one.wins))
        + drawn(charts.bar(((one.wins, BAR),), most, f"{one.who}: {one.wins}"))
        for one in of.wins
    ]  # fmt: skip
    head = heading("who") + heading("") + heading("wins", number=True) + heading("")
    return section("Wins of the evening", grid(head, rows)) if rows else ""
