"""The outlook in one line: what it says, that it fits, and that it goes with the readings."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from label_fit import clipped_texts
from live_play import LivePlay
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from brimline.estimate.warm_up import BandOutlook, Basis, Place
from brimline.physics.passage import HORIZON_S, Passage
from brimline.procedure import events as ev
from brimline.session import Snapshot
from brimline.ui.tokens import Palette
from brimline.ui.widgets.outlook_line import OutlookLine


@pytest.fixture
def line(qtbot: QtBot, palette: Palette) -> OutlookLine:
    del palette  # the look is applied by it
    shown = OutlookLine()
    qtbot.addWidget(shown)
    shown.show()
    return shown


def passage(median: float, low: float, high: float, never: float = 0.0) -> Passage:
    return Passage(median, low, high, never, known=True)


def below(entry: Passage, basis: Basis = Basis.READINGS) -> BandOutlook:
    return BandOutlook(0.0, basis, Place.BELOW, entry, entry, 0)


def inside(leaving: Passage) -> BandOutlook:
    return BandOutlook(0.0, Basis.READINGS, Place.INSIDE, None, leaving, 3)


def told(line: OutlookLine, snapshot: Snapshot, outlook: BandOutlook | None) -> list[str]:
    line.show_snapshot(replace(snapshot, outlook=outlook))
    line.resize(line.minimumSize())
    QApplication.processEvents()
    assert clipped_texts(line) == []
    return [part.text().replace("\n", " ") for part in line.findChildren(QLabel) if part.text()]


@pytest.fixture
def warm(live: LivePlay) -> Snapshot:
    return live.in_air().drive(15, 60, 60).snapshot()


def test_it_says_when_the_band_comes(line: OutlookLine, warm: Snapshot) -> None:
    words = told(line, warm, below(passage(360, 300, 540)))
    assert words == ["Band in about", "6 min", "(5–9 min)"]
    words = told(line, warm, below(passage(1440, 900, 2100), Basis.START))
    assert words == ["If started now, band in about", "25 min", "(15–35 min)"]


def test_it_says_how_long_the_band_lasts(line: OutlookLine, warm: Snapshot) -> None:
    assert told(line, warm, inside(passage(480, 360, 660))) == [
        "Band lasts about", "8 min", "(6–11 min)",
    ]  # fmt: skip
    assert told(line, warm, inside(passage(5000, 4000, math.inf, 0.3))) == [
        "Band lasts over", "1 h",
    ]  # fmt: skip


def test_it_says_that_it_is_too_early(line: OutlookLine, warm: Snapshot) -> None:
    unknown = replace(passage(360, 30, 5000), known=False)
    assert told(line, warm, below(unknown)) == ["Band:", "too early to tell"]
    assert line.value.property("role") == "soft"


@pytest.mark.parametrize("out", [False, True])
def test_an_end_within_seconds_is_an_alarm_with_the_plug_out(
    line: OutlookLine, live: LivePlay, out: bool
) -> None:
    live.in_air().drive(15, 75, 75)
    if out:
        live.taken(ev.PlugOut(t=live.t))
    assert told(line, live.snapshot(), inside(passage(9, 3, 18))) == [
        "Band may end within", "20 s",
    ]  # fmt: skip
    assert (line.value.property("role") == "bad") is out


def test_it_goes_with_the_readings_and_keeps_its_place(line: OutlookLine, live: LivePlay) -> None:
    live.in_air().drive(15, 60, 60)
    size = line.minimumSize()
    assert told(line, live.snapshot(), below(passage(360, 300, 540)))
    assert "eight of ten" in line.toolTip()
    live.wait(30)
    assert told(line, live.snapshot(), below(passage(360, 300, 540))) == []
    assert told(line, live.snapshot(), None) == []
    assert line.toolTip() == ""
    assert line.minimumSize() == size


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(
    st.lists(st.floats(0, HORIZON_S), min_size=3, max_size=3).map(sorted),
    st.booleans(),
    st.sampled_from(list(Basis)),
    st.booleans(),
)
def test_every_outlook_fits(
    line: OutlookLine, warm: Snapshot, times: list[float], endless: bool, basis: Basis, enters: bool
) -> None:
    low, median, high = times
    expected = passage(median, low, math.inf if endless else high)
    told(line, warm, below(expected, basis) if enters else inside(expected))
