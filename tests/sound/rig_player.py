"""Plays a list of cues through a live Speaker and prints its facts as JSON: a process of its own, as a practice is."""

import json
import sys
from threading import Event

import numpy as np

from courttimer.clock import RealClock
from courttimer.practice.cue import Placed
from courttimer.practice.records import record
from courttimer.sound.mixer import Samples
from courttimer.sound.speaker import Speaker
from tests.sound.wishes import placed


class Edges:
    """Every cue is 100 ms that begin and end on a frame."""

    def samples(self, placed: Placed) -> Samples:
        return np.full(4800, 0.5, np.float32)

    def render_tones(self) -> None:
        """They are made already."""


def main() -> None:
    order = json.loads(sys.argv[1])
    clock, facts = RealClock(), []
    speaker = Speaker(Edges(), clock, order["wanted"])
    wishes = tuple(placed(c["name"], c["at"], n=n, group=c["group"], lasts=100) for n, c in enumerate(order["cues"]))
    while clock.now() < order["seconds"] * 1000:
        speaker.want(wishes, now=clock.now())
        Event().wait(0.05)
        facts += [record(fact) for fact in speaker.facts()]
    facts.append({"what": "lead", "lead": speaker.lead(), "trouble": speaker.trouble()})
    speaker.close()
    sys.stdout.write(json.dumps(facts))


if __name__ == "__main__":
    main()
