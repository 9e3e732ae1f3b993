"""Who has played and who has sat out over the drills of an evening."""

from courttimer.practice.scoring import members
from courttimer.practice.state import State
from courttimer.squad.fair import Past


def since_then(s: State) -> Past | None:
    """The past of the players at the end of a segment, for the next one: what a team or group has played, its players have."""
    lane = s.lanes[0] if s.lanes else None
    if lane is None or lane.past is None or not lane.past.rep:
        return s.past
    last = {one: rep for name, rep in lane.past.last.items() for one in members(lane.units, (name,))}
    return Past(rep=lane.past.rep, played=dict.fromkeys(last, 0), roles={}, last=last)
