"""Where sessions are found, and that a drill file cannot lead out of its session's folder."""

import subprocess
import sys
from pathlib import Path

import platformdirs
import pytest

from courttimer import locations
from courttimer.errors import PlanError


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(locations.HOME, str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture
def shipped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A wheel with three sessions in it, and an empty place to stand."""
    package = tmp_path / "site" / "courttimer"
    folder = package / "sessions"
    folder.mkdir(parents=True)
    for name in ("first-practice", "team-practice", "alone"):
        (folder / f"{name}.toml").write_text(f"# {name}")
    (folder / "README.md").write_text("")
    monkeypatch.setattr(locations, "__file__", str(package / "locations.py"))
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    return folder


def test_a_checkout_keeps_sessions_and_sounds_beside_the_package() -> None:
    """Also when it is installed as editable: the package is then imported from the checkout."""
    top = Path(__file__).parent.parent

    assert locations.sessions() == top / "sessions"
    assert locations.sounds() == top / "sounds"


def test_a_wheel_carries_them_inside(shipped: Path) -> None:
    assert locations.sessions() == shipped


def test_one_variable_moves_all_of_the_users_folders(home: Path) -> None:
    folders = (locations.data(), locations.cache(), locations.journals(), locations.kept())

    assert all(folder.is_relative_to(home) for folder in folders)
    assert len(set(folders)) == 4
    assert not home.exists()


def test_the_users_folders_are_where_the_system_wants_them(monkeypatch: pytest.MonkeyPatch) -> None:
    """Asked of platformdirs, the reference for all systems; on Linux it follows the XDG base directory specification 0.8."""
    monkeypatch.delenv(locations.HOME)

    assert str(locations.data()) == platformdirs.user_data_dir("courttimer", appauthor=False)
    assert str(locations.cache()) == platformdirs.user_cache_dir("courttimer", appauthor=False)


def test_finding_a_session_by_its_path_does_not_pay_for_platformdirs() -> None:
    said = "import sys; from courttimer import locations as l; l.find_session('pyproject.toml'); l.sounds(); print(*sys.modules)"
    top = Path(__file__).parent.parent
    loaded = subprocess.run([sys.executable, "-c", said], cwd=top, capture_output=True, text=True, check=True).stdout.split()

    assert "courttimer.locations" in loaded
    assert not {"platformdirs", "difflib"} & set(loaded)


@pytest.mark.parametrize("word", ["first-practice", "first-practice.toml"])
def test_a_shipped_session_is_found_by_its_name(shipped: Path, word: str) -> None:
    assert locations.find_session(word) == shipped / "first-practice.toml"


def test_a_kept_session_goes_before_a_shipped_one_of_its_name(shipped: Path) -> None:
    mine = locations.kept() / "alone.toml"
    mine.parent.mkdir(parents=True)
    mine.write_text("")

    assert locations.find_session("alone") == mine
    assert locations.find_session("team-practice") == shipped / "team-practice.toml"


def test_a_file_that_is_here_goes_before_any_name(shipped: Path) -> None:
    Path("alone.toml").write_text("")

    assert locations.find_session("alone.toml") == Path("alone.toml")
    assert locations.find_session(str(shipped / "alone.toml")) == shipped / "alone.toml"


NONE = "there is no such file, and no session of that name"


@pytest.mark.parametrize(
    ("word", "words"),
    [
        ("first-practise", f"first-practise: {NONE}; did you mean first-practice?"),
        ("zzzzzz", f"zzzzzz: {NONE}; did you mean alone or first-practice or team-practice?"),
        ("README", f"README: {NONE}; did you mean alone or first-practice or team-practice?"),
        (".", ".: this is a folder; name one session file in it"),
    ],
)
def test_what_is_not_found_is_told_with_the_nearest_names(shipped: Path, word: str, words: str) -> None:
    with pytest.raises(PlanError) as refused:
        locations.find_session(word)

    assert refused.value.lines == (words,)


@pytest.mark.parametrize("word", ["", "a\0b", "a" * 5_000, "\udcff", "x/" * 3_000, "~", "\x1b[31m"])
def test_any_word_at_all_is_answered_in_printable_words(shipped: Path, word: str) -> None:
    with pytest.raises(PlanError) as refused:
        locations.find_session(word)

    assert str(refused.value).isprintable()


@pytest.mark.parametrize(
    ("name", "words"),
    [("missing.toml", "there is no such file"), ("folder", "this is a folder; name one session file in it")],
)
def test_a_session_that_cannot_be_read_is_told_in_words(tmp_path: Path, name: str, words: str) -> None:
    (tmp_path / "folder").mkdir()

    with pytest.raises(PlanError) as refused:
        locations.read(tmp_path / name)
    assert refused.value.lines == (f"{tmp_path / name}: {words}",)


def test_no_more_is_read_than_tells_that_a_file_is_too_large(tmp_path: Path) -> None:
    (tmp_path / "noise.toml").write_bytes(b"\xff" * 2_000_000)

    assert len(locations.read(tmp_path / "noise.toml")) == 1_000_001
    assert len(locations.reader(tmp_path)("noise.toml")) == 1_000_001


@pytest.fixture
def evening(tmp_path: Path) -> Path:
    """A session's folder with one drill in it, and what is none of its business beside it."""
    (tmp_path / "evening" / "drills").mkdir(parents=True)
    (tmp_path / "evening" / "drills" / "wing.toml").write_bytes(b"name = 'Wing'\r\n")
    (tmp_path / "private.toml").write_text("secret = 1")
    (tmp_path / "evening-2").mkdir()
    (tmp_path / "evening-2" / "x.toml").write_text("secret = 2")
    return tmp_path / "evening"


def test_a_drill_file_is_read_as_it_is(evening: Path) -> None:
    fetch = locations.reader(evening)

    assert fetch("drills/wing.toml") == b"name = 'Wing'\r\n"
    assert fetch("drills/../drills/wing.toml") == b"name = 'Wing'\r\n"


@pytest.mark.parametrize("name", ["../private.toml", "drills/../../private.toml", "../evening-2/x.toml", "/etc/hosts", ".."])
def test_a_path_that_leaves_the_folder_is_refused(evening: Path, name: str) -> None:
    with pytest.raises(PermissionError, match="it leads out of the session's folder"):
        locations.reader(evening)(name)


@pytest.mark.parametrize("target", ["../../private.toml", "../.."])
def test_a_link_that_leaves_the_folder_is_refused(evening: Path, target: str) -> None:
    link = evening / "drills" / "link"
    link.symlink_to(target)
    name = "drills/link" if target.endswith("toml") else "drills/link/private.toml"
    assert (evening / name).read_text() == "secret = 1"

    with pytest.raises(PermissionError, match="it leads out of the session's folder"):
        locations.reader(evening)(name)


def test_a_session_may_itself_be_reached_through_a_link(evening: Path, tmp_path: Path) -> None:
    (tmp_path / "tonight").symlink_to(evening)

    assert locations.reader(tmp_path / "tonight")("drills/wing.toml")


@pytest.mark.parametrize("name", ["drills/none.toml", "drills", "a\0b", "x" * 5_000, "loop"])
def test_what_cannot_be_read_is_an_error_that_the_plan_puts_into_words(evening: Path, name: str) -> None:
    (evening / "loop").symlink_to("loop")

    with pytest.raises((OSError, ValueError)):
        locations.reader(evening)(name)
