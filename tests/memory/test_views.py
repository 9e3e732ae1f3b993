"""Every view of the history equals a count made by hand from the same rows."""

import csv
import io
from collections.abc import Iterator
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path

import jsonschema
import pytest
from scipy.stats import binomtest

from courttimer.memory.history import History
from courttimer.memory.journal import tell
from courttimer.memory.views import VIEWS, Asked, best, load, players, sessions, shooting, work
from courttimer.report.rows import Rows
from courttimer.report.tables import Table, as_csv, as_json, as_text, json_schema
from tests.memory.practices import PLAYERS, SPOTS, produce, write

NUMBERS = range(0, 400, 7)


@pytest.fixture(name="home", scope="module")
def _home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("home")
    for number in NUMBERS:
        write(home / "journals", number)
    return home


@pytest.fixture(name="told")
def _told(home: Path) -> Iterator[History]:
    with closing(History(home / "history.sqlite", rules=1)) as opened:
        opened.bring(home / "journals", produce)
        yield opened


@pytest.fixture(name="made", scope="module")
def _made(home: Path) -> list[Rows]:
    """The same rows, straight from the journals."""
    return [produce(tell(path)) for path in sorted((home / "journals").iterdir())]


def day(rows: Rows) -> date:
    return date.fromisoformat(rows.practice.wall[:10])


def column(table: Table, name: str) -> list[object]:
    at = [c.name for c in table.columns].index(name)
    return [row[at] for row in table.rows]


def test_the_practices_stand_with_the_latest_first(told: History, made: list[Rows]) -> None:
    table = sessions(told, Asked())

    assert column(table, "day") == [str(day(one)) for one in sorted(made, key=day, reverse=True)]
    assert sum(int(str(n)) for n in column(table, "minutes")) == sum(round(one.practice.played / 60_000) for one in made)


def test_a_week_begins_on_monday_and_holds_the_load_of_its_days(told: History, made: list[Rows]) -> None:
    weeks: dict[str, int] = {}
    for one in made:
        monday = day(one) - timedelta(days=day(one).isoweekday() - 1)
        weeks[str(monday)] = weeks.get(str(monday), 0) + one.practice.load
    table = load(told, Asked())

    assert dict(zip(column(table, "week"), column(table, "load"), strict=True)) == weeks


def test_shots_are_summed_by_player_and_spot_with_the_interval_of_scipy(told: History, made: list[Rows]) -> None:
    table = shooting(told, Asked())
    for player, spot, makes, attempts, share, low, high, times, _ in table.rows:
        of = [shot for one in made for shot in one.shots if (shot.player, shot.spot) == (player, spot)]
        interval = binomtest(sum(s.makes for s in of), sum(s.attempts for s in of)).proportion_ci(method="wilson")

        assert (makes, attempts, times) == (sum(s.makes for s in of), sum(s.attempts for s in of), len(of))
        assert (share, low, high) == pytest.approx((sum(s.makes for s in of) / (10 * len(of)), interval.low, interval.high))
    assert len(table.rows) == len(PLAYERS) * len(SPOTS)


def test_last_time_and_best_are_those_of_the_days(told: History, made: list[Rows]) -> None:
    table = best(told, Asked(player="Bea"))
    each = [(day(one), max(r.value for r in one.results if r.who == "Bea")) for one in made]
    last, top = max(each), max(value for _, value in each)

    assert table.rows == (
        ("Spots", "Bea", "makes", last[1], str(last[0]), top, str(max(d for d, value in each if value == top)), len(made)),
    )


def test_the_time_by_kind_is_the_sum_of_its_segments(told: History, made: list[Rows]) -> None:
    minutes = round(sum(w.played for one in made for w in one.work) / 60_000)

    assert column(work(told, Asked()), "minutes") == [minutes]


def test_since_leaves_out_what_was_before_that_day(told: History, made: list[Rows]) -> None:
    days = column(sessions(told, Asked(since="2020-06-15")), "day")

    assert sorted(map(str, days)) == sorted(str(day(one)) for one in made if day(one) >= date(2020, 6, 15))
    assert sorted(map(str, days))[0] == "2020-06-15"


def test_a_player_who_was_never_there_has_no_practice(told: History) -> None:
    assert [view(told, Asked(player="Nobody")).rows for view in VIEWS.values()] == [()] * len(VIEWS)
    assert players(told) == list(PLAYERS)


def test_json_is_as_its_schema_says(told: History) -> None:
    tables = [view(told, Asked()) for view in VIEWS.values()]
    schema = json_schema(tables)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(as_json(tables), schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(as_json([tables[0]._replace(rows=(("x",) * len(tables[0].columns),))]), json_schema(tables[:1]))


def test_csv_read_back_is_the_table(told: History) -> None:
    for view in VIEWS.values():
        table = view(told, Asked())
        head, *rows = csv.reader(io.StringIO(as_csv(table), newline=""))

        assert head == [c.name for c in table.columns]
        assert rows == [["" if value is None else str(value) for value in row] for row in table.rows]


def test_a_title_that_a_spreadsheet_would_run_is_made_harmless(told: History) -> None:
    table = sessions(told, Asked())
    row = tuple("=1+1" if c.name == "title" else 0 for c in table.columns)

    assert ",'=1+1," in as_csv(table._replace(rows=(row,)))


def test_people_read_percents_bars_and_dashes(told: History) -> None:
    shots = "\n".join(as_text(shooting(told, Asked())))
    loads = as_text(load(told, Asked()))

    assert "Ada" in shots
    assert " %" in shots
    assert max(line.count("█") for line in loads) == 24
    assert as_text(best(told, Asked(player="Nobody"))) == ["Last time and best", "  nothing yet"]
