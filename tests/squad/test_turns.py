"""Who goes where next, as a coach would walk it through on the floor."""

from hypothesis import given, strategies as st

from courttimer.squad.turns import Standing, advance, lined_up, moved, one_for_one, relieved, swap, winners_stay

NAMES = (
    "Ada", "Bea", "Cleo", "Dina", "Edda", "Fern", "Gwen", "Hana", "Inga", "Juno", "Kaia", "Lina",
    "Mona", "Nela", "Orla", "Pia", "Runa", "Siri", "Tove", "Una", "Vera", "Wilma", "Ylva", "Zita",
)  # fmt: skip
STAY_ON = {"attack": ("Ada", "Dina", "Gwen"), "defend": ("Bea", "Edda", "Hana"), "off": ("Cleo", "Fern", "Inga")}
STOP = (("attack", "off"), ("defend", "attack"), ("off", "defend"))


def test_three_teams_through_basket_and_stop() -> None:
    basket = moved(STAY_ON, (("defend", "off"), ("off", "defend")))
    assert basket == {"attack": STAY_ON["attack"], "defend": STAY_ON["off"], "off": STAY_ON["defend"]}
    assert moved(basket, STOP) == {"attack": STAY_ON["off"], "defend": STAY_ON["defend"], "off": STAY_ON["attack"]}


def test_of_two_against_one_only_the_one_longest_in_changes_over() -> None:
    assert swap({"attack": ("Ada", "Bea"), "defend": ("Cleo",)}, ("attack", "defend")) == {
        "attack": ("Bea", "Cleo"),
        "defend": ("Ada",),
    }


def test_three_against_two_with_one_waiting_move_one_along_each_arrow() -> None:
    standing = {"attack": ("Ada", "Bea", "Cleo"), "defend": ("Dina", "Edda"), "off": ("Fern",)}
    after = moved(standing, STOP)
    assert after == {"attack": ("Bea", "Cleo", "Dina"), "defend": ("Edda", "Fern"), "off": ("Ada",)}


def test_winners_stay_and_the_first_in_line_come_on_for_the_losers() -> None:
    standing = {"attack": ("Ada",), "defend": ("Bea",), "off": ("Cleo", "Dina")}
    assert winners_stay(standing, "attack", ("attack", "defend")) == {"attack": ("Ada",), "defend": ("Cleo",), "off": ("Dina", "Bea")}


def test_one_for_one_brings_on_one_for_the_longest_in_of_each_side() -> None:
    standing = {"attack": ("Ada", "Bea"), "defend": ("Cleo", "Dina"), "off": ("Edda",)}
    assert one_for_one(standing, ("attack", "defend")) == {"attack": ("Bea", "Edda"), "defend": ("Cleo", "Dina"), "off": ("Ada",)}


def test_an_empty_side_or_a_role_that_is_not_there_moves_nobody() -> None:
    assert moved({"attack": ("Ada",), "off": ()}, (("attack", "off"), ("off", "attack"))) == {"attack": ("Ada",), "off": ()}
    assert moved({"attack": ("Ada",)}, STOP) == {"attack": ("Ada",)}


def test_with_nobody_waiting_the_two_teams_that_are_here_change_over() -> None:
    """A stop is a stop with two teams too: whoever defended attacks next; a basket changes nothing."""
    two = {"attack": ("blue",), "defend": ("red",), "off": ()}
    assert moved(two, STOP) == {"attack": ("red",), "defend": ("blue",), "off": ()}
    assert moved(two, (("defend", "off"), ("off", "defend"))) == two


def test_in_one_line_who_comes_on_attacks_and_the_longest_in_goes_off() -> None:
    sizes = (("attack", 1), ("defend", 1))
    assert lined_up(NAMES[:4], sizes) == {"defend": ("Ada",), "attack": ("Bea",), "off": ("Cleo", "Dina")}
    assert lined_up(advance(NAMES[:4], sizes, 0), sizes) == {"defend": ("Bea",), "attack": ("Cleo",), "off": ("Dina", "Ada")}


@given(st.integers(2, 24), st.lists(st.integers(1, 5), min_size=1, max_size=4), st.integers(0, 120))
def test_with_advance_reps_differ_by_at_most_the_number_of_playing_roles(here: int, each: list[int], reps: int) -> None:
    sizes = tuple((f"role {at}", size) for at, size in enumerate(each))
    if sum(each) > here:
        return
    line, played = NAMES[:here], dict.fromkeys(NAMES[:here], 0)
    for turn in range(reps):
        for one in line[: sum(each)]:
            played[one] += 1
        line = advance(line, sizes, turn)
    assert max(played.values()) - min(played.values()) <= len(sizes)


TURNS = st.sampled_from(["basket", "stop", "swap", "winners stay", "one for one", "nothing"])


def after(way: str, standing: Standing) -> Standing:
    match way:
        case "basket":
            return moved(standing, (("defend", "off"), ("off", "defend")))
        case "stop":
            return moved(standing, STOP)
        case "swap":
            return swap(standing, ("attack", "defend"))
        case "winners stay":
            return winners_stay(standing, "attack", ("attack", "defend"))
        case "one for one":
            return one_for_one(standing, ("attack", "defend"))
    return standing


def test_when_the_outcome_never_brings_the_line_on_the_wait_does() -> None:
    standing: Standing = {"attack": ("Ada",), "defend": ("Bea",), "off": ("Cleo", "Dina", "Edda")}
    waited, longest = dict.fromkeys(NAMES[:5], 0), 0
    for _ in range(40):
        waited = {one: waited[one] + 1 if one in standing["off"] else 0 for one in waited}
        longest = max(longest, *waited.values())
        standing = relieved(swap(standing, ("attack", "defend")), waited, ("attack", "defend"))
    assert 3 <= longest <= 6, "twice the line of three"


@given(st.integers(1, 5), st.integers(1, 5), st.integers(0, 14), st.lists(TURNS, max_size=120))
def test_with_turns_by_outcome_nobody_waits_more_than_twice_the_line(attack: int, defend: int, line: int, ways: list[str]) -> None:
    names = NAMES[: attack + defend + line]
    standing: Standing = {"attack": names[:attack], "defend": names[attack : attack + defend], "off": names[attack + defend :]}
    waited = dict.fromkeys(names, 0)
    for way in ways:
        waited = {one: waited[one] + 1 if one in standing["off"] else 0 for one in names}
        assert max(waited.values()) <= 2 * line
        standing = relieved(after(way, standing), waited, ("attack", "defend"))
        assert sorted(one for players in standing.values() for one in players) == sorted(names)
        assert [len(standing[role]) for role in ("attack", "defend", "off")] == [attack, defend, line]
