"""The page of cautions has one wording, in the README and beside advice."""

from pathlib import Path

from courttimer.care.words import CAUTIONS, FIRST

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


def test_the_readme_tells_the_same_cautions_in_the_same_words() -> None:
    page = " ".join(README.partition("## Take care")[2].partition("\n## ")[0].split())
    assert page == " ".join([FIRST, *(f"- {one}" for one in CAUTIONS)])


def test_they_speak_of_every_danger_there_must_be_a_word_about() -> None:
    # Design, "Care", and the issue on care: these go first, whatever the tables say.
    page = " ".join((FIRST, *CAUTIONS)).lower()
    first = ("general guidance", "local rules", "heat policy", "athletic trainer")
    for word in (*first, "dizzy", "concussion", "cool first", "ankle", "alone"):
        assert word in page
