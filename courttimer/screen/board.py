"""The board: everything about this moment, for eyes at one metre, with the number and the word as large as the rest allows."""

from courttimer.practice.view import View, WindowView
from courttimer.screen import digits
from courttimer.screen.ink import Line, centre, fill, fold, line, screen, spread, wrap
from courttimer.screen.keys import foot
from courttimer.screen.say import figures, short, slack, spent
from courttimer.screen.state import look_of, number
from courttimer.screen.strip import strip

NARROW, LOW = 60, 20
"""The smallest terminal that shows the board whole, in cells and rows."""


def board(view: View, cells: int, rows: int, trouble: tuple[str, ...] = ()) -> list[Line]:
    """The whole board in exactly `rows` lines of `cells`; in a terminal that is too small it says so beside the time left."""
    if cells < NARROW or rows < LOW:
        return too_small(view, cells, rows)
    roomy = rows >= 28
    above = [head(view, cells), *troubles(trouble, cells, 3 if roomy else 1), _segment(view, cells)]
    below = [*_windows(view, cells, roomy), *_rule(view, cells), _outcomes(view), _then(view)]
    below += [*([()] if roomy else []), *strip(view, cells), said(view), *keys(view, cells, 3 if roomy else 2)]
    return screen([*above, *panel(view, cells, rows - len(above) - len(below)), *below], cells, rows)


def too_small(view: View, cells: int, rows: int) -> list[Line]:
    """What still matters when nothing has room."""
    look = look_of(view)
    told = [f"{look.shape} {look.word.upper()} {number(view)}", view.name, "x: HALT   space: hold or go"]
    told += wrap(f"This terminal has {cells} by {rows} cells; the board wants {NARROW} by {LOW}.", max(10, cells))
    return screen([line((t, "strong")) for t in told], cells, rows)


def head(view: View, cells: int) -> Line:
    """Whose practice, how long it has run, and whether there is time in hand."""
    run = "" if view.since_go is None else f"practice {spent(view.since_go)}"
    late = view.in_hand is not None and view.in_hand < 0
    right = line((run, "strong"), "   " if run else "", (slack(view.in_hand), "warn" if late else "strong"))
    return spread(line((view.title, "quiet")), right, cells)


def troubles(trouble: tuple[str, ...], cells: int, rows: int) -> list[Line]:
    """What is wrong, a line each; what finds no room is counted."""
    told = [f"! {t}" for t in trouble]
    if len(told) > rows:
        told = [*told[: rows - 1], f"{told[rows - 1]}  (and {len(told) - rows} more: key o)"]
    return [fill(line((f" {t}", "alarm")), cells, "alarm") for t in told]


def _segment(view: View, cells: int) -> Line:
    kind = "" if view.kind == view.name.lower() else f" {view.kind}"
    rep = (f"  rep {view.rep}" if view.rep else "") + ("  LAST ONE" if view.last else "")
    voice = "" if view.voice else "  voice off"
    whole = f" of {figures(view.segment_lasts)}" if cells >= 80 or not (view.last or voice) else ""
    left = line((f"{figures(view.segment_left)} left", "strong"), (whole, "quiet"))
    return spread(line((view.name.upper(), "strong"), (kind, "quiet"), (rep, "strong"), (voice, "warn")), left, cells)


def panel(view: View, cells: int, rows: int) -> list[Line]:
    """The state's word and shape, what it means, and the number."""
    look = look_of(view)
    style = look.panel
    label = f"  {look.shape} {look.word.upper()}  "
    shown = look.style if style == "plain" else style
    top = fill(line((label, shown), (hint(view), style)), cells, style)
    if rows < 4:
        return [top, fill(line((f"  {number(view)}", shown)), cells, style)][:rows]
    return [top, *_large(view, cells, rows - 1, shown, style)]


def hint(view: View) -> str:
    """What the state means here, in a few words."""
    if view.phase == "halted":
        return "silence, everything stands; space goes on"
    if view.phase == "held":
        again = "this rep is played again" if view.again else "goes on where it stood"
        return f"stands for {spent(view.stands)}; {again}"
    if view.word == "waiting":
        return "the number is the segment's; space or the clicker's forward starts the rep"
    if view.left is None:
        return f"for {spent(view.gone)}, until it is called; the number is the segment's"
    return f"of {short(view.lasts)}{' s' if view.lasts <= 59_000 else ''}" if view.lasts is not None else ""


def _large(view: View, cells: int, rows: int, shown: str, style: str) -> list[Line]:
    """The number, and the word beside it where both have room; the number goes first."""
    text, word = number(view), look_of(view).word.upper()
    scale = digits.fit(text, cells - 4, rows - (1 if rows > 4 else 0))
    if scale is None:
        return [fill((), cells, style)] * rows
    drawn = digits.draw(text, scale)
    room = cells - digits.cells(text, scale) - 8
    small = digits.fit(word, room, len(drawn) * 3 // 5) if digits.drawable(word) else None
    beside = digits.draw(word, small) if small and small.y >= 2 else []
    space = (rows - len(drawn)) // 2
    blank = fill((), cells, style)
    body = [_beside(row, beside, at - (len(drawn) - len(beside)), cells, shown, style) for at, row in enumerate(drawn)]
    return ([blank] * space + body + [blank] * rows)[:rows]


def _beside(row: str, word: list[str], at: int, cells: int, shown: str, style: str) -> Line:
    if not word:
        return centre(line((row, shown)), cells, style)
    other = word[at] if 0 <= at < len(word) else " " * len(word[0])
    return centre(line((other, shown), ("      ", style), (row, shown)), cells, style)


def _windows(view: View, cells: int, roomy: bool) -> list[Line]:
    """Each open window as a bar that shrinks to the left; twice as thick where there is room."""
    told = [bar for w in view.windows[:3] for bar in (_bar(w, cells, True), *([_bar(w, cells, False)] if roomy else []))]
    return told or [()] * (2 if roomy else 1)


def _bar(window: WindowView, cells: int, labelled: bool) -> Line:
    unit = " s" if window.left <= 59_000 else "  "
    name, number = f" {window.name} ", f" {short(window.left):>4}{unit} "
    room = max(1, cells - len(name) - len(number))
    halves = min(2 * room, -(-2 * room * window.left // max(1, window.lasts)))
    bar = "█" * (halves // 2) + "▌" * (halves % 2)
    name, number = (name, number) if labelled else (" " * len(name), " " * len(number))
    return line((name, "window"), (bar, "window"), ("·" * (room - len(bar)), "quiet"), (number, "window"))


def _rule(view: View, cells: int) -> list[Line]:
    told = wrap(f"Rule: {view.rule}", cells)[:2] if view.rule else [""]
    return [line(words) for words in told]


def _outcomes(view: View) -> Line:
    told: Line = ()
    for key, name in view.outcomes:
        told = (*told, (f" {key} ", "key"), (f" {name}   ", "strong"))
    return told


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
