"""The reference page of the session file, `sessions/README.md`: made from the vocabulary, the kinds and the rulebook.

`python -m courttimer.plan.reference > sessions/README.md` renews it.
"""

import json
import sys
from dataclasses import MISSING, Field, fields
from typing import Any

from courttimer.plan.rulebook import COUNTS, SETS
from courttimer.plan.schema import TABLES, default
from courttimer.plan.times import spell

_TOP = """\
# The session file

A practice is one file in TOML, made with any editor. This page is made from the program's own definitions and lists every key.
`first-practice.toml` shows them at work. `courttimer check FILE` tells every mistake with its line, and what to do about it;
`courttimer check --schema` prints a JSON Schema for editors that can use one.

```toml
title = "Tern Street U14, Tuesday"

[[segment]]
kind = "drill"
name = "Paint touch"
time = "10 min"
setup = "1 min"
rep = { live = "8 s", off = "16 s" }

[[segment]]
kind = "water"
time = "3 min"
```

- **Times** are written as one says them, in quotation marks: `"12 s"`, `"3:30"`, `"12 min"`, `"1 min 30 s"`, `"1 h 15 min"`.
- **Names** have 60 characters at most, sentences 200. A file has 1 MB at most, a practice 200 segments.
- **A drill in a file of its own**: `use = "drills/paint-touch.toml"` in a segment. That file holds the keys of one segment
  at its top, without `[[segment]]`. Lines written in the session go first; of `rep`, `score` and `consequence` only the keys
  that are written there. The file lies inside the session's folder, and uses no other file.
- **Stations** take the time at each and between them, **spots** with `within` the time at each: their `time` may be left out.
- **Over** is an outcome that is always there, on key 0: the rep ended, nothing happened.
- **A table from role to role** says for every role in it where those who are in it go; each of these roles is gone to once.

Keys in **bold** must be there. In `segment`, `kind` must be there unless a drill file gives it.
"""


def reference() -> str:
    """The whole page, in Markdown."""
    return "\n".join([_TOP, *(_section(table) for table in TABLES), _counts()])


def _section(table: type[Any]) -> str:
    rows = "\n".join(_row(one) for one in fields(table))
    heads = "| key | takes | meaning | left out |\n|---|---|---|---|"
    return f"## {table.__name__}\n\n{(table.__doc__ or '').strip()}\n\n{heads}\n{rows}\n"


def _row(one: Field[Any]) -> str:
    name = f"**{one.name}**" if one.default is MISSING else one.name
    standing = default(one)
    left_out = "" if standing is None else f"`{json.dumps(standing)}`"
    return f"| {name} | {one.metadata['kind'].words()} | {one.metadata['meaning']} | {left_out} |"


def _counts() -> str:
    heads = f"| count | {' | '.join(SETS)} |\n|---|{'---|' * len(SETS)}"
    rows = "\n".join(f"| {name} | {' | '.join(_count(name, rules) for rules in SETS)} |" for name in COUNTS)
    return (
        "## Counts of the rules\n\n"
        'With `rules = "fiba"` (or nfhs, ncaa, nba) at the top, a window may be as long as a count of the rules: '
        '`time = "shot clock"`.\nA local competition may play by others; then write the time itself. '
        f"Compare those from memory with the rule book.\n\n{heads}\n{rows}\n"
    )


def _count(name: str, rules: str) -> str:
    one = COUNTS[name].get(rules)
    if one is None:
        return "none"
    return f"{spell(one.ms)} ({one.article}{', from memory' if one.status == 'from memory' else ''})"


if __name__ == "__main__":
    sys.stdout.write(reference())
