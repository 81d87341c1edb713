"""Minutes of a live chart at 10 Hz: nothing grows, and no reference to ``None`` is lost.

A PySide that loses one with each redraw ends the process under Python 3.11 (see
``tests/ui/test_qt_pin.py``); plot items, objects or timers that are made anew would pile up.
"""

from __future__ import annotations

import gc
import sys
import threading
from dataclasses import replace

import numpy as np
from live_play import LivePlay
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from brimline.estimate.warm_up import BandOutlook, Basis, Course, Place
from brimline.physics.passage import Passage
from brimline.procedure.state import PlugSpan
from brimline.reading import Reading, SignalName
from brimline.session import Snapshot
from brimline.trace import Trace
from brimline.ui.tokens import LIGHT
from brimline.ui.widgets.strip_chart import StripChart
from brimline.units import METRIC

FEEDS = 1500
COUNTED = sys.version_info < (3, 12)
"""From 3.12 on None is immortal and not counted (PEP 683)."""

AXIS = 25
"""References to None that a new time axis gains, some twenty (pyqtgraph 0.14), fan or no fan."""

SETTLED = 300
"""Feeds after which everything that is made once has been made."""


class Painted(QObject):
    """Counts how often a widget is painted."""

    def __init__(self, watched: QWidget) -> None:
        super().__init__()
        self.count = 0
        watched.installEventFilter(self)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        self.count += event.type() is QEvent.Type.Paint
        return False


class Feed:
    """Hands the chart a snapshot each tenth of a second of a check."""

    def __init__(self, chart: StripChart, start: float) -> None:
        self._chart = chart
        self._state = LivePlay().state
        self._last: Reading | None = None
        self._heat, self._speed = Trace(), Trace()
        self._start = start

    def give(self, frame: int) -> None:
        t = self._start + frame / 10
        if not 800 < frame < 900:  # a gap of ten seconds
            self._last = Reading(t, SignalName.FLUID_TEMPERATURE, 20 + 60 * frame / FEEDS)
            self._heat.append(t, 20 + 60 * frame / FEEDS + 0.3 * ((frame * 7) % 5 - 2))
            self._speed.append(t, 640 + frame % 9)
        spans = (PlugSpan(self._start + 112),) if frame > 1120 else ()
        traces = {
            SignalName.FLUID_TEMPERATURE: self._heat.view(),
            SignalName.ENGINE_SPEED: self._speed.view(),
        }
        heat = replace(self._state.temperature, last=self._last)
        state = replace(self._state, now=t, plug_spans=spans, temperature=heat)
        self._chart.show_snapshot(self._foreseen(Snapshot(state, (), traces, 0), frame))
        QApplication.processEvents()

    def _foreseen(self, snapshot: Snapshot, frame: int) -> Snapshot:
        """A forecast that is made anew each second, and is lost for a second each minute."""
        if frame % 10 == 0:
            ahead = np.linspace(0, 1800, 31)
            middle = 20 + 60 * frame / FEEDS + ahead / 60
            quantiles = np.stack((middle - ahead / 200, middle, middle + ahead / 150))
            self._course = Course(snapshot.state.now + ahead, quantiles)
        left = Passage(200 + frame % 60, 100.0, 400.0, 0.0, known=frame // 10 % 60 > 0)
        outlook = BandOutlook(snapshot.state.now, Basis.READINGS, Place.BELOW, left, left, 0)
        return replace(snapshot, outlook=outlook, course=self._course)


def counts(chart: StripChart) -> dict[str, int]:
    """What must not grow while a chart is fed."""
    gc.collect()
    scene = chart._canvas.scene()
    return {
        "objects": len(chart.findChildren(QObject)) + len(scene.findChildren(QObject)),
        "plot items": len(scene.items()),
        "timers": len(chart.findChildren(QTimer)) + len(scene.findChildren(QTimer)),
        "threads": threading.active_count(),
        "windows": len(QApplication.topLevelWidgets()),
    }


def growth(qtbot: QtBot, feeds: int, start: float) -> tuple[dict[str, int], int]:
    """Return by how much each count, and that of references to None, has changed."""
    chart = StripChart(LIGHT, METRIC)
    qtbot.addWidget(chart)
    chart.resize(720, 400)
    chart.show()
    painted = Painted(chart._canvas.viewport())
    feed = Feed(chart, start)
    for frame in range(SETTLED):
        feed.give(frame)
    before, held = counts(chart), sys.getrefcount(None)
    for frame in range(SETTLED, feeds):
        feed.give(frame)
    after = counts(chart)
    assert painted.count > 0.95 * feeds  # each feed was really drawn, but for the gap
    return {what: after[what] - before[what] for what in after}, sys.getrefcount(None) - held


def test_minutes_at_ten_hertz_keep_everything_steady(qtbot: QtBot) -> None:
    grown, references = growth(qtbot, FEEDS, start=0.0)
    assert not any(grown.values()), grown
    if COUNTED:
        # The axis scrolls once in half a minute once it is full.
        assert -FEEDS / 100 < references < FEEDS / 100 + 7 * AXIS


def test_a_window_that_scrolls_loses_no_reference(qtbot: QtBot) -> None:
    grown, references = growth(qtbot, FEEDS // 2, start=3600.0)
    assert not any(grown.values()), grown
    if COUNTED:
        assert -FEEDS / 200 < references < FEEDS / 200 + 6 * AXIS
