"""Who may be heard when: horns never move, words never meet, and what has no room says why."""

from itertools import combinations, pairwise
from typing import Any

from hypothesis import given, strategies as st

from courttimer.practice.cue import Cue, Placed
from courttimer.sound.air import NEAR, TONES, place
from courttimer.sound.lengths import Lengths
from courttimer.sound.recipes import NAMES, Recipe
from courttimer.sound.words import AFTER_TONE, BEFORE_HORN, BREATH

TONE_MS = {"go": 500, "end": 900, "open": 220, "close": 394, "warning": 600, "change": 700, "water": 1160, "back": 720}


def recipe(name: str, ms: int) -> Recipe:
    return Recipe(name=name, partials=((700.0, 1.0),), runs=(ms,), pitch=(1.0,), rise=5, fall=5)


LENGTHS = Lengths(
    {name: recipe(name, ms) for name, ms in TONE_MS.items()},
    {
        "one": 400,
        "two": 400,
        "three": 450,
        "Thirty seconds.": 1000,
        "Paint touch. One on one from the wing.": 3000,
        "Paint touch.": 800,
    },
)
LONG, SHORT = "Paint touch. One on one from the wing.", "Paint touch."


def cue(**fields: Any) -> Cue:
    usual: dict[str, Any] = {"lane": 0, "stretch": 0, "segment": 0, "if_late": "play", "group": "g"}
    return Cue(**usual | fields)


def tone(name: str, at: int, right: str = "horn", **fields: Any) -> Cue:
    return cue(name=name, sort="tone", at=at, until=at, right=right, **fields)


def speech(text: str, at: int, until: int, right: str = "where", **fields: Any) -> Cue:
    return cue(**{"name": "words", "sort": "speech", "at": at, "until": until, "text": text, "right": right} | fields)


def heard(*cues: Cue, busy: tuple[Placed, ...] = (), now: int = 0) -> dict[str, Placed]:
    """By what it is: a tone's name, or what is said."""
    return {p.text or p.cue.name: p for p in place(cues, LENGTHS, busy, now=now)[0]}


def test_every_tone_of_the_recipes_has_its_rank() -> None:
    assert set(TONES) == set(NAMES)


def test_a_reps_start_and_its_windows_opening_are_one_tone_that_names_both() -> None:
    placed, left_out = place([tone("open", 5000), tone("go", 5000)], LENGTHS)
    assert [(p.cue.name, p.at, p.also) for p in placed] == [("go", 5000, ("open",))]
    assert not left_out


def test_the_reps_end_cuts_off_the_windows_close_just_before_it() -> None:
    found = heard(tone("close", 7800), tone("end", 8000))
    assert (found["close"].at, found["close"].until) == (7800, 8000)
    assert (found["end"].at, found["end"].until) == (8000, 8900)


def test_of_two_horns_that_begin_almost_together_only_the_stronger_sounds() -> None:
    placed, left_out = place([tone("close", 7950), tone("end", 8000)], LENGTHS)
    assert [p.cue.name for p in placed] == ["end"]
    assert left_out[0].why == 'the tone "end" sounds at this moment'


def test_a_warning_does_not_cut_a_horn() -> None:
    assert list(heard(tone("end", 8000), tone("warning", 8300, "warning"))) == ["end"]
    assert list(heard(tone("end", 8000), tone("warning", 8900, "warning"))) == ["end", "warning"]


def test_an_announcement_ends_a_quarter_of_a_second_before_its_horn() -> None:
    found = heard(speech(LONG, 0, 10_000, ends=True), tone("go", 10_000))
    assert found[LONG].until == 10_000 - BEFORE_HORN
    assert found[LONG].at == 10_000 - BEFORE_HORN - 3000


def test_an_announcement_that_just_fits_gives_up_its_pause_before_the_horn() -> None:
    assert heard(speech(LONG, 0, 3100, ends=True))[LONG].at == 0


def test_words_at_the_instant_of_a_tone_wait_until_the_ear_is_free() -> None:
    assert heard(tone("water", 1000), speech(LONG, 1000, 9000))[LONG].at == 1000 + 1160 + AFTER_TONE


def test_what_does_not_fit_is_said_in_short_and_never_cut() -> None:
    found = heard(speech(LONG, 0, 2000, short=SHORT, ends=True))
    assert (found[SHORT].at, found[SHORT].until) == (950, 1750)


def test_what_does_not_fit_at_all_says_how_long_it_is_and_how_much_room_it_has() -> None:
    placed, left_out = place([speech(LONG, 0, 500, short=SHORT)], LENGTHS)
    assert not placed
    assert left_out[0].why == "it lasts 0.8 s and there are 0.5 s for it"


def test_the_weaker_speech_makes_way() -> None:
    found = heard(speech("Thirty seconds.", 0, 9000, "reminder", name="low"), speech(LONG, 0, 9000, "where"))
    assert found[LONG].at == 0
    assert found["Thirty seconds."].at == 3000 + BREATH


def test_counted_words_begin_on_their_second_and_a_tone_ducks_them() -> None:
    words = [speech(w, 1000 * i, 1000 * i + 900, "countdown", name="count", n=i) for i, w in enumerate(["three", "two", "one"])]
    found = heard(*words, tone("warning", 1200, "warning"), speech(LONG, 0, 9000, "turn"))
    assert [found[w].at for w in ("three", "two", "one")] == [0, 1000, 2000]
    assert found["two"].duck == ((1200, 1400),)
    assert found[LONG].at == 2000 + 400 + BREATH


def test_where_to_go_is_rather_ducked_than_lost_and_a_reminder_rather_lost() -> None:
    crowd = [tone("open", 700, n=1), tone("close", 1400)]
    assert heard(*crowd, speech("Thirty seconds.", 0, 1400))["Thirty seconds."].duck == ((700, 920),)
    assert "Thirty seconds." not in heard(*crowd, speech("Thirty seconds.", 0, 1400, "reminder"))


def test_words_that_have_begun_step_back_for_a_tone_that_a_call_brought() -> None:
    begun = heard(speech(LONG, 0, 9000))[LONG]
    again = heard(tone("open", 1150), speech(LONG, 0, 9000), busy=(begun,), now=1000)[LONG]
    assert (again.at, again.until, again.duck) == (0, 3000, ((1150, 1370),))


def test_a_tone_at_the_instant_of_one_that_has_begun_is_not_sounded_again() -> None:
    begun = heard(tone("go", 5000))["go"]
    placed, left_out = place([tone("open", 5000)], LENGTHS, (begun,), now=5000)
    assert [(p.cue.name, p.also) for p in placed] == [("go", ("open",))]
    assert not left_out


def test_nothing_is_said_in_the_past() -> None:
    assert heard(speech(SHORT, 0, 9000), now=4000)[SHORT].at == 4000
    assert not heard(speech("one", 3900, 4800, "countdown"), now=4000)


# Random wish lists. Rooms are tight and moments few, so that much collides.

moments = st.integers(0, 60).map(lambda n: n * 100) | st.integers(0, 6000)
tone_wishes = st.builds(
    lambda name, at, lane, n: tone(name, at, "warning" if name == "warning" else "horn", lane=lane, n=n),
    st.sampled_from(TONES),
    moments,
    st.integers(0, 3),
    st.integers(0, 99),
)
speech_wishes = st.builds(
    lambda text, short, at, room, right, ends, n: speech(text, at, at + room, right, short=short, ends=ends, n=n, name="words"),
    st.sampled_from([LONG, "Thirty seconds.", SHORT]),
    st.sampled_from(["", SHORT]),
    moments,
    st.integers(0, 5000),
    st.sampled_from(["where", "turn", "score", "reminder"]),
    st.booleans(),
    st.integers(100, 199),
)
counted = st.builds(
    lambda text, at, n: speech(text, at, at + 1000, "countdown", name="count", n=n),
    st.sampled_from(["one", "two", "three"]),
    moments,
    st.integers(200, 299),
)
wish_lists = st.lists(tone_wishes | speech_wishes | counted, max_size=12, unique_by=lambda c: c.id)


def overlaps(one: Placed, other: Placed) -> bool:
    return one.at < other.until and other.at < one.until


@given(wish_lists)
def test_no_two_speeches_overlap_and_no_tone_is_covered(cues: list[Cue]) -> None:
    placed, _ = place(cues, LENGTHS)
    words = [p for p in placed if p.cue.sort == "speech"]
    tones = [p for p in placed if p.cue.sort == "tone"]
    assert not any(overlaps(a, b) for a, b in combinations(words, 2))
    assert all(a.until <= b.at and b.at - a.at >= NEAR for a, b in pairwise(tones))
    for w in words:
        assert w.duck == tuple((max(w.at, t.at), min(w.until, t.until)) for t in tones if overlaps(w, t))


@given(wish_lists)
def test_no_horn_moves_and_nothing_leaves_its_room(cues: list[Cue]) -> None:
    placed, left_out = place(cues, LENGTHS)
    for p in placed:
        if p.cue.sort == "tone" or p.cue.right == "countdown":
            assert p.at == p.cue.at
        if p.cue.sort == "speech":
            assert p.cue.at <= p.at < p.until == p.at + LENGTHS.text(p.text) <= p.cue.until
            assert p.text in (p.cue.text, p.cue.short)
    said_too = sum(len({c.id for c in cues if c.sort == "tone" and c.at == p.at}) for p in placed if p.cue.sort == "tone")
    dropped_too = sum(len({c.id for c in cues if c.sort == "tone" and c.at == u.cue.at}) for u in left_out if u.cue.sort == "tone")
    assert said_too + dropped_too == sum(c.sort == "tone" for c in cues), "every tone sounds, is named by another, or says why not"
    assert sum(p.cue.sort == "speech" for p in placed) + sum(u.cue.sort == "speech" for u in left_out) == sum(
        c.sort == "speech" for c in cues
    )


@given(wish_lists, st.lists(st.integers(0, 6500), max_size=6).map(sorted), st.randoms())
def test_asked_again_at_any_beat_the_places_are_the_same(cues: list[Cue], beats: list[int], chance: Any) -> None:
    first, _ = place(cues, LENGTHS)
    known = first
    for now in beats:
        busy = tuple(p for p in known if p.at <= now)
        instants = {p.at for p in busy if p.cue.sort == "tone"}
        wishes = [c for c in cues if c.sort == "speech" or c.at > now or c.at in instants]
        chance.shuffle(wishes)
        known, _ = place(wishes, LENGTHS, busy, now=now)
        assert known == first


def test_the_stability_test_sees_a_place_that_depends_on_the_beat() -> None:
    """The twin: without `busy`, what has begun is placed a second time, later."""
    cues = [speech(LONG, 0, 9000)]
    assert place(cues, LENGTHS, now=500)[0] != place(cues, LENGTHS)[0]
