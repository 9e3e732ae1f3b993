"""The board: everything about this moment, for eyes at one metre, with the number and the word as large as the rest allows."""

from courttimer.practice.view import View, WindowView
from courttimer.screen import score
from courttimer.screen.ink import Line, clip, fill, fold, line, screen, spread, wrap
from courttimer.screen.keys import foot
from courttimer.screen.panel import panel
from courttimer.screen.places import places
from courttimer.screen.say import dangers, figures, short, slack, spent
from courttimer.screen.spots import spots
from courttimer.screen.state import look_of, number
from courttimer.screen.stations import stations
from courttimer.screen.strip import strip

NARROW, LOW = 60, 20
"""The smallest terminal that shows the board whole, in cells and rows."""
ROOMY = 28
Block = tuple[int, list[Line]]
"""Lines that belong together, and how soon they give way: 1 last of all."""


def board(view: View, cells: int, rows: int, trouble: tuple[str, ...] = ()) -> list[Line]:
    """The whole board in exactly `rows` lines of `cells`; in a terminal that is too small it says so beside the time left."""
    if cells < NARROW or rows < LOW:
        return too_small(view, cells, rows)
    roomy = rows >= ROOMY
    wrong = (*dangers(view.care), *trouble)
    above = [head(view, cells), *troubles(wrong, cells, 3 if roomy else 1), _segment(view, cells)]
    below = _fit(_below(view, cells, rows), rows - len(above) - _least(view, rows))
    middle = rows - len(above) - len(below)
    if view.inside.stations:
        clock = max(3, middle * 2 // 5) if roomy else 2
        told = [*panel(view, cells, clock), *stations(view.inside, cells, middle - clock)]
    else:
        told = panel(view, cells, middle)
    return screen([*above, *told, *below], cells, rows)


def _least(view: View, rows: int) -> int:
    """The rows that the number keeps whatever else is to be told."""
    if view.inside.stations:
        return rows // 2
    return 5 if rows < ROOMY else rows // 3


def _below(view: View, cells: int, rows: int) -> list[Block]:
    """What stands below the number, in its order."""
    inside, roomy = view.inside, rows >= ROOMY
    told = [line((f"! {text}", "warn")) for text in wrap(inside.told, cells - 2)] if inside.told else []
    lanes = [] if inside.stations else [(1, _windows(view, cells, roomy)), (1, _outcomes(view, cells))]
    bands, feet = strip(view, cells), keys(view, cells, 3 if roomy else 2)
    return [
        *lanes, (2, [] if inside.stations else score.score_line(inside, cells)), (3, spots(inside, cells, 3)),
        (4, [line((view.before, "quiet"))] if view.before else []),
        (3, places(inside, cells, 7)), (2, told), (3, _care(view, cells)), (5, _rule(view, cells)), (4, [_then(view)]),
        (7, [()] if roomy else []), (6, bands[:1]), (2, bands[1:]), (1, [said(view)]), (1, feet[:2]), (7, feet[2:]),
    ]  # fmt: skip


def _fit(blocks: list[Block], rows: int) -> list[Line]:
    """As many of the lines as there are rows: the last line of what matters least goes first."""
    kept = [list(lines) for _, lines in blocks]
    while sum(map(len, kept)) > rows and any(kept):
        least = max((n for n, lines in enumerate(kept) if lines), key=lambda n: (blocks[n][0], n))
        kept[least].pop()
    return [of for lines in kept for of in lines]


def too_small(view: View, cells: int, rows: int) -> list[Line]:
    """What still matters when nothing has room."""
    look = look_of(view)
    told = [f"{look.shape} {look.word.upper()} {number(view)}", view.name, "x: HALT   space: hold or go"]
    told += wrap(f"This terminal has {cells} by {rows} cells; the board wants {NARROW} by {LOW}.", max(10, cells))
    return screen([line((t, "strong")) for t in told], cells, rows)


def head(view: View, cells: int) -> Line:
    """Whose practice, or that water is due; how long it has run, and whether there is time in hand."""
    run = "" if view.since_go is None else f"practice {spent(view.since_go)}"
    late = view.in_hand is not None and view.in_hand < 0
    right = line((run, "strong"), "   " if run else "", (slack(view.in_hand), "warn" if late else "strong"))
    due = view.kind != "water" and view.care.water_in is not None and view.care.water_in <= 0
    return spread(line(("Water is due.", "warn") if due else (view.title, "quiet")), right, cells)


def troubles(trouble: tuple[str, ...], cells: int, rows: int) -> list[Line]:
    """What is wrong, a line each; what finds no room is counted."""
    told = [f"! {t}" for t in trouble]
    if len(told) > rows:
        told = [*told[: rows - 1], f"{told[rows - 1]}  (and {len(told) - rows} more: key o)"]
    return [fill(line((f" {t}", "alarm")), cells, "alarm") for t in told]


def _segment(view: View, cells: int) -> Line:
    kind = "" if view.kind == view.name.lower() else f" {view.kind}"
    which = f"round {view.inside.round}" if view.inside.spot else f"rep {view.rep}"
    rep = (f"  {which}" if view.rep else "") + ("  LAST ONE" if view.last else "")
    voice = "" if view.voice else "  voice off"
    whole = f" of {figures(view.segment_lasts)}" if cells >= 80 or not (view.last or voice) else ""
    left = line((f"{figures(view.segment_left)} left", "strong"), (whole, "quiet"))
    return spread(line((view.name.upper(), "strong"), (kind, "quiet"), (rep, "strong"), (voice, "warn")), left, cells)


def _windows(view: View, cells: int, roomy: bool) -> list[Line]:
    """Each window as a bar that shrinks to the left, twice as thick where there is room; the others by name, so that nothing moves."""
    known = view.inside.windows or tuple(w.name for w in view.windows)
    now = {w.name: w for w in view.windows}
    thick = roomy and len(known) < 2
    bars = [(now.get(name) or _shut(name), labelled) for name in known[:3] for labelled in ((True, False) if thick else (True,))]
    return [_bar(window, cells, labelled) for window, labelled in bars]


def _shut(name: str) -> WindowView:
    return WindowView(name=name, left=0, lasts=1)


def _bar(window: WindowView, cells: int, labelled: bool) -> Line:
    open_now = window.left > 0
    unit = " s" if window.left <= 59_000 else "  "
    name, number = f" {window.name} ", f" {short(window.left):>4}{unit} " if open_now else " shut   "
    room = max(1, cells - len(name) - len(number))
    halves = min(2 * room, -(-2 * room * window.left // max(1, window.lasts)))
    bar = "█" * (halves // 2) + "▌" * (halves % 2)
    name, number = (name, number) if labelled else (" " * len(name), " " * len(number))
    style = "window" if open_now else "quiet"
    return line((name, style), (bar, "window"), ("·" * (room - len(bar)), "quiet"), (number, style))


def _rule(view: View, cells: int) -> list[Line]:
    told = wrap(f"Rule: {view.rule}", cells)[:2] if view.rule else [""]
    return [line(words) for words in told]


def _outcomes(view: View, cells: int) -> list[Line]:
    """What can happen, each with its key: quiet while the ball is not live, and what came too late told beside its key."""
    named = view.outcomes or ((*view.inside.outcomes, (0, "over")) if view.inside.outcomes else ())
    parts = [_outcome(key, name, name == view.inside.late and bool(key), bool(view.outcomes)) for key, name in named]
    return fold(parts, "  ", cells, 2) or [()]


def _outcome(key: int, name: str, late: bool, now: bool) -> Line:
    if late:
        return line((f" {key} {name} does not count: {key} again accepts it ", "alarm"))
    return line((f" {key} ", "key"), (f" {name} ", "strong")) if now else line((f" {key}  {name} ", "quiet"))


def _care(view: View, cells: int) -> list[Line]:
    """What keeps players safe, and what was changed to end on the minute; each only while it matters."""
    care = view.care
    told = [line(("Water: ", "quiet"), care.water_card)] if view.kind == "water" and care.water_card else []
    asks = f"Heat, level {care.heat}: {care.heat_asks[0]}" if care.heat_asks else ""
    told += [line((clip(asks, cells), "warn"))] if asks else []
    told += [line(("Changed: ", "quiet"), clip(care.fitted, cells - 9))] if care.fitted else []
    return told + ([line((f"Heat: {clip(care.heat_told, cells - 6)}", "warn"))] if care.heat else [])


def _then(view: View) -> Line:
    return line(("Then: ", "quiet"), (" · ".join(view.then), "strong")) if view.then else ()


def said(view: View) -> Line:
    """What the last call did, or why it did nothing."""
    return line((f"» {view.said}", "said")) if view.said else ()


def keys(view: View, cells: int, rows: int, without: tuple[str, ...] = ()) -> list[Line]:
    """The keys that mean something now; halt always first, so that it is there however little room there is."""
    shown = [(key, word) for key, word in foot(view) if key not in without]
    parts = [line((f" {key} ", "halt" if word.startswith("HALT") else "key"), f" {word}") for key, word in shown]
    told = fold(parts, "  ", cells, rows)
    return told + [()] * (rows - len(told))
