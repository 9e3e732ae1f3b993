"""Who is where: roles with their names, a column a place, and who comes in next."""

from courttimer.practice.view import Inside, RoleView
from courttimer.screen.ink import Line, clip, fill, fold, line, width

LEAST = 11
"""A column narrower than this tells no names."""
NEXT = "next in"


def places(inside: Inside, cells: int, rows: int) -> list[Line]:
    """A line a role, in at most so many; what does not fit in a line is counted. Nothing where nobody has a role."""
    if not inside.roles or rows < 1 or (inside.stations and not inside.chosen):
        return []
    count = max(one.place for one in inside.roles)
    names = list(dict.fromkeys(one.role for one in inside.roles if one.plays or one.names)) or [inside.roles[0].role]
    label = max(map(len, (*names, NEXT))) + 2
    if count == 1:
        return _one_place(inside, names, label, cells, rows)
    each = (cells - label) // count
    if each < LEAST:
        return _in_lines(inside, names, label, cells, rows)
    return _table(inside, names, label, each, count)[:rows]


def coming(inside: Inside, place: int) -> tuple[str, ...]:
    """Who comes in at a place after this rep: plays then, and does not play now."""
    now = {name for one in inside.roles if one.plays for name in one.names}
    return tuple(name for one in inside.next if one.plays and one.place == place for name in one.names if name not in now)


def listed(names: tuple[str, ...], cells: int) -> str:
    """As many names as fit, and how many more there are."""
    whole = ", ".join(names)
    if len(whole) <= cells:
        return whole
    for kept in range(len(names) - 1, 0, -1):
        told = f"{', '.join(names[:kept])} +{len(names) - kept}"
        if len(told) <= cells:
            return told
    return clip(whole, cells)


def _at(inside: Inside, place: int, role: str) -> RoleView | None:
    return next((one for one in inside.roles if one.place == place and one.role == role), None)


def _style(one: RoleView | None) -> str:
    return "strong" if one is not None and one.plays else "plain"


def _one_place(inside: Inside, names: list[str], label: int, cells: int, rows: int) -> list[Line]:
    """Side by side in one line when that fits, else a line each."""
    here = [one for one in (_at(inside, 1, role) for role in names) if one is not None]
    name = next((f"{one.name}:" for one in inside.stations if one.chosen), "")
    parts = [line((name, "quiet"))] if name else []
    parts += [line((f"{one.role} ", "quiet"), (", ".join(one.names) or "nobody", _style(one)), (_does(one), "quiet")) for one in here]
    then = coming(inside, 1)
    parts += [line((f"{NEXT} ", "quiet"), (", ".join(then), "off"))] if then else []
    if sum(map(width, parts)) + 3 * len(parts) <= cells:
        return fold(parts, "   ", cells, 1)
    told = [line((f"{one.role:<{label}}", "quiet"), (listed(one.names, cells - label), _style(one))) for one in here]
    told += [line((f"{NEXT:<{label}}", "quiet"), (listed(then, cells - label), "off"))] if then else []
    return told[:rows] if len(told) <= rows else fold(parts, "   ", cells, rows)


def _does(one: RoleView) -> str:
    return f" ({one.does})" if one.does and one.names else ""


def _table(inside: Inside, names: list[str], label: int, each: int, count: int) -> list[Line]:
    """A column a place. Who comes in is not told where that is everyone who waits."""
    head = line((" " * label, "quiet"), *((f"basket {n:<{each - 7}}", "quiet") for n in range(1, count + 1)))
    told = [head]
    for role in names:
        cellfuls = [(_at(inside, place, role), place) for place in range(1, count + 1)]
        told.append(line((f"{role:<{label}}", "quiet"), *(_cell(one, each) for one, _ in cellfuls)))
    then = [coming(inside, place) for place in range(1, count + 1)]
    if any(then) and any(set(names) != _waiting(inside, place) for place, names in enumerate(then, 1)):
        told.append(line((f"{NEXT:<{label}}", "quiet"), *(_padded(listed(names, each - 1), each, "off") for names in then)))
    return told


def _waiting(inside: Inside, place: int) -> set[str]:
    return {name for one in inside.roles if one.place == place and not one.plays for name in one.names}


def _cell(one: RoleView | None, each: int) -> tuple[str, str]:
    return _padded(listed(one.names, each - 1) if one else "", each, _style(one))


def _padded(text: str, each: int, style: str) -> tuple[str, str]:
    return fill(line((text, style)), each)[0][0].ljust(each), style


def _in_lines(inside: Inside, names: list[str], label: int, cells: int, rows: int) -> list[Line]:
    """Too many places for columns: the names of each role in the order of the places, with the place's number before them."""
    told = []
    for role in names:
        at = tuple(f"{one.place} {', '.join(one.names)}" for one in inside.roles if one.role == role and one.names)
        plays = any(one.plays for one in inside.roles if one.role == role)
        told.append(line((f"{role:<{label}}", "quiet"), (listed(at, cells - label), "strong" if plays else "plain")))
    return told[:rows]
