"""The same practice counted millisecond by millisecond: it knows no deadlines, no clocks inside clocks, and nothing of the engine.

Every time is a counter that is taken down by one, or not while the clock stands. A take back is a recount from the start without
the call. Only the event classes are shared, so that the two lists can be compared.
"""

from dataclasses import dataclass, field

from courttimer.plan.model import Outcome, Rep, Segment, Session
from courttimer.practice import events as ev
from courttimer.practice.named import named

READY, VOID, STEP, SHORT_STEP, JUST, WATER, RESTART = 4, 5, 12, 6, 3, 15, 5
"""The engine's own seconds and minutes, made small enough to be counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """A call at a moment; what it starts is heard `lead` ms later."""

    at: int
    what: str
    number: int = 0
    lead: int = 0
    lane: int = -1
    who: str = ""


@dataclass(slots=True)
class Pane:
    """A window that is open, or soon will be."""

    name: str
    lasts: int
    left: int


@dataclass(slots=True)
class Lane:
    """What one drill does now, and how long it still does it."""

    stretch: str = ""
    after: str = "segment"
    left: int | None = None
    age: int = 0
    rep: int = 0
    again: bool = False
    panes: list[Pane] = field(default_factory=list)
    opening: list[Pane] = field(default_factory=list)
    closing: dict[str, str] = field(default_factory=dict)
    ending: tuple[str, int] | None = None


def reps(segment: Segment) -> Rep | None:
    if segment.kind == "stations" and segment.each:
        return Rep(live=segment.each, off=segment.change, after_hold="goes on")
    if segment.kind == "spots" and segment.within:
        return Rep(live=segment.within, off=segment.change, after_hold="goes on")
    return Rep(starts="at once") if segment.kind == "scrimmage" and segment.rep is None else segment.rep


def most(segment: Segment) -> int | None:
    if segment.kind == "stations":
        return len(segment.station)
    return len(segment.spots) * segment.rounds if segment.kind == "spots" else None


class Count:
    """One practice from its start, with the calls that were taken."""

    def __init__(self, plan: Session) -> None:
        self.plan, self.now, self.trail = plan, 0, list[ev.Event]()
        self.times = [s.time for s in plan.segment]
        self.segment, self.to, self.on, self.by_itself = -1, 0, False, False
        self.left = self.age = self.own_age = 0
        self.lane = Lane()
        self.held, self.halted, self.since_hold = False, False, WATER + 1
        self.go_in: int | None = None
        self.move: tuple[int, int] | None = None
        self.went = self.called_off = self.ended = False
        self.last: int | None = None
        self.voice = True

    # Time.

    def run_to(self, at: int) -> None:
        while self.now < at:
            self.tick()
            self.settle()

    def tick(self) -> None:
        self.now += 1
        self.age, self.since_hold, self.lane.age = self.age + 1, self.since_hold + 1, self.lane.age + 1
        self.go_in = None if self.go_in is None else self.go_in - 1
        self.move = None if self.move is None else (self.move[0], self.move[1] - 1)
        for pane in self.lane.opening:
            pane.left -= 1
        if self.on and not self.held:
            self.left, self.own_age = self.left - 1, self.own_age + 1
            self.lane.left = None if self.lane.left is None else self.lane.left - 1
            for pane in self.lane.panes:
                pane.left -= 1

    def settle(self) -> None:
        """All that happens at this millisecond, in the order of the rules."""
        while self.pane_shuts() or self.rep_ends() or self.segment_ends() or self.something_begins() or self.pane_opens():
            pass

    def tell(self, event: ev.Event) -> bool:
        self.trail.append(event)
        return True

    def drill(self) -> Segment:
        return self.plan.segment[self.segment]

    def cut(self) -> str:
        """Why the segment is over at this millisecond; nothing: it is not."""
        if self.called_off:
            return "called off"
        over = not self.held and self.lane.stretch != "live" and self.lane.after == "rep"
        if over and self.last is not None and self.lane.rep >= self.last:
            return "last"
        if not self.held and self.left == 0:
            return "time"
        return "moved" if self.move is not None and self.move[1] == 0 else ""

    def rep_over(self) -> str:
        """Why the rep is over at this millisecond; nothing: it is not."""
        rep = reps(self.drill())
        if self.lane.stretch != "live" or rep is None:
            return ""
        if self.lane.ending:
            return self.lane.ending[0]
        if self.held and rep.after_hold == "again" and rep.starts != "at once":
            return "held"
        return "time" if not self.held and self.lane.left == 0 else self.cut()

    def pane_shuts(self) -> bool:
        for pane in self.lane.panes if self.on else ():
            over = self.rep_over()
            why = self.lane.closing.get(pane.name, "")
            why = why or ("held" if self.held and pane.lasts <= VOID else "")
            why = why or ("time" if not self.held and pane.left == 0 else "rep" if over == "time" else over)
            if why:
                self.lane.panes.remove(pane)
                self.lane.closing.pop(pane.name, None)
                return self.tell(ev.WindowClosed(at=self.now, lane=0, window=pane.name, why=why))
        return False

    def rep_ends(self) -> bool:
        why = self.rep_over() if self.on else ""
        if not why:
            return False
        n, again, ending = self.lane.rep, why == "held", self.lane.ending
        self.lane = Lane(after="hold" if again else "rep", rep=n - again, again=again)
        return self.tell(ev.RepEnded(at=self.now, lane=0, rep=n, why=why, starts=ending[1] if ending else None))

    def segment_ends(self) -> bool:
        why = self.cut() if self.on else ""
        if not why:
            return False
        self.to = self.move[0] if why == "moved" and self.move else self.segment + 1
        self.on, self.by_itself, self.last, self.move, self.go_in, self.lane = False, why != "moved", None, None, None, Lane()
        return self.tell(ev.SegmentEnded(at=self.now, segment=self.segment, why=why))

    def something_begins(self) -> bool:
        if self.ended:
            return False
        if not self.on:
            return self.segment_begins()
        if self.held:
            return self.go_in == 0 and self.hold_ends()
        lane = self.lane
        if lane.stretch == "" or (lane.stretch != "live" and lane.left == 0):
            return self.stretch_begins(lane.stretch or lane.after, called=False)
        if self.go_in == 0 and lane.stretch in ("set-up", "waiting", "off"):
            return self.stretch_begins(lane.stretch, called=True)
        return False

    def segment_begins(self) -> bool:
        if self.called_off or (self.went and self.to == len(self.plan.segment)):
            self.ended = True
            return self.tell(ev.PracticeEnded(at=self.now))
        if not self.went and self.go_in != 0:
            return False
        if self.held:
            self.since_hold = 0
        self.went, self.on, self.held, self.halted, self.go_in, self.voice = True, True, False, False, None, True
        self.segment, self.left, self.age, self.own_age, self.lane = self.to, self.times[self.to], 0, 0, Lane()
        return self.tell(ev.SegmentBegan(at=self.now, segment=self.segment, lasts=self.left))

    def hold_ends(self) -> bool:
        self.held, self.halted, self.since_hold, self.go_in = False, False, 0, None
        return self.tell(ev.HoldEnded(at=self.now))

    def stretch_begins(self, over: str, called: bool) -> bool:
        drill, lane, rep = self.drill(), self.lane, reps(self.drill())
        if over == "segment" and drill.setup:
            return self.stretch("set-up", drill.setup)
        if rep is None:
            return self.stretch("on", None)
        if rep.starts == "at once":
            return self.rep(None)
        room = self.left - {"rep": rep.off, "hold": READY}.get(over, 0)
        enough = most(drill)
        if room < (rep.live or 1) or (enough is not None and lane.rep >= enough):
            return self.stretch("spare", None)
        if over == "rep" and rep.off:
            return self.stretch("off", rep.off)
        if over == "hold":
            return self.stretch("ready", READY)
        if rep.starts == "on call" and not called and not lane.again:
            return self.stretch("waiting", room - (rep.live or 1) + 1)
        return self.rep(rep.live)

    def stretch(self, name: str, lasts: int | None) -> bool:
        self.lane.stretch, self.lane.left, self.lane.age = name, lasts, 0
        self.go_in = self.go_in if name == "waiting" else None
        return self.tell(ev.StretchBegan(at=self.now, lane=0, stretch=name, lasts=lasts))

    def rep(self, lasts: int | None) -> bool:
        panes = [Pane(w.name, w.time, 0) for w in self.drill().window if w.opens == "with the rep"]
        self.go_in, self.lane = None, Lane("live", "rep", lasts, 0, self.lane.rep + 1, opening=panes)
        return self.tell(ev.RepBegan(at=self.now, lane=0, rep=self.lane.rep, lasts=lasts))

    def pane_opens(self) -> bool:
        for pane in self.lane.opening if self.on and not self.held else ():
            if pane.left == 0:
                self.lane.opening.remove(pane)
                order = [w.name for w in self.drill().window]
                self.lane.panes.append(Pane(pane.name, pane.lasts, pane.lasts))
                self.lane.panes.sort(key=lambda p: order.index(p.name))
                return self.tell(ev.WindowOpened(at=self.now, lane=0, window=pane.name, lasts=pane.lasts))
        return False

    # Calls.

    def where(self) -> str:
        if self.ended or self.segment < 0:
            return "ended" if self.ended else "start"
        if self.held:
            return "halted" if self.halted else "held"
        return self.lane.stretch

    def clicker(self, button: str) -> int | None:
        outcomes: tuple[Outcome, ...] = self.drill().outcome if self.on else ()
        return next((n for n, o in enumerate(outcomes, 1) if o.clicker == button), None)

    def meant(self, p: Press) -> tuple[str, int]:
        """Which call `space`, `forward` and `back` are here; an empty one is none."""
        where, young = self.where(), self.lane.age < JUST
        if where == "spare" and p.what in ("space", "forward"):
            return ("" if young else "next"), 0
        if p.what == "space":
            return ("go" if where in ("start", "set-up", "waiting", "held", "halted") else "hold"), 0
        if p.what == "forward" and where == "live" and self.drill().kind == "stations":
            return "", 0
        if p.what == "forward" and where == "live":
            return "outcome", self.clicker("forward") or 0
        if p.what == "forward":
            waits = where in ("start", "set-up", "waiting", "held") or (where == "off" and not young)
            return ("go" if waits else ""), 0
        if p.what == "back":
            number = self.clicker("back") if where == "live" else None
            return ("take back", 0) if number is None else ("outcome", number)
        return p.what, p.number

    def press(self, p: Press) -> ev.Event | None:
        """Carry out a call; None: it means nothing here."""
        what, number = self.meant(p)
        where, heard = self.where(), self.now + p.lead
        taken: ev.Event | None = None
        if what == "mark":
            taken = ev.Marked(at=self.now, by="key")
        elif what == "end" and where != "ended":
            self.called_off, self.go_in, self.move = True, None, None
            taken = ev.CalledOff(at=self.now, by="key")
        elif what == "go" and where in ("start", "set-up", "waiting", "off", "held", "halted") and self.go_in is None:
            self.go_in = p.lead
            taken = ev.Went(at=self.now, by="key", starts=heard)
        elif where not in ("start", "ended"):
            taken = self.press_running(what, number, where, p.lead)
        if taken is not None:
            self.trail.append(taken)
        return taken

    def press_running(self, what: str, number: int, where: str, lead: int) -> ev.Event | None:
        if what == "hold" and not self.held:
            return self.stand(ev.Held(at=self.now, by="key"))
        if what == "halt" and not self.halted:
            self.halted = True
            return self.stand(ev.Halted(at=self.now, by="key"))
        if what in ("outcome", "open") and where == "live":
            return self.outcome(number, lead) if what == "outcome" else self.open(lead)
        if what == "water" and (self.held or self.since_hold <= WATER):
            return ev.WaterTaken(at=self.now, by="key")
        if what == "voice":
            self.voice = not self.voice
            return ev.VoiceSwitched(at=self.now, by="key", on=self.voice)
        if what == "last" and where in ("set-up", "waiting", "ready", "live", "off"):
            return self.call_last(lead)
        return None if where == "halted" else self.press_segment(what, lead)

    def stand(self, event: ev.Event) -> ev.Event:
        self.held, self.go_in, self.move, self.lane.opening = True, None, None, []
        if self.lane.stretch == "ready":
            self.lane.stretch, self.lane.after = "", "hold"
        return event

    def outcome(self, number: int, lead: int) -> ev.Event | None:
        outcomes = self.drill().outcome
        if number > len(outcomes):
            return None
        outcome = outcomes[number - 1] if number else Outcome(name="over", ends="rep")
        ends, names = outcome.ends == "rep", [p.name for p in self.lane.panes]
        self.lane.closing = {n: outcome.name for n in names if ends or n == outcome.closes}
        self.lane.ending = (outcome.name, self.now + lead) if ends else None
        return ev.OutcomeHappened(at=self.now, lane=0, by="key", outcome=outcome.name, starts=self.now + lead)

    def open(self, lead: int) -> ev.Event | None:
        busy = [p.name for p in (*self.lane.panes, *self.lane.opening)]
        for window in self.drill().window:
            if window.opens == "on call" and window.name not in busy:
                self.lane.opening.append(Pane(window.name, window.time, lead))
                return ev.WindowCalled(at=self.now, lane=0, by="key", window=window.name, starts=self.now + lead)
        return None

    def call_last(self, lead: int) -> ev.Event | None:
        if self.last is not None or reps(self.drill()) is None or most(self.drill()) is not None:
            return None
        self.last = self.lane.rep + (self.lane.stretch != "live")
        return ev.LastCalled(at=self.now, lane=0, by="key", starts=self.now + lead)

    def press_segment(self, what: str, lead: int) -> ev.Event | None:
        step = SHORT_STEP if self.drill().kind in ("talk", "water", "rest") else STEP
        if what == "longer" or (what == "shorter" and self.left > step):
            return self.lengthen(step if what == "longer" else -step)
        just = what == "next" and self.by_itself and self.age < JUST
        if what not in ("next", "before") or self.move is not None or just:
            return None
        back = max(self.segment - 1, 0) if self.own_age <= RESTART else self.segment
        self.move, self.go_in = (self.segment + 1 if what == "next" else back, lead), None
        return ev.Moved(at=self.now, by="key", to=self.move[0], starts=self.now + lead)

    def lengthen(self, ms: int) -> ev.Event:
        self.left += ms
        self.times[self.segment] += ms
        if self.lane.stretch == "spare" and ms > 0:
            self.lane.stretch, self.lane.after = "", "hold" if self.lane.again else "rep"
        return ev.Lengthened(at=self.now, by="key", ms=ms)


def recount(plan: Session, presses: list[Press], until: int) -> Count:
    """The practice with these calls and no others, at `until`."""
    count = Count(plan)
    for p in presses:
        count.run_to(p.at)
        count.press(p)
        count.settle()
    count.run_to(until)
    return count


def counted(plan: Session, presses: list[Press], until: int) -> list[ev.Event]:
    """Every event of the evening as the journal has it; a refusal only says when."""
    now, journal = Count(plan), list[ev.Event]()
    kept: list[tuple[Press, int]] = []
    struck: list[tuple[Press, int, int]] = []
    for p in presses:
        seen = len(now.trail)
        now.run_to(p.at)
        journal += now.trail[seen:]
        what, length = now.meant(p)[0], len(now.trail)
        if what == "take back" and kept:
            last, before = kept.pop()
            struck.append((last, before, length))
            journal.append(ev.TakenBack(at=p.at, by="key", call=named(now.trail[_last_call(now)])))
            now = recount(plan, [k for k, _ in kept], p.at)
            journal += now.trail[before:]
        elif what == "put back" and struck:
            last, before, length = struck.pop()
            kept.append((last, before))
            journal.append(ev.PutBack(at=p.at, by="key"))
            now = recount(plan, [k for k, _ in kept], p.at)
            journal += now.trail[length:]
        elif now.press(p) is None:
            journal.append(ev.Refused(at=p.at, by="key", call="", why=""))
        else:
            kept.append((p, length))
            struck.clear()
            now.settle()
            journal += now.trail[length:]
    seen = len(now.trail)
    now.run_to(until)
    return journal + now.trail[seen:]


def _last_call(count: Count) -> int:
    return max(i for i, e in enumerate(count.trail) if e.source == "call")
