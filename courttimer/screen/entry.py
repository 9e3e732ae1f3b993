"""A line to type words on, which leaves a clicker's keys alone; and the calls that are typed: scores, and who is here."""

from collections.abc import Callable

from courttimer.practice.calls import Call, What
from courttimer.screen.ink import Line, fill, line

STATES: tuple[What, ...] = ("here", "late", "out")


class Entry:
    """One question and the answer so far. Enter gives it, Tab leaves it; PageUp, PageDown, F5 and Escape stay calls."""

    def __init__(self, question: str, answer: Callable[[str], None]) -> None:
        self.question = question
        self.text = ""
        self.open = True
        self._answer = answer

    def press(self, key: str, character: str | None) -> bool:
        """Take a key; False when it is none of ours."""
        if key == "enter":
            self.open = False
            self._answer(self.text.strip())
        elif key == "tab":
            self.open = False
        elif key == "backspace":
            self.text = self.text[:-1]
        elif character is not None and character.isprintable():
            self.text = (self.text + character)[:200]
        else:
            return key == "left"  # the segment must not begin afresh because somebody corrects a word
        return True

    def line(self, cells: int) -> Line:
        """The question and the answer, its end in view."""
        room = max(1, cells - len(self.question) - 3)
        return fill(line((f" {self.question} ", "alarm"), (self.text[-room:] + "█", "strong")), cells)


def whom(text: str, names: tuple[str, ...]) -> str:
    """The one name that begins so; else the text as it is, for the practice to answer."""
    found = [n for n in names if n.lower() == text.lower()] or [n for n in names if n.lower().startswith(text.lower())]
    return found[0] if len(found) == 1 and text else text


def score_call(text: str, names: tuple[str, ...]) -> Call | None:
    """`Ada +` is one more for Ada, `Ada -2` two less; None when no sign says which."""
    place = max(text.rfind("+"), text.rfind("-"))
    who, amount = text[: max(0, place)].strip(" +-"), text[place + 1 :].strip()
    if place < 1 or not who or not (amount == "" or (amount.isascii() and amount.isdigit())):
        return None
    sign = 1 if text[place] == "+" else -1
    return Call(what="score", who=whom(who, names), amount=sign * int(amount or 1))


def here_call(text: str, names: tuple[str, ...]) -> Call | None:
    """`Ada`, `Ada late`, `out Ada`; None for nothing."""
    parts = text.split()
    state = next((s for s in STATES if parts and s in (parts[0].lower(), parts[-1].lower())), None)
    who = " ".join(p for p in parts if p.lower() != state)
    return Call(what=state or "here", who=whom(who, names)) if who else None
