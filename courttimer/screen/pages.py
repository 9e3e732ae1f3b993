"""Whole pages of words: start, end, help, more and the choice of a session, all with the same frame."""

from courttimer.care.load import ASK_AFTER
from courttimer.practice.view import Block, View
from courttimer.screen import here
from courttimer.screen.board import LOW, NARROW, keys, said
from courttimer.screen.given import Over, Start
from courttimer.screen.ink import Line, clip, fill, line, screen, spread, width, wrap
from courttimer.screen.keys import TABLE
from courttimer.screen.say import BY_LENGTH, figures, no_practice, slack, spent, words
from courttimer.screen.spots import spots
from courttimer.screen.state import look_of, number
from courttimer.screen.strip import strip

SIDE_BY_SIDE = 100


def start(view: View, facts: Start, cells: int, rows: int) -> list[Line]:
    """Before the first go: what is to come, who is here, what is missing, what begins it."""
    whole = figures(sum(b.time for b in view.strip))
    wrong = [fill(line((f" ! {part}", "alarm")), cells, "alarm") for told in no_practice(view.care) for part in wrap(told, cells - 3)]
    note = line((BY_LENGTH, "warn")) if view.by_length else ()
    top = [line((f"{view.title}", "strong")), *wrong, _floor(view, facts, whole), note]
    begin = line((" space ", "key"), "  ", (" Enter ", "key"), ("  or the clicker's forward begins", "go"))
    below = [*strip(view, cells), said(view), begin, *keys(view, cells, 2, without=("space", "Enter"))]
    room = rows - len(top) - len(below)
    if cells >= SIDE_BY_SIDE:
        half = cells // 2 - 2
        squad = _squad(view, facts, half, room // 2)
        known = [*_facts(facts, half, cells, rows), *squad, *_advice(facts, half), *_stands(view, facts, half, facts.stands)]
        pairs = zip(_pad(_segments(view, room), room), _pad(known, room), strict=True)
        body = [(*fill(left, cells // 2), *right) for left, right in pairs]
    else:
        known = [*_facts(facts, cells, cells, rows), *_squad(view, facts, cells, 2), *_advice(facts, cells)]
        known = [*known, *_stands(view, facts, cells, facts.stands[-1:])][: max(3, room - 4)]
        body = _pad([*known, *_segments(view, room - len(known))], room)
    return screen([*top, *body, *below], cells, rows)


def _squad(view: View, facts: Start, cells: int, rows: int) -> list[Line]:
    """Who is here, with ticks where they have room."""
    people = here.everyone(view.attendance, facts.squad)
    if not people:
        return []
    told = wrap(f"{here.summary(view.attendance, facts.squad)}.", cells - 4)
    head = [(*line((" i ", "key"), " "), *line((told[0], "strong"))), *(line(("    " + more, "strong")) for more in told[1:])]
    return [*head, *(here.ticks(people, cells, rows) if rows > 2 else [])]


def _stands(view: View, facts: Start, cells: int, stands: tuple[str, ...]) -> list[Line]:
    """How long each really plays, a line a drill; after the advice, which may be about what is not safe."""
    known = here.everyone(view.attendance, facts.squad)
    return [line(text) for told in stands for text in wrap(f"{told}.", cells)] if known else []


def _floor(view: View, facts: Start, whole: str) -> Line:
    over = view.in_hand
    if over is None or not facts.floor:
        return line((f"{whole} planned", "quiet"))
    late = f"{words(-over)} too long" if over < 0 else slack(over)
    return line((f"floor {facts.floor}   {whole} planned   ", "quiet"), (late, "warn" if over < 0 else "strong"))


def _segments(view: View, room: int) -> list[Line]:
    begins, told = 0, []
    for block in view.strip:
        told.append(_segment(block, begins))
        begins += block.time
    if len(told) <= room:
        return told
    return [*told[: max(0, room - 1)], line((f"       and {len(told) - room + 1} more", "quiet"))]


def _segment(block: Block, begins: int) -> Line:
    kind = "" if block.kind == block.name.lower() else f"  {block.kind}"
    return line((f"{figures(begins):>6}  ", "quiet"), (block.name, "strong"), (f"  {figures(block.time)}{kind}", "quiet"))


def _facts(facts: Start, cells: int, whole: int, rows: int) -> list[Line]:
    small = (f"This terminal has {whole} by {rows} cells; the board wants {NARROW} by {LOW}.",)
    missing = facts.missing + (small if whole < NARROW or rows < LOW else ())
    told = [line((text, "said")) for text in wrap(facts.noted, cells)] if facts.noted else []
    told += [line((text, "warn")) for m in missing for text in wrap(f"! {m}", cells)]
    if facts.speaker:
        told.append(line((clip(f"sound: {facts.speaker}", cells), "quiet")))
    done, of = facts.prepared
    if of:
        state = "all phrases are ready" if done >= of else f"phrases being prepared: {done} of {of}; you need not wait"
        told += [line((text, "quiet")) for text in wrap(state, cells)]
    return told


def _advice(facts: Start, cells: int) -> list[Line]:
    return [line((text, "said")) for a in facts.advice for text in wrap(f"Advice: {a}", cells)]


def over(view: View, facts: Over, cells: int, rows: int) -> list[Line]:
    """After the last segment: what was done, and marks that want words."""
    top = [line((f"● OVER  {view.title}", "strong")), ()]
    told = [line(text) for done in facts.done for text in wrap(done, cells)]
    if facts.marks:
        told += [(), line(("Marks   ", "strong"), (" m ", "key"), " puts words to them")]
        told += [line((f"{spent(at):>7}  ", "quiet"), text or "…") for at, text in facts.marks]
    told += [(), *spots(view.inside, cells, 4)] if view.inside.spots else []
    last = [line((f"Kept: {facts.kept}", "quiet"))] if facts.kept else []
    last.append(line((" o ", "key"), " and ", (" e ", "key"), f" how hard it was: ask players in about {ASK_AFTER // 60_000} min"))
    last.append(line((" Ctrl+Q ", "key"), " closes   ", (" u ", "key"), " takes the end back"))
    return screen([*top, *_pad(told, rows - len(top) - len(last)), *last], cells, rows)


def page(view: View, title: str, told: list[Line], cells: int, rows: int, at: int = 0) -> list[Line]:
    """One page of a longer text; the clock stays in view above it."""
    look = look_of(view)
    clock = line((f" {look.shape} {look.word.upper()} {number(view)} ", "live" if view.live else "strong"))
    body, pages = rows - 2, page_count(told, rows)
    at = min(at, pages - 1)
    which = f"{title}, page {at + 1} of {pages}" if pages > 1 else title
    top = spread(clock if view.phase != "start" else (), line((which, "strong")), cells)
    return screen([top, (), *told[at * body : (at + 1) * body]], cells, rows)


def page_count(told: list[Line], rows: int) -> int:
    """How many pages a text takes."""
    return max(1, -(-len(told) // max(1, rows - 2)))


def help_lines(cells: int) -> list[Line]:
    """Every call of the one table: its key, its clicker's button, what it does."""
    told: list[Line] = []
    for row in TABLE:
        button = f" clicker: {row.button} " if row.button else ""
        first = line((f" {row.shown} ", "key") if row.shown else "", (button, "quiet"))
        fits = width(first) + 1 + len(row.tells) <= cells
        told += [(*first, (" " + row.tells, "plain"))] if fits else [first, *_indent(row.tells, cells)]
    return told


def _indent(text: str, cells: int) -> list[Line]:
    return [line(f"    {part}") for part in wrap(text, cells - 4)]


def choice(sessions: tuple[tuple[str, str], ...], at: int, cells: int, rows: int) -> list[Line]:
    """Sessions to choose from, the chosen one reversed and pointed at; the list moves along when it is long."""
    top = [line(("Which practice?", "strong")), ()]
    last = [(), line((" ↑ ↓ ", "key"), " move   ", (" Enter ", "key"), " takes it   ", (" Ctrl+Q ", "key"), " none")]
    room = max(1, rows - len(top) - len(last))
    first = min(max(0, at - room + 1), max(0, len(sessions) - room)) if at >= room else 0
    told = [_choice(sessions[n], n == at, cells) for n in range(first, min(len(sessions), first + room))]
    none = [line(("No session file was found. Write one, or start from first-practice.", "warn"))]
    return screen([*top, *_pad(told or none, room), *last], cells, rows)


def _choice(session: tuple[str, str], chosen: bool, cells: int) -> Line:
    title, path = session
    style = "pick" if chosen else "plain"
    return spread(line((f"{'►' if chosen else ' '} {title}", style)), line((f"{path} ", style if chosen else "quiet")), cells, style)


def _pad(lines: list[Line], rows: int) -> list[Line]:
    return (lines + [()] * max(0, rows))[: max(0, rows)]
