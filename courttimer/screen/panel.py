"""The middle of the board: the state's word and shape, what it means, the number, and beside it the score, the spot or the word."""

from courttimer.practice.view import View
from courttimer.screen import digits, score
from courttimer.screen.ink import Line, centre, fill, line, wrap
from courttimer.screen.say import short, spent
from courttimer.screen.state import look_of, number

GAP = 8


def panel(view: View, cells: int, rows: int) -> list[Line]:
    """Exactly so many rows; with fewer than four the number is written, not drawn."""
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
        return _held(view)
    if view.word == "stopped":
        return "the game clock stands; Enter or the clicker's forward starts it"
    if view.word == "consequence":
        return view.inside.does or f"of {short(view.lasts or 0)} s"
    if view.word == "waiting":
        return "the number is the segment's; space or the clicker's forward starts the rep"
    if view.left is None:
        return f"for {spent(view.gone)}, until it is called; the number is the segment's"
    of = f"of {short(view.lasts)}{' s' if view.lasts <= 59_000 else ''}" if view.lasts is not None else ""
    return f"{of}; {_goes_to(view)}" if view.inside.stations else of


def _goes_to(view: View) -> str:
    chosen = view.inside.chosen
    return f"calls go to station {chosen}, s and 0: to all" if chosen else "calls go to all; s and a number: to one"


def _held(view: View) -> str:
    again = "this rep is played again" if view.again else "goes on where it stood"
    if view.stood == "cut off":
        return f"cut off at {spent((view.since_go or 0) - view.stands)} of the practice, {spent(view.stands)} ago; {again}"
    if view.stood == "asleep":
        return f"the machine slept at {spent((view.since_go or 0) - view.stands)} of the practice; {again}"
    return f"stands for {spent(view.stands)}; {again}"


def _large(view: View, cells: int, rows: int, shown: str, style: str) -> list[Line]:
    """The number, and beside it what has room; the number goes first, but leaves a score two fifths of the width."""
    text = number(view)
    room = (cells - 4) * 3 // 5 if 0 < len(score.sides(view.inside)) <= score.MOST else cells - 4
    scale = digits.fit(text, room, rows - (1 if rows > 4 else 0)) or digits.fit(text, cells - 4, rows)
    if scale is None:
        return [fill((), cells, style)] * rows
    drawn = digits.draw(text, scale)
    beside = _beside(view, cells - digits.cells(text, scale) - GAP - 4, len(drawn))
    blank = fill((), cells, style)
    body = [_row(row, beside, at - (len(drawn) - len(beside)), cells, shown, style) for at, row in enumerate(drawn)]
    return ([blank] * ((rows - len(drawn)) // 2) + body + [blank] * rows)[:rows]


def _beside(view: View, cells: int, rows: int) -> list[str]:
    """The score where one is kept by few sides; the spot where one is shot from; else the state's word, in capitals."""
    if view.phase == "halted":
        return []
    if scores := score.drawn(view.inside, cells, rows * 4 // 5):
        return scores
    if where := spot(view):
        return _words(where.upper(), cells, rows * 3 // 5)
    word = look_of(view).word.upper()
    small = digits.fit(word, cells, rows * 3 // 5) if digits.drawable(word) else None
    return digits.draw(word, small) if small and small.y >= 2 else []


def spot(view: View) -> str:
    """Where is shot from now, or where to go: nothing elsewhere."""
    return view.inside.spot if view.live else view.inside.spot_next


def _words(text: str, cells: int, rows: int) -> list[str]:
    """Words drawn as large as they fit, in as many lines as that takes; nothing when they do not."""
    best: list[str] = []
    for size in range(1, 7) if digits.drawable(text) else ():
        scale = digits.Scale(size, size)
        told = wrap(text, cells, lambda words, scale=scale: digits.cells(words, scale))  # type: ignore[misc]  # the default keeps its size
        out = [row for words in told for row in (*digits.draw(words, scale), "")][:-1]
        if len(out) > rows or any(len(row) > cells for row in out) or "…" in "".join(told):
            break
        best = [row.ljust(max(map(len, out))) for row in out]
    return best


def _row(row: str, beside: list[str], at: int, cells: int, shown: str, style: str) -> Line:
    if not beside:
        return centre(line((row, shown)), cells, style)
    other = beside[at] if 0 <= at < len(beside) else " " * max(map(len, beside))
    return centre(line((row, shown), (" " * GAP, style), (other, shown)), cells, style)
