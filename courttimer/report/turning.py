"""How soon the turns bring the same player on again: found by playing them, as the practice itself does."""

from collections.abc import Sequence

from courttimer.plan.model import Segment, Station
from courttimer.practice.lineup import Teams, lined_up, on_floor, played, turned
from courttimer.practice.scoring import members
from courttimer.squad import fair

EVEN_TURNS = ("fair", "advance")
"""Ways to turn that depend on nothing but who has played; after others somebody may stay in."""
MOST_REPS = 24
"""Turns have come round by then."""


def again_after(play: Segment | Station, players: Sequence[str], teams: Teams = ()) -> int:
    """The least number of reps from one go of a player to the next; 1: somebody may play twice running."""
    rep = play.rep
    if rep is None or rep.turn.how not in EVEN_TURNS or all(role.plays for role in play.roles) or not players:
        return 1
    made = lined_up(play, players, teams, None)
    standing, past = made.standing, fair.begun([one for place in made.standing for _, names in place for one in names])
    last, least = dict[str, int](), MOST_REPS
    for n in range(MOST_REPS):
        for one in members(made.units, on_floor(play, standing)):
            least = min(least, n - last.get(one, -MOST_REPS))
            last[one] = n
        past = played(past, standing, play)
        standing = turned(play, standing, made.units, past, rep.turn, number=n)
    return least
