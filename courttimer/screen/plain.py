"""The board as lines of words: for `--plain`, a screen reader, a log, or when the screen has died."""

from courttimer.practice.view import View
from courttimer.screen.aloud import calls, changes
from courttimer.screen.cares import cares
from courttimer.screen.ink import clip
from courttimer.screen.say import card, sentence, slack, spent, words

MINUTE = 60_000
STANDS = ("Halt.", "The clock stands.")
"""Answers that the hold itself tells already."""
LONGEST = 200
NO_CALL = '" is not a call'


def lines(before: View | None, now: View) -> list[str]:
    """What is new since `before`, one line a change; without `before` everything. No symbols, only words.

    Each whole minute that is left of a segment is a change too. No line repeats what the last look already told.
    """
    told = [*_phase(before, now), *_segment(before, now), *cares(before, now), *changes(before, now)]
    told += [*_stretch(before, now), *_windows(before, now), *_minute(before, now)]
    told += _said(now) if now.said and (before is None or before.said != now.said) else []
    once = dict.fromkeys(told)  # the answer to a call may be what is new
    return [f"{spent(now.since_go)} {line}" if now.since_go is not None else line for line in once]


def _said(now: View) -> list[str]:
    """The answer to a call; of words that are none their beginning, and what can be typed instead."""
    if now.said in STANDS:
        return []
    if NO_CALL in now.said:
        return [f'"{clip(now.said.partition(": ")[0], 40)}" is not a call. Now: {calls(now)}.']
    return [sentence(clip(now.said, LONGEST))]


def troubles(before: tuple[str, ...], now: tuple[str, ...]) -> list[str]:
    """What went wrong since `before`, and what is well again."""
    new = [f"Trouble: {sentence(t)}" for t in now if t not in before]
    return new + [f"No longer: {sentence(t)}" for t in before if t not in now]


def _phase(before: View | None, now: View) -> list[str]:
    if before is not None and before.phase == now.phase:
        return []
    if now.phase == "start":
        return [f"{sentence(now.title)} {len(now.strip)} segments, {words(sum(b.time for b in now.strip))}. Go starts it."]
    if now.phase == "held":
        return [_why(now) + (" This rep is played again." if now.again else "")]
    if now.phase == "halted":
        return ["Halt. Everything stands.", *card(now.gym)]
    if now.phase == "ended":
        return ["The practice is over."]
    return ["It goes on."] if before is not None and before.phase in ("held", "halted") else []


def _why(now: View) -> str:
    since = spent((now.since_go or 0) - now.stands)
    told = {"cut off": f"cut off at {since} of the practice", "asleep": f"the machine slept at {since} of the practice"}
    return f"Hold: {told[now.stood]}." if now.stood in told else "Hold."


def _segment(before: View | None, now: View) -> list[str]:
    if now.segment < 0 or now.phase == "ended" or (before is not None and before.segment == now.segment):
        return []
    told = [f"{now.name}, {now.kind}, {words(now.segment_left)}." + (f" {sentence(now.rule)}" if now.rule else "")]
    told += [f"Then {now.then[0]}."] if now.then else []
    later = slack(now.in_hand)
    return told + ([sentence(later[0].upper() + later[1:])] if later else [])


def _stretch(before: View | None, now: View) -> list[str]:
    if now.segment < 0 or now.phase not in ("running", "held"):
        return []
    if (before is not None and _where(before) == _where(now)) or now.word in ("on", now.kind):
        return []
    length = f", {words(now.left)}" if now.left is not None else ""
    open_now = "".join(f", {w.name} {words(w.lasts)}" for w in now.windows) if now.live else ""
    rep = f"Rep {now.rep}: " if now.live else ""
    last = " Last one." if now.last and (before is None or not before.last) else ""
    said = f"{rep}{now.word}{length}{open_now}."
    return [said[0].upper() + said[1:] + last]


def _where(view: View) -> tuple[int, str, int, bool]:
    return view.segment, view.word, view.rep, view.last


def _windows(before: View | None, now: View) -> list[str]:
    if before is None or (before.rep, before.word, before.segment) != (now.rep, now.word, now.segment):
        return []
    were, are = {w.name: w for w in before.windows}, {w.name: w for w in now.windows}
    opened = [f"{n[0].upper() + n[1:]} opens, {words(w.lasts)}." for n, w in are.items() if n not in were]
    return opened + [f"{n[0].upper() + n[1:]} closed." for n in were if n not in are]


def _minute(before: View | None, now: View) -> list[str]:
    if before is None or before.segment != now.segment or now.phase != "running" or now.segment < 0:
        return []
    whole = -(-now.segment_left // MINUTE)
    if whole < 1 or -(-before.segment_left // MINUTE) <= whole:
        return []
    return [f"{words(whole * MINUTE)} left of {now.name}."]
