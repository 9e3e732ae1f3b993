"""Screens for eyes far away: one number and one word; and, on a halt, the gym's card."""

from courttimer.practice.view import View
from courttimer.screen import digits, score
from courttimer.screen.ink import Line, centre, fill, line, wrap
from courttimer.screen.say import card, dangers, spent
from courttimer.screen.state import far_number, look_of


def far(view: View, cells: int, rows: int) -> list[Line]:
    """The number as large as the terminal allows, the word below it; between them a window as a bar, and beside the word the score.

    The number's size never depends on either, so that it does not jump. Only what is not safe stands above it.
    """
    top = [fill(line((f" {told}", "alarm")), cells, "alarm") for told in dangers(view.care)]
    return (top + _far(view, cells, rows - len(top)))[:rows]


def _far(view: View, cells: int, rows: int) -> list[Line]:
    look = look_of(view)
    low = max(3, rows * 3 // 20) if digits.drawable(look.word.upper()) and rows > 12 else 1
    drawn = _below(view, cells, low)
    style, shown = look.panel, look.style if look.panel == "plain" else look.panel
    number = large(far_number(view), cells, rows - len(drawn) - 1)
    blank = fill((), cells, style)
    space = max(0, rows - len(number) - len(drawn) - 1) // 2
    told = [centre(line((row, shown)), cells, style) for row in (*number, _bar(view, cells), *drawn)]
    return ([blank] * space + told + [blank] * rows)[:rows]


def _bar(view: View, cells: int) -> str:
    """What is left of the window that closes first."""
    first = min(view.windows, key=lambda one: one.left, default=None)
    return "" if first is None else ("█" * max(1, cells * first.left // max(1, first.lasts))).ljust(cells)


def _below(view: View, cells: int, rows: int) -> list[str]:
    """The state's word; and the score while the ball is not live, if both fit in drawn letters."""
    look = look_of(view)
    word = look.word.upper()
    counts = [] if view.live or not 0 < len(score.sides(view.inside)) <= 2 else score.sides(view.inside)
    kept = " ".join(f"{one.side} {score.figure(one, view.inside)}" for one in counts).upper()
    for text in (f"{word}  {kept}", word) if kept else (word,):
        small = digits.fit(text, cells - 2, rows) if rows > 2 and digits.drawable(text) else None
        if small:
            return digits.draw(text, small)
    return [f"{look.shape} {word}"]


def large(text: str, cells: int, rows: int) -> list[str]:
    """The text as large as it fits; plainly when it does not fit at all."""
    scale = digits.fit(text, cells, rows)
    return digits.draw(text, scale) if scale else [text]


def halt(view: View, cells: int, rows: int) -> list[Line]:
    """What whoever calls for help must read out, as large as it fits."""
    top = dangers(view.care)
    top += [f"× HALT  stands for {spent(view.stands)}  silence, everything stands"]
    told = card(view.gym) or ["Gym: not in the session file. Send someone to the door, call for help, fetch the defibrillator."]
    last = [f"» {view.said}" if view.said else "", *([view.care.aside] if view.care.aside else [])]
    last += ["A player who is hurt, dizzy or unwell stops at once.", "space: go on     u: take back     d: it was the water"]
    room = rows - len(top) - len(last) - 1
    tries = (_drawn(told, cells, room), _written(told, cells, 1), _written(told, cells, 0))
    body = next((b for b in tries if len(b) <= room), told)
    cautions = _written(list(view.care.cautions), cells, 0)
    body = [*body, *(cautions if len(body) + len(cautions) <= room else [])]
    lines = [line((f"  {t}", "halt")) for t in (*top, "", *body, *last)]
    return [fill(of, cells, "halt") for of in (lines + [()] * rows)[:rows]]


def _drawn(told: list[str], cells: int, rows: int) -> list[str]:
    """In words, and again in drawn capitals at the largest size; longer than `rows` when they do not fit."""
    best = ["" for _ in range(rows + 1)]
    for size in (1, 2, 3):
        scale = digits.Scale(size, size)
        out = [_drawn_lines(text.upper().rstrip(".").partition(": ")[2], cells - 4, scale) for text in told]
        if not all(out) or sum(map(len, out)) > rows:
            return best
        best = [row for text, lines in zip(told, out, strict=True) for row in (text, *lines)]
    return best


def _drawn_lines(text: str, cells: int, scale: digits.Scale) -> list[str]:
    """Nothing when a word is wider than a line."""
    if not digits.drawable(text):
        return [text, ""]
    if any(digits.cells(word, scale) > cells for word in text.split()):
        return []
    lines = wrap(text, cells, lambda words: digits.cells(words, scale))
    return [row for words in lines for row in (*digits.draw(words, scale), "")]


def _written(told: list[str], cells: int, gap: int) -> list[str]:
    return [row for text in told for row in (*wrap(text, cells - 4), *([""] * gap))]
