"""The README's list of keys is the program's own table."""

from pathlib import Path

from courttimer.screen.keys import TABLE, listing

README = Path(__file__).parents[2] / "README.md"
RENEW = "renew it with: python -m tests.screen.test_readme_keys"
OPENS, CLOSES = "<!-- keys -->\n", "\n<!-- /keys -->"


def parts() -> tuple[str, str, str]:
    """What stands before the list, the list, and what stands after it."""
    before, _, rest = README.read_text(encoding="utf-8").partition(OPENS)
    listed, _, after = rest.partition(CLOSES)
    return before + OPENS, listed, CLOSES + after


def renewed() -> str:
    """The README with the list as the program has it now."""
    before, _, after = parts()
    return before + listing() + after


def test_the_list_of_keys_in_the_readme_is_the_table() -> None:
    assert parts()[1] == listing(), RENEW


def test_every_key_and_every_button_of_the_table_is_a_row_of_the_readme() -> None:
    rows = [line.strip("| ").split(" | ") for line in parts()[1].splitlines()[2:]]
    assert [row[-1] for row in rows] == [row.tells for row in TABLE]
    assert all(row.shown in told[1] and row.button in "".join(told[1:3]) for row, told in zip(TABLE, rows, strict=True))


if __name__ == "__main__":
    README.write_text(renewed(), encoding="utf-8")
