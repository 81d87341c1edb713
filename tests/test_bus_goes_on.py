"""A check on a vehicle's bus whose program is killed goes on there: in the window, then without."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from two_processes import SCRIPT, SPEED, brimline, connection, simulator
from window_hands import Hands

from brimline import desk, desk_bus
from brimline.aside import Turns
from brimline.bootstrap import Bay
from brimline.config import read_settings
from brimline.live_check import running_clock
from brimline.procedure.events import Resumed, Verdict
from brimline.reading import Quality, Reading, SignalName
from brimline.records.chain import verify
from brimline.ui.main_window import MainWindow, open_window
from brimline.ui.ports.services import ConnectionChoice
from brimline.ui.tokens import LIGHT
from brimline.units import METRIC

BOUND_MS = 60_000


def window_on(bay: Bay) -> MainWindow:
    turns = Turns()
    services = desk.services(
        bay, METRIC, bay.summaries, lambda _speed: running_clock(SPEED),
        desk_bus.bus_services(bay, METRIC, turns), turns,
    )  # fmt: skip
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    window = open_window(app, services, LIGHT)
    window.resize(1280, 800)
    window.show()
    QApplication.processEvents()
    return window


def goes_on_in_window(bay: Bay, qtbot: QtBot, enough: Callable[[MainWindow], bool]) -> None:
    """Go on with the only open check as a person does, until there is enough; then the lights go
    out."""
    window = window_on(bay)
    try:
        hands = Hands(window, keyboard=False)
        assert window.open is not None
        assert window.open.screen is not None
        (card,) = window.open.screen.cards
        hands.press(card.go_on)
        assert card.asked is not None
        hands.press(card.asked.facts.plug_in)
        hands.press(card.asked.facts.engine_on)
        pressed = time.monotonic()
        hands.press(card.asked.done)
        assert window.model is None  # an adapter is listened to first
        assert time.monotonic() - pressed < 1.0
        qtbot.waitUntil(lambda: card.waiting.text().startswith("Opening slcan"), timeout=BOUND_MS)
        qtbot.waitUntil(lambda: window.model is not None, timeout=BOUND_MS)
        assert "recording" in window.mark.text()
        qtbot.waitUntil(lambda: enough(window), timeout=BOUND_MS)
    finally:
        window.end_check()
        window.close()
        window.deleteLater()


def good(bay: Bay) -> int:
    events = bay.load("1").events
    return sum(
        isinstance(each, Reading)
        and each.signal is SignalName.FLUID_TEMPERATURE
        and each.quality is Quality.GOOD
        for each in events
    )


@pytest.mark.long
@pytest.mark.skipif(os.name != "posix", reason="pseudo-terminals are POSIX")
@pytest.mark.timeout(170)
def test_in_the_window_and_then_from_the_command_line(qtbot: QtBot, tmp_path: Path) -> None:
    data = tmp_path / "data"
    out = ["--out", str(data / "recordings")]
    with simulator(["--arrival", "63"]) as (vehicle, address):
        words = ["check", "--script", SCRIPT, "--record", *connection(address), *out]
        brimline(tmp_path, words, vehicle, killed_at="Raise")
        bay = Bay(data, read_settings(data))
        desk_bus.bus_services(bay, METRIC, Turns()).save(
            ConnectionChoice("slcan", address, options={"sleep_after_open": 0.0})
        )
        before = good(bay)
        goes_on_in_window(bay, qtbot, lambda window: good(bay) > before + 5)
        resume = ["resume", "1", "--plug", "in", "--engine", "on", *out]
        code, said = brimline(tmp_path, resume, vehicle)
    assert code == 0, said
    record = bay.load("1")
    assert record.header.verdict in (Verdict.SET, Verdict.CORRECTED), said
    assert sum(isinstance(each, Resumed) for each in record.events) == 2
    with bay.records() as database:
        assert verify(database).intact
    parts = sorted(path.name for path in (data / "recordings").glob("*.log"))
    assert parts == ["record-1-2.log", "record-1-3.log", "record-1.log"]
