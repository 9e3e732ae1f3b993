"""A call in the words in which it is taken back: which outcome, whose score, who went out."""

from courttimer.practice import events as ev

_PLAIN: dict[type[ev.Event], str] = {
    ev.Went: "go", ev.Held: "hold", ev.Halted: "halt", ev.ThunderHeard: "thunder", ev.TurnCalled: "turn", ev.LastCalled: "last one",
    ev.Moved: "next segment", ev.WaterTaken: "that was the water", ev.VoiceSwitched: "voice",
    ev.Marked: "mark", ev.CalledOff: "the end",
}  # fmt: skip


def named(e: ev.Event | None) -> str:
    """What a call was, in a few words; nothing for what is no call."""
    match e:
        case ev.OutcomeHappened():
            return e.outcome + (", accepted" if e.why == "accepted" else "")
        case ev.WindowCalled():
            return f"{e.window} opened"
        case ev.ScoreCorrected():
            return f"{e.side} {e.amount:+d}"
        case ev.HereChanged():
            return f"{e.who} {e.now}"
        case ev.MakesEntered():
            return f"{e.spot}, {e.makes}"
        case ev.HeatChanged():
            return f"heat {e.said}"
        case ev.EffortGiven():
            return f"effort {e.who} {e.effort}".replace("  ", " ")
        case ev.Lengthened():
            return f"{'longer' if e.ms > 0 else 'shorter'} by {abs(e.ms) // 1000} s"
    return "" if e is None else _PLAIN.get(type(e), "")
