"""The page of cautions, in the words in which it stands in the README and is shown beside advice, and where each comes from."""

from courttimer.care.sources import COMMON, Source

FIRST = (
    "What courttimer says about rest, water, heat and length is general guidance. Local rules, your federation's or school's heat "
    "policy, and the doctor or athletic trainer on site go first."
)
HURT = "A player who is hurt, dizzy or unwell stops at once."
CONCUSSION = "A suspected concussion: out for today, however well the player feels, and no return without medical clearance."
HEAT_STROKE = (
    "Heat stroke (hot, confused, collapsing): call for help, and cool first, with cold water over the whole body, before anyone is "
    "moved."
)
ANKLE = "An ankle is not run off."
WATER = "Water at least every 20 minutes, sooner when it is hot, and for whoever asks."
CONSEQUENCES = (
    "What losers do is short and capped; none of it from level 2 of the heat on, and none for those who came late or are hurt."
)
ALONE = "Alone in the gym: water by the court, and somebody knows where you are and when you will be back."
LIGHTNING = (
    "Outdoors, at thunder or lightning: everyone into a building or a car, and out again 30 minutes after the last of it; each new "
    "one starts the half hour again."
)
DOUBT = "The clock serves the floor. When in doubt, press x."

SOURCES = {
    HURT: COMMON,
    CONCUSSION: Source("Patricios et al. 2023, Br J Sports Med 57:695-711", "consensus statement, Amsterdam 2022", memory=True),
    HEAT_STROKE: Source("Casa et al. 2015, J Athl Train 50:986-1000", "NATA: cool first, transport second", memory=True),
    ANKLE: COMMON,
    WATER: COMMON,
    CONSEQUENCES: COMMON,
    ALONE: COMMON,
    LIGHTNING: Source("Walsh et al. 2013, J Athl Train 48:258-270", "NATA position statement on lightning", memory=True),
    DOUBT: COMMON,
}
"""Each caution beside its source."""
CAUTIONS = tuple(SOURCES)
FIRST_BRIEFLY = (
    "General guidance: local rules, your federation's or school's heat policy, and the doctor or athletic trainer on site go first."
)
BRIEFLY = {
    HURT: "Hurt, dizzy or unwell: stop at once.",
    CONCUSSION: "Suspected concussion: out for today, however well they feel; back with medical clearance only.",
    HEAT_STROKE: "Heat stroke (hot, confused, collapsing): call for help; cool first, cold water all over, then move.",
    ANKLE: ANKLE,
    WATER: "Water every 20 min, sooner in heat, and whenever asked for.",
    CONSEQUENCES: "Paying: short, capped; none from heat level 2 on, none for the late or hurt.",
    ALONE: "Alone: water by the court, and somebody knows when you are back.",
    LIGHTNING: "Thunder outdoors: into a building or car until 30 min after the last.",
}
"""The same for a page with little room: nothing is left out that somebody must do. That in doubt x is pressed stands on its card."""


def briefly(players: int) -> tuple[str, ...]:
    """What concerns so many players: who is alone has nobody to pay, and a squad is not alone. None known: all of it."""
    moot = {1: CONSEQUENCES, 0: ""}.get(players, ALONE)
    return tuple(brief for caution, brief in BRIEFLY.items() if caution != moot)


IN_A_HALT = (CONCUSSION, HEAT_STROKE, ANKLE)
"""What is worth reading while everything stands."""
ASIDE = "Everyone else: away from it, sit down, drink."
"""Something quiet for the others in a halt, when the session names nothing."""
