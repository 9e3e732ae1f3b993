"""A second count of one practice, from the raw lines of its journal alone: no state, no fold, no clocks, only what was written down.

What was taken back is cut off as text: a stack of lines. A station's own take back under later calls is not known to it.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import Any

from courttimer.plan.model import Segment, Session, Station

Line = dict[str, Any]
FACTS = {"opened", "woke", "still", "refused", "mark worded", "lead changed", "cue heard", "cue moved", "cue dropped", "sound changed"}
CALLS = {
    "went", "held", "halted", "outcome happened", "window called", "turn called", "score corrected", "here changed", "makes entered",
    "heat changed", "thunder heard", "effort given", "last called", "moved", "lengthened", "water taken", "voice switched", "marked",
    "called off",
}  # fmt: skip


def standing_lines(lines: Iterable[Line]) -> tuple[list[Line], list[tuple[int, bool]]]:
    """The lines without those that were taken back, and each take back with its moment and whether it was put back."""
    kept: list[Line] = []
    ahead: list[tuple[list[Line], int]] = []
    struck: list[tuple[int, bool]] = []
    for line in lines:
        what = line["what"]
        if what == "taken back":
            cut = max(at for at, one in enumerate(kept) if one["what"] in CALLS)
            ahead.append((kept, len(struck)))
            struck.append((line["at"], False))
            kept = kept[:cut]
        elif what == "put back":
            kept, at = ahead.pop()
            struck[at] = (struck[at][0], True)
        elif what not in FACTS:
            kept = [*kept, line]
            if what in CALLS:
                ahead = []
    return kept, struck


class Count:
    """Everything that can be read off the lines, by segments from 0 and lanes."""

    def __init__(self, plan: Session, lines: list[Line]) -> None:
        self.plan = plan
        self.lines, self.struck = standing_lines(lines)
        self.until = max((line["at"] for line in lines), default=0)
        self.ms: Counter[tuple[int, str]] = Counter()
        self.reps: Counter[int] = Counter()
        self.here_ms: Counter[tuple[str, int]] = Counter()
        self.role_ms: Counter[tuple[str, int, int, str]] = Counter()
        self.role_reps: Counter[tuple[str, int, int, str]] = Counter()
        self.paid: Counter[str] = Counter()
        self.points: Counter[tuple[int, int, str]] = Counter()
        self.rows: Counter[tuple[int, int, str]] = Counter()
        self.makes: Counter[tuple[int, int, str]] = Counter()
        self.tried: Counter[tuple[int, int, str]] = Counter()
        self.last: dict[tuple[int, int, str], int] = {}
        self.won: Counter[tuple[int, int, str]] = Counter()
        self.wins: Counter[str] = Counter()
        self.outcomes: Counter[tuple[int, int, str, str]] = Counter()
        self.targets: list[tuple[int, int, int, str, str, int, int, tuple[str, ...]]] = []
        self.shots: dict[tuple[int, str, int], tuple[int, int | None]] = {}
        self.holds: list[list[Any]] = []
        self.station: Counter[tuple[int, int, str]] = Counter()
        self.lengthened: Counter[int] = Counter()
        self.ended: dict[int, str] = {}
        self.begun: set[int] = set()
        self.began: list[tuple[int, int]] = []
        self.marks: list[tuple[int, str]] = []
        self.efforts: dict[str, int] = {}
        self.over = False
        self.went: int | None = None
        self.clear: int | None = None
        self.early: int | None = None
        self.here = set(plan.squad.players)
        self._none()
        for line, after in pairwise([*self.lines, {"at": self.until}]):
            getattr(self, "_" + line["what"].replace(" ", "_"), self._nothing)(line)
            self._pass(max(after["at"] - line["at"], 0))

    # What stands between two lines.

    def _none(self) -> None:
        self.n = -1
        self.on = self.held = self.halted = False
        self.stretch: dict[int, str] = {}
        self.live: dict[int, bool] = {}
        self.stopped: set[int] = set()
        self.standing: dict[int, Any] = {}
        self.was: dict[int, Any] = {}
        self.units: dict[int, dict[str, list[str]]] = {}
        self.owing: dict[int, list[str]] = {}
        self.payers: dict[int, list[str]] = {}
        self.sheet: dict[int, dict[str, int]] = defaultdict(dict)
        self.row_now: dict[int, dict[str, int]] = defaultdict(dict)
        self.go: dict[int, list[tuple[str, str]]] = {}
        self.new: dict[int, list[tuple[str, str]]] = {}
        self.again: dict[int, bool] = {}
        self.reached = set[int]()

    @property
    def segment(self) -> Segment:
        return self.plan.segment[self.n]

    @property
    def stations(self) -> bool:
        return self.on and self.segment.kind == "stations"

    def play(self, lane: int) -> Segment | Station:
        return self.segment.station[lane - 1] if lane > 0 else self.segment

    def sort(self) -> str:
        if self.held:
            return "halt" if self.halted else "hold"
        if self.segment.kind in ("water", "talk", "rest"):
            return self.segment.kind
        if self.live.get(0):
            return "stopped" if 0 in self.stopped else "live"
        return {"": "off", "ready": "off"}.get(self.stretch.get(0, ""), self.stretch.get(0, ""))

    def playing_lanes(self) -> Iterator[int]:
        if self.held or self.segment.kind in ("water", "talk", "rest") or (self.stations and not self.live.get(0)):
            return
        for lane in range(1, len(self.segment.station) + 1) if self.stations else (0,):
            if lane not in self.stopped and (self.live.get(lane) or self.stretch.get(lane) == "on"):
                yield lane

    def who(self, lane: int) -> Iterator[tuple[str, str]]:
        """Players and what they do in a lane."""
        standing = (self.was.get(lane) if self.live.get(lane) else None) or self.standing.get(lane)
        if standing and self.play(lane).roles:
            units = self.units.get(lane, {})
            for place in standing:
                for role, names in place:
                    yield from ((p, role) for name in names for p in units.get(name) or [name] if p in self.here)
        elif lane == 0:
            yield from ((p, "") for p in self.here)
        else:
            units, places = self.units.get(0, {}), self.standing.get(0) or []
            group = [name for _, names in places[lane - 1] for name in names] if lane <= len(places) else []
            yield from ((p, "") for name in group for p in units.get(name) or [name] if p in self.here)

    def _pass(self, ms: int) -> None:
        if not ms or not self.on:
            return
        self.ms[self.n, self.sort()] += ms
        if self.held:
            if self.holds:
                self.holds[-1][3] += ms
            return
        for p in self.here:
            self.here_ms[p, self.n] += ms
        for lane in self.playing_lanes():
            for p, role in self.new.pop(lane, []):
                self.go.setdefault(lane, []).append((p, role))
            for p, role in set(self.who(lane)):
                self.role_ms[p, self.n, lane, role] += ms
        for lane in range(len(self.segment.station) + 1) if self.stations else (0,):
            if self.stretch.get(lane) == "consequence" and not self.live.get(lane):
                self.paid.update(dict.fromkeys(self.payers.get(lane, []), ms))
            if lane and self.live.get(lane) and lane not in self.stopped:
                self.station[self.n, lane, "live"] += ms
            if lane and lane in self.stopped and self.live.get(0):
                self.station[self.n, lane, "held"] += ms

    # Lines.

    def _nothing(self, e: Line) -> None:
        pass

    def _went(self, e: Line) -> None:
        if self.went is None and e["lane"] == -1:
            self.went, self.clear = e["starts"], e["floor_ends"]

    def _segment_began(self, e: Line) -> None:
        self._none()
        self.n, self.on = e["segment"], True
        self.begun.add(self.n)
        self.began.append((e["at"], self.n))
        self.ended.pop(self.n, None)
        if self.segment.game:
            self.sheet[0] = dict(self.segment.game.score)

    def _segment_ended(self, e: Line) -> None:
        self.read_board()
        self.ended[e["segment"]] = e["why"]
        self.on = False

    def read_board(self) -> None:
        for lane, points in self.sheet.items():
            self.last |= {(self.n, lane, side): n for side, n in points.items()}

    def _practice_ended(self, e: Line) -> None:
        self.over = True
        self.early = None if self.clear is None else self.clear - e["at"]

    def _held(self, e: Line) -> None:
        if e["lane"] != -1:
            self.stopped.add(e["lane"])
            return
        halts = self.halted or e["what"] != "held"
        if not self.held or halts != self.halted:
            self.holds.append([e["at"], self.n, "halt" if halts else "hold", 0])
        self.held, self.halted = True, halts

    _halted = _thunder_heard = _held

    def _hold_ended(self, e: Line) -> None:
        if e["lane"] == -1:
            self.held = self.halted = False
        self.stopped.discard(e["lane"])

    def _stretch_began(self, e: Line) -> None:
        lane = e["lane"]
        self.stretch[lane], self.live[lane] = e["stretch"], False
        if e["stretch"] == "consequence":
            self.payers[lane] = self.owing.pop(lane, [])

    def _rep_began(self, e: Line) -> None:
        lane = e["lane"]
        self.live[lane], self.was[lane] = True, self.standing.get(lane)
        if lane == 0 and self.segment.game and e["rep"] > 1 and not self.again.get(0):
            self.sheet[0] = dict(self.segment.game.score)
            self.row_now[0] = {}
        if not self.again.get(lane) and self.stretch.get(lane) != "consequence":
            self.owing.pop(lane, None)
        self.again[lane] = False
        if lane == 0 and self.stations:
            for n, one in enumerate(self.segment.station, 1):
                self.stretch[n], self.live[n], self.standing[n], self.was[n] = "" if one.rep else "on", False, None, None
                self.stopped.discard(n)
                if one.roles or n in self.reached:
                    self.sheet[n], self.row_now[n] = {}, {}
            self.reached = set()
        else:
            self.go[lane], self.new[lane] = list(dict.fromkeys(self.who(lane))), []

    def _rep_ended(self, e: Line) -> None:
        lane = e["lane"]
        self.live[lane], self.again[lane] = False, e["why"] == "held"
        self.stretch[lane] = ""
        if lane == 0 and self.stations:
            self.read_board()
            self.live, self.stretch, self.stopped = {}, {}, set()
            return
        done = self.go.pop(lane, [])
        if e["why"] != "held":
            self.reps[self.n] += 1
            self.station[self.n, lane, "reps"] += 1
            for p, role in done:
                self.role_reps[p, self.n, lane, role] += 1

    def _station_ended(self, e: Line) -> None:
        self.live[e["lane"]] = False
        self.stretch[e["lane"]] = "change"
        self.stopped.discard(e["lane"])
        self.station[self.n, e["lane"], "lost"] += e["lost"]

    def _lined_up(self, e: Line) -> None:
        self.units[e["lane"]] = dict(e["units"])
        self._turned(e)

    def _turned(self, e: Line) -> None:
        lane = e["lane"]
        self.standing[lane] = e["standing"]
        if self.live.get(lane):
            self.was[lane] = e["standing"]
            now = dict(self.go.get(lane, []))
            self.new[lane] = [(p, role) for p, role in dict.fromkeys(self.who(lane)) if now.get(p) != role]

    def _here_changed(self, e: Line) -> None:
        if e["who"] in self.plan.staff.coaches:
            return
        if e["now"] != "here":
            self.here.discard(e["who"])
        elif self.went is None or not e["warm"]:
            self.here.add(e["who"])

    def _joined(self, e: Line) -> None:
        self.here.add(e["who"])

    def _scored(self, e: Line) -> None:
        lane = e["lane"]
        for side, n in e["points"]:
            self.points[self.n, lane, side] += n
            self.sheet[lane][side] = self.sheet[lane].get(side, 0) + n
        for side, n in e["rows"]:
            self.row_now[lane][side] = n
            self.rows[self.n, lane, side] = max(self.rows[self.n, lane, side], n)
        for side, made, tried in e["makes"]:
            self.makes[self.n, lane, side] += made
            self.tried[self.n, lane, side] += tried

    def _score_corrected(self, e: Line) -> None:
        lane, side = e["lane"], e["side"]
        score, key = self.play(lane).score, (self.n, lane, side)
        if score and score.counted == "players":
            self.wins[side] += e["amount"]
            self.won[key] += e["amount"]
        elif score and score.row:
            self.row_now[lane][side] = self.row_now[lane].get(side, 0) + e["amount"]
            self.rows[key] = max(self.rows[key], self.row_now[lane][side])
        else:
            self.points[key] += e["amount"]
            self.sheet[lane][side] = self.sheet[lane].get(side, 0) + e["amount"]

    def _target_reached(self, e: Line) -> None:
        lane = e["lane"]
        self.targets.append((e["at"], self.n, lane, e["side"], e["why"], e["n"], e["m"], tuple(e["pays"])))
        self.wins.update(e["winners"])
        if e["side"]:
            self.won[self.n, lane, e["side"]] += 1
        before = self.owing.get(lane, [])
        self.owing[lane] = [*before, *e["pays"]] if e["owes"] else e["pays"] or before
        score = self.play(lane).score
        if score and score.then in ("again", "turn"):
            self.sheet[lane], self.row_now[lane] = {}, {}
        else:
            self.reached.add(lane)

    def _outcome_happened(self, e: Line) -> None:
        self.outcomes[self.n, e["lane"], e["outcome"], "counted" if e["counts"] else "not"] += 1

    def _outcome_came(self, e: Line) -> None:
        self.outcomes[self.n, e["lane"], e["outcome"], "counted"] += 1
        self.outcomes[self.n, e["lane"], e["outcome"], "itself"] += 1

    def _makes_entered(self, e: Line) -> None:
        self.shots[e["segment"], e["spot"], e["round"]] = (e["makes"], e["shots"])

    def _lengthened(self, e: Line) -> None:
        self.lengthened[self.n] += e["ms"]

    def _marked(self, e: Line) -> None:
        self.marks.append((e["at"], e["words"]))

    def _effort_given(self, e: Line) -> None:
        self.efforts[e["who"]] = e["effort"]
