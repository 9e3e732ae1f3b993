"""What is not safe does not go: heat above the last level, thunder out of doors; before the first horn as on the running board."""

from courttimer.plan.reading import read
from courttimer.practice import events as ev
from courttimer.practice.branch import Branch, catch_up, happen
from courttimer.practice.calls import parse
from courttimer.practice.look import look
from courttimer.practice.rules import decide
from courttimer.practice.state import opening
from courttimer.practice.view import View
from courttimer.rehearsal import rehearse

MIN = 60_000
SEGMENTS = '[[segment]]\nkind = "drill"\ntime = "60 min"\nrep = { live = "20 s", off = "40 s" }\n'


def evening(head: str, calls: str) -> tuple[View, list[ev.Event]]:
    """What is seen after these calls, a line each (minutes and a call), and the events they made."""
    b = Branch(opening(read("by-hand.toml", head + SEGMENTS, dict[str, str]().__getitem__).session, 18 * 60 * MIN))
    made, at = list[ev.Event](), 0
    for line in filter(None, map(str.strip, calls.splitlines())):
        minutes, _, words = line.partition(" ")
        at = round(float(minutes) * MIN)
        b = catch_up(b, at)[0]
        made.append(decide(b, parse(words), at, 0))
        b = catch_up(happen(b, made[-1]), at)[0]
    return look(b, at, made[-1]), made


def why(e: ev.Event) -> str:
    return e.why if isinstance(e, ev.Refused) else ""


HOT = 'heat = { air = "38 C", humidity = 70 }\n'


def test_above_the_last_level_nothing_goes_until_the_coach_has_confirmed_in_words() -> None:
    view, made = evening(HOT, "0 go\n0.1 heat practice anyways\n0.2 go")
    assert why(made[0]).startswith('too hot to practise; type "heat practise anyway"')
    assert why(made[1])
    assert why(made[2])
    assert view.phase == "start"
    assert view.care.too_hot
    view, made = evening(HOT, "0 heat Practise anyway.\n0.1 go")
    assert view.phase == "running"
    assert not view.care.too_hot
    assert view.care.heat_asks == ("Practised anyway, as you have confirmed.",)


def test_nothing_is_confirmed_before_it_is_too_hot() -> None:
    view, made = evening("", "0 heat practise anyway\n1 heat 39 C 70 %\n2 go")
    assert why(made[0]) == "it is not too hot: there is nothing to confirm"
    assert view.phase == "start"


def test_what_was_typed_with_the_word_heat_before_it_confirms_too_and_the_answer_says_so() -> None:
    view, made = evening(HOT, "0 heat heat practise anyway")
    assert isinstance(made[0], ev.HeatChanged)
    assert view.said == "Heat, level 4: practised anyway."


def test_heat_that_rises_while_it_runs_lets_nothing_go_on_after_a_hold_and_wants_a_new_word() -> None:
    view, made = evening("", "0 go\n5 heat 101 F 70 %\n6 hold\n7 go\n8 heat practise anyway\n9 heat 39 C 70 %\n10 go")
    assert [bool(why(e)) for e in made] == [False, False, False, True, False, False, True]
    assert view.care.too_hot


def test_on_the_board_the_first_hot_week_is_asked_for_and_what_is_said_of_it_counts() -> None:
    # 80.3 F of estimated WBGT (indoor, Stull); in region 3 that is level 0, but 95.1 F of heat index are level 2 (TSSAA).
    asked, _ = evening("region = 3\n", "0 go\n1 heat 88 F 60 %")
    assert asked.care.heat == 2
    assert "first hot week" in asked.care.heat_asks[-1]
    # 28.5 C are 83.3 F: level 1 in region 3, and in the first week level 2 (ACSM 2007: above 82 F).
    known, _ = evening("region = 3\n", "0 go\n1 heat wbgt 28.5 C first week")
    assert known.care.heat == 2
    assert not any("first hot week" in line for line in known.care.heat_asks)
    unmeasured, _ = evening("", "0 go\n1 heat hot")
    assert not any("first hot week" in line for line in unmeasured.care.heat_asks)


OUT = "outdoor = true\n"


def test_thunder_stands_everything_until_thirty_minutes_after_the_last_of_it() -> None:
    view, made = evening(OUT, "0 go\n5 thunder\n20 thunder\n35.1 go\n49.9 go")
    assert view.phase == "halted"
    assert [bool(why(e)) for e in made] == [False, False, False, True, True]
    assert "into a building or a car" in view.care.lightning
    assert evening(OUT, "0 go\n5 thunder\n20 thunder\n50 go")[0].phase == "running"


def test_thunder_before_the_first_go_lets_it_not_go_either() -> None:
    view, made = evening(OUT, "0 thunder\n10 go")
    assert isinstance(made[0], ev.ThunderHeard)
    assert "Lightning" in why(made[1])
    assert view.phase == "start"
    assert view.care.lightning
    assert evening(OUT, "0 thunder\n30 go")[0].phase == "running"
    assert evening(OUT, "0 thunder\n1 take back\n2 go")[0].phase == "running"


def test_thunder_while_a_hold_stands_is_a_halt_too() -> None:
    assert evening(OUT, "0 go\n5 hold\n6 thunder\n7 go")[0].phase == "halted"


def test_under_a_roof_thunder_is_answered_and_changes_nothing() -> None:
    view, made = evening("", "0 go\n5 thunder")
    assert "roof" in why(made[1])
    assert view.phase == "running"


def test_a_rehearsal_that_is_too_hot_to_begin_says_so_and_does_not_last_for_hours() -> None:
    played = rehearse(read("by-hand.toml", f'title = "By hand"\n{HOT}{SEGMENTS}', dict[str, str]().__getitem__), at="18:00")
    told = list(played.told())
    assert told[0] == "By hand: 0:00, 1 segments, 0 reps."
    assert "too hot to practise" in told[1]
