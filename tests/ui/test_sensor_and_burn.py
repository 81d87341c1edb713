"""What the sensor's page answers, and what the cautions at the plug say of the fluid."""

from __future__ import annotations

from dataclasses import replace

import pytest
from check_play import Play
from label_fit import clipped_texts
from live_play import LivePlay
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QScrollArea
from pytestqt.qtbot import QtBot

from brimline.estimate.sentences import BURN_SOURCE
from brimline.paths import resources
from brimline.procedure import cautions
from brimline.procedure.events import Flow, SensorChecked
from brimline.procedure.state import CheckState, Stage
from brimline.ui import theme
from brimline.ui.samples.capture import settle
from brimline.ui.screens.check.closing_pages import ClosePage
from brimline.ui.screens.check.ground_pages import GroundPage, SensorPage
from brimline.ui.screens.check.level_page import LevelPage
from brimline.ui.screens.check.lift_pages import PlugOutPage, RaisePage
from brimline.ui.screens.check.page import Page
from brimline.ui.screens.check.screen import PAGE_PX
from brimline.ui.tokens import PALETTES
from brimline.ui.widgets.caution import CautionBox
from brimline.units import METRIC, US, UnitSystem


class Model:
    """What a page asks of its model: the state, the units, and taps that are kept."""

    def __init__(self, state: CheckState, units: UnitSystem) -> None:
        self.state, self.units = state, units
        self.taps: list[object] = []

    def tap(self, kind: type, **fields: object) -> bool:
        self.taps.append(kind(t=0.0, **fields))
        return True


class Shown:
    """One page at its width in the window, in a look of the program."""

    def __init__(self, kind: type[Page], state: CheckState, units: UnitSystem = METRIC) -> None:
        self.said: list[str] = []
        self.model = Model(state, units)
        self.page = kind(self.model, self.said.append, lambda: None)  # type: ignore[arg-type]
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setWidget(self.page)
        self.area.resize(PAGE_PX - 32, 640)
        self.area.show()
        self.look(state)

    def look(self, state: CheckState) -> None:
        for item in self.page._items:
            item.setChecked(item.item in state.confirmed)
        live = LivePlay()
        live.state = state
        self.page.show_snapshot(live.snapshot())
        settle()

    @property
    def boxes(self) -> list[CautionBox]:
        return list(self.page.findChildren(CautionBox))

    @property
    def texts(self) -> list[str]:
        return [found.text() for found in self.page.findChildren(QLabel) if found.isVisible()]

    def says(self, words: str) -> bool:
        return any(words in text for text in self.texts)


@pytest.fixture(params=sorted(PALETTES), autouse=True)
def look(request: pytest.FixtureRequest, qapp: QApplication, qtbot: QtBot) -> object:
    theme.load_fonts(resources() / "fonts")
    before = qapp.palette(), qapp.font(), qapp.style().objectName()
    theme.apply(qapp, PALETTES[request.param])
    yield request.param
    for window in qapp.topLevelWidgets():
        window.close()
        window.deleteLater()
    qapp.setStyleSheet("")
    qapp.setStyle(before[2])
    qapp.setPalette(before[0])
    qapp.setFont(before[1])


def at_the_sensor(celsius: float) -> CheckState:
    play = Play().identified()
    return play.do(play.celsius(celsius)).state


def test_the_gun_is_answered_while_it_is_typed() -> None:
    shown = Shown(SensorPage, at_the_sensor(60.0), US)
    page = shown.page
    assert isinstance(page, SensorPage)
    assert not any(answer.isVisible() for answer in page.answers)
    page.ambient.setText("84")
    page.gun.setText("100 °F")
    page.gun_setting.setText("1,0")
    shown.look(shown.model.state)
    assert shown.says("40.0 °F below the sensor. A pan with an emissivity of 0.26 (±0.07)")
    assert page.answers[0].property("role") == "soft"
    assert clipped_texts(shown.area) == []
    page.gun.setText("100 fish")
    shown.look(shown.model.state)
    assert not page.answers[0].isVisible()
    assert shown.model.taps == []
    page.gun.setText("170")
    shown.look(shown.model.state)
    assert shown.says("no surface can explain")
    assert page.answers[0].property("role") == "bad"
    assert clipped_texts(shown.area) == []


def test_a_new_reading_is_answered_anew() -> None:
    shown = Shown(SensorPage, at_the_sensor(60.0))
    assert isinstance(shown.page, SensorPage)
    shown.page.ambient.setText("20")
    shown.page.gun.setText("59")
    shown.page.gun_setting.setText("0.95")
    shown.look(at_the_sensor(60.0))
    assert shown.says("agree within")
    shown.look(at_the_sensor(90.0))
    assert shown.says("31.0 °C below the sensor")


def test_the_rest_is_answered_and_told_in_hours() -> None:
    shown = Shown(SensorPage, at_the_sensor(30.0))
    page = shown.page
    assert isinstance(page, SensorPage)
    page.ambient.setText("21")
    page.rested.setChecked(True)
    shown.look(shown.model.state)
    assert shown.says("How long it stood is not said")
    page.rest.setText("12")
    shown.look(shown.model.state)
    assert shown.says("reads 9.0 °C too high (±")
    page.gun.setText("29")
    shown.look(shown.model.state)
    assert [answer.property("role") for answer in page.answers] == ["soft", "bad"]
    page.gun.setText("")
    assert clipped_texts(shown.area) == []
    page._compare()
    assert shown.model.taps == [SensorChecked(t=0.0, ambient=21.0, rested=True, rest_s=12 * 3600.0)]


@pytest.mark.parametrize(
    ("field", "text", "words"),
    [
        ("gun_setting", "1.2", "Emissivity set on it: a number above 0 and at most 1"),
        ("gun_setting", "shiny", "Emissivity set on it: a number above 0 and at most 1"),
        ("rest", "-3", "How long it stood: a time is not below 0 h"),
        ("rest", "3 fish", "How long it stood: “fish” is not a unit of time"),
    ],
)
def test_what_cannot_be_is_said_and_not_tapped(field: str, text: str, words: str) -> None:
    shown = Shown(SensorPage, at_the_sensor(60.0))
    assert isinstance(shown.page, SensorPage)
    shown.page.ambient.setText("20")
    getattr(shown.page, field).setText(text)
    shown.page.attempt(shown.page._compare)
    assert shown.model.taps == []
    assert words in shown.said[0]


def test_the_next_page_still_says_what_the_sensor_was_worth() -> None:
    play = Play().identified()
    play.do(play.celsius(60.0))
    play.taken(SensorChecked(t=0.0, ambient=20.0, infrared=59.0, gun_emissivity=0.95))
    shown = Shown(GroundPage, play.state)
    assert shown.says("Gun and sensor agree")
    assert clipped_texts(shown.area) == []


@pytest.mark.parametrize(
    ("celsius", "words"),
    [
        (72.0, "Fluid at 72 °C burns skin immediately."),
        (50.0, "Fluid at 50 °C burns skin within 30 s."),
        (40.0, "Below 45 °C no time to a burn is published; that is no leave to touch it."),
    ],
)
@pytest.mark.parametrize("kind", [RaisePage, PlugOutPage, LevelPage, ClosePage])
def test_the_caution_at_the_plug_says_how_soon_it_burns(
    kind: type[Page], celsius: float, words: str
) -> None:
    play = Play().ready().wait(12, celsius)
    read = replace(play.state, cautions_seen=frozenset())
    shown = Shown(kind, read)
    burning = next(box for box in shown.boxes if words in box.accessibleName())
    assert shown.says(words)
    before_the_step = kind.stage in cautions.CAUTIONED
    if before_the_step and kind is not RaisePage:  # it is up: nothing is asked before it any more
        assert shown.says(BURN_SOURCE)  # in sight where it has to be read
        assert clipped_texts(shown.area) == []
        shown.look(replace(read, cautions_seen=frozenset(cautions.CAUTIONED)))
    assert not shown.says(BURN_SOURCE)
    assert burning.toolTip() == burning.accessibleDescription() == BURN_SOURCE
    assert burning.focusPolicy() & Qt.FocusPolicy.TabFocus
    assert shown.says(words)
    assert clipped_texts(shown.area) == []


def test_it_follows_the_temperature_and_its_loss() -> None:
    play = Play().ready(70.0).plug_out().flow(Flow.RUNS)
    shown = Shown(LevelPage, play.state)
    assert play.state.stage is Stage.LEVEL
    assert shown.says("Fluid at 70 °C")
    shown.look(play.wait(5, 74.0).state)
    assert shown.says("Fluid at 74 °C")
    assert not shown.says("Fluid at 70 °C")
    shown.look(play.wait(30).state)
    assert shown.says("No fresh temperature: take it that the fluid burns skin immediately.")
    assert clipped_texts(shown.area) == []


def test_away_from_hot_fluid_the_cautions_stay_as_they_are() -> None:
    shown = Shown(GroundPage, Play().ready().state)
    assert not shown.says("burns skin")
    assert shown.boxes
    assert all(box.toolTip() == "" for box in shown.boxes)
