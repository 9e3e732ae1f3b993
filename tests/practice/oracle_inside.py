"""What happens inside a drill and at stations, counted millisecond by millisecond: windows, outcomes, scores, turns, holds of one lane.

Like `oracle.py` it knows no deadlines and no clocks inside clocks: every time is a counter that runs or stands. Two teams at most
turn here, by changing over; who goes where in longer lines is proved in `test_fair_play.py`.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from courttimer.plan.derived import opening, outcomes_of, rep_of
from courttimer.plan.model import Outcome, Rep, Segment, Session, Station
from courttimer.practice import events as ev
from tests.practice.oracle import JUST, READY, STEP, VOID, Press
from tests.practice.oracle_score import LEAST_PAY, PAY, Book, Play, added, adds, capped, note, playing, side, target

ACCEPT, WARM, GRACE = 6, 9, 2
"""The engine's own seconds made small: to accept a late outcome, to warm up, and the grace at a station."""
OVER = Outcome(name="over", ends="rep")


@dataclass(slots=True)
class Pane:
    """A window that is open, or will be when `left` is up."""

    name: str
    lasts: int
    left: int
    quiet: bool = False


@dataclass(slots=True)
class Lane:
    """What one drill or station does now."""

    play: Play
    stretch: str = ""
    after: str = "segment"
    left: int | None = None
    age: int = 0
    own_age: int = 0
    """How long its own clock has run."""
    held: bool = False
    going: int | None = None
    rep: int = 0
    again: bool = False
    panes: list[Pane] = field(default_factory=list)
    opening: list[Pane] = field(default_factory=list)
    closing: dict[str, str] = field(default_factory=dict)
    pulse: dict[str, int] = field(default_factory=dict)
    shut: dict[str, int] = field(default_factory=dict)
    coming: dict[str, list[int]] = field(default_factory=dict)
    """By window that has run out: in how long what it stands for comes, and how long ago it closed."""
    ending: tuple[str, int | None] | None = None
    happened: list[str] = field(default_factory=list)
    late: str = ""
    late_age: int = 0
    counting: list[str] = field(default_factory=list)
    book: Book = field(default_factory=Book)
    race_age: int | None = None
    turning: tuple[str, str] | None = None
    turned: bool = False
    turn_in: int | None = None
    on: dict[str, str] = field(default_factory=dict)
    was: dict[str, str] = field(default_factory=dict)
    lined_up: bool = False
    members: dict[str, list[str]] = field(default_factory=dict)
    seen: list[str] = field(default_factory=list)
    owes: int = 0
    payers: list[str] = field(default_factory=list)
    less: int = 0
    over: bool = False
    ended: bool = False

    @property
    def live(self) -> bool:
        return self.stretch == "live"


class Inside:
    """One practice from its start, with the calls that were taken."""

    def __init__(self, plan: Session) -> None:
        self.plan, self.now, self.trail, self.marks = plan, 0, list[ev.Event](), list[int]()
        self.times = [s.time for s in plan.segment]
        self.segment, self.to, self.on, self.by_itself = -1, 0, False, False
        self.left = self.age = 0
        self.lanes: list[Lane] = []
        self.held = self.halted = self.went = self.called_off = self.ended = False
        self.go_in: int | None = None
        self.move: tuple[int, int] | None = None
        self.last: int | None = None
        self.here = list(plan.squad.players)
        self.late_ones: set[str] = set()
        self.expected: set[str] = set()
        self.gone = False
        """Go has been pressed."""
        self.warming: dict[str, int] = {}
        self.paid: dict[str, int] = {}

    # Time.

    def run_to(self, at: int) -> None:
        while self.now < at:
            self.tick()
            self.settle()

    def tick(self) -> None:
        self.now, self.age = self.now + 1, self.age + 1
        self.go_in = None if self.go_in is None else self.go_in - 1
        self.move = None if self.move is None else (self.move[0], self.move[1] - 1)
        self.warming = {one: left - 1 for one, left in self.warming.items()}
        if self.on and not self.held:
            self.left -= 1
        for lane in self.lanes:
            self.practice_ms(lane)
            if not self.stands(lane):
                self.own_ms(lane)

    def practice_ms(self, lane: Lane) -> None:
        """What runs also in a hold."""
        lane.age, lane.late_age = lane.age + 1, lane.late_age + 1
        lane.coming = {name: [left - 1, closed + 1] for name, (left, closed) in lane.coming.items()}
        lane.going = None if lane.going is None else lane.going - 1
        lane.shut = {name: age + 1 for name, age in lane.shut.items()}
        for pane in lane.opening:
            pane.left -= 1

    def own_ms(self, lane: Lane) -> None:
        lane.own_age += 1
        lane.left = None if lane.left is None else lane.left - 1
        lane.race_age = None if lane.race_age is None else lane.race_age + 1
        lane.turn_in = None if lane.turn_in is None else lane.turn_in - 1
        for pane in lane.panes:
            pane.left -= 1
        every = {w.name: opening(w).every for w in lane.play.window}
        lane.pulse = {name: (left or every[name]) - 1 for name, left in lane.pulse.items()}

    def stands(self, lane: Lane) -> bool:
        return self.held or lane.held

    def settle(self) -> None:
        """All that happens at this millisecond, in the order of the rules."""
        while any(step() for step in self.steps()):
            pass

    def steps(self) -> Iterator[Callable[[], bool]]:
        """Stations go before their common clock, the floor comes last."""
        order = [n for n in (*range(1, len(self.lanes)), 0) if n < len(self.lanes) and not self.lanes[n].ended]
        common = len(self.lanes) > 1
        for act in (self.pane_shuts, self.counts, self.moves):
            yield from (_bound(act, n) for n in order)
        yield from (_bound(self.rep_ends, n) for n in order if n or not common)
        if common:
            yield from (_bound(self.station_ends, n) for n in order if n)
            yield _bound(self.rep_ends, 0)
        yield self.segment_ends
        yield from (_bound(self.begins, n) for n in order)
        yield self.floor_begins
        yield from (_bound(self.pane_opens, n) for n in order)

    def tell(self, event: ev.Event) -> bool:
        self.trail.append(event)
        return True

    # Why things are over at this millisecond; nothing: they are not.

    def cut(self) -> str:
        if self.called_off:
            return "called off"
        if not self.held:
            lane = self.lanes[0]
            done = not lane.live and not self.owed(lane) and (lane.stretch != "consequence" or lane.left == 0)
            if done and self.last is not None and lane.after == "rep" and lane.rep >= self.last:
                return "last"
            if done and lane.over:
                return "target"
            if self.left == 0:
                return "time"
        return "moved" if self.move is not None and self.move[1] == 0 else ""

    def lane_cut(self, n: int) -> str:
        return self.cut() if n == 0 else self.rep_over(0) or self.cut()

    def rep_over(self, n: int) -> str:
        lane, rep = self.lanes[n], reps(self.lanes[n].play)
        if not lane.live or rep is None:
            return ""
        if lane.ending:
            return lane.ending[0]
        if lane.over:
            return "target"
        if self.stands(lane) and rep.after_hold == "again" and rep.starts != "at once":
            return "held"
        return "time" if not self.stands(lane) and lane.left == 0 else self.lane_cut(n)

    # What happens, in its order.

    def pane_shuts(self, n: int) -> bool:
        lane = self.lanes[n]
        for pane in lane.panes:
            over = self.rep_over(n)
            why = lane.closing.get(pane.name, "")
            why = why or ("held" if self.stands(lane) and pane.lasts <= VOID else "")
            why = why or ("time" if not self.stands(lane) and pane.left == 0 else "rep" if over == "time" else over)
            if why:
                lane.panes.remove(pane)
                lane.closing.pop(pane.name, None)
                self.after_shut(lane, pane.name, why)
                return self.tell(ev.WindowClosed(at=self.now, lane=n, window=pane.name, why=why))
        return False

    def after_shut(self, lane: Lane, name: str, why: str) -> None:
        if why not in ("held", "reset"):
            lane.shut[name] = 0
        quietly = [one for one in outcomes_of(lane.play) if one.name == why and not one.ends]
        if why == "time" or quietly:
            follows = [w for w in lane.play.window if w.opens == f"when {name} closes"]
            lane.opening += [Pane(w.name, w.time, 0) for w in follows]
        window = next(w for w in lane.play.window if w.name == name)
        if why in ("time", "rep") and window.runs_out:
            belongs = any(name in (one.only_in, one.closes) for one in lane.play.outcome)
            lane.coming.pop(name, None)
            lane.coming[name] = [grace(lane.play) if belongs else 0, 0]

    def counts(self, n: int) -> bool:
        """An outcome that comes by itself, what an outcome adds up to, a target."""
        lane = self.lanes[n]
        now = bool(lane.coming) and (self.lane_cut(n) or self.rep_begins_now(n))
        window = next((one for one, (left, _) in lane.coming.items() if left <= 0 or now), None)
        if window is not None:
            name = next(one.runs_out for one in lane.play.window if one.name == window)
            _, closed = lane.coming.pop(window)
            ends = name == "over" or any(one.name == name and one.ends for one in lane.play.outcome)
            lane.less = closed if lane.live and ends else lane.less
            self.tell(ev.OutcomeCame(at=self.now, lane=n, outcome=name, window=window))
            self.happens(lane, name, None, counts=True)
            return True
        if lane.counting:
            return self.adds_up(n, lane)
        score = lane.play.score
        if score is None or lane.book.won:
            return False
        found = target(score, lane.book)
        if found is None and score.cap is not None and not self.stands(lane) and lane.race_age is not None:
            found = capped(lane.book) if lane.race_age >= score.cap else None
        return found is not None and self.reaches(n, lane, *found)

    def adds_up(self, n: int, lane: Lane) -> bool:
        name = lane.counting[0]
        score = lane.play.score
        if name == "reached" and score and score.counted == "players":
            return self.reaches(n, lane, "", "called", score.race or score.row or 0, 0)
        lane.counting.pop(0)
        outcome = next((one for one in outcomes_of(lane.play) if one.name == name), None)
        points, new_rows, makes = added(lane.play, outcome, lane.book, lane.was or lane.on)
        note(lane.book, points, new_rows)
        return self.tell(ev.Scored(at=self.now, lane=n, outcome=name, points=points, rows=new_rows, makes=makes))

    def reaches(self, n: int, lane: Lane, who: str, why: str, most: int, second: int) -> bool:
        score, on = lane.play.score, lane.was or lane.on
        assert score is not None
        if why == "called":
            lane.counting.pop(0)
        team = on.get(who, who)
        players = lane.members.get(team, [])
        winners = [one for one in (who, *players) if one in self.plan.squad.players or one in lane.members]
        winners = [] if not {*self.here} - {*winners} else winners
        pays, owes = self.pays(lane, who, why, team)
        for one in pays or (self.here or ["nobody"] if owes else []):
            self.paid[one] = self.paid.get(one, 0) + owes
        both = lane.owes and owes
        lane.payers = list(dict.fromkeys((*lane.payers, *pays))) if both else pays or lane.payers
        lane.owes = min(lane.owes, owes) if both else owes or lane.owes
        lane.book.won = True
        if score.then in ("again", "turn"):
            lane.book, lane.race_age = Book(), 0
        lane.over = lane.over or score.then == "end drill"
        if score.then == "turn" and lane.on:
            lane.turning = ("target", "swap")
        return self.tell(ev.TargetReached(
            at=self.now, lane=n, side=who, why=why, n=most, m=second, winners=tuple(winners), pays=tuple(pays), owes=owes,
        ))  # fmt: skip

    def pays(self, lane: Lane, who: str, why: str, team: str) -> tuple[list[str], int]:
        must = lane.play.consequence if isinstance(lane.play, Segment) else None
        if must is None or (why == "cap" and not who) or who in ("all", "us"):
            return [], 0
        if not lane.on or not who:
            most = max((self.paid.get(one, 0) for one in self.here or ["nobody"]), default=0)
            return [], 0 if PAY - most < LEAST_PAY else min(must.time, PAY - most)
        on = lane.was or lane.on
        names = [one for role in playing(lane.play) for one in lane.members[on[role]]]
        if must.pays == "last":
            least = min(lane.book.points.get(one, 0) for one in lane.members)
            names = [one for name, them in lane.members.items() if lane.book.points.get(name, 0) == least for one in them]
        names = [one for one in names if one not in lane.members.get(team, []) and one not in self.late_ones]
        fit = [one for one in names if one in self.here and PAY - self.paid.get(one, 0) >= LEAST_PAY]
        return fit, min([must.time, *(PAY - self.paid.get(one, 0) for one in fit)]) if fit else 0

    def owed(self, lane: Lane) -> bool:
        """Is there a consequence to be done, and anybody here who does it?"""
        return lane.owes > 0 and (not lane.payers or any(one in self.here for one in lane.payers))

    def moves(self, n: int) -> bool:
        """Who stands where: the line-up, who has gone or come, a turn."""
        lane = self.lanes[n]
        if n > 0 or not isinstance(lane.play, Segment):
            return False
        if not lane.lined_up and lane.play.teams and self.here:
            lane.lined_up, lane.seen = True, list(self.here)
            lane.members = {team: [one for one in names if one in self.here] for team, names in self.plan.squad.teams}
            lane.on = dict(zip(playing(lane.play), lane.members, strict=True))
            return self.line_up(n, lane, "segment")
        if lane.lined_up and lane.seen != self.here:
            return self.changes(n, lane)
        if lane.turning:
            why, _ = lane.turning
            outcome = why not in ("call", "time", "target", "rep")
            return self.turns(n, lane, why, lane.was if outcome and lane.turned else lane.on)
        if lane.live and lane.turn_in == 0 and not self.stands(lane) and lane.on:
            return self.turns(n, lane, "time", lane.on)
        return False

    def changes(self, n: int, lane: Lane) -> bool:
        gone = [one for one in lane.seen if one not in self.here]
        came = [one for one in self.here if one not in lane.seen]
        worn = {one: team for team, names in self.plan.squad.teams for one in names}
        for one in gone:
            lane.members[worn[one]].remove(one)
        for one in came:
            lane.members[worn[one]].append(one)
        lane.seen = list(self.here)
        if lane.live and not lane.ending and not lane.over:
            lane.was = dict(lane.on)
        return self.line_up(n, lane, "joined" if came else "out")

    def line_up(self, n: int, lane: Lane, why: str) -> bool:
        units = tuple((team, tuple(names)) for team, names in lane.members.items())
        return self.tell(ev.LinedUp(at=self.now, lane=n, standing=stood(lane.on), units=units, why=why))

    def turns(self, n: int, lane: Lane, why: str, base: dict[str, str]) -> bool:
        first, second = base
        lane.on = {first: base[second], second: base[first]}
        if lane.live and not lane.ending and not lane.over:
            lane.was = dict(lane.on)
        lane.turning, lane.turned = None, lane.turned or why not in ("call", "time")
        rep = reps(lane.play)
        lane.turn_in = rep.turn_every if rep else None
        return self.tell(ev.Turned(at=self.now, lane=n, standing=stood(lane.on), why=why))

    def rep_ends(self, n: int) -> bool:
        why = self.rep_over(n) if self.on else ""
        if not why:
            return False
        lane, again = self.lanes[n], why == "held"
        number, starts = lane.rep, lane.ending[1] if lane.ending else None
        lane.stretch, lane.after, lane.left, lane.age = "", "hold" if again else "rep", None, 0
        lane.rep, lane.again = number - again, again
        lane.panes, lane.opening, lane.closing, lane.pulse, lane.ending = [], [], {}, {}, None
        lane.coming = {} if again else lane.coming
        if lane.play.rep and lane.play.rep.turn.how and lane.on and not (again or lane.turned or lane.turning):
            lane.turning = ("rep", "swap")
        if isinstance(lane.play, Segment) and lane.play.kind == "stations":
            for one in self.lanes[1:]:
                one.ended, one.stretch = True, "change"
        return self.tell(ev.RepEnded(at=self.now, lane=n, rep=number, why=why, starts=starts))

    def station_ends(self, n: int) -> bool:
        lane, common = self.lanes[n], self.lanes[0]
        lost = common.own_age - lane.own_age
        if not self.lane_cut(n) or lost <= 0:
            return False
        lane.ended, lane.stretch = True, "change"
        return self.tell(ev.StationEnded(at=self.now, lane=n, lost=lost))

    def segment_ends(self) -> bool:
        why = self.cut() if self.on else ""
        if not why:
            return False
        self.to = self.move[0] if why == "moved" and self.move else self.segment + 1
        self.on, self.by_itself, self.last, self.move, self.go_in, self.lanes = False, why != "moved", None, None, None, []
        return self.tell(ev.SegmentEnded(at=self.now, segment=self.segment, why=why))

    def floor_begins(self) -> bool:
        if self.ended:
            return False
        if not self.on and (self.called_off or (self.went and self.to == len(self.plan.segment))):
            self.ended, self.lanes = True, []
            return self.tell(ev.PracticeEnded(at=self.now))
        if not self.on and (self.went or self.go_in == 0):
            return self.segment_begins()
        if self.held and self.go_in == 0:
            self.held, self.halted, self.go_in = False, False, None
            return self.tell(ev.HoldEnded(at=self.now))
        for one, left in self.warming.items():
            if left <= 0 and self.went and not self.called_off:
                del self.warming[one]
                self.here = [x for x in self.plan.squad.players if x in self.here or x == one]
                return self.tell(ev.Joined(at=self.now, who=one))
        return False

    def segment_begins(self) -> bool:
        self.went, self.on, self.held, self.halted, self.go_in = True, True, False, False, None
        self.segment, self.left, self.age = self.to, self.times[self.to], 0
        self.lanes = [Lane(self.plan.segment[self.to])]
        return self.tell(ev.SegmentBegan(at=self.now, segment=self.segment, lasts=self.left))

    def begins(self, n: int) -> bool:
        lane = self.lanes[n]
        if self.held:
            return False
        if lane.held:
            if lane.going is None or lane.going > 0:
                return False
            lane.held, lane.going = False, None
            return self.tell(ev.HoldEnded(at=self.now, lane=n))
        begun = self.next_of(n)
        return begun is not None and self.start(n, lane, begun)

    def next_of(self, n: int) -> tuple[str, int | None] | None:
        """What begins in a lane at this millisecond, and for how long; None: nothing."""
        lane = self.lanes[n]
        if self.stands(lane) or lane.ended:
            return None
        go = self.go_in if n == 0 else lane.going
        if lane.stretch == "" or (lane.stretch in ("waiting", "spare") and self.owed(lane)) or (not lane.live and lane.left == 0):
            return self.choice(n, lane.stretch or lane.after, called=False)
        if go is not None and go <= 0 and lane.stretch in ("set-up", "waiting", "off"):
            return self.choice(n, lane.stretch, called=True)
        return None

    def rep_begins_now(self, n: int) -> bool:
        """The next rep of a lane begins at this millisecond, so that nothing of the last one can come any more."""
        begun = self.next_of(n)
        return begun is not None and begun[0] == "live"

    def choice(self, n: int, over: str, *, called: bool) -> tuple[str, int | None]:
        lane, rep = self.lanes[n], reps(self.lanes[n].play)
        setup = lane.play.setup if isinstance(lane.play, Segment) else 0
        if over == "segment" and setup:
            return "set-up", setup
        if rep is None:
            return "on", None
        if self.owed(lane) and over in ("rep", "off", "waiting", "spare"):
            return "consequence", lane.owes
        if lane.over:
            return "spare", None
        if rep.starts == "at once":
            return "live", None
        off = max(rep.off - lane.less, 0) if over in ("rep", "consequence") else 0
        room = self.left_for(n) - (READY if over == "hold" else off)
        most = len(lane.play.station) if isinstance(lane.play, Segment) and lane.play.kind == "stations" else None
        if room < (rep.live or 1) or (most is not None and lane.rep >= most):
            return "spare", None
        if off:
            return "off", off
        if over == "hold":
            return "ready", READY
        if rep.starts == "on call" and not called and not lane.again:
            return "waiting", room - (rep.live or 1) + 1
        return "live", rep.live

    def left_for(self, n: int) -> int:
        return self.left if n == 0 else min(self.left, self.lanes[0].left or 0)

    def start(self, n: int, lane: Lane, begun: tuple[str, int | None]) -> bool:
        stretch, lasts = begun
        paying = lane.stretch == "consequence"
        if n == 0 and stretch != "waiting":
            self.go_in = None
        lane.stretch, lane.left, lane.age = stretch, lasts, 0
        lane.going = lane.going if stretch == "waiting" else None
        if stretch == "live":
            return self.rep(n, lane, lasts, paying)
        lane.owes = 0 if stretch == "consequence" else lane.owes
        lane.less = 0 if stretch == "off" else lane.less
        return self.tell(ev.StretchBegan(at=self.now, lane=n, stretch=stretch, lasts=lasts))

    def rep(self, n: int, lane: Lane, lasts: int | None, paying: bool) -> bool:
        lane.opening = [Pane(w.name, w.time, 0) for w in lane.play.window if w.opens == "with the rep"]
        lane.pulse = {w.name: opening(w).every for w in lane.play.window if opening(w).how == "every"}
        again = lane.again
        lane.rep, lane.again, lane.shut, lane.coming, lane.happened, lane.late = lane.rep + 1, False, {}, {}, [], ""
        lane.was, lane.turned, lane.less = dict(lane.on), False, 0
        lane.owes = lane.owes if again or paying else 0
        lane.race_age = 0 if lane.race_age is None else lane.race_age
        lane.turn_in = lane.play.rep.turn_every if lane.play.rep else None
        self.tell(ev.RepBegan(at=self.now, lane=n, rep=lane.rep, lasts=lasts))
        if isinstance(lane.play, Segment) and lane.play.kind == "stations":
            lane.own_age = 0
            old = self.lanes
            self.lanes = [lane, *(Lane(one, "" if one.rep else "on") for one in lane.play.station)]
            for before, after in zip(old[1:], self.lanes[1:], strict=False):
                if not after.play.roles and not before.book.won:
                    after.book = before.book
        return True

    def pane_opens(self, n: int) -> bool:
        lane = self.lanes[n]
        if self.stands(lane):
            return False
        soon = next((pane for pane in lane.opening if pane.left <= 0), None)
        if soon is not None:
            lane.opening.remove(soon)
            return self.pane(n, lane, soon.name, soon.quiet)
        for name, left in lane.pulse.items():
            if lane.live and left == 0 and all(pane.name != name for pane in lane.panes):
                lane.pulse[name] = next(opening(w).every for w in lane.play.window if w.name == name)
                return self.pane(n, lane, name, False)
        return False

    def pane(self, n: int, lane: Lane, name: str, quiet: bool) -> bool:
        order = [w.name for w in lane.play.window]
        lasts = next(w.time for w in lane.play.window if w.name == name)
        lane.panes = [pane for pane in lane.panes if pane.name != name] + [Pane(name, lasts, lasts)]
        lane.panes.sort(key=lambda pane: order.index(pane.name))
        lane.opening = [pane for pane in lane.opening if pane.name != name]
        return self.tell(ev.WindowOpened(at=self.now, lane=n, window=name, lasts=lasts, quiet=quiet))

    # What an outcome does.

    def happens(self, lane: Lane, name: str, lead: int | None, *, counts: bool) -> None:
        outcome = OVER if name == "over" else next(one for one in outcomes_of(lane.play) if one.name == name)
        if not counts:
            lane.late, lane.late_age = name, 0
        else:
            lane.late = ""
            lane.happened.append(name)
            if adds(lane.play, name, None if name == "over" else outcome):
                lane.counting.append(name)
            stood = {one.name: one.runs_out for one in lane.play.window}
            lane.coming = {w: left for w, left in lane.coming.items() if stood[w] != name}
            if name != "over":
                lane.turning = (name, "swap") if outcome.turn.how and lane.on else lane.turning
                mine = (outcome.only_in, outcome.closes, outcome.resets, outcome.opens)
                lane.coming = {w: left for w, left in lane.coming.items() if not outcome.ends and w not in mine}
                if lane.live:
                    self.moves_panes(lane, outcome, lead or 0)
        if lane.live and outcome.ends:
            lane.ending = (name, None if lead is None else self.now + lead)
            lane.closing = {pane.name: name for pane in lane.panes}
            lane.opening = []
            lane.over = lane.over or outcome.ends == "segment"

    def moves_panes(self, lane: Lane, outcome: Outcome, lead: int) -> None:
        names = [pane.name for pane in lane.panes]
        if outcome.closes in names:
            lane.closing[outcome.closes] = outcome.name
        wanted = [w.name for w in lane.play.window if w.opens == f"on {outcome.name}"]
        wanted += [outcome.opens] if outcome.opens and outcome.opens not in wanted else []
        lane.opening += [Pane(name, 0, lead) for name in wanted if name not in names]
        if outcome.resets:
            if outcome.resets in names:
                lane.closing[outcome.resets] = "reset"
            lane.opening.append(Pane(outcome.resets, 0, 0, quiet=True))

    # Calls.

    def where(self, n: int) -> str:
        if self.ended or self.segment < 0:
            return "ended" if self.ended else "start"
        if self.held:
            return "halted" if self.halted else "held"
        lane = self.lanes[n]
        return "stopped" if lane.held and not lane.ended else lane.stretch

    def press(self, p: Press) -> ev.Event | None:
        """Carry out a call; None: it means nothing here."""
        n = p.lane if 0 < p.lane < len(self.lanes) else 0
        local = p.what in ("go", "hold", "outcome", "open", "turn", "score")
        where = self.where(n if local else 0)
        act: Callable[[Press, int, str], ev.Event | None] = getattr(self, f"call_{p.what.replace(' ', '_')}")
        taken = act(p, n, where)
        if taken is not None:
            self.marks.append(len(self.trail))
            self.trail.append(taken)
        return taken

    def call_mark(self, p: Press, n: int, where: str) -> ev.Event | None:
        return ev.Marked(at=self.now, by="key")

    def call_go(self, p: Press, n: int, where: str) -> ev.Event | None:
        if where not in ("start", "set-up", "waiting", "off", "held", "halted", "stopped"):
            return None
        if n > 0:
            if self.lanes[n].going is not None:
                return None
            self.lanes[n].going = p.lead
            return ev.Went(at=self.now, by="key", lane=n, starts=self.now + p.lead)
        if self.go_in is not None:
            return None
        self.go_in, self.gone = p.lead, True
        return ev.Went(at=self.now, by="key", starts=self.now + p.lead)

    def call_hold(self, p: Press, n: int, where: str) -> ev.Event | None:
        if where in ("start", "held", "halted", "ended", "stopped") or (n > 0 and self.lanes[n].held):
            return None
        if n > 0:
            self.lanes[n].held = True
            self.unready(self.lanes[n])
            return ev.Held(at=self.now, by="key", lane=n)
        return self.stand(ev.Held(at=self.now, by="key"))

    def call_halt(self, p: Press, n: int, where: str) -> ev.Event | None:
        if where in ("start", "halted", "ended"):
            return None
        self.halted = True
        return self.stand(ev.Halted(at=self.now, by="key"))

    def stand(self, event: ev.Event) -> ev.Event:
        self.held, self.go_in, self.move = True, None, None
        for lane in self.lanes:
            self.unready(lane)
        return event

    def unready(self, lane: Lane) -> None:
        lane.opening, lane.going = [], None
        if lane.stretch == "ready":
            lane.stretch, lane.after, lane.left = "", "hold", None

    def call_outcome(self, p: Press, n: int, where: str) -> ev.Event | None:
        if where not in ("waiting", "live", "off", "consequence", "spare", "stopped"):
            return None
        lane, outcomes = self.lanes[n], outcomes_of(self.lanes[n].play)
        if p.number > len(outcomes):
            return None
        name = outcomes[p.number - 1].name if p.number else "over"
        counts, why = (True, "") if not p.number else self.judged(lane, outcomes[p.number - 1])
        aloud = lane.play.score is not None and lane.play.score.counted == "players" and name in ("reached", "broken")
        only_in = outcomes[p.number - 1].only_in if p.number else ""
        stands = any(one.name == only_in and one.runs_out for one in lane.play.window)
        closed = ACCEPT + 1 if stands else lane.shut.get(only_in, ACCEPT + 1)
        if not lane.live and not aloud and (not p.number or not why or not (counts or closed <= ACCEPT)):
            return None
        self.happens(lane, name, p.lead, counts=counts)
        return ev.OutcomeHappened(
            at=self.now, by="key", lane=n, outcome=name, starts=self.now + p.lead, counts=counts, why=why
        )

    def judged(self, lane: Lane, outcome: Outcome) -> tuple[bool, str]:
        """Does it count, and what is said of it?"""
        if lane.late == outcome.name and lane.late_age <= ACCEPT:
            return True, "accepted"
        if outcome.only_after and outcome.only_after not in lane.happened:
            return False, f'no "{outcome.only_after}" before it'
        age = lane.shut.get(outcome.only_in or outcome.closes)
        good = age is not None and age < grace(lane.play)
        if outcome.only_in and all(pane.name != outcome.only_in for pane in lane.panes):
            late = "late" if age is not None else f'"{outcome.only_in}" was not open'
            return good, "in the grace" if good else late
        return True, "in the grace" if good and outcome.points and not lane.live else ""

    def call_open(self, p: Press, n: int, where: str) -> ev.Event | None:
        lane = self.lanes[n] if where == "live" else None
        for window in lane.play.window if lane else ():
            busy = [pane.name for pane in (*lane.panes, *lane.opening)] if lane else []
            if lane and window.opens == "on call" and window.name not in busy:
                lane.opening.append(Pane(window.name, window.time, p.lead))
                return ev.WindowCalled(at=self.now, lane=n, by="key", window=window.name, starts=self.now + p.lead)
        return None

    def call_turn(self, p: Press, n: int, where: str) -> ev.Event | None:
        if where not in ("set-up", "waiting", "ready", "live", "off", "consequence", "stopped") or not self.lanes[n].on:
            return None
        self.lanes[n].turning = ("call", "swap")
        return ev.TurnCalled(at=self.now, by="key", lane=n)

    def call_last(self, p: Press, n: int, where: str) -> ev.Event | None:
        if where not in ("set-up", "waiting", "ready", "live", "off", "consequence") or self.last is not None:
            return None
        lane = self.lanes[0]
        if reps(lane.play) is None or (isinstance(lane.play, Segment) and lane.play.kind == "stations"):
            return None
        self.last = lane.rep + (not lane.live)
        return ev.LastCalled(at=self.now, lane=0, by="key", starts=self.now + p.lead)

    def call_next(self, p: Press, n: int, where: str) -> ev.Event | None:
        if where in ("start", "halted", "ended") or self.move is not None or (self.by_itself and self.age < JUST):
            return None
        self.move, self.go_in = (self.segment + 1, p.lead), None
        return ev.Moved(at=self.now, by="key", to=self.segment + 1, starts=self.now + p.lead)

    def call_longer(self, p: Press, n: int, where: str) -> ev.Event | None:
        if where in ("start", "halted", "ended"):
            return None
        self.left += STEP
        self.times[self.segment] += STEP
        for lane in self.lanes:
            if lane.stretch == "spare":
                lane.stretch, lane.after = "", "hold" if lane.again else "rep"
        return ev.Lengthened(at=self.now, by="key", ms=STEP)

    def call_end(self, p: Press, n: int, where: str) -> ev.Event | None:
        if where == "ended":
            return None
        self.called_off, self.go_in, self.move = True, None, None
        return ev.CalledOff(at=self.now, by="key")

    def call_score(self, p: Press, n: int, where: str) -> ev.Event | None:
        if not self.on or n >= len(self.lanes):
            return None
        lane = self.lanes[n]
        if (lane.play.score is None and not lane.book.points) or p.who not in self.sides(lane):
            return None
        if lane.play.score is None or lane.play.score.counted == "keys":
            sums = lane.book.rows if lane.play.score and lane.play.score.row else lane.book.points
            sums[p.who] = sums.get(p.who, 0) + 1
        return ev.ScoreCorrected(at=self.now, by="key", lane=n, side=p.who, amount=1)

    def sides(self, lane: Lane) -> set[str]:
        known = {*lane.book.points, *lane.book.rows}
        if lane.play.score and lane.play.score.by == "rival":
            return known | {"us", "rival"}
        on = lane.was or lane.on
        given = {side(lane.play, one, on) for one in lane.play.outcome if one.points}
        return known | {on.get(role, role) for role in playing(lane.play)} | {*lane.members} | given

    def call_out(self, p: Press, n: int, where: str) -> ev.Event | None:
        stands = "here" if p.who in self.here or p.who in self.warming else "late" if p.who in self.expected else "out"
        if p.who not in self.plan.squad.players or p.what == stands:
            return None
        warm = WARM if p.what == "here" and self.gone else 0
        self.here = [one for one in self.plan.squad.players if one in self.here and one != p.who]
        self.warming.pop(p.who, None)
        self.expected.discard(p.who)
        if warm:
            self.warming[p.who] = WARM
        elif p.what == "here":
            self.here = [x for x in self.plan.squad.players if x in self.here or x == p.who]
        self.expected |= {p.who} if p.what == "late" else set()
        self.late_ones |= {p.who} if p.what == "late" or warm else set()
        return ev.HereChanged(at=self.now, by="key", who=p.who, now=p.what, warm=warm)

    call_late = call_here = call_out


def _bound(act: Callable[[int], bool], n: int) -> Callable[[], bool]:
    return lambda: act(n)


def reps(play: Play) -> Rep | None:
    return play.rep if isinstance(play, Station) else rep_of(play)


def grace(play: Play) -> int:
    return play.grace if isinstance(play, Segment) else GRACE


def stood(on: dict[str, str]) -> tuple[tuple[tuple[str, tuple[str, ...]], ...], ...]:
    return ((*((role, (team,)) for role, team in on.items()), ("off", ())),)


def recount(plan: Session, presses: list[Press], until: int) -> Inside:
    """The practice with these calls and no others, at `until`."""
    count = Inside(plan)
    for p in presses:
        count.run_to(p.at)
        count.press(p)
        count.settle()
    count.run_to(until)
    return count


Kept = list[tuple[Press, ev.Event]]


def counted(plan: Session, presses: list[Press], until: int) -> list[ev.Event]:
    """Every event of the evening as the journal has it, bare of words."""
    now, journal = Inside(plan), list[ev.Event]()
    kept: Kept = []
    struck: list[tuple[Kept, int]] = []
    for p in presses:
        seen = len(now.trail)
        now.run_to(p.at)
        journal += now.trail[seen:]
        length = len(now.trail)
        if p.what == "take back" and (at := _to_strike(now, kept, p)) is not None:
            struck.append((list(kept), length))
            lane, before = p.lane if 0 < p.lane < len(now.lanes) else -1, now.marks[at]
            last = at == len(kept) - 1
            kept.pop(at)
            now = recount(plan, [k for k, _ in kept], p.at)
            journal.append(ev.TakenBack(at=p.at, by="key", lane=lane))
            journal += now.trail[before if last else now.marks[-1] + 1 :]
        elif p.what == "put back" and struck:
            kept, length = struck.pop()
            now = recount(plan, [k for k, _ in kept], p.at)
            journal.append(ev.PutBack(at=p.at, by="key"))
            journal += now.trail[length:]
        elif p.what in ("take back", "put back") or (made := now.press(p)) is None:
            journal.append(ev.Refused(at=p.at, by="key", call="", why=""))
        else:
            kept.append((p, made))
            struck.clear()
            now.settle()
            journal += now.trail[length:]
    seen = len(now.trail)
    now.run_to(until)
    return journal + now.trail[seen:]


def _to_strike(now: Inside, kept: Kept, p: Press) -> int | None:
    """Which call a take back strikes: the last one, or a station's own last one since the last call to the floor."""
    if not 0 < p.lane < len(now.lanes):
        return len(kept) - 1 if kept else None
    for at in range(len(kept) - 1, -1, -1):
        made = kept[at][1]
        if made.lane == p.lane and made.at >= now.now - now.age:
            return at
        if made.lane == -1:
            return None
    return None
