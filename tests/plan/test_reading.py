"""Session files that are read, and every way in which a file is none: always lines for the coach, never anything else."""

import pytest

from courttimer.errors import PlanError
from courttimer.plan.model import Turn
from courttimer.plan.reading import read
from tests.plan.files import DRILL, TUESDAY, mistakes, reading, swapped


def test_the_evening_of_the_design_is_read_with_its_times() -> None:
    session = reading(TUESDAY).session
    # 8 + 10 + 3 + 12 + 3 + (1 + 3 x 4 + 2 x 0.75) + 3 + 10 + 4 minutes, added by hand from the file
    assert sum(one.time for one in session.segment) == 67 * 60_000 + 30_000
    assert session.floor == (64_800_000, 69_300_000)
    touch, stay = session.segment[1], session.segment[3]
    assert (touch.title, touch.time, touch.at_least, touch.setup) == ("Paint touch", 600_000, 420_000, 60_000)
    assert touch.window[0].time == 3_000
    assert touch.rep is not None
    assert (touch.rep.live, touch.rep.off, touch.rep.turn) == (8_000, 16_000, Turn("fair"))
    assert stay.outcome[1].turn == Turn("table", (("attack", "off"), ("defend", "attack"), ("off", "defend")))
    assert session.squad.teams[0] == ("blue", ("Ada", "Dina", "Gwen", "Juno"))


def test_a_window_longer_than_its_live_time_is_told_with_file_line_and_both_times() -> None:
    text = swapped('time = "3 s"', 'time = "90 s"', TUESDAY)
    assert mistakes(text) == ('tuesday.toml:45: segment "Paint touch": the window (90 s) is longer than the live time (8 s)',)


def test_all_mistakes_are_told_at_once_in_the_order_of_the_file() -> None:
    text = TUESDAY
    for old, new in (
        ("age   = 13", "age = true"),
        ('"Lina"]', '"ada"]'),
        ('red = ["Bea"', 'red = ["Ada"'),
        ("effort = 3", "efort = 3"),
        ('time = "3 s"', 'time = "nan"'),
        ('name = "basket"', 'naem = "basket"'),
        ('clock = "2:00"', 'clock = "2 hours"'),
    ):
        text = swapped(old, new, text)
    told = mistakes(text)
    numbers = [int(line.split(":")[1]) for line in told]
    assert numbers == sorted(numbers)
    assert {2, 18, 19, 25, 45, 53, 54, 115} <= set(numbers)
    assert 'tuesday.toml:25: segment "Lanes": there is no key "efort"; did you mean "effort"?' in told


def test_a_byte_order_mark_and_windows_line_ends_are_fine() -> None:
    plain = reading(TUESDAY).session
    assert reading(b"\xef\xbb\xbf" + TUESDAY.replace("\n", "\r\n").encode()).session == plain
    assert reading("\ufeff" + TUESDAY).session == plain


def test_a_reading_is_made_again_from_its_own_files() -> None:
    drill = 'kind = "drill"\ntime = "5 min"\n'
    once = reading('[[segment]]\nuse = "drills/gate.toml"', {"drills/gate.toml": drill})
    again = read("tuesday.toml", once.files["tuesday.toml"], once.files.__getitem__)
    assert again.session == once.session
    assert set(once.files) == {"tuesday.toml", "drills/gate.toml"}


ONE = '[[segment]]\nkind = "drill"\ntime = "5 min"\n'


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (b"", ":1: the file is empty"),
        (b" \n\n\t", ":1: the file is empty"),
        (b"# only a remark\n", "there are no segments"),
        (b"\x7fELF\x00\x01\xff\xfe", ":1: this is not a text file"),
        (b"a = 1\n\x00\x00", ":2: this is not a text file"),
        (b"title = 'x'\n# caf\xe9\n", ":2: a character is not UTF-8"),
        ("title = 'x'".encode("utf-16"), ":1: saved as UTF-16; save it as UTF-8"),
        (b"\xa7" * 20_000_000, ":1: larger than 1 MB (got 20.0 MB)"),
        (b"a=" + b"[" * 500_000, ":1: nested too deep"),
        (b"a" + b".a" * 400_000 + b"=1", ":1: nested too deep"),
        (b"\n\nx = " + b"9" * 5000, ":3: a number of more than a thousand digits"),
        (b"title = \n", ":1: this is not TOML: the value is missing"),
        (b"title = 12 s\n", ":1: this is not TOML: something is left over"),
        (b"title = 'x\n", ":1: this is not TOML: the closing quotation mark is missing"),
        (b"a = 1\na = 2\n", ":2: this is not TOML: this key is written twice"),
        (b"hello there\n", ':1: this is not TOML: a key, "=" and a value are expected'),
        (b"segment = []\n", "there are no segments"),
        (b'[segment]\nkind = "drill"\n', ":1: segment: a list is expected, one heading [[segment]] for each (got a table)"),
        (b"segment = 3\n", ":1: segment: a list is expected"),
        (b"segment = [3]\n", ":1: segment 1: a table is expected"),
        ((ONE * 201).encode(), ":1: segment: at most 200 are allowed here (got 201)"),
    ],
)
def test_a_file_that_is_no_session_gives_a_clear_line(text: bytes, told: str) -> None:
    lines = mistakes(text)
    assert any(told in line for line in lines), lines
    assert all(line.startswith("tuesday.toml:") for line in lines)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("time = true", "not a time (got true)"),
        ("time = 300", 'a time needs its unit, in quotation marks (got 300); write "30 s" or "12 min"'),
        ("time = nan", "not a time (got nan)"),
        ("time = -inf", "not a time (got -inf)"),
        ('time = "nan"', 'not a time (got "nan")'),
        ('time = "-5 min"', 'not a time (got "-5 min")'),
        ('time = "0 s"', 'a time from 5 s to 3 h is expected (got "0 s")'),
        ('time = "99 h"', 'a time from 5 s to 3 h is expected (got "99 h")'),
        ("time = 1979-05-27", "not a time (got a date or a time of day)"),
        ('time = ["5 min"]', "not a time (got a list of 1)"),
        ("effort = true", "a whole number is expected (got true)"),
        ("effort = 3.0", "a whole number is expected (got 3.0)"),
        ("effort = nan", "a whole number is expected (got nan)"),
        ("effort = -1", "a number from 0 to 10 is expected (got -1)"),
        ("effort = 0x" + "F" * 5000, "a number from 0 to 10 is expected (got a very large number)"),
        ("optional = 1", "true or false is expected, without quotation marks (got 1)"),
        ('optional = "true"', "true or false is expected"),
        ('name = "' + "x" * 61 + '"', "longer than 60 characters (got 61"),
        ('name = "a\\u0007b"', r'holds a control character (got "a\u0007b")'),
        ('name = "a\\u202Eb"', r'holds a control character (got "a\u202eb")'),
        ('name = "  "', "this is blank"),
        ("name = 3", "a name in quotation marks is expected (got 3)"),
        ('court = "hlaf"', 'did you mean "half"?'),
        ("reminders = 'Low hips.'", "a list is expected, in square brackets"),
        ("gear = { balls = 0 }", "a number from 1 to 99 is expected (got 0)"),
        ("gear = 4", "a table is expected"),
        ('roles = [ { name = "a", size = "4-2" } ]', "the smaller first"),
        ('roles = [ { name = "a", size = "many" } ]', 'a number, or a range such as "2-4"'),
        ("teams = 1", '"squad", or a whole number, 2 to 12 is expected (got 1)'),
        ('rep = { live = "20 s", turn = "sawp" }', 'did you mean "swap"?'),
        ('live = "20 s"', 'there is no key "live"; it belongs in rep = { live = … }'),
        ('consequence = { time = "90 s" }', 'a time from 5 s to 1 min is expected (got "90 s")'),
    ],
)
def test_a_wrong_value_is_told_with_what_was_got(line: str, told: str) -> None:
    text = ONE.replace('time = "5 min"\n', "") if line.startswith("time") else ONE
    lines = mistakes(text + line + "\n")
    assert any(told in one for one in lines), lines


@pytest.mark.parametrize("floor", ["19:15-18:00", "18:00-18:00"])
def test_floor_time_that_ends_before_it_starts_is_told(floor: str) -> None:
    assert f'tuesday.toml:1: floor: the floor time ends before it starts (got "{floor}")' in mistakes(f'floor = "{floor}"\n' + ONE)[0]


def test_a_thousand_mistakes_are_told_as_a_hundred_and_a_count() -> None:
    lines = mistakes(ONE + "".join(f"x{n} = 1\n" for n in range(1000)) + "".join(ONE + "y = 1\nz = 1\n" for _ in range(100)))
    assert len(lines) == 101
    assert lines[-1].startswith("and ")


GATE = 'kind = "drill"\nname = "Gate"\ntime = "5 min"\nrep = { live = "20 s", off = "10 s", turn = "swap" }\nreminders = ["Low."]\n'
USE = '[[segment]]\nuse = "drills/gate.toml"\n'


def test_lines_of_the_session_go_before_those_of_the_drill_file() -> None:
    text = USE + 'time = "8 min"\nrep.off = "20 s"\nreminders = ["Wide."]\n'
    (segment,) = reading(text, {"drills/gate.toml": GATE}).session.segment
    assert (segment.name, segment.time, segment.reminders) == ("Gate", 480_000, ("Wide.",))
    assert segment.rep is not None
    assert (segment.rep.live, segment.rep.off) == (20_000, 20_000)


def test_a_mistake_names_the_file_in_which_it_stands() -> None:
    drill = GATE.replace("live", "lvie").replace('"Low."', '""')
    told = mistakes(USE + 'rep.off = "x"\n' + USE, {"drills/gate.toml": drill})
    assert told == (
        'tuesday.toml:3: segment "Gate", rep, off: not a time (got "x"); write it like "12 s", "3:30" or "1 min 30 s"',
        'drills/gate.toml:4: segment "Gate", rep: there is no key "lvie"; did you mean "live"?',
        'drills/gate.toml:5: segment "Gate", reminders 1: this is blank; write something, or leave the line out',
    )


@pytest.mark.parametrize(
    ("use", "told"),
    [
        ("drills/none.toml", 'there is no file "drills/none.toml" in the session\'s folder'),
        ("tuesday.toml", "a session cannot use itself"),
        ("./drills/../tuesday.toml", "a session cannot use itself"),
        ("../other.toml", "a drill file lies inside the session's folder"),
        ("drills/../../other.toml", "a drill file lies inside the session's folder"),
        ("/etc/passwd", "a drill file lies inside the session's folder"),
        ("C:/drill.toml", "a drill file lies inside the session's folder"),
        ("drills\\\\gate.toml", "a drill file lies inside the session's folder"),
        ("~/gate.toml", "a drill file lies inside the session's folder"),
        ("drills", "the name of a drill file ends in .toml"),
    ],
)
def test_a_drill_file_that_may_not_be_used_is_told_at_its_line(use: str, told: str) -> None:
    (line,) = mistakes(f'\n\n[[segment]]\nuse = "{use}"\n')
    assert line.startswith("tuesday.toml:4: segment 1, use: ")
    assert told in line


@pytest.mark.parametrize(
    ("drill", "told"),
    [
        (b"", "drills/gate.toml:1: the file is empty"),
        (b"\xff\x00", "drills/gate.toml:1: this is not a text file"),
        (GATE.encode() + b'use = "drills/gate.toml"\n', "drills/gate.toml:6: use: a drill file cannot use another one"),
        (b"\n[[segment]]\n", "drills/gate.toml:2: segment: a drill file holds the keys of one segment at its top"),
        (b"a = \n", "drills/gate.toml:1: this is not TOML"),
    ],
)
def test_a_drill_file_that_is_none_is_told_by_its_own_name(drill: bytes, told: str) -> None:
    (line,) = mistakes(USE, {"drills/gate.toml": drill})
    assert line.startswith(told)


def test_a_folder_in_place_of_a_drill_file_is_told() -> None:
    def fetch(_: str) -> str:
        raise IsADirectoryError(21, "Is a directory")

    with pytest.raises(PlanError, match="it is a folder"):
        read("tuesday.toml", USE, fetch)


def test_what_the_caller_says_of_a_drill_file_is_told_as_it_is() -> None:
    def fetch(_: str) -> str:
        raise PlanError("drills/gate.toml:1: leads out of the session's folder; copy it there")

    with pytest.raises(PlanError, match="leads out of the session's folder"):
        read("tuesday.toml", USE, fetch)


def test_the_sample_drill_of_these_tests_is_a_plan() -> None:
    assert mistakes(DRILL) == ()
