"""One whole practice written out by hand, event by event and cue by cue, in milliseconds: what nobody decided shows here."""

import pytest

from courttimer.plan.reading import read
from courttimer.practice import events as ev, records
from courttimer.rehearsal import Played, rehearse

SESSION = """
title = "By hand"
[[segment]]
kind = "warm-up"
time = "20 s"
[[segment]]
kind = "drill"
name = "Paint"
time = "1:20"
setup = "10 s"
rep = { live = "8 s", off = "6 s" }
window = [ { name = "drive", time = "3 s" } ]
[[segment]]
kind = "water"
time = "1:10"
[[segment]]
kind = "drill"
name = "Finish"
time = "40 s"
rep = { live = "5 s", starts = "on call" }
window = [ { name = "shot", time = "3 s", opens = "on call" } ]
"""

CALLS = """
0:00.000 go
0:25.000 go         # the set-up ends early
0:30.500 over       # an early end
0:37.500 hold       # in a rep, with the window open
0:47.500 go
0:53.000 over       # pressed by mistake ...
0:54.000 take back  # ... and a second later it never was
0:58.000 last
1:04.000 halt
1:24.000 go
1:25.000 water      # that halt was the water
2:50.000 forward    # the clicker starts the waiting rep
2:51.000 open
"""

EVENTS = """
     0 went
     0 segment began 0 lasts 20000
     0 stretch began on
 20000 segment ended 0 time
 20000 segment began 1 lasts 80000
 20000 stretch began set-up lasts 10000
 25000 went
 25000 rep began 1 lasts 8000
 25000 window opened drive lasts 3000
 28000 window closed drive time
 30500 outcome happened over
 30500 rep ended 1 over
 30500 stretch began off lasts 6000
 36500 rep began 2 lasts 8000
 36500 window opened drive lasts 3000
 37500 held
 37500 window closed drive held
 37500 rep ended 2 held
 47500 went
 47500 hold ended
 47500 stretch began ready lasts 2000
 49500 rep began 2 lasts 8000
 49500 window opened drive lasts 3000
 52500 window closed drive time
 53000 outcome happened over
 53000 rep ended 2 over
 53000 stretch began off lasts 6000
 54000 taken back
 57500 rep ended 2 time
 57500 stretch began off lasts 6000
 58000 last called
 63500 rep began 3 lasts 8000
 63500 window opened drive lasts 3000
 64000 halted
 64000 window closed drive held
 64000 rep ended 3 held
 84000 went
 84000 hold ended
 84000 stretch began ready lasts 2000
 85000 water taken
 86000 rep began 3 lasts 8000
 86000 window opened drive lasts 3000
 89000 window closed drive time
 94000 rep ended 3 time
 94000 segment ended 1 last
 94000 segment began 2 lasts 70000
 94000 stretch began on
164000 segment ended 2 time
164000 segment began 3 lasts 40000
164000 stretch began waiting lasts 35001
170000 went
170000 rep began 1 lasts 5000
171000 window called shot
171000 window opened shot lasts 3000
174000 window closed shot time
175000 rep ended 1 time
175000 stretch began waiting lasts 24001
199001 stretch began spare
204000 segment ended 3 time
204000 practice ended
"""

# Speech as it is estimated: 375 ms a word, 400 ms between sentences. It begins 150 ms after a tone and ends 250 ms before a horn.
CUES = """
     0 change
   890 Warm-up. until 1640
 20000 change
 20890 Paint. until 21265
 25000 go open
 28000 close
 30500 end
 35875 Ready. until 36250
 36500 go open
 48875 Ready. until 49250
 49500 go open
 52500 close
 53000 end
 57500 end
 62500 Last one. until 63250
 63500 go open
 85000 Last one. until 85750
 86000 go open
 89000 close
 94000 water end
 95390 Water. One minute ten seconds. Then Finish. until 98815
134000 Thirty seconds. until 134750
164000 change
164890 Finish. until 165265
170000 go
171000 open
174000 close
175000 end
204000 end
"""


@pytest.fixture(name="played", scope="module")
def _played(tmp_path_factory: pytest.TempPathFactory) -> Played:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COURTTIMER_HOME", str(tmp_path_factory.mktemp("home")))
        return rehearse(read("by-hand.toml", SESSION, dict[str, str]().__getitem__), CALLS.replace("#", "\n#"), at="18:00")


def _line(e: ev.Event) -> str:
    """The event as it is written above: its moment, its name, and what it is about."""
    about = [getattr(e, f, None) for f in ("segment", "stretch", "rep", "window", "outcome", "why")]
    lasts = getattr(e, "lasts", None)
    words = [records.name(type(e)), *(str(a) for a in about if (a is not None and e.source == "time") or a not in (None, "call", ""))]
    return " ".join([f"{e.at:>6}", *words, *([f"lasts {lasts}"] if lasts is not None else [])])


def test_every_event_comes_when_it_was_written_by_hand(played: Played) -> None:
    happened = [e for e in played.events if e.source != "fact"]

    assert "\n".join(map(_line, happened)) == EVENTS.strip("\n")


def test_every_cue_is_heard_when_it_was_written_by_hand(played: Played) -> None:
    heard = [(h.placed, h.until) for h in played.tape.heard()]
    lines = [f"{p.at:>6} {p.text} until {until}" if p.text else " ".join([f"{p.at:>6} {p.cue.name}", *p.also]) for p, until in heard]

    assert "\n".join(lines) == CUES.strip("\n")
