"""Views made by hand: the paint-touch drill of Tern Street at one moment or another."""

from typing import Any

from courttimer.plan.model import Gym
from courttimer.practice.view import Block, View, WindowView

MIN = 60_000
GYM = Gym(address="12 Ferry Lane, north door", aed="wall left of the office", call="emergency number, then the club phone")
STRIP = (
    Block(name="Lanes", kind="warm-up", time=8 * MIN, when="done"),
    Block(name="Paint touch", kind="drill", time=10 * MIN, when="now"),
    Block(name="Water", kind="water", time=3 * MIN, when="ahead"),
    Block(name="Stay on", kind="drill", time=12 * MIN, when="ahead"),
    Block(name="Cool-down", kind="cool-down", time=4 * MIN, when="ahead"),
)
RUNNING = frozenset(
    (
        "space", "forward", "back", "outcome", "open", "turn", "last", "next", "before", "longer", "shorter", "take back",
        "halt", "mark", "end",
    )
)  # fmt: skip
AT_SCORE = ((1, "paint"), (2, "basket"), (3, "stop"), (0, "over"))

LIVE: dict[str, Any] = {
    "title": "Tern Street U14, Tuesday", "phase": "running", "now": 700_000, "since_go": 602_000,
    "segment": 1, "name": "Paint touch", "kind": "drill", "rule": "Touch the paint in three seconds.",
    "word": "live", "live": True, "left": 6_400, "lasts": 8_000, "gone": 1_600,
    "segment_left": 7 * MIN + 58_000, "segment_lasts": 10 * MIN, "rep": 3, "again": False, "last": False,
    "windows": (WindowView(name="drive", left=1_400, lasts=3_000),), "outcomes": AT_SCORE,
    "then": ("off, 16 s", "rep 4", "Water at 20:00"), "strip": STRIP,
    "to_go": 27 * MIN, "in_hand": 65_000, "floor_left": 28 * MIN + 5_000, "stands": 0, "water_ago": 602_000,
    "said": "", "allowed": RUNNING, "voice": True, "marks": 0, "gym": GYM,
}  # fmt: skip


def look(**changed: Any) -> View:
    """The third rep of the drill, 1.6 s old, with what is `changed`."""
    return View(**(LIVE | changed))


def off(**changed: Any) -> View:
    """The off time after it."""
    plain = {"word": "off", "live": False, "left": 15_000, "lasts": 16_000, "gone": 1_000, "windows": (), "outcomes": ()}
    return look(**(plain | changed))


def waiting(**changed: Any) -> View:
    """A rep that starts on call."""
    return off(**({"word": "waiting", "left": None, "lasts": None, "gone": 4_000} | changed))


def held(**changed: Any) -> View:
    """A hold in the live rep: it is played again."""
    return look(**({"phase": "held", "again": True, "stands": 12_000, "windows": ()} | changed))


def halted(**changed: Any) -> View:
    """A halt."""
    return held(**({"phase": "halted", "stands": 83_000} | changed))


def before_go(**changed: Any) -> View:
    """Nothing has begun."""
    ahead = tuple(Block(name=b.name, kind=b.kind, time=b.time, when="ahead") for b in STRIP)
    plain = {
        "phase": "start", "since_go": None, "segment": -1, "name": "", "kind": "", "rule": "", "word": "", "left": None,
        "lasts": None, "gone": 0, "segment_left": 0, "segment_lasts": 0, "rep": 0, "strip": ahead, "to_go": 37 * MIN,
        "in_hand": 35 * MIN, "floor_left": 72 * MIN, "allowed": frozenset(("space", "forward", "mark", "end")),
    }  # fmt: skip
    return off(**(plain | changed))


def over(**changed: Any) -> View:
    """The practice is over."""
    done = tuple(Block(name=b.name, kind=b.kind, time=b.time, when="done") for b in STRIP)
    plain = {"phase": "ended", "strip": done, "to_go": 0, "word": "over", "left": None, "allowed": frozenset(("take back",))}
    return off(**(plain | changed))


PHASES = {"live": look, "off": off, "waiting": waiting, "held": held, "halted": halted, "start": before_go, "over": over}
