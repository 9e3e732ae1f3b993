"""The session as a strip: every segment as wide as it is long, where we are, and where the floor time ends."""

from itertools import accumulate, pairwise

from courttimer.practice.view import Block, View
from courttimer.screen.ink import Line, Piece, clip, fill
from courttimer.screen.say import figures, slack


def strip(view: View, cells: int) -> list[Line]:
    """Three lines: names, blocks, and the end of the floor time."""
    if not view.strip:
        return []
    edges = _edges(view, cells)
    spans = list(zip(view.strip, pairwise(edges), strict=True))
    names = tuple(_name(block, end - start) for block, (start, end) in spans)
    blocks = tuple(p for block, (start, end) in spans for p in _block(block, end - start, view))
    return [fill(names, cells), fill(blocks, cells), fill(_mark(view, cells), cells)]


def _axis(view: View) -> tuple[int, int]:
    """Where we stand on the strip, and how long the strip is, in ms."""
    now = sum(b.time for b in view.strip if b.when == "done")
    now += view.segment_lasts - view.segment_left if any(b.when == "now" for b in view.strip) else 0
    whole = sum(b.time for b in view.strip)
    return now, max(1, whole, now + max(0, view.floor_left or 0))


def _edges(view: View, cells: int) -> list[int]:
    whole = _axis(view)[1]
    return [ms * cells // whole for ms in accumulate((_length(b, view) for b in view.strip), initial=0)]


def _length(block: Block, view: View) -> int:
    return view.segment_lasts if block.when == "now" and view.segment_lasts else block.time


def _name(block: Block, room: int) -> Piece:
    name = clip(block.name, room - 1) if room > 2 else ""
    return (name + " " * (room - len(name)), "strong" if block.when == "now" else "quiet")


def _block(block: Block, room: int, view: View) -> tuple[Piece, ...]:
    """Done is thin, ahead is hollow, the part of now that is over is solid; a gap ends each."""
    if room < 1:
        return ()
    body = room - 1 if room > 1 else 1
    gap = (" " * (room - body), "plain")
    if block.when == "done":
        return (("─" * body, "quiet"), gap)
    if block.when == "ahead":
        return (("░" * body, "quiet"), gap)
    gone = body * (view.segment_lasts - view.segment_left) // max(1, view.segment_lasts)
    return (("█" * gone, "strong"), ("▒" * (body - gone), "strong"), gap)


def _mark(view: View, cells: int) -> Line:
    """An arrow under the end of the floor time, with the time until then and what that means."""
    if view.floor_left is None:
        return ((f"{figures(view.to_go)} of plan to go", "quiet"),)
    now, whole = _axis(view)
    at = min(cells - 1, max(0, (now + view.floor_left) * cells // whole))
    late = view.in_hand is not None and view.in_hand < 0
    words = f"clear the floor in {figures(view.floor_left)}" if view.floor_left > 0 else "clear the floor now"
    words += ", counted from go" if view.by_length else ""
    words += f", {slack(view.in_hand)}" if view.in_hand is not None else ""
    style = "warn" if late or view.floor_left <= 0 else "quiet"
    before = at - len(words) - 1
    if before >= 0:
        return ((" " * before, "plain"), (words + " ▲", style))
    return ((" " * at, "plain"), (clip("▲ " + words, cells - at), style))
