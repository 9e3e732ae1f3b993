"""Where a rule comes from: the work, its edition and its clause, and whether it was read or is from memory."""

from typing import NamedTuple


class Source(NamedTuple):
    """`clause` is a table, an article or pages; `memory`: the value was not read in the work, compare it before relying on it."""

    work: str
    clause: str = ""
    memory: bool = False

    def __str__(self) -> str:
        return ", ".join(part for part in (self.work, self.clause, "from memory" if self.memory else "") if part)


COMMON = Source("common practice")
"""No standard is known: what good coaches do."""
