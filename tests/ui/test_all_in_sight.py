"""In every size nothing of a list is lost: stages, reasons, what may be wrong with a vehicle."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from keyed_play import KeyedPlay, keyed_play
from label_fit import clipped_texts, out_of_sight
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from brimline import paths
from brimline.demo import SimulatedBay
from brimline.headless.pace import FASTEST
from brimline.headless.technician import Act, DoTap, Technician
from brimline.procedure.state import Stage
from brimline.ui import language
from brimline.ui.ports.services import DemoOrder
from brimline.ui.samples.capture import EVERY_SIZE, settle
from brimline.ui.screens.check.screen import CheckScreen
from brimline.ui.tokens import PALETTES
from brimline.units import METRIC, US, UnitSystem


@contextmanager
def speaking(spoken: str) -> Iterator[None]:
    app, folder = QApplication.instance(), paths.resources() / "translations"
    assert isinstance(app, QApplication)
    assert language.use(app, spoken, folder) == ""
    try:
        yield
    finally:
        language.use(app, language.ENGLISH, folder)


def shown(play: KeyedPlay) -> CheckScreen:
    assert play.window.check is not None
    return play.window.check


def stages(play: KeyedPlay, last: Stage) -> Iterator[Stage]:
    """Let a technician by the book work a demonstration; yield each stage as it comes."""
    play.window.begin_demo(DemoOrder("K7", "", FASTEST))
    assert play.window.model is not None
    play.model = model = play.window.model
    bay = model.session.readings
    assert isinstance(bay, SimulatedBay)
    technician, seen = Technician(bay.bench), set[Stage]()
    while last not in seen:
        assert play.clock.now < 3600
        play.clock.now += 1
        model.step()
        stage = model.state.stage
        if stage not in seen:
            seen.add(stage)
            yield stage
        deed = technician.next_deed(model.state, bay.view)
        if isinstance(deed, DoTap):
            model.tap(deed.kind, **deed.fields)
        elif isinstance(deed, Act):
            bay.act(deed.name)


def lost(check: CheckScreen) -> list[str]:
    """What of the stages and the reasons cannot be seen whole, or is not counted."""
    found = out_of_sight(check.stepper)
    if check.against.isVisible():
        listed, reasons = check.reasons, list(check.reasons._rows.values())
        found += out_of_sight(listed)
        hidden = len(reasons) - len(listed.in_sight)
        if listed.more.isVisible() is not (hidden > 0):
            found.append(f"{hidden} reasons are hidden")
    return found


@pytest.mark.parametrize("spoken", ["en", "es"])
def test_stages_and_reasons_at_every_stage_in_every_size(qtbot: QtBot, spoken: str) -> None:
    found, narrowest = [], 2000
    with speaking(spoken), keyed_play() as play:
        for stage in stages(play, Stage.TEMPERATURE):
            check = shown(play)
            if check.distances.is_far:
                found += [f"{stage} far: {cut}" for cut in out_of_sight(check)]
                check.distances.leave()
            for look in EVERY_SIZE:
                play.window.resize(look.width, look.height)
                settle()
                narrowest = min(narrowest, check.stepper.height())
                where = f"{stage} {look.name}"
                found += [
                    f"{where}: {cut}" for cut in (*lost(check), *clipped_texts(check.against))
                ]
                if check.reasons.more.isVisible():
                    check.reasons.more.click()
                    settle()
                    found += [f"{where}, wide: {cut}" for cut in lost(check)]
                    check.reasons.narrow.click()
                    settle()
            assert check.chart.isVisible()
    assert narrowest < 400  # there was little room
    assert found == []


@pytest.mark.parametrize("by_key", [False, True])
def test_all_reasons_take_the_charts_room_until_it_is_wanted(qtbot: QtBot, by_key: bool) -> None:
    def press(button: QPushButton) -> None:
        if by_key:
            button.setFocus()
            QTest.keyClick(button, Qt.Key.Key_Return)
        else:
            QTest.mouseClick(button, Qt.MouseButton.LeftButton)
        settle()

    with keyed_play() as play:
        play.begin_keyed()
        check = shown(play)
        settle()
        before = len(check.reasons.in_sight)
        press(check.reasons.more)
        assert not check.chart.isVisible()
        assert len(check.reasons.in_sight) > 2 * before
        assert not by_key or check.reasons.narrow.hasFocus()
        seen = list(check.reasons.in_sight)
        while check.reasons.more.text() != "From the top":
            press(check.reasons.more)
            seen += check.reasons.in_sight
        assert seen == list(check.reasons._rows.values())
        check.ask_abort()  # a question stands beside the chart
        settle()
        assert check.chart.isVisible()
        check.close_drawer()
        settle()
        assert not check.chart.isVisible()
        press(check.reasons.narrow)
        assert check.chart.isVisible()
        assert not by_key or check.reasons.more.hasFocus()
        press(check.reasons.more)
        play.to_the_sensor()
        settle()
        assert check.chart.isVisible()  # another stage is read anew


def test_a_demonstration_is_worked_from_the_far_view_too(qtbot: QtBot) -> None:
    with keyed_play() as play:
        for _ in stages(play, Stage.TEMPERATURE):
            pass
        check, line = shown(play), shown(play).far_line
        assert check.distances.is_far
        assert line is not None
        for palette in PALETTES.values():
            play.window.set_palette(palette)
            settle()
            assert clipped_texts(play.window) == []
            assert out_of_sight(line) == []
        assert line.hint.text().startswith("Wait for the band.")
        running = play.model.state.engine.running_since
        assert running is not None
        QTest.mouseClick(line.buttons["engine off"], Qt.MouseButton.LeftButton)
        play.pass_time(3)
        assert play.model.state.engine.running_since is None
        QTest.mouseClick(line.buttons["engine on"], Qt.MouseButton.LeftButton)
        play.pass_time(6)
        assert play.model.state.engine.running_since is not None
        QTest.mouseClick(line.back, Qt.MouseButton.LeftButton)
        assert not check.distances.is_far


def test_what_comes_out_of_the_hole_is_seen_under_the_far_view(tongue: str, qtbot: QtBot) -> None:
    with keyed_play() as play:
        for _ in stages(play, Stage.LEVEL):
            pass
        check, line = shown(play), shown(play).far_line
        assert line is not None
        if not check.distances.is_far:
            check.distances.toggle()
        play.pass_time(3)
        settle()
        hole = {"en": "Plug hole: runs.", "es": "Orificio del tapón: sale."}[tongue]
        assert line.hint.text().endswith(hole)
        assert clipped_texts(play.window) == []
        assert out_of_sight(line) == []


def test_a_check_on_a_vehicle_has_no_such_line(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        shown(play).distances.toggle()
        settle()
        assert shown(play).far_line is None
        assert shown(play).distances.far.height() == shown(play).height()


@pytest.mark.parametrize("spoken", ["en", "es"])
@pytest.mark.parametrize("units", [METRIC, US])
def test_whatever_is_wrong_with_a_simulated_vehicle_can_be_read(
    qtbot: QtBot, units: UnitSystem, spoken: str
) -> None:
    with speaking(spoken), keyed_play(units=units) as play:
        home = play.window.home
        assert home.family.currentText() == "K7"  # as the README and the command line have it
        for at in range(home.fault.count()):
            home.fault.setCurrentIndex(at)
            settle()
            assert clipped_texts(play.window) == []
        said = home.fault.itemText(home.fault.findData("sensor-offset"))
        assert ("9.0 °C" if units is METRIC else "16.2 °F") in said  # 9 K, and 9 · 1.8
        assert " K " not in said
