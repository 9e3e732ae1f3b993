"""About how long it takes to say a text, before any voice has said it."""

import re

PACE = 160
"""Words a minute: the pace of clear reading aloud (common practice)."""
COMMA, STOP = 250, 400
"""ms of pause after a comma, and after a sentence that another follows."""
SHORTEST = 350


def estimate(text: str, pace: int = PACE) -> int:
    """About how long it takes to say `text`, in ms; a number counts as one word for every two digits."""
    words = sum(-(-sum(c.isdigit() for c in word) // 2) or 1 for word in re.findall(r"\w+", text))
    pauses = COMMA * len(re.findall(r"[,;:]\s", text)) + STOP * len(re.findall(r"[.!?]\s+\w", text))
    return max(SHORTEST, 60_000 * words // pace + pauses)
