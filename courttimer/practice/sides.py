"""Whose score it may be."""

from courttimer.practice.scoring import RIVAL, US, members, on_side, sides
from courttimer.practice.state import State, play_of


def scored_sides(s: State, n: int) -> tuple[str, ...]:
    """Everyone who may have a score in a lane, those who have one first. Where players count for themselves: who may have won."""
    lane, play = s.lanes[n], play_of(s, n)
    known = [side for sums in (lane.sheet.points, lane.sheet.rows) for side, _ in sums]
    if play.score is not None and play.score.by == "rival":
        return tuple(dict.fromkeys((*known, US, RIVAL)))
    everyone = [name for place in lane.standing for _, names in place for name in names]
    units = [name for name, _ in lane.units]
    by_player = play.score is not None and play.score.by == "player"
    if play.score is not None and play.score.counted == "players" and not everyone:
        everyone = list(s.here)
    people = members(lane.units, everyone) if by_player else units or everyone
    roles = [side for role in play.roles if role.plays for side in on_side(play, lane.floor, role.name)]
    given = [side for one in play.outcome if one.points for side in sides(play, lane.floor, one)]
    return tuple(dict.fromkeys((*known, *people, *roles, *given)))
