"""An oracle that counts every millisecond down and knows no deadlines: what the practice must be, worked out the slow way.

It shares no code with the engine but the events it must agree on. Times are tiny, so that counting is quick.
"""

from dataclasses import dataclass, field

from courttimer.plan.model import Rep, Segment
from courttimer.practice import events as ev

READY, VOID, JUST, WATER, RESTART, STEP, SHORT_STEP = 4, 10, 3, 12, 5, 9, 6
"""The engine's constants, made small for counting."""


@dataclass(kw_only=True)
class Counted:
    """Everything that counts down, and a few notes."""

    plan: tuple[Segment, ...]
    lead: int
    now: int = 0
    out: list[ev.Event] = field(default_factory=list)
    times: list[int] = field(default_factory=list)
    segment: int = -1
    on: bool = False
    went: bool = False
    ended: bool = False
    next: int = 0
    segment_left: int = 0
    segment_gone: int = 0
    began: int = 0
    by_itself: bool = False
    held: bool = True
    halted: bool = False
    hold_was: int | None = None
    going: int | None = None
    moving: tuple[int, int] | None = None
    called_off: bool = False
    last: int | None = None
    voice: bool = True
    stretch: str = ""
    after: str = "segment"
    left: int | None = None
    stretch_began: int = 0
    rep: int = 0
    again: bool = False
    windows: dict[str, list[int]] = field(default_factory=dict)
    closing: str = ""
    ending: tuple[str, int] | None = None
    to_open: list[tuple[str, int]] = field(default_factory=list)

    def run(self, calls: list[tuple[int, str]], until: int) -> list[ev.Event]:
        self.times = [s.time for s in self.plan]
        for self.now in range(until + 1):
            if self.now and not self.held:
                self._count()
            self._settle()
            for _, call in [c for c in calls if c[0] == self.now]:
                self.out.append(self._call(call))
                self._settle()
        return self.out

    def _count(self) -> None:
        self.segment_left -= 1
        self.segment_gone += 1
        self.left = None if self.left is None else self.left - 1
        for window in self.windows.values():
            window[0] -= 1

    def _settle(self) -> None:
        while (e := self._due()) is not None:
            self.out.append(e)

    # What is due at this millisecond, first things first.

    def _due(self) -> ev.Event | None:
        if self.ended:
            return None
        if not self.on:
            return self._between()
        cut = self._cut()
        return self._closes(cut) or self._rep_ends(cut) or self._segment_ends(cut) or self._begins() or self._opens()

    def _between(self) -> ev.Event | None:
        if self.called_off:
            return self._over()
        if not self.went or (self.going is not None and self.going > self.now):
            return None
        if self.next == len(self.plan):
            return self._over()
        return self._segment_begins()

    def _over(self) -> ev.Event:
        self.ended = True
        return ev.PracticeEnded(at=self.now)

    def _segment_begins(self) -> ev.Event:
        self.segment, self.on, self.held, self.halted, self.going, self.moving, self.last = (
            self.next,
            True,
            False,
            False,
            None,
            None,
            None,
        )
        self.segment_left, self.segment_gone, self.began, self.voice = self.times[self.segment], 0, self.now, True
        self.stretch, self.after, self.left, self.rep, self.again, self.stretch_began = "", "segment", None, 0, False, self.now
        self.windows, self.closing, self.ending, self.to_open = {}, "", None, []
        return ev.SegmentBegan(at=self.now, segment=self.segment, lasts=self.times[self.segment])

    def _cut(self) -> str:
        if self.called_off:
            return "called off"
        if not self.held and self._was_last():
            return "last"
        if not self.held and self.segment_left <= 0:
            return "time"
        return "moved" if self.moving is not None and self.moving[1] <= self.now else ""

    def _was_last(self) -> bool:
        return self.last is not None and self.stretch != "live" and self.after == "rep" and self.rep >= self.last

    def _why_rep_ends(self, cut: str) -> str:
        if self.stretch != "live":
            return ""
        if self.ending is not None:
            return self.ending[0]
        if self.held and self._replays():
            return "held"
        return "time" if not self.held and self.left == 0 else cut

    def _replays(self) -> bool:
        rep = self._rep()
        return rep is not None and rep.after_hold == "again" and rep.starts != "at once"

    def _closes(self, cut: str) -> ev.Event | None:
        for name, (left, lasts) in list(self.windows.items()):
            why = self.closing or ("held" if self.held and lasts <= VOID else "time" if not self.held and left == 0 else "")
            rep_ends = self._why_rep_ends(cut)
            why = why or ("rep" if rep_ends == "time" else rep_ends)
            if why:
                del self.windows[name]
                return ev.WindowClosed(at=self.now, lane=0, window=name, why=why)
        return None

    def _rep_ends(self, cut: str) -> ev.Event | None:
        why = self._why_rep_ends(cut)
        if not why:
            return None
        starts = self.ending[1] if self.ending else None
        number, again = self.rep, why == "held"
        self.stretch, self.after, self.left, self.stretch_began = "", "hold" if again else "rep", None, self.now
        self.rep, self.again, self.closing, self.ending, self.to_open = number - again, again, "", None, []
        return ev.RepEnded(at=self.now, lane=0, rep=number, why=why, starts=starts)

    def _segment_ends(self, cut: str) -> ev.Event | None:
        if not cut:
            return None
        to = self.moving[0] if cut == "moved" and self.moving else self.segment + 1
        self.on, self.next, self.moving, self.last, self.by_itself = False, to, None, None, cut == "time"
        return ev.SegmentEnded(at=self.now, segment=self.segment, why=cut)

    def _begins(self) -> ev.Event | None:
        if self.held:
            if self.going != self.now:
                return None
            self.held, self.halted, self.going, self.hold_was = False, False, None, self.now
            return ev.HoldEnded(at=self.now)
        if self._was_last():
            return None
        if self.stretch == "" or (self.stretch != "live" and self.left == 0):
            return self._next_stretch(called=False)
        if self.going == self.now and self.stretch in ("set-up", "waiting", "off"):
            return self._next_stretch(called=True)
        return None

    def _opens(self) -> ev.Event | None:
        for name, at in self.to_open:
            if at == self.now and not self.held:
                self.to_open.remove((name, at))
                lasts = next(w.time for w in self.plan[self.segment].window if w.name == name)
                self.windows[name] = [lasts, lasts]
                return ev.WindowOpened(at=self.now, lane=0, window=name, lasts=lasts)
        return None

    # What begins when a stretch is over.

    def _rep(self) -> Rep | None:
        segment = self.plan[self.segment]
        if segment.kind == "stations" and segment.each:
            return Rep(live=segment.each, off=segment.change, after_hold="goes on")
        if segment.kind == "scrimmage" and segment.rep is None:
            return Rep(starts="at once")
        return segment.rep

    def _next_stretch(self, *, called: bool) -> ev.Event:
        segment, rep, over = self.plan[self.segment], self._rep(), self.stretch or self.after
        if over == "segment" and segment.setup:
            return self._stretch("set-up", segment.setup)
        if rep is None:
            return self._stretch("on", None)
        if rep.starts == "at once":
            return self._live(None)
        room = self.segment_left - (rep.off if over == "rep" else READY if over == "hold" else 0)
        most = len(segment.station) if segment.kind == "stations" else None
        if room < (rep.live or 1) or (most is not None and self.rep >= most):
            return self._stretch("spare", None)
        if over == "rep" and rep.off:
            return self._stretch("off", rep.off)
        if over == "hold":
            return self._stretch("ready", READY)
        if rep.starts == "on call" and not called and not self.again:
            return self._stretch("waiting", room - (rep.live or 1) + 1)
        return self._live(rep.live)

    def _stretch(self, name: str, lasts: int | None) -> ev.Event:
        self.stretch, self.left, self.stretch_began = name, lasts, self.now
        if name != "waiting":
            self.going = None
        return ev.StretchBegan(at=self.now, lane=0, stretch=name, lasts=lasts)

    def _live(self, lasts: int | None) -> ev.Event:
        self.stretch, self.left, self.rep, self.again, self.going, self.stretch_began = (
            "live",
            lasts,
            self.rep + 1,
            False,
            None,
            self.now,
        )
        self.to_open = [(w.name, self.now) for w in self.plan[self.segment].window if w.opens == "with the rep"]
        return ev.RepBegan(at=self.now, lane=0, rep=self.rep, lasts=lasts)

    # What a call does.

    def _where(self) -> str:
        if self.ended:
            return "ended"
        if self.segment < 0:
            return "start"
        if self.held:
            return "halted" if self.halted else "held"
        return self.stretch or "on"

    def _call(self, call: str) -> ev.Event:
        what, why = self._meant(call)
        if why:
            return ev.Refused(at=self.now, by="key", call=what, why=why)
        made = getattr(self, "_" + what)(self._where())
        return made if isinstance(made, ev.Event) else ev.Refused(at=self.now, by="key", call=what, why=str(made))

    def _meant(self, call: str) -> tuple[str, str]:
        where = self._where()
        just = self.now - self.stretch_began < JUST
        if call in ("space", "forward") and where == "spare":
            return ("next", "") if not just else (call, "just")
        if call == "space":
            return ("go" if where in ("start", "set-up", "waiting", "held", "halted") else "hold"), ""
        if call == "forward":
            if where == "live":
                return "outcome", ""
            if where == "off" and just:
                return call, "just"
            return ("go", "") if where in ("start", "set-up", "waiting", "off", "held") else (call, "nothing waits")
        return call, ""

    def _go(self, where: str) -> object:
        if where not in ("start", "set-up", "waiting", "off", "held", "halted") or self.going is not None:
            return "no"
        self.going, self.went = self.now + self.lead, True
        return ev.Went(at=self.now, by="key", starts=self.going)

    def _hold(self, where: str) -> object:
        if where not in ("set-up", "waiting", "ready", "live", "off", "spare", "on"):
            return "no"
        self.held, self.going, self.moving, self.to_open = True, None, None, []
        return ev.Held(at=self.now, by="key")

    def _halt(self, where: str) -> object:
        if where in ("start", "halted", "ended"):
            return "no"
        self.held, self.halted, self.going, self.moving, self.to_open = True, True, None, None, []
        return ev.Halted(at=self.now, by="key")

    def _outcome(self, where: str) -> object:
        if where != "live" or self.ending is not None:
            return "no"
        self.ending, self.closing = ("over", self.now + self.lead), "over"
        return ev.OutcomeHappened(at=self.now, by="key", lane=0, outcome="over", starts=self.now + self.lead)

    def _open(self, where: str) -> object:
        names = [w.name for w in self.plan[self.segment].window if w.opens == "on call"]
        if where != "live" or not names or names[0] in self.windows or self.to_open:
            return "no"
        self.to_open.append((names[0], self.now + self.lead))
        return ev.WindowCalled(at=self.now, by="key", lane=0, window=names[0], starts=self.now + self.lead)

    def _last(self, where: str) -> object:
        reps = where in ("set-up", "waiting", "ready", "live", "off") and self._rep() is not None
        if not reps or self.plan[self.segment].kind == "stations" or self.last is not None:
            return "no"
        self.last = self.rep if self.stretch == "live" else self.rep + 1
        return ev.LastCalled(at=self.now, by="key", lane=0, starts=self.now + self.lead)

    def _next(self, where: str) -> object:
        just = self.by_itself and self.now - self.began < JUST
        if where in ("start", "halted", "ended") or just or self.moving is not None:
            return "no"
        self.moving, self.going = (self.segment + 1, self.now + self.lead), None
        return ev.Moved(at=self.now, by="key", to=self.segment + 1, starts=self.now + self.lead)

    def _before(self, where: str) -> object:
        if where in ("start", "halted", "ended") or self.moving is not None:
            return "no"
        to = max(self.segment - 1, 0) if self.segment_gone <= RESTART else self.segment
        self.moving, self.going = (to, self.now + self.lead), None
        return ev.Moved(at=self.now, by="key", to=to, starts=self.now + self.lead)

    def _longer(self, where: str) -> object:
        return "no" if where in ("start", "halted", "ended") else self._lengthen(self._step())

    def _shorter(self, where: str) -> object:
        if where in ("start", "halted", "ended") or self.segment_left <= self._step():
            return "no"
        return self._lengthen(-self._step())

    def _step(self) -> int:
        return SHORT_STEP if self.plan[self.segment].kind in ("talk", "water", "rest") else STEP

    def _lengthen(self, ms: int) -> ev.Event:
        self.segment_left += ms
        self.times[self.segment] += ms
        if self.stretch == "spare" and ms > 0:
            self.stretch, self.after = "", "rep"
        return ev.Lengthened(at=self.now, by="key", ms=ms)

    def _water(self, where: str) -> object:
        if where in ("start", "ended") or (not self.held and (self.hold_was is None or self.now - self.hold_was > WATER)):
            return "no"
        return ev.WaterTaken(at=self.now, by="key")

    def _voice(self, where: str) -> object:
        if where in ("start", "ended"):
            return "no"
        self.voice = not self.voice
        return ev.VoiceSwitched(at=self.now, by="key", on=self.voice)

    def _mark(self, where: str) -> object:
        return ev.Marked(at=self.now, by="key")

    def _end(self, where: str) -> object:
        if where == "ended":
            return "no"
        self.called_off, self.going, self.moving = True, None, None
        return ev.CalledOff(at=self.now, by="key")
