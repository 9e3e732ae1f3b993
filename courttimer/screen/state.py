"""What the clock is doing, told three times: by a word, a shape and a colour; and the one number that goes with it."""

from dataclasses import dataclass

from courttimer.practice.view import View
from courttimer.screen.say import short, spent


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How a state looks. `style` colours its word, `panel` what stands around the number."""

    word: str
    shape: str
    style: str
    panel: str = "plain"


_SHAPES = {
    "live": ("■", "live"), "ready": ("▲", "go"), "waiting": ("►", "go"), "off": ("○", "off"), "spare": ("○", "off"),
    "set-up": ("□", "off"), "change": ("◄►", "go"), "water": ("≈", "rest"), "rest": ("≈", "rest"), "talk": ("≡", "rest"),
    "consequence": ("▼", "warn"), "stopped": ("║", "hold"), "held": ("║", "hold"),
}  # fmt: skip


def shape_of(word: str, live: bool) -> tuple[str, str]:
    """Shape and style of what one clock does."""
    return _SHAPES.get("live" if live and word not in ("stopped", "held") else word, ("●", "off"))


def look_of(view: View) -> Look:
    """The state of the floor. What is no rep is called by its segment's kind."""
    if view.phase == "halted":
        return Look(word="halt", shape="×", style="halt", panel="halt")
    if view.phase == "held":
        return Look(word="hold", shape="║", style="hold", panel="hold")
    word = view.kind if view.word in ("on", "") else view.word
    if word == "stopped":
        return Look(word="stopped", shape="║", style="hold", panel="hold")
    shape, style = shape_of(word, view.live)
    return Look(word=word, shape=shape, style=style, panel="live" if view.live else "plain")


def left(view: View) -> int:
    """Time left, in ms, of what is on; of the segment when it lasts until a call."""
    return view.segment_left if view.left is None else view.left


def number(view: View) -> str:
    """The big number: time left, in seconds up to a minute; in a halt how long it stands."""
    return spent(view.stands) if view.phase == "halted" else short(left(view))


def far_number(view: View) -> str:
    """The same for far eyes: whole minutes with a prime above 60 s, rounded up, then seconds."""
    if view.phase == "halted":
        return spent(view.stands)
    ms = left(view)
    return f"{-(-ms // 60_000)}′" if ms > 60_000 else str(-(-max(0, ms) // 1000))
