"""What the page of the report tells of players: minutes, reps by role, points, load, and shooting."""

from itertools import groupby

from courttimer.report import charts
from courttimer.report.cells import drawn, grid, heading, interval, number, or_not, plain_grid, section
from courttimer.report.entries import Made
from courttimer.report.in_words import by_role
from courttimer.report.page import BAR, tag
from courttimer.report.tables import clock
from courttimer.report.tally import Tally


def players(of: Tally) -> str:
    """Everything that is known by name."""
    if not of.players:
        return ""
    most = max(one.played + one.standing for one in of.players)
    head = "".join((heading("player"), *(heading(name, number=True) for name in ("played", "standing", "reps")), heading("")))
    minutes = [
        tag("td", one.player) + "".join(map(number, (clock(one.played), clock(one.standing), str(one.reps))))
        + drawn(charts.bar(((one.played, BAR), (one.standing, charts.LIGHT)), most, f"{clock(one.played)} and {clock(one.standing)}"))
        for one in of.players
    ]  # fmt: skip
    said = tag("p", "On the floor while it was live (dark), and waiting meanwhile (light). Off times are rest for everyone.", of="soft")
    roles = tag("h3", "Reps by role") + plain_grid(by_role(of)) if any(one.reps for one in of.roles) else ""
    return section("Players", said, grid(head, minutes), roles, _points(of), _loads(of))


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
        rows.append(tag("td", one.player) + "".join(number(values[name]) for name in heads))
    head = heading("player") + "".join(heading(name, number=True) for name in heads)
    return tag("h3", "Points, wins, consequences") + grid(head, rows)


def _loads(of: Tally) -> str:
    own = any(one.own_load is not None for one in of.players)
    most = max(max(one.load, one.own_load or 0) for one in of.players)
    rows = []
    for one in of.players:
        bars = charts.bar(((one.load, BAR),), most, f"load {one.load}")
        bars += charts.bar(((one.own_load, charts.LIGHT),), most, f"own load {one.own_load}") if one.own_load is not None else ""
        values = [str(one.load)] + [or_not(one.effort), or_not(one.own_load)] * own
        rows.append(tag("td", one.player) + "".join(map(number, values)) + drawn(bars))
    head = heading("player") + "".join(heading(name, number=True) for name in ["load"] + ["says", "own"] * own) + heading("")
    says = "; light: by the player's own word, 0 to 10" * own
    about = f"Load is effort times minutes. Dark: by the efforts in the file{says}."
    return tag("h3", "Load") + tag("p", about, of="soft") + grid(head, rows) if most else ""


def shots(of: Tally) -> str:
    """Makes by spot and round, each share on its interval."""
    if not of.shots:
        return ""
    inside = []
    for (n, title), group in groupby(of.shots, key=lambda one: (one.n, one.segment)):
        shot = list(group)
        rounds = any(one.round > 1 for one in shot)
        rows = [_shot(one, rounds=rounds) for one in shot]
        numbers = "".join(heading(name, number=True) for name in (*["round"] * rounds, "made", "in"))
        heads = heading("spot") + numbers + heading("0 to 100 %")
        inside.append(tag("h3", f"{n}  {title}") + grid(heads, rows))
    said = "The bar beside each share is its 95 % interval (Wilson): with so few shots the truth may lie anywhere on it."
    return section("Shooting", tag("p", said, of="soft"), *inside)


def _shot(one: Made, *, rounds: bool) -> str:
    made = "unknown" if one.makes is None else f"{one.makes} of {one.attempts}" if one.attempts else str(one.makes)
    share = "" if one.share is None else f"{100 * one.share:.0f} %"
    numbers = "".join(map(number, (*[str(one.round)] * rounds, made, share)))
    return tag("td", one.spot) + numbers + drawn(interval(one.share, one.low, one.high))
