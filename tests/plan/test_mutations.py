"""However a good session file is damaged, the coach gets lines or a plan, and nothing else."""

import pytest
from hypothesis import given, settings, strategies as st

from courttimer.report.advice import advice
from tests.plan.files import DRILL, TUESDAY, mistakes, reading

GATE = 'kind = "drill"\ntime = "5 min"\n[rep]\nlive = "20 s"\n[[window]]\nname = "drive"\ntime = "3 s"\n'
TEXTS = (TUESDAY, DRILL, 'rules = "nba"\n[[segment]]\nuse = "drills/gate.toml"\nrep.off = "5 s"\n')
ODD = (*"'[]{}=.,#\"\\\n\r\0", '"""', "[[", "true", "nan", "-inf", "0", "9" * 5000, "1979-05-27")
LINES = [line for line in TUESDAY.splitlines(keepends=True) if line.strip()]
PIECES = st.sampled_from(ODD) | st.text(max_size=3) | st.sampled_from(LINES)


def lines_or_a_plan(text: str | bytes, gate: str = GATE) -> None:
    drills = {"drills/gate.toml": gate}
    told = mistakes(text, drills)
    assert all(line and "\n" not in line and len(line) < 1000 for line in told)
    if told:
        return
    found = reading(text, drills)
    assert found.session.segment
    assert all(one.time > 0 for one in found.session.segment)
    advice(found.session, found.lines)


@given(st.sampled_from(TEXTS), st.data())
def test_pieces_put_in_taken_out_or_moved(text: str, data: st.DataObject) -> None:
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 30)))
        text = text[:start] + data.draw(PIECES) + text[end:]
    lines_or_a_plan(text)


@given(st.sampled_from(TEXTS), st.data())
def test_bytes_changed(text: str, data: st.DataObject) -> None:
    damaged = bytearray(text.encode())
    for _ in range(data.draw(st.integers(1, 8))):
        damaged[data.draw(st.integers(0, len(damaged) - 1))] = data.draw(st.integers(0, 255))
    lines_or_a_plan(bytes(damaged))


@given(st.sampled_from(TEXTS), st.data())
def test_values_changed_for_others_of_the_file(text: str, data: st.DataObject) -> None:
    """The file stays TOML, so that the checks between keys are reached."""
    lines = text.splitlines()
    values = [line.split("=", 1)[1] for line in TUESDAY.splitlines() if line.count("=") == 1 and "#" not in line]
    keyed = [at for at, line in enumerate(lines) if line.count("=") == 1]
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.sampled_from(keyed))
        lines[at] = lines[at].split("=")[0] + "=" + data.draw(st.sampled_from(values))
    lines_or_a_plan("\n".join(lines))


@given(st.text(max_size=40), st.integers(0, len(GATE)))
def test_a_damaged_drill_file(piece: str, at: int) -> None:
    lines_or_a_plan(TEXTS[2], GATE[:at] + piece + GATE[at:])


@given(st.binary(max_size=200))
def test_any_bytes(data: bytes) -> None:
    lines_or_a_plan(data)


@pytest.mark.long
@settings(max_examples=20_000, deadline=None)
@given(st.sampled_from(TEXTS), st.data())
def test_a_campaign_of_damage(text: str, data: st.DataObject) -> None:
    for _ in range(data.draw(st.integers(1, 6))):
        start = data.draw(st.integers(0, len(text)))
        text = text[:start] + data.draw(PIECES) + text[min(len(text), start + data.draw(st.integers(0, 60))) :]
    lines_or_a_plan(text)
