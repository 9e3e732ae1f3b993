"""The page of cautions has one wording, in the README and beside advice."""

from pathlib import Path

from courttimer.care.words import ALONE, BRIEFLY, CAUTIONS, CONSEQUENCES, DOUBT, FIRST, IN_A_HALT, SOURCES, briefly

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


def test_the_readme_tells_the_same_cautions_in_the_same_words() -> None:
    page = " ".join(README.partition("## Take care")[2].partition("\n## ")[0].split())
    assert page == " ".join([FIRST, *(f"- {one}" for one in CAUTIONS)])


def test_they_speak_of_every_danger_there_must_be_a_word_about() -> None:
    # Design, "Care", and the issue on care: these go first, whatever the tables say.
    page = " ".join((FIRST, *CAUTIONS)).lower()
    first = ("general guidance", "local rules", "heat policy", "athletic trainer")
    rest = ("dizzy", "concussion", "medical clearance", "cool first", "call for help", "ankle", "alone", "somebody knows", "lightning")
    for word in (*first, *rest):
        assert word in page


def test_consequences_are_short_capped_none_in_the_heat_and_none_for_the_late_or_the_hurt() -> None:
    for word in ("short", "capped", "none of it from level 2", "late", "hurt"):
        assert word in CONSEQUENCES


def test_each_caution_stands_beside_its_source_and_what_was_not_read_says_so() -> None:
    assert tuple(SOURCES) == CAUTIONS
    assert all(source.memory or source.work == "common practice" for source in SOURCES.values())
    assert set(IN_A_HALT) < set(CAUTIONS)


def test_every_caution_has_a_brief_form_that_still_says_what_to_do() -> None:
    page = " ".join(BRIEFLY.values()).lower()

    assert set(BRIEFLY) == set(CAUTIONS) - {DOUBT}
    assert all(len(BRIEFLY[one]) <= len(one) for one in BRIEFLY)
    for word in ("dizzy", "stop at once", "out for today", "medical clearance", "call for help", "cool first", "cold water", "ankle",
                 "20 min", "capped", "level 2", "late", "hurt", "30 min"):  # fmt: skip
        assert word in page


def test_a_page_leaves_out_the_caution_that_does_not_concern_its_squad() -> None:
    assert BRIEFLY[ALONE] in briefly(1)
    assert BRIEFLY[ALONE] not in briefly(12)
    assert BRIEFLY[CONSEQUENCES] not in briefly(1)
    assert BRIEFLY[CONSEQUENCES] in briefly(12)
    assert briefly(0) == tuple(BRIEFLY.values())
