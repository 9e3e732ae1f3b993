"""What is inside a drill as lines of words, a line a change: who is where, the score, stations, spots, who is here."""

from courttimer.practice.calls import WHATS
from courttimer.practice.view import Inside, StationView, View
from courttimer.screen import here, score
from courttimer.screen.places import NEXT, coming
from courttimer.screen.say import words
from courttimer.screen.spots import missing
from courttimer.screen.stations import leads, who

NOTHING = Inside()
WITH = {
    "outcome": "", "space": "", "forward": "", "back": "", "late": "", "out": "", "score": "score NAME +1", "station": "station 1",
    "makes": "makes SPOT 7", "here": "here (late, out) NAME", "mark": "mark WORDS", "heat": "heat 31 C, 60 %",
    "effort": "effort NAME 7",
}  # fmt: skip
"""Calls that want more words, and those that a line has no need of."""


def changes(before: View | None, now: View) -> list[str]:
    """What is new inside the drill since `before`; without it everything."""
    was = before.inside if before is not None and before.segment == now.segment else NOTHING
    new = before is None or before.segment != now.segment
    is_new = [*_outcomes(now.inside, new=new), *_told(was, now.inside), *_stations(was, now.inside), *_roles(was, now.inside)]
    return [*is_new, *_score(was, now.inside), *_won(before, now), *_spots(was, now.inside), *_joined(before, now)]


def _outcomes(inside: Inside, *, new: bool) -> list[str]:
    named = [f"{key} {name}" for key, name in inside.outcomes]
    return [f"Outcomes: {', '.join(named)}, 0 over."] if new and named and not inside.stations else []


def _told(was: Inside, inside: Inside) -> list[str]:
    return [f"{inside.told[0].upper()}{inside.told[1:].rstrip('.')}."] if inside.told and inside.told != was.told else []


def _roles(was: Inside, inside: Inside) -> list[str]:
    if inside.roles == was.roles or (inside.stations and not inside.chosen):
        return []
    places = sorted({one.place for one in inside.roles})
    return [_place(inside, place, f"basket {place}: " if len(places) > 1 else "") for place in places]


def _place(inside: Inside, place: int, where: str) -> str:
    at = [one for one in inside.roles if one.place == place and (one.plays or one.names)]
    parts = [f"{one.role} {' and '.join(one.names) or 'nobody'}" for one in at]
    then = coming(inside, place)
    told = f"{where}{', '.join(parts)}" + (f"; {NEXT} {' and '.join(then)}" if then else "") + "."
    return told[0].upper() + told[1:]


def _score(was: Inside, inside: Inside) -> list[str]:
    told = score.words(inside)
    if inside.stations or not told or told == score.words(was):
        return []
    return [f"{told[0].upper()}{told[1:]}."]


def _won(before: View | None, now: View) -> list[str]:
    known = dict(before.inside.wins) if before is not None else {}
    return [f"{score.has_won(side)}." for side, count in now.inside.wins if before is not None and count > known.get(side, 0)]


def _spots(was: Inside, inside: Inside) -> list[str]:
    told = [f"At {inside.spot}."] if inside.spot and inside.spot != was.spot else []
    if inside.enter and not was.enter and (left := missing(inside)):
        of = f" of {inside.shots}" if inside.shots is not None else ""
        names = ", ".join(one.spot for one in left)
        told.append(f"Makes{of} at {names} can be entered, such as: makes {left[0].spot} 7. What is not entered stays unknown.")
    return told


def _stations(was: Inside, inside: Inside) -> list[str]:
    """Every station when it has other people or nobody to lead it; what its clock does only of the one that is chosen."""
    known = {one.number: one for one in was.stations}
    told = [_station(one) for one in inside.stations if (one.group, one.lead_out) != _stands(known.get(one.number))]
    if inside.stations and inside.chosen != was.chosen:
        told.append(f"Calls go to station {inside.chosen}." if inside.chosen else "Calls go to all stations.")
    for one in inside.stations:
        before = known.get(one.number)
        if one.chosen and one.word and (before is None or (before.word, before.rep) != (one.word, one.rep)):
            length = f", {words(one.left)}" if one.left is not None else ""
            told.append(f"{one.name}: {one.word}{f' {one.rep}' if one.live else ''}{length}.")
        if before is not None and before.score != one.score and one.score:
            told.append(f"{one.name}, {score.words(Inside(score=one.score))}.")
    return told


def _stands(one: StationView | None) -> tuple[str, bool]:
    return ("", False) if one is None else (one.group, one.lead_out)


def _station(one: StationView) -> str:
    lead = leads(one)[0].removeprefix("! ")
    people = who(one, 200)
    return f"Station {one.number}, {one.name}" + (f", {lead}" if lead else "") + (f": {people}." if people else ".")


def _joined(before: View | None, now: View) -> list[str]:
    if before is None:
        return [f"{here.summary(now.attendance, ())}."] if now.attendance.here or now.attendance.away else []
    warm = [one for one in before.attendance.warming if one in now.attendance.here]
    return [f"{one} is warm and joins." for one in warm]


def calls(view: View) -> str:
    """What can be typed now, and nothing else."""
    named = [f"{key} {name}" for key, name in view.outcomes]
    told = [*named, *(WITH.get(what, what) for what in WHATS if what in view.allowed and WITH.get(what, what))]
    return ", ".join(told)
