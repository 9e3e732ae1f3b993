"""Views made by hand: the paint-touch drill of Tern Street at one moment or another."""

from typing import Any

from courttimer.plan.model import Gym
from courttimer.practice.view import Attendance, Block, Inside, RoleView, ScoreLine, SpotView, StationView, View, WindowView

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

SQUAD = ("Ada", "Bea", "Cleo", "Dina", "Edda", "Fern", "Gwen", "Hana", "Inga", "Juno", "Kaia", "Lina")
EVERYONE = Attendance(here=SQUAD, staff=("Mira", "Timo"))


def _basket(place: int, attack: str, defend: str, *line: str) -> tuple[RoleView, ...]:
    roles = (("attack", (attack,), True), ("defend", (defend,), True), ("off", line, False))
    return tuple(RoleView(place=place, role=role, names=names, plays=plays) for role, names, plays in roles)


PAINT = Inside(
    target="first to 5", score=(ScoreLine(side="Ada", points=3), ScoreLine(side="Edda", points=1), ScoreLine(side="Bea", points=4)),
    sides=SQUAD, outcomes=AT_SCORE[:3], windows=("drive",),
    roles=(*_basket(1, "Ada", "Bea", "Cleo"), *_basket(2, "Dina", "Edda", "Fern", "Gwen")),
    next=(*_basket(1, "Cleo", "Ada", "Bea"), *_basket(2, "Fern", "Dina", "Edda", "Gwen")),
)  # fmt: skip
"""Two baskets, one against one, to five by player."""
BLUE = RoleView(place=1, role="attack", names=("blue",), plays=True)
RED = RoleView(place=1, role="defend", names=("red",), plays=True)
WHITE = RoleView(place=1, role="off", names=("white",), plays=False, does="Passing on the sideline")
BLUE_RED = Inside(
    target="first to 7", score=(ScoreLine(side="blue", points=3), ScoreLine(side="red", points=5)),
    sides=("red", "blue", "white", "attack"), outcomes=((1, "basket"), (2, "stop")), wins=(("blue", 1), ("Ada", 1)),
    roles=(BLUE, RED, WHITE), next=(BLUE, RoleView(place=1, role="defend", names=("white",), plays=True)),
)  # fmt: skip
"""Three teams; a race to seven."""


def station(number: int, name: str, **changed: Any) -> StationView:
    """A station with a group, live for 14 s more."""
    plain: dict[str, Any] = {
        "number": number, "name": name, "lead": "", "lead_out": False, "group": "blue", "players": ("Ada", "Dina"), "word": "live",
        "live": True, "left": 14_000, "rep": 2, "windows": (), "outcomes": (), "score": (), "chosen": False,
    }  # fmt: skip
    return StationView(**(plain | changed))


THREE = (
    station(1, "Closeouts", lead="Timo", outcomes=((1, "stop"),), score=(ScoreLine(side="Ada", points=2),), chosen=True),
    station(2, "Form shooting", word="on", live=False, left=None, rep=0, group="red", lead="Mira", lead_out=True),
    station(3, "Handles", word="stopped", group="white", windows=(WindowView(name="weak hand", left=2_000, lasts=5_000),)),
)
SPOTS = Inside(
    spot="left corner", spot_next="top", round=1, shots=10,
    spots=tuple(SpotView(spot=spot, round=turn, makes=None, shots=10) for turn in (1, 2) for spot in ("left corner", "top")),
)  # fmt: skip


LIVE: dict[str, Any] = {
    "title": "Tern Street U14, Tuesday", "phase": "running", "now": 700_000, "since_go": 602_000,
    "segment": 1, "name": "Paint touch", "kind": "drill", "rule": "Touch the paint in three seconds.",
    "word": "live", "live": True, "left": 6_400, "lasts": 8_000, "gone": 1_600,
    "segment_left": 7 * MIN + 58_000, "segment_lasts": 10 * MIN, "rep": 3, "again": False, "last": False,
    "windows": (WindowView(name="drive", left=1_400, lasts=3_000),), "outcomes": AT_SCORE,
    "then": ("off, 16 s", "rep 4", "Water at 20:00"), "strip": STRIP,
    "to_go": 27 * MIN, "in_hand": 65_000, "floor_left": 28 * MIN + 5_000, "stands": 0, "water_ago": 602_000,
    "said": "", "allowed": RUNNING, "voice": True, "marks": 0, "gym": GYM, "attendance": EVERYONE,
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


def paint(**changed: Any) -> View:
    """The drill with a score and two baskets, live."""
    return look(**({"inside": PAINT} | changed))


def stay_on(**changed: Any) -> View:
    """Three teams, waiting for the coach."""
    return waiting(**({"name": "Stay on", "inside": BLUE_RED} | changed))


def stations(**changed: Any) -> View:
    """Three stations; calls go to the first."""
    plain = {"name": "Skill stations", "kind": "stations", "left": 95_000, "lasts": 240_000, "windows": (), "outcomes": ()}
    return look(**(plain | {"inside": Inside(stations=THREE, chosen=1)} | changed))


def shooting(**changed: Any) -> View:
    """A player alone at the first of two spots."""
    return look(**({"name": "Alone", "kind": "spots", "inside": SPOTS, "windows": (), "outcomes": ()} | changed))


def game(**changed: Any) -> View:
    """The last two minutes of a game, stopped."""
    inside = Inside(score=(ScoreLine(side="blue", points=41), ScoreLine(side="red", points=44)), sides=("blue", "red"), ball="blue")
    plain = {"name": "Last two minutes", "kind": "scrimmage", "word": "stopped", "left": 74_000, "lasts": 120_000}
    return look(**(plain | {"inside": inside, "windows": (), "outcomes": ()} | changed))


DRILLS = {"paint": paint, "stay on": stay_on, "stations": stations, "spots": shooting, "game": game}
