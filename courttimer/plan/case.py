"""One table under examination: where it stands, and how a mistake between its keys is noted."""

from collections.abc import Sequence
from typing import NamedTuple

from courttimer.plan.kinds import Notes, Path
from courttimer.plan.words import listed, nearest, shown


class Case(NamedTuple):
    """`spoilt` holds every path at or below which something could not be read: no rule is applied to those."""

    path: Path
    notes: Notes
    spoilt: frozenset[Path]

    def inside(self, *path: str | int) -> "Case":
        return Case((*self.path, *path), self.notes, self.spoilt)

    def say(self, key: Path, what: str, *needs: Path) -> None:
        """Notes a mistake at the line of `key`, unless it or one of the other keys that it `needs` could not be read."""
        at = (*self.path, *key)
        gap = any(at[:end] in self.notes.gaps for end in range(len(self.path) + 1, len(at)))
        if not gap and not any((*self.path, *one) in self.spoilt for one in (key, *needs)):
            self.notes.add(at, what, self.path)

    def alike(self, key: Path, names: Sequence[str], word: str, *inner: str) -> None:
        """Notes every name that was there before; large and small letters are not told apart."""
        seen: set[str] = set()
        for at, name in enumerate(names):
            if name and name.casefold() in seen:
                place = key if key == ("teams",) else (*key, at, *inner)
                self.say(place, f"{shown(name)} is there twice; each {word} must be different", key)
            seen.add(name.casefold())

    def known(self, key: Path, name: str, names: Sequence[str], word: str, *needs: Path) -> None:
        """Notes a name that is not one of `names`, with the nearest one or with all there are."""
        if not name or name in names:
            return
        hint = nearest(name, names) or (f"; there is {listed(names[:12])}" if names else f"; no {word} is given")
        self.say(key, f"there is no {word} {shown(name)}{hint}", *needs)
