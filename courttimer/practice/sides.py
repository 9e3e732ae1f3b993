"""Whose score it may be."""

from courttimer.practice.state import State, play_of


def scored_sides(s: State, n: int) -> tuple[str, ...]:
    """Everyone who may have a score in a lane, those who have one first."""
    lane, play = s.lanes[n], play_of(s, n)
    known = [side for sums in (lane.sheet.points, lane.sheet.rows) for side, _ in sums]
    by_player = play.score is not None and play.score.by == "player"
    units = [name for name, _ in lane.units] if lane.units and not by_player else []
    players = list(s.here) if not units else []
    roles = [role.name for role in play.roles if role.plays]
    return tuple(dict.fromkeys((*known, *units, *players, *roles)))
