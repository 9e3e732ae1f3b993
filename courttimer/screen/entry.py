"""Lines to answer on, which leave a clicker's keys alone: words, whose score, makes at a spot, which station."""

from collections.abc import Callable
from typing import Protocol

from courttimer.practice.calls import Call, whole
from courttimer.practice.view import Inside, SpotView
from courttimer.screen.ink import Line, clip, fill, line
from courttimer.screen.spots import missing

LEAST_TYPED = 10
"""So much of what is typed is always in view."""


class Ask(Protocol):
    """A question at the foot of the screen, as long as it is open."""

    @property
    def open(self) -> bool: ...
    def press(self, key: str, character: str | None) -> bool:
        """Take a key; False when it is none of ours, and still means what it means."""

    def line(self, cells: int) -> Line: ...


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
        return _asked(self.question, self.text, cells)


def _asked(question: str, text: str, cells: int) -> Line:
    question = clip(question, cells - LEAST_TYPED - 3)
    room = max(1, cells - len(question) - 3)
    return fill(line((f" {question} ", "alarm"), (text[-room:] + "█", "strong")), cells)


class Whose:
    """Puts a score right: who, by number or by the first letters, then + or − as often as wanted. Enter or Tab leaves it."""

    def __init__(self, sides: Callable[[], tuple[str, ...]], call: Callable[[Call], None]) -> None:
        self._sides = sides
        self._call = call
        self.who = ""
        self.text = ""
        self._left = False

    @property
    def open(self) -> bool:
        """There is somebody to choose, and it was not left."""
        return not self._left and bool(self._sides())

    def press(self, key: str, character: str | None) -> bool:
        """Take a key; False when it is none of ours."""
        if key in ("enter", "tab"):
            self.who = self.who or (whom(self.text, self._sides()) if key == "enter" else "")
            self._left = key == "tab" or not self.text or self.who not in self._sides()
            self.text = ""
        elif self.who and key in ("plus", "equals_sign", "minus", "underscore"):
            self._call(Call(what="score", who=self.who, amount=1 if key in ("plus", "equals_sign") else -1))
        elif key == "backspace":
            self.who, self.text = "", self.text[:-1]
        elif character is not None and character.isprintable():
            return self._typed(character)
        else:
            return key == "left"
        return True

    def _typed(self, character: str) -> bool:
        """A number, or a letter with which somebody's name goes on; any other still means what it means, x above all."""
        sides = self._sides()
        if whole(character):
            self.who, self.text = (sides[int(character) - 1] if 0 < int(character) <= len(sides) else self.who), ""
            return True
        text = ("" if self.who else self.text) + character
        found = [side for side in sides if side.casefold().startswith(text.casefold())]
        if found:
            self.who = found[0] if len(found) == 1 else ""
            self.text = "" if self.who else text
        return bool(found)

    def line(self, cells: int) -> Line:
        """Who can be chosen; then what can be done."""
        if self.who:
            keys = line((" + ", "key"), " one more  ", (" − ", "key"), " one less  ", (" Enter ", "key"), " done")
            return fill((*line((f" Score of {self.who}: ", "alarm")), *keys), cells)
        numbered = [f"{n} {side}" if n < 10 else side for n, side in enumerate(self._sides(), 1)]
        return _asked(f"Whose score? {'  '.join(numbered)}", self.text, cells)


class Makes:
    """Makes at the spots of a round: number keys, then Enter. Tab goes to another spot; what is not entered stays unknown.

    Without digits Enter is a call as ever, so that a round that nobody counted holds nothing up. With `whole` every spot of every
    round can be put right, until it is left with Enter.
    """

    def __init__(self, look: Callable[[], Inside], call: Callable[[Call], None], *, whole: bool = False) -> None:
        self._look = look
        self._call = call
        self._whole = whole
        self._left = False
        self._at = 0
        self.text = ""

    @property
    def open(self) -> bool:
        """There is something to enter."""
        return not self._left and bool(self._now())

    def _now(self) -> tuple[SpotView, ...]:
        inside = self._look()
        return missing(inside, whole=self._whole) if self._whole or inside.enter else ()

    def press(self, key: str, character: str | None) -> bool:
        """Take a key; False when it is none of ours."""
        if whole(key) and len(key) == 1:
            self.text = (self.text + key)[-3:]
        elif key == "backspace" and self.text:
            self.text = self.text[:-1]
        elif key == "enter" and self.text:
            self._enter()
        elif key == "enter" and self._whole:
            self._left = True
        elif key == "tab":
            self._at, self.text = self._at + 1, ""
        else:
            return False
        return True

    def _enter(self) -> None:
        now = self._now()
        one = now[self._at % len(now)]
        self._call(Call(what="makes", who=one.spot, amount=one.round, number=int(self.text)))
        self.text = ""
        self._at += self._whole

    def line(self, cells: int) -> Line:
        """The spot that is asked for, what was typed, and what the keys do."""
        now = self._now()
        if not now:
            return fill((), cells)
        one = now[self._at % len(now)]
        of = f" of {one.shots}" if one.shots is not None else ""
        known = "" if one.makes is None else f" ({one.makes} so far)"
        asked = line((f" Makes at {one.spot}{of}, round {one.round}{known}: ", "alarm"), (self.text + "█", "strong"))
        leave = "leaves it" if self._whole else "goes on"
        return fill((*asked, (f"  numbers, Enter; Tab: another spot; Enter alone {leave}", "quiet")), cells)


class Marks:
    """Words for marks that have none, one after the other; a mark left empty is left alone."""

    def __init__(self, wordless: list[int], note: Callable[[int, str], None]) -> None:
        self._wordless = wordless
        self._note = note
        self._entry = self._next()

    @property
    def open(self) -> bool:
        """There is a mark left."""
        return self._entry.open

    def _next(self) -> Entry:
        return Entry(f"Mark {self._wordless[0] + 1}: its words", self._answer)

    def _answer(self, text: str) -> None:
        if text:
            self._note(self._wordless[0], text)
        self._wordless = self._wordless[1:]
        if self._wordless:
            self._entry = self._next()

    def press(self, key: str, character: str | None) -> bool:
        """Take a key; Tab leaves all of them."""
        return self._entry.press(key, character)

    def line(self, cells: int) -> Line:
        """The mark that is asked for, and its words so far."""
        return self._entry.line(cells)


class Choice:
    """One number of several; any other key is no answer."""

    def __init__(self, question: str, answer: Callable[[int], None]) -> None:
        self.question = question
        self.open = True
        self._answer = answer

    def press(self, key: str, character: str | None) -> bool:
        """Take a digit; anything else closes the question and still means what it means."""
        self.open = False
        if whole(key) and len(key) == 1:
            self._answer(int(key))
            return True
        return key == "tab"

    def line(self, cells: int) -> Line:
        """The question."""
        return fill(line((f" {self.question}", "alarm")), cells, "alarm")


def whom(text: str, names: tuple[str, ...]) -> str:
    """The one name that begins so; else the text as it is, for the practice to answer."""
    found = [n for n in names if n.lower() == text.lower()] or [n for n in names if n.lower().startswith(text.lower())]
    return found[0] if len(found) == 1 and text else text
