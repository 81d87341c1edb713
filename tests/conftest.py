"""What every test stands on: its own data folder, a silent log, no thread left behind."""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from ending import let_end
from hypothesis import HealthCheck, settings

settings.register_profile(
    "suite", deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("suite")


ENDING_S = 5.0


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with what takes long: whoever ends first takes tests over from the others."""
    items.sort(key=lambda item: item.get_closest_marker("long") is None)


@pytest.fixture(autouse=True)
def _own_data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test reads or writes the records of the person who runs it."""
    monkeypatch.setenv("BRIMLINE_DATA", str(tmp_path / "data"))


@pytest.fixture
def bay_clock() -> Iterator[Callable[[str], None]]:
    """Sets this computer's clock to another time zone, as POSIX writes it, for one test."""
    with pytest.MonkeyPatch.context() as patch:

        def in_zone(zone: str) -> None:
            patch.setenv("TZ", zone)
            time.tzset()

        yield in_zone
    time.tzset()


@pytest.fixture
def bay_in_utc(bay_clock: Callable[[str], None]) -> None:
    """The bay stands where its clock shows UTC."""
    bay_clock("UTC0")


@pytest.fixture(autouse=True)
def _silent_log(caplog: pytest.LogCaptureFixture, request: pytest.FixtureRequest) -> Iterator[None]:
    """An unexpected warning in the log fails the test; ``expects_log`` says it is expected."""
    caplog.set_level(logging.WARNING)
    yield
    if request.node.get_closest_marker("expects_log") is None:
        said = [r.getMessage() for r in caplog.get_records("call") if r.levelno >= logging.WARNING]
        assert not said


@pytest.fixture(autouse=True)
def _own_log_handlers() -> Iterator[None]:
    """Handlers that a test's program added are closed with it."""
    root = logging.getLogger()
    before, level = list(root.handlers), root.level
    yield
    for handler in root.handlers:
        if handler not in before and type(handler).__module__.startswith("logging"):
            root.removeHandler(handler)
            handler.close()
    root.setLevel(level)


@pytest.fixture(autouse=True)
def _no_thread_left() -> Iterator[None]:
    before = set(threading.enumerate())
    yield
    let_end(before, ENDING_S)
    left = [thread for thread in threading.enumerate() if thread not in before]
    assert not left
