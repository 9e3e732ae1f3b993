"""What four stations wish to be heard in the next minute and a half, at random, for the tests and figures of the air."""

from random import Random

from courttimer.practice.cue import FLOOR, Cue
from courttimer.sound.lengths import Lengths
from courttimer.sound.recipes import NAMES, Recipe

HORIZON_MS = 90_000
SAID = {
    "Ready.": 500, "Blue seven, red five.": 1_800, "Everyone on by one.": 1_300, "Low hips.": 700, "Hands up on every shot.": 1_500,
    "See the ball and your player.": 1_900, "One minute.": 800, "Stations. On to the next basket.": 2_400, "Stations.": 800,
}  # fmt: skip
TONES = {"go": 500, "end": 900, "open": 220, "close": 394, "warning": 600, "change": 700, "water": 1160, "back": 720}
LENGTHS = Lengths(
    {name: Recipe(name=name, partials=((700.0, 1.0),), runs=(TONES[name],), pitch=(1.0,), rise=5, fall=5) for name in NAMES},
    SAID | {"three": 450, "two": 400, "one": 400},
)


def stations(chance: Random, lanes: int = 4, *, heard: bool = True, talk: float = 1, until: int = HORIZON_MS) -> list[Cue]:
    """Reps of their own on every lane, and the common change of all in the last quarter of the time.

    `heard`: the stations' tones sound too. `talk`: how much of what could be said is.
    """
    change = chance.randrange(until * 3 // 4, until)
    cues = [_tone(FLOOR, "change", change), _words(FLOOR, "where", "Stations. On to the next basket.", change, change + 9_000, "where",
                                                   short="Stations.")]  # fmt: skip
    cues.append(_words(FLOOR, "one minute", "One minute.", change - 30_000, change - 27_500, "warning"))
    for seconds, word in ((3, "three"), (2, "two"), (1, "one")):
        at = change - 1_000 * seconds
        cues.append(_words(FLOOR, "count", word, at, at + 1_000, "countdown", n=seconds))
    for lane in range(lanes):
        cues += _lane(chance, lane, change, heard=heard)
    return [c for c in cues if c.lane == FLOOR or c.sort == "tone" or chance.random() < talk]


def _lane(chance: Random, lane: int, until: int, *, heard: bool) -> list[Cue]:
    live, off = chance.choice((6_000, 8_000, 12_000, 20_000)), chance.choice((6_000, 10_000, 15_000))
    cues: list[Cue] = []
    at = chance.randrange(-live, off)
    while at + live + off < until:
        ends = at + live
        go = ends + off
        if heard:
            cues += [_tone(lane, "go", at), _tone(lane, "close", at + 3_000), _tone(lane, "end", ends)]
        cues += [
            _words(lane, "score", "Blue seven, red five.", ends, ends + 4_000, "score"),
            _words(lane, "turn", "Everyone on by one.", ends, go - 1_500, "turn"),
            _words(lane, "reminder", chance.choice(tuple(SAID)[3:6]), ends, ends + off // 3, "reminder"),
            _words(lane, "ready", "Ready.", go - 3_000, go, "turn", ends=True),
        ]
        at = go
    return [c for c in cues if c.at >= 0]


def _tone(lane: int, name: str, at: int) -> Cue:
    return Cue(
        lane=lane, stretch=at, name=name, sort="tone", at=at, until=at, segment=0, right="horn", if_late="play", group=f"{lane}.{at}"
    )


def _words(lane: int, name: str, text: str, at: int, until: int, right: str, *, short: str = "", ends: bool = False, n: int = 0) -> Cue:
    return Cue(lane=lane, stretch=at, name=name, n=n, sort="speech", at=at, until=until, ends=ends, text=text, short=short, segment=0,
               right=right, if_late="drop", group=f"{lane}.{at}.{name}")  # fmt: skip
