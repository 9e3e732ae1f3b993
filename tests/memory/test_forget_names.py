"""Whatever a player is called: the name goes, the practice stays, also where the name is a word that files of ours use."""

import unicodedata
from pathlib import Path

import pytest
from hypothesis import example, given, settings, strategies as st

from courttimer.memory.naming import Name
from tests.memory.keeping import events, forgotten, session
from tests.memory.practices import lines
from tests.memory.test_forget import practices

WORDS = (
    "Mark", "Grace", "Will", "On", "Top", "Drill", "Live", "Player", "Player 1", "Tern", "Street", "Ro", "O'Shea", "Jo-Ann", "True",
    "Marked", "Blue", "Spots", "Min", "A", "É", "J.R.", "(x)", "İpek", "Straße", "ﬁona", "Zoë Ann", "Went",
)  # fmt: skip
LETTERS = st.characters(categories=("Lu", "Ll", "Lo", "Lt", "Nd"), max_codepoint=0x1F000)
NAMES = st.one_of(st.sampled_from(WORDS), st.text(LETTERS, min_size=2, max_size=12), st.text(st.sampled_from("aA'- .éËß"), min_size=2))


@settings(max_examples=30, deadline=None)
@given(name=NAMES.map(str.strip).filter(lambda name: name and '"' not in name and name != "Bea" and any(map(str.isalpha, name))))
@example(name="Mark")
@example(name="İpek")
@example(name="Straße")
@example(name="O'Shea")
def test_any_name_goes_and_the_practice_stays(tmp_path_factory: pytest.TempPathFactory, name: str) -> None:
    home = tmp_path_factory.mktemp("home")
    written(home, name)
    before = practices(home)
    done = forgotten(home, name)
    after = practices(home)

    assert done.left == []
    assert len(before) == len(after) == 1
    (path,) = (home / "data" / "journals").glob("*.jsonl")
    exact = Name(name, done.stand_in, same=True)
    assert not exact.holds(
        unicodedata.normalize("NFC", path.read_text(encoding="utf-8").replace(done.stand_in, "")).replace('"what"', "")
    )
    counted, kept = (next(iter(of.values())).count("MakesEntered") for of in (before, after))
    assert counted == kept == 1


def written(home: Path, name: str) -> None:
    journals = home / "data" / "journals"
    journals.mkdir(parents=True)
    drill = '[[segment]]\nkind = "drill"\ntime = "1 min"\ngrace = "2 s"\nrule = "on the mark, will you"\nrep = { starts = "on call" }\n'
    (journals / "a.jsonl").write_bytes(lines("2026-11-24T18:00:00.000+01:00", events(name), session=quoted(name) + drill))


def quoted(name: str) -> str:
    return session(name.replace("\\", "\\\\"))
