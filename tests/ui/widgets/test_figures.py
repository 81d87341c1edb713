"""The big figures say what is known, in words and shapes, and never cut a text."""

from __future__ import annotations

from dataclasses import replace

import pytest
from label_fit import clipped_texts
from live_play import LivePlay
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from brimline.procedure import events as ev
from brimline.procedure.events import Flow
from brimline.procedure.state import CheckState
from brimline.reading import Quality, Reading, SignalName
from brimline.session import Snapshot
from brimline.ui.screens.check import far_words
from brimline.ui.tokens import Palette
from brimline.ui.widgets.figures import BigFigures
from brimline.ui.widgets.marks import Mark, Shape
from brimline.units import METRIC, US

ACROSS, DOWN = Qt.Orientation.Horizontal, Qt.Orientation.Vertical


@pytest.fixture(params=[ACROSS, DOWN], ids=["across", "down"])
def figures(qtbot: QtBot, palette: Palette, request: pytest.FixtureRequest) -> BigFigures:
    shown = BigFigures(METRIC, request.param)
    qtbot.addWidget(shown)
    shown.show()
    return shown


def said(figures: QWidget) -> list[str]:
    return [label.text() for label in figures.findChildren(QLabel) if label.text()]


def shape(figures: QWidget) -> Shape:
    mark = figures.findChild(Mark)
    assert mark is not None
    return mark.shape


def shown(figures: BigFigures, snapshot: Snapshot) -> list[str]:
    """Show at the least size; whatever is shown must fit."""
    figures.show_snapshot(snapshot)
    figures.resize(figures.minimumSizeHint())
    QApplication.processEvents()
    assert clipped_texts(figures) == []
    return said(figures)


def at(celsius: float, duty: str = "normal") -> Snapshot:
    """A check in the air at a temperature that holds for long enough to be judged."""
    return LivePlay(duty).in_air().drive(15, celsius, celsius).snapshot()


def with_state(snapshot: Snapshot, state: CheckState) -> Snapshot:
    return replace(snapshot, state=state)


def test_without_a_reading_there_is_a_dash(figures: BigFigures, live: LivePlay) -> None:
    words = shown(figures, live.snapshot())
    assert {"—", "no reading yet", "Band not known", "0:00"} <= set(words)
    assert shape(figures) is Shape.QUESTION


@pytest.mark.parametrize(
    ("celsius", "words", "mark"),
    [
        (50.0, "Below band", Shape.DOWN),
        (75.0, "In band", Shape.DISC),
        (95.0, "Above band", Shape.UP),
    ],
)
def test_the_band_is_told_by_word_and_shape(
    figures: BigFigures, celsius: float, words: str, mark: Shape
) -> None:
    assert {words, "reading fresh"} <= set(shown(figures, at(celsius)))
    assert shape(figures) is mark


def test_the_limit_is_told_apart_from_the_band(figures: BigFigures) -> None:
    assert "In band" in shown(figures, at(98.0, "sustained_load"))
    assert "Too hot for the plug" in shown(figures, at(108.0, "sustained_load"))
    assert shape(figures) is Shape.UP


def test_a_single_reading_inside_is_not_yet_in_band(figures: BigFigures, live: LivePlay) -> None:
    live.in_air().drive(15, 60, 60)
    live.t += 1
    live.do(live.celsius(70.0))
    assert "In band, not steady yet" in shown(figures, live.snapshot())
    assert shape(figures) is Shape.HALF


def test_a_reading_at_the_edge_says_so(figures: BigFigures, live: LivePlay) -> None:
    live.in_air().drive(15, 80, 80)
    live.t += 1
    live.do(live.celsius(85.6))
    assert "At the edge of the band" in shown(figures, live.snapshot())


def test_a_lost_reading_is_bracketed_and_its_age_told(figures: BigFigures, live: LivePlay) -> None:
    live.in_air().drive(15, 75, 75)
    last = live.state.temperature.last
    assert last is not None
    live.wait(12)
    words = shown(figures, live.snapshot())
    assert "no reading for 12 s" in words
    assert f"({METRIC.temperature(last.number or 0, 1)})" in words
    assert "Band not known" in words


def test_without_a_connection_no_reading_is_fresh(figures: BigFigures, live: LivePlay) -> None:
    live.in_air().drive(15, 75, 75)
    cut = replace(live.snapshot(), cut_off=True)
    words = shown(figures, cut)
    assert "connection lost" in words
    assert "reading fresh" not in words
    assert far_words.place(cut.state, cut_off=True).words == "Connection lost"
    live.wait(12)
    assert "no reading for 12 s" in shown(figures, replace(live.snapshot(), cut_off=True))
    assert "reading fresh" in shown(figures, live.drive(2, 75, 75).snapshot())


def test_an_unusable_reading_is_named(figures: BigFigures, live: LivePlay) -> None:
    live.in_air().drive(15, 75, 75)
    for _ in range(3):
        live.t += 0.5
        live.do(live.celsius(75.0, Quality.IMPLAUSIBLE_STEP))
    assert "reading unusable: implausible step" in shown(figures, live.snapshot())


def test_the_clock_counts_from_the_plug(figures: BigFigures, live: LivePlay) -> None:
    live.in_air().drive(30, 75, 75)
    assert {"Time of check (min:s)", "Plug is in"} <= set(shown(figures, live.snapshot()))
    live.taken(ev.PlugOut(t=live.t))
    live.flow(Flow.RUNS)
    live.drive(125, 75, 76)
    words = shown(figures, live.snapshot())
    assert {"Plug out (min:s)", "2:05", "Plug is out"} <= set(words)
    alarmed = {label.text() for label in figures.findChildren(QLabel)
               if label.property("role") == "alarm"}  # fmt: skip
    assert alarmed == {"Plug out (min:s)", "2:05"}
    live.taken(ev.PlugIn(t=live.t))
    shown(figures, live.snapshot())
    assert not [lab for lab in figures.findChildren(QLabel) if lab.property("role") == "alarm"]


def test_the_engine_is_told_in_words(figures: BigFigures, live: LivePlay) -> None:
    assert "Engine not known" in shown(figures, live.snapshot())
    live.do(Reading(live.t, SignalName.ENGINE_SPEED, 1642.0))
    assert "Engine runs, 1,642 rpm" in shown(figures, live.snapshot())
    for _ in range(2):
        live.t += 0.5
        live.do(Reading(live.t, SignalName.ENGINE_SPEED, 0.0))
    assert "Engine stopped" in shown(figures, live.snapshot())


@pytest.mark.parametrize("celsius", [-40.0, 0.0, 71.4, 150.0])
@pytest.mark.parametrize("units", [METRIC, US], ids=["metric", "us"])
def test_every_temperature_fits(
    figures: BigFigures, live: LivePlay, celsius: float, units: object
) -> None:
    assert units in (METRIC, US)
    figures.set_units(US if units is US else METRIC)
    live.do(live.celsius(celsius))
    written = (US if units is US else METRIC).temperature(celsius, 1)
    assert written in shown(figures, live.snapshot())
    live.wait(4 * 3600)  # long lost, so in brackets and with a long age
    assert f"({written})" in shown(figures, live.snapshot())


def test_the_least_size_does_not_change_with_what_is_shown(figures: BigFigures) -> None:
    shown(figures, at(50.0))
    least = figures.minimumSizeHint()
    for snapshot in (at(75.0), at(108.0, "sustained_load"), LivePlay().snapshot()):
        shown(figures, snapshot)
        assert figures.minimumSizeHint() == least
    late = with_state(at(50.0), replace(at(50.0).state, now=30000.0))
    shown(figures, late)
    assert figures.minimumSizeHint() == least
