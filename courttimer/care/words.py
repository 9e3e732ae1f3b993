"""The page of cautions, in the words in which it stands in the README and is shown beside advice."""

FIRST = (
    "What courttimer says about rest, water, heat and length is general guidance. Local rules, your federation's or school's heat "
    "policy, and the doctor or athletic trainer on site go first."
)
CAUTIONS = (
    "A player who is hurt, dizzy or unwell stops at once.",
    "A suspected concussion: out for today, however well the player feels, and back only with a doctor's word.",
    "Heat stroke (hot, confused, collapsing): call for help, and cool first, with cold water over the whole body, before anyone is "
    "moved.",
    "An ankle is not run off.",
    "Water at least every 20 minutes, sooner when it is hot, and for whoever asks.",
    "What losers do is short and capped; none of it in the heat, and none for those who came late or are hurt.",
    "Alone in the gym: water by the court, and somebody knows where you are and when you will be back.",
    "The clock serves the floor. When in doubt, press x.",
)
