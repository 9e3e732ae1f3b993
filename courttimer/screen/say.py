"""Times and what the gym's card says, in figures and words: the same on every screen and in plain lines."""

from courttimer.care.heat import CONFIRM, NONE_ABOVE
from courttimer.plan.model import Gym
from courttimer.practice.view import Care

TOO_HOT = "Too hot: do not practise. Decided otherwise: o, then h."
BY_LENGTH = "Another time of day: the floor time counts from go."


def figures(ms: int) -> str:
    """`75:08`, `1:05`, `0:08`: rounded up, so that a time left is 0:00 only when it is over. Never negative."""
    seconds = -(-max(0, ms) // 1000)
    return f"{seconds // 60}:{seconds % 60:02}"


def spent(ms: int) -> str:
    """The same for a time that grows: rounded down."""
    seconds = max(0, ms) // 1000
    return f"{seconds // 60}:{seconds % 60:02}"


def short(ms: int) -> str:
    """`8`, `59`, `1:00`: seconds alone up to a minute, rounded up."""
    return str(-(-max(0, ms) // 1000)) if ms <= 59_000 else figures(ms)


def words(ms: int) -> str:
    """`8 seconds`, `1 minute`, `1 minute 30 seconds`: for the ear, rounded up."""
    minutes, seconds = divmod(-(-max(0, ms) // 1000), 60)
    parts = [_many(minutes, "minute")] if minutes else []
    if seconds or not minutes:
        parts.append(_many(seconds, "second"))
    return " ".join(parts)


def slack(in_hand: int | None) -> str:
    """Time in hand or late by how much, in whole minutes or seconds; nothing when no floor time is known."""
    if in_hand is None:
        return ""
    if in_hand < 0:
        return f"late by {_rough(-in_hand + 59_999 if in_hand < -120_000 else -in_hand)}"  # never told too little
    return f"{_rough(in_hand)} in hand" if in_hand >= 1000 else "on time"


def _rough(ms: int) -> str:
    return f"{ms // 60_000} min" if ms >= 120_000 else f"{-(-ms // 1000)} s"


def _many(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def sentence(text: str) -> str:
    """The text with its full stop."""
    return text if text.endswith((".", "!", "?")) else text + "."


def dangers(care: Care) -> list[str]:
    """Why nothing goes, in a few words each: the first things to be read."""
    return [*([care.lightning] if care.lightning else []), *([TOO_HOT] if care.too_hot else [])]


def no_practice(care: Care) -> list[str]:
    """The same where there is room, before the first horn: what is advised, and how it is decided otherwise."""
    told = [care.lightning] if care.lightning else []
    if care.too_hot:
        told.append(f"Do not practise: it is too hot, level {care.heat} of {NONE_ABOVE + 1} ({care.heat_told}).")
        told.append(f"If a doctor or your heat policy has decided otherwise: o, then h, and type: {CONFIRM}")
    return told


def card(gym: Gym) -> list[str]:
    """The gym's card, one line each; nothing for what is not known."""
    known = (("Address", gym.address), ("Defibrillator", gym.aed), ("Call", gym.call))
    return [f"{label}: {sentence(text)}" for label, text in known if text]
