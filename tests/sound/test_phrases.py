"""What is said comes from data, in words; a coach's own words go first, and what a language lacks is said in English."""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, get_args

import pytest
from num2words import num2words

from courttimer import locations
from courttimer.errors import PlanError
from courttimer.locations import sounds
from courttimer.plan.model import Kind, Segment, Session
from courttimer.practice.cue import Saying
from courttimer.practice.sayings import sayings
from courttimer.sound.own import read as read_own
from courttimer.sound.phrases import Phrases, read
from courttimer.sound.wording import fields

LANGUAGES = tuple(sorted(path.stem for path in sounds().glob("*.toml") if path.stem != "tones"))
ENGLISH = read(sounds())


def tables(language: str) -> dict[str, Any]:
    return tomllib.loads((sounds() / f"{language}.toml").read_text(encoding="utf-8"))


@pytest.fixture
def little(tmp_path: Path) -> Phrases:
    """A language made up for the test, with one phrase and one unit."""
    (tmp_path / "en.toml").write_bytes((sounds() / "en.toml").read_bytes())
    text = '[phrases]\nready = "Redi."\n[time]\nminutes = { 1 = "min", "2-4 22-24" = "{n} mini", others = "{n} mins" }\n'
    (tmp_path / "xx.toml").write_text(text, encoding="utf-8")
    return read(tmp_path, "xx-yy")


def coachs(text: str, language: str = "en") -> Phrases:
    """Ours, with this file in the coach's own folder."""
    locations.own_sounds().mkdir(parents=True, exist_ok=True)
    (locations.own_sounds() / f"{language}.toml").write_text(text, encoding="utf-8")
    return read(sounds(), language)


def test_english_and_spanish_are_there_and_a_third_language() -> None:
    assert LANGUAGES == ("de", "en", "es")


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_has_exactly_the_same_phrases_with_the_same_fields(language: str) -> None:
    def shape(found: Mapping[str, Any]) -> dict[str, frozenset[str]]:
        return {name: fields(said) for name, said in found.items()}

    own, english = tables(language), tables("en")
    assert own.keys() == english.keys()
    assert shape(own["phrases"]) == shape(english["phrases"])
    assert own["titles"].keys() == english["titles"].keys() == set(get_args(Kind))
    assert shape(own["sides"]) == shape(english["sides"])
    assert own["time"].keys() == english["time"].keys()
    assert fields(own["time"]["both"]) == {"minutes", "seconds"}
    assert own["numbers"].keys() == english["numbers"].keys()


@pytest.mark.parametrize("language", LANGUAGES)
def test_numbers_are_said_as_a_library_says_them(language: str) -> None:
    """The library is num2words 0.5: 0 to 99, and the digits beyond, which the voice reads."""
    said = read(sounds(), language)
    assert [said.number(n) for n in range(100)] == [num2words(n, lang=language) for n in range(100)]
    assert said.number(100) == "100"


@pytest.mark.parametrize(
    ("language", "ms", "said"),
    [
        ("en", 60_000, "one minute"),
        ("en", 90_000, "one minute thirty seconds"),
        ("en", 45_499, "forty-five seconds"),
        ("en", 1_000, "one second"),
        ("en", 0, "zero seconds"),
        ("en", 6_000_000, "100 minutes"),
        ("es", 60_000, "un minuto"),
        ("es", 121_000, "dos minutos y un segundo"),
        ("es", 21_000, "veintiún segundos"),
        ("es", 31 * 60_000, "treinta y un minutos"),
        ("es", 45_000, "cuarenta y cinco segundos"),
        ("de", 60_000, "eine Minute"),
        ("de", 1_000, "eine Sekunde"),
        ("de", 21 * 60_000, "einundzwanzig Minuten"),
        ("de", 150_000, "zwei Minuten dreißig Sekunden"),
    ],
)
def test_times_are_said_to_the_second_as_people_say_them(language: str, ms: int, said: str) -> None:
    assert read(sounds(), language).length(ms) == said


def test_a_language_may_have_more_plurals_than_two(little: Phrases) -> None:
    assert [little.length(60_000 * n) for n in (1, 3, 5, 24)] == ["min", "three mini", "five mins", "twenty-four mini"]


def test_each_sentence_begins_with_a_capital() -> None:
    saying = Saying(phrase="break-then", what="Water", time=180_000, then="Stay on")
    assert ENGLISH.said(saying) == "Water. Three minutes. Then Stay on."


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_phrase_can_be_said_and_leaves_no_brace(language: str) -> None:
    said = read(sounds(), language)
    for name in tables("en")["phrases"]:
        for what in ("", "Stay on"):
            text = said.said(Saying(phrase=name.removesuffix("-bare"), what=what, then="Water", time=60_000))
            assert text
            assert not {"{", "}"} & set(text)


def test_without_a_name_a_phrase_is_said_without_it() -> None:
    assert ENGLISH.said(Saying(phrase="wins", what="Blue")) == "Blue wins."
    assert ENGLISH.said(Saying(phrase="wins")) == "That's game."


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_segment_without_a_name_is_called_by_its_kind_in_the_language_of_the_voice(language: str) -> None:
    said, own = read(sounds(), language), tables(language)["titles"]
    for kind in get_args(Kind):
        title = Segment(kind=kind).title
        assert said.said(f"{title}.") == f"{own[kind]}."
        assert said.said(Saying(phrase="segment", what=title)) == f"{own[kind]}."


@pytest.mark.parametrize(
    ("language", "what", "said"),
    [
        ("en", "blue", "Blue wins."),
        ("en", "team 2", "Team two wins."),
        ("en", "Ada, team 1", "Ada, team one wins."),
        ("en", "all", "That's game."),
        ("es", "rival", "Gana el rival."),
        ("en", "group 3", "Group three wins."),
        ("es", "group 1", "Gana el grupo uno."),
        ("de", "group 2", "Gruppe zwei gewinnt."),
        ("de", "us", "Unser Team gewinnt."),
    ],
)
def test_a_side_without_a_name_of_its_own_is_called_something(language: str, what: str, said: str) -> None:
    assert read(sounds(), language).said(Saying(phrase="wins", what=what)) == said


def test_every_fixed_text_of_a_practice_is_a_phrase_that_can_be_translated() -> None:
    assert all(ENGLISH.said(saying) for saying in sayings(Session()))


def test_another_language_says_its_own_and_the_rest_in_english(little: Phrases) -> None:
    assert [little.say("ready"), little.say("last-one"), little.length(120_000)] == ["Redi.", "Last one.", "two mini"]


def test_an_english_phrase_is_translated_and_the_coachs_own_words_stay(little: Phrases) -> None:
    assert [little.said(Saying(phrase="ready")), little.said("Low hips.")] == ["Redi.", "Low hips."]


def test_a_language_without_a_file_is_english() -> None:
    assert read(sounds(), "zz").say("ready") == "Ready."


def test_a_damaged_file_is_told_with_its_remedy(tmp_path: Path) -> None:
    (tmp_path / "en.toml").write_text("[phrases", encoding="utf-8")
    with pytest.raises(PlanError, match=r"^en\.toml: cannot be read \(.*\); put back the file that came with the program$"):
        read(tmp_path)


def test_a_coachs_own_phrases_go_before_ours() -> None:
    own = coachs('[phrases]\nready = "Set."\nleads = "{n} {m}, {what}."\n[titles]\nwater = "Bottles"\n')
    assert own.trouble == ()
    assert own.said(Saying(phrase="ready")) == "Set."
    assert own.say("leads", what="blue", n=5, m=3) == "Five three, blue."
    assert own.said(Saying(phrase="break", what="Water", time=60_000)) == "Bottles. One minute."
    assert own.said(Saying(phrase="last-one")) == "Last one."


def test_a_coachs_phrases_are_for_one_language_only() -> None:
    coachs('[phrases]\nready = "Set."\n')
    assert read(sounds(), "es").say("ready") == "Atención."


def test_what_is_wrong_in_a_coachs_phrases_is_told_all_at_once_and_ours_is_said() -> None:
    own = coachs('[phrases]\nredy = "Set."\nwins = "{who} wins."\ntie = 3\nlast-one = "Once more {"\nturn = "Move."\n[tones]\ngo = 1\n')
    path = locations.own_sounds() / "en.toml"
    assert own.trouble == (
        f'{path}:2: there is no phrase "redy"; did you mean ready?',
        f"{path}:3: wins has no {{who}}; it may hold {{what}}",
        f'{path}:4: tie is said in 1 to 200 letters, in quotation marks, such as "A tie, {{n}} all."',
        f"{path}:5: last-one: the braces do not close, or hold more than a name; leave the braces out",
        f'{path}:7: "tones" is nothing that can be changed here; write [phrases], [titles] or [sides]',
    )
    assert [own.say("wins", what="Blue"), own.say("last-one"), own.say("turn")] == ["Blue wins.", "Last one.", "Move."]


def test_a_coachs_file_that_cannot_be_read_costs_only_itself() -> None:
    own = coachs("[phrases")
    assert own.say("ready") == "Ready."
    assert "cannot be read" in own.trouble[0]


def test_the_examples_of_the_page_on_sounds_are_right(tmp_path: Path) -> None:
    page = (sounds() / "README.md").read_text(encoding="utf-8")
    phrases, lexicon, plurals = (block.split("```")[0] for block in page.split("```toml\n")[1:])
    own = coachs(phrases)
    assert own.trouble == ()
    assert own.say("leads", what="Blue", n=5, m=3) == "Blue by five to three."
    (locations.own_sounds() / "lexicon.toml").write_text(lexicon, encoding="utf-8")
    assert read_own(locations.own_sounds(), "es").spoken("Siobhan") == "Chivón"
    (tmp_path / "en.toml").write_bytes((sounds() / "en.toml").read_bytes())
    (tmp_path / "pl.toml").write_text(f"[time]\n{plurals}", encoding="utf-8")
    polish = read(tmp_path, "pl")
    assert [polish.length(60_000 * n) for n in (1, 3, 12)] == ["jedna minuta", "three minuty", "twelve minut"]
