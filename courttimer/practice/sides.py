"""Whose score it may be."""

from courttimer.practice.scoring import ALL, RIVAL, US, Floor, members, on_side, sides
from courttimer.practice.state import State, play_of


def floor_of(s: State, n: int) -> Floor:
    """Who plays in a lane, for the score of this rep. At a station without roles its group plays, and the score is its own."""
    lane, common = s.lanes[n], s.lanes[0]
    if n == 0 or lane.standing or n > len(common.standing):
        return lane.floor
    return Floor((tuple((ALL, names) for _, names in common.standing[n - 1]),), common.units)


def scored_sides(s: State, n: int) -> tuple[str, ...]:
    """Everyone who may have a score in a lane, those who have one first. Where players count for themselves: who may have won."""
    lane, play, floor = s.lanes[n], play_of(s, n), floor_of(s, n)
    known = [side for sums in (lane.sheet.points, lane.sheet.rows) for side, _ in sums]
    if play.score is not None and play.score.by == "rival":
        return tuple(dict.fromkeys((*known, US, RIVAL)))
    everyone = [name for place in lane.standing for _, names in place for name in names]
    units = [name for name, _ in lane.units]
    by_player = play.score is not None and play.score.by == "player"
    if play.score is not None and play.score.counted == "players" and not everyone:
        everyone = list(s.here)
    people = members(lane.units, everyone) if by_player else units or everyone
    roles = [side for role in play.roles if role.plays for side in on_side(play, floor, role.name)]
    given = [side for one in play.outcome if one.points for side in sides(play, floor, one)]
    return tuple(dict.fromkeys((*known, *people, *roles, *given)))
