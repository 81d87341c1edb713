"""Ten minutes of a live chart at 10 Hz: nothing grows, and no reference to ``None`` is lost.

A PySide that loses one with each redraw ends the process under Python 3.11 (see
``tests/ui/test_qt_pin.py``); plot items, objects or timers that are made anew would pile up.
"""

from __future__ import annotations

import gc
import sys
import threading
from collections.abc import Sequence
from dataclasses import replace

from live_play import LivePlay
from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from brimline.procedure.state import PlugSpan
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.trace import Trace
from brimline.ui.tokens import LIGHT
from brimline.ui.widgets.chart_words import Words
from brimline.ui.widgets.strip_chart import StripChart
from brimline.units import METRIC

FEEDS = 6000
COUNTED = sys.version_info < (3, 12)
"""From 3.12 on None is immortal and not counted (PEP 683)."""

SETTLED = 300
"""Feeds after which everything that is made once has been made."""


class Feed:
    """Hands the chart a snapshot each tenth of a second of a check."""

    def __init__(self, chart: StripChart, start: float) -> None:
        self._chart = chart
        self._state = LivePlay().state
        self._heat, self._speed = Trace(), Trace()
        self._start = start

    def give(self, frame: int) -> None:
        t = self._start + frame / 10
        if not 2000 < frame < 2200:  # a gap of twenty seconds
            self._heat.append(t, 20 + 60 * frame / FEEDS + 0.3 * ((frame * 7) % 5 - 2))
            self._speed.append(t, 640 + frame % 9)
        spans = (PlugSpan(self._start + 450),) if frame > 4500 else ()
        traces = {
            SignalName.FLUID_TEMPERATURE: self._heat.view(),
            SignalName.ENGINE_SPEED: self._speed.view(),
        }
        state = replace(self._state, now=t, plug_spans=spans)
        self._chart.show_snapshot(Snapshot(state, (), traces, 0))
        QApplication.processEvents()


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
    painted, write = [0], chart._words._ask

    def written() -> Sequence[Words]:
        painted[0] += 1
        return write()

    chart._words._ask = written
    feed = Feed(chart, start)
    for frame in range(SETTLED):
        feed.give(frame)
    before, held = counts(chart), sys.getrefcount(None)
    for frame in range(SETTLED, feeds):
        feed.give(frame)
    after = counts(chart)
    assert painted[0] > 0.99 * feeds  # each feed was really drawn
    return {what: after[what] - before[what] for what in after}, sys.getrefcount(None) - held


def test_ten_minutes_at_ten_hertz_keep_everything_steady(qtbot: QtBot) -> None:
    grown, references = growth(qtbot, FEEDS, start=0.0)
    assert not any(grown.values()), grown
    if COUNTED:
        assert abs(references) < FEEDS / 100


def test_a_window_that_scrolls_loses_no_reference(qtbot: QtBot) -> None:
    # Some twenty are gained with each new time axis (pyqtgraph 0.14): far from one a redraw.
    grown, references = growth(qtbot, FEEDS // 4, start=3600.0)
    assert not any(grown.values()), grown
    if COUNTED:
        assert -FEEDS / 400 < references < FEEDS / 20
