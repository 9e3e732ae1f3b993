"""Every test has the user's folders to itself; and where nothing may be skipped, a skip is a failure."""

import gc
import os
from collections.abc import Generator
from pathlib import Path

import pytest
from hypothesis import settings

gc.set_threshold(50_000, 20, 20)  # looking for garbage takes a tenth of the time
settings.register_profile("unhurried", deadline=None, max_examples=30)
settings.load_profile("unhurried")
"""How long an example takes says how busy the machine is, and nothing about a practice. Campaigns with more examples are `long`."""


@pytest.fixture(autouse=True)
def _own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COURTTIMER_HOME", str(tmp_path / "home"))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    if report.skipped and os.environ.get("NOTHING_SKIPPED"):
        report.outcome = "failed"
    return report
