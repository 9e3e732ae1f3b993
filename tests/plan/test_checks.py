"""Rules that bind several keys together: each slip in a good drill gives one line, at its line, with what to do."""

from dataclasses import replace

import pytest

from courttimer.plan.derived import Opening, lasting, opening
from courttimer.plan.model import Segment, Station, Window
from tests.plan.files import DRILL, mistakes, reading, swapped


@pytest.mark.parametrize(
    ("old", "new", "line", "told"),
    [
        ('time = "3 s"', 'time = "30 s"', 15, "the window (30 s) is longer than the live time (20 s)"),
        ('time = "3 s"', 'time = "3 s"\nwarning = "3 s"', 16, "the warning (3 s) is not shorter than the window (3 s)"),
        ('at_least = "4 min"', 'at_least = "6 min"', 8, "at_least (6 min) is longer than the time (5 min)"),
        ('at_least = "4 min"', 'at_most = "4 min"', 8, "at_most (4 min) is shorter than the time (5 min)"),
        ('setup = "30 s"', 'setup = "5 min"', 9, "the set-up (5 min) leaves nothing of the time (5 min)"),
        ('setup = "30 s"', 'setup = "4:00"', 8, "the set-up (4 min) leaves nothing of at_least (4 min)"),
        ('live = "20 s"', 'live = "4:31"', 11, "the live time (4 min 31 s) is longer than the segment without its set-up (4 min 30 s)"),
        ('time = "5 min"\n', "", 4, '"time" is missing'),
        ('"Cleo"]\n', '"Cleo", "ada"]\n', 2, '"ada" is there twice; each given name must be different'),
        ('red = ["Bea"', 'red = ["Ada"', 3, '"Ada" is already in blue; one team for each player'),
        ('red = ["Bea"', 'red = ["Bee"', 3, 'there is no player "Bee"; did you mean "Bea"?'),
        ('to = "attack"', 'to = "attak"', 20, 'there is no role "attak"; did you mean "attack"?'),
        ('closes = "drive"', 'closes = "drift"', 24, 'there is no window "drift"'),
        ('closes = "drive"', 'opens = "x"', 24, 'there is no window "x"; there is "drive"'),
        ('closes = "drive"', 'resets = "driv"', 24, 'there is no window "driv"; did you mean "drive"?'),
        ('closes = "drive"', 'only_in = "Drive"', 24, 'there is no window "Drive"; did you mean "drive"?'),
        ('closes = "drive"', 'only_after = "stop"', 24, 'there is no other outcome "stop"'),
        ('runs_out = "stop"', 'runs_out = "stopp"', 16, 'there is no outcome "stopp"; did you mean "stop"?'),
        ('name = "stop"', 'name = "Basket"', 23, '"Basket" is there twice; each outcome must be different'),
        ('name = "stop"', 'name = "Over"', 23, '"over" is always there, on key 0'),
        ('{ name = "defend" }', '{ name = "attack" }', 10, '"attack" is there twice; each role must be different'),
        ('closes = "drive"', 'clicker = "forward"', 24, 'the clicker\'s "forward" already makes the call "basket"'),
        ('turn = "swap"', 'turn = { attack = "off" }', 11, 'there is no role "off"'),
        ('turn = "swap"', 'turn = { attack = "defend" }', 11, "who goes to"),
        ('turn = "swap"', 'turn = { attack = "defend", defend = "defend" }', 11, 'who goes to "defend" and who leaves it do not match'),
        ('live = "20 s", ', "", 11, "a rep that starts by itself needs its live time"),
        ('off = "10 s"', 'off = "10 s", starts = "at once"', 11, 'play that starts "at once" never stops and has no off time'),
        ("rep = {", "# rep = {", 13, "there are no reps for it"),
        ("race = 5", "race = 5, row = 3", 12, "a score is a race or a row, not both"),
        ("race = 5", 'by = "group"', 12, "what is counted is missing"),
        ("race = 5", "tally = true, win_by = 2", 12, "win_by needs a race"),
        ("race = 5", 'row = 5, of = ["bsket"]', 12, 'there is no outcome "bsket"; did you mean "basket"?'),
        ("race = 5", 'race = 5, by = "team"', 12, "a score by team needs teams"),
        ("race = 5", 'race = 5, by = "spot"', 12, 'only segments of kind "spots" score by spot'),
        ("score = {", 'consequence = { time = "20 s" } # {', 12, "a consequence needs a score"),
        ('{ name = "attack" }, { name = "defend" }', '{ name = "attack", plays = false }', 10, "nobody plays"),
        ('kind = "drill"', 'kind = "water"', 11, 'a segment of kind "water" has no rep'),
        ('kind = "drill"', 'kind = "drill"\neach = "1 min"', 6, 'a segment of kind "drill" has no each; it belongs to "stations"'),
        ('kind = "drill"', 'kind = "drill"\ngame = { clock = "2:00" }', 6, 'has no game; it belongs to "scrimmage"'),
        ('kind = "drill"', 'kind = "drill"\nshots = 3', 6, 'has no shots; it belongs to "spots"'),
        ('runs_out = "stop"', 'opens = "every 2 s"', 16, "the window (3 s) is still open after 2 s"),
        ('runs_out = "stop"', 'opens = "on bskt"', 16, 'there is no outcome "bskt"'),
        ('runs_out = "stop"', 'opens = "when drift closes"', 16, 'there is no window "drift"; did you mean "drive"?'),
        ('runs_out = "stop"', 'opens = "when drive closes"', 16, "windows that wait for one another never open"),
        ('runs_out = "stop"', 'opens = "sometimes"', 16, '"on OUTCOME" or "when WINDOW closes" is expected (got "sometimes")'),
    ],
)
def test_a_slip_in_a_good_drill_is_told_at_its_line(old: str, new: str, line: int, told: str) -> None:
    lines = mistakes(swapped(old, new))
    assert any(one.startswith(f"tuesday.toml:{line}: ") and told in one for one in lines), lines


def test_teams_of_the_squad_must_be_there() -> None:
    text = swapped("score =", 'teams = "squad"\nscore =').replace("teams = {", "# teams = {")
    assert 'teams = "squad" needs the teams in [squad]' in mistakes(text)[0]


GAME = '[[segment]]\nkind = "scrimmage"\ntime = "5 min"\ngame = { clock = "2:00", score = { blue = 4, red = 5 }, ball = "blue" }\n'


@pytest.mark.parametrize(("old", "new"), [("red = 5", "rde = 5"), ('ball = "blue"', 'ball = "blu"')])
def test_teams_of_a_game_are_those_of_the_squad(old: str, new: str) -> None:
    assert mistakes(DRILL + GAME) == ()
    assert "there is no team" in mistakes(DRILL + swapped(old, new, GAME))[0]


STATIONS = """\
[[segment]]
kind = "stations"
each = "4:00"
change = "0:45"
setup = "1 min"
station = [{ name = "A" }, { name = "B" }, { name = "C" }]
"""
SPOTS = '[[segment]]\nkind = "spots"\nspots = ["left", "top"]\nwithin = "2 min"\nrounds = 3\nsetup = "30 s"\n'


def test_stations_and_spots_last_as_long_as_their_parts() -> None:
    # 1 + 3 x 4 + 2 x 0.75 min; 0.5 + 2 x 2 x 3 min, by hand
    assert [one.time for one in reading(STATIONS + SPOTS).session.segment] == [870_000, 750_000]
    assert lasting(Segment(kind="drill", time=60_000)) is None


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (STATIONS.replace('each = "4:00"', ""), "stations need the time at each"),
        (STATIONS.replace("station = ", "# "), "stations need their list"),
        (STATIONS + 'time = "14 min"\n', "its parts take 14 min 30 s (got 14 min); leave the time out"),
        (STATIONS.replace('"B"', '"a"'), '"a" is there twice; each station must be different'),
        (STATIONS.replace('"B"', '"B", rep = { live = "5 min" }'), "(5 min) is longer than the time at the station (4 min)"),
        (SPOTS.replace('within = "2 min"', 'time = "5 min"'), "spots need shots"),
        (SPOTS.replace("spots = ", "# "), "spots need their list"),
        (SPOTS.replace('within = "2 min"', "shots = 10"), '"time" is missing'),
        (SPOTS.replace('"2 min"', '"60 min"'), "3 h is the most"),
    ],
)
def test_stations_and_spots_must_be_whole(text: str, told: str) -> None:
    assert any(told in line for line in mistakes(text)), mistakes(text)


def test_time_for_stations_may_be_longer_than_their_parts() -> None:
    assert reading(STATIONS + 'time = "20 min"\n').session.segment[0].time == 1_200_000


@pytest.mark.parametrize(
    ("opens", "parsed"),
    [
        ("with the rep", Opening("with the rep")),
        ("on call", Opening("on call")),
        ("every 15 s", Opening("every", every=15_000)),
        ("on paint", Opening("on outcome", "paint")),
        ("when first pass closes", Opening("when window closes", "first pass")),
    ],
)
def test_how_a_window_opens_is_known_to_the_engine(opens: str, parsed: Opening) -> None:
    window = Window(name="drive", time=3_000)
    assert opening(replace(window, opens=opens)) == parsed


def test_one_slip_gives_one_line() -> None:
    """What points at a name that could not be read is not told as a mistake of its own."""
    assert len(mistakes(swapped('name = "drive"', "name = 3"))) == 1
    assert len(mistakes(swapped('time = "5 min"', 'time = "five"'))) == 1
    assert len(mistakes(swapped("race = 5", "race = 0"))) == 1
    assert len(mistakes(swapped("[squad]\nplayers", "[squad]\nplyers"))) == 1


def test_what_stands_after_a_gap_in_a_list_is_not_told_at_a_wrong_line() -> None:
    text = DRILL.split("[[segment.window]]")[0] + 'outcome = [3,\n{ name = "a", to = "nobody" },\n{ name = "b" }]\n'
    assert mistakes(text) == (
        'tuesday.toml:13: segment "Gate", outcome 1: a table is expected, in curly brackets or under a heading (got 3)',
    )


def test_objects_of_the_vocabulary_can_be_made_directly() -> None:
    assert Segment(kind="water", time=60_000).title == "Water"
    assert lasting(Segment(kind="stations", each=60_000, change=0, station=(Station(name="A"),))) == 60_000
