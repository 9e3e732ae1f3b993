"""What rest a player missed, from the work that the turns really gave them; each second of it against a count of seconds."""

from random import Random

import pytest

from courttimer.care.bouts import EASY, Bout, Missing, carried, missing, rested_at, still_resting
from courttimer.care.rest import off_needed, off_time, rest
from courttimer.care.sources import COMMON

S = 1_000


def bout(start: int, end: int, effort: int | None = 8, *, paced: bool = False) -> Bout:
    return Bout(start * S, end * S, effort, paced)


def short(*work: Bout) -> list[int]:
    return [one.ms // S for one in missing(work)]


def test_game_like_work_is_followed_by_twice_its_length() -> None:
    # Common practice, for efforts 6 to 8: 10 s of work, 20 s of rest.
    assert short(bout(0, 10), bout(30, 40)) == []
    (one,) = missing([bout(0, 10), bout(29, 40)])
    assert (one.ms, one.asked.source, one.asked.quality) == (S, COMMON, False)
    assert (one.bout, one.until) == (bout(0, 10), 29 * S)


def test_sprints_are_followed_by_what_the_table_says_and_that_is_quality() -> None:
    # NSCA, Essentials of Strength Training and Conditioning, 4th ed., Table 3.6: 10 s ask for 120 s.
    (one,) = missing([bout(0, 10, 9), bout(100, 110, 9)])
    assert (one.ms, one.asked.quality) == (30 * S, True)
    assert "Table 3.6" in str(one.asked.source)


def test_a_consequence_is_work_and_lengthens_the_bout_that_it_follows() -> None:
    assert short(bout(0, 10), bout(10, 20), bout(50, 60)) == [10]
    assert short(bout(0, 10), bout(40, 50)) == []
    assert short(bout(0, 10), bout(12, 20), bout(50, 60)) == [18]


def test_a_sprint_with_a_consequence_asks_for_no_less_than_the_sprint_alone() -> None:
    # The table asks for 120 s after 10 s of sprint, but only 90 s after 30 s.
    assert short(bout(0, 10, 9), bout(10, 30, 7), bout(150, 160)) == []
    assert short(bout(0, 10, 9), bout(10, 30, 7), bout(149, 160)) == [1]


def test_easy_work_is_rest_and_work_of_unknown_effort_is_not() -> None:
    assert short(bout(0, 20), bout(20, 50, EASY), bout(60, 70)) == []
    assert short(bout(0, 20), bout(30, 60, EASY + 1), bout(60, 70)) == [30]
    assert short(bout(0, 20), bout(30, 60, None), bout(60, 70)) == [30]
    assert short(bout(0, 20, None), bout(21, 30)) == []


def test_light_work_before_or_after_hard_work_delays_its_rest_and_asks_for_none_itself() -> None:
    assert short(bout(0, 600, 5), bout(600, 610), bout(629, 640)) == [1]
    assert short(bout(0, 10), bout(10, 300, None), bout(319, 330)) == [1]
    assert short(bout(0, 10), bout(10, 300, 5), bout(300, 310), bout(349, 350)) == [1]


def test_play_that_never_stops_is_paced_by_those_who_play_but_sprints_are_not() -> None:
    assert short(bout(0, 480, 7, paced=True), bout(500, 510)) == []
    assert short(bout(0, 480, 7, paced=True), bout(480, 500), bout(520, 530)) == [20]
    assert short(bout(0, 60, 9, paced=True), bout(200, 210)) == [40]


def test_the_last_bout_of_the_evening_misses_nothing_and_order_does_not_matter() -> None:
    assert short(bout(0, 10)) == short() == []
    assert short(bout(29, 40), bout(0, 10)) == [1]
    assert short(bout(0, 10), bout(5, 8), bout(7, 12), bout(12, 12), bout(30, 31)) == [6]


def test_who_comes_on_next_says_how_long_the_off_time_is() -> None:
    tired, fresh = [bout(0, 10), bout(100, 110)], [bout(50, 60)]
    assert rested_at(tired) == 130 * S
    assert rested_at([]) == 0
    assert still_resting(112 * S, [fresh]) == 0
    assert still_resting(112 * S, [fresh, tired, []]) == 18 * S
    assert still_resting(112 * S, []) == 0


@pytest.mark.parametrize("effort", [None, 5, 6, 8, 9, 10])
@pytest.mark.parametrize("groups", [1, 2, 3, 5])
def test_the_off_time_that_is_needed_is_enough_and_a_second_less_is_not(effort: int | None, groups: int) -> None:
    for live in (5_000, 8_000, 12_345, 24_000, 45_000, 120_000):
        off = off_needed(effort, live, groups)
        asked = rest(effort, live)
        assert off % S == 0
        assert asked is None or off_time(live, off, groups) >= asked.least
        assert off == 0 or (asked is not None and off_time(live, off - S, groups) < asked.least)


def seconds_missing(work: list[Bout]) -> int:
    """The same counted second by second over whole seconds, for work of efforts 6 to 8: rest owed is twice the last run's length."""
    on = {second for one in work for second in range(one.start // S, one.end // S)}
    run = idle = owed = 0
    for second in range(max(on) + 1):
        if second in on:
            owed += max(0, 2 * run - idle) if run and idle else 0
            run, idle = (1, 0) if idle else (run + 1, 0)
        else:
            idle += 1
    return owed


def test_a_thousand_random_evenings_miss_what_a_count_of_their_seconds_misses() -> None:
    for seed in range(1_000):
        random = Random(seed)
        starts = [random.randrange(600) for _ in range(random.randrange(1, 20))]
        work = [bout(start, start + random.randrange(1, 40), random.randrange(6, 9)) for start in starts]
        assert sum(short(*work)) == seconds_missing(work), seed


def test_with_the_off_time_that_is_needed_nobody_is_ever_short() -> None:
    """As the engine is to do it: at the end of each rep the off time waits for whoever comes on next."""
    for seed in range(300):
        random = Random(seed)
        work: dict[int, list[Bout]] = {one: [] for one in range(random.randrange(2, 13))}
        matters: dict[int, tuple[Bout, ...]] = dict.fromkeys(work, ())
        at, on = 0, random.randrange(1, len(work) + 1)
        for _ in range(20):
            coming = random.sample(sorted(work), on)
            start = at + still_resting(at, [matters[one] for one in coming])
            at = start + random.randrange(1, 60_000)
            effort = random.choice((None, 3, 5, 7, 8, 9, 10))
            for one in coming:
                work[one].append(Bout(start, at, effort))
                if random.random() < 0.1:
                    work[one].append(Bout(at, at + 20_000, effort))
                    matters[one] = carried(matters[one], work[one][-2])
                matters[one] = carried(matters[one], work[one][-1])
                assert rested_at(matters[one]) == rested_at(work[one])
        assert [list(missing(one)) for one in work.values()] == [list[Missing]()] * len(work)
