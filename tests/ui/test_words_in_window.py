"""What a person read or pressed at the window for the first time and could not make out."""

from __future__ import annotations

import pytest
from keyed_play import GOOD, VIN, keyed_play
from PySide6.QtWidgets import QAbstractButton, QApplication, QRadioButton
from pytestqt.qtbot import QtBot

from brimline.procedure.events import Flow
from brimline.ui import theme
from brimline.ui.forms import TickBox
from brimline.ui.samples.bus import sample_bus
from brimline.ui.samples.capture import settle
from brimline.ui.screens.check.identify_page import IdentifyPage
from brimline.ui.screens.check.level_page import LevelPage
from brimline.ui.tokens import PALETTES, Palette


def test_a_check_digit_that_does_not_match_is_said_before_the_page_is_left(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        page = play.page
        assert isinstance(page, IdentifyPage)
        assert not page.vin_words.isVisible()
        play.hands.type(page.vin, VIN[:-1] + "9")  # 49 CFR 565: position 17 weighs 2 of 11
        assert "check digit" in page.vin_words.text()
        assert page.vin_words.isVisible()
        play.hands.type(page.vin, VIN)
        assert not page.vin_words.isVisible()
        play.hands.type(page.vin, VIN[:-1])
        assert not page.vin_words.isVisible()  # half typed is no fault yet


def test_a_check_digit_that_does_not_match_is_taken_at_the_second_press(qtbot: QtBot) -> None:
    """Many markets do not use one, so that it is no fault; one press might not have looked."""
    with keyed_play() as play:
        play.begin_keyed()
        page = play.page
        assert isinstance(page, IdentifyPage)
        play.hands.type(page.vin, VIN[:-1] + "9")
        play.hands.type(page.work_order, "HL-2041")
        play.hands.press(page._next[0])
        assert play.model.state.vehicle is None
        assert play.window.check is not None
        assert play.window.check.said.text().endswith("on the vehicle, press again.")
        play.hands.press(page._next[0])
        vehicle = play.model.state.vehicle
        assert vehicle is not None
        assert "check digit" in vehicle.vin_warning


def test_nothing_comes_and_no_fluid_may_be_added_says_why(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        play.to_the_plug()
        play._PlugOut()
        play._FlowJudged(Flow.NOTHING, None)
        page = play.page
        assert isinstance(page, LevelPage)
        play._FirstLook(GOOD, drawn_sample=True)
        assert page.next.text() == "Nothing comes: top up in small amounts, 1.00 L more at most."
        assert page.pump_box.isVisible()
        play.pass_time(75)  # what was keyed is too old by now
        assert not page.pump_box.isVisible()
        assert page.next.text().startswith("Nothing comes. Not to be topped up yet: ")
        assert "temperature" in page.next.text()


def test_a_form_that_goes_leaves_the_keyboard_on_no_button(qtbot: QtBot) -> None:
    with keyed_play(keyboard=True) as play:
        play.begin_keyed()
        play.to_the_plug()
        play._PlugOut()
        play._FlowJudged(Flow.NOTHING, None)
        play._FirstLook(GOOD, drawn_sample=True)
        assert not isinstance(QApplication.focusWidget(), QAbstractButton)
        play._PumpStarted()  # and the keyboard still reaches everything


@pytest.mark.parametrize("palette", PALETTES.values(), ids=PALETTES.keys())
def test_a_ticked_box_shows_a_tick(qtbot: QtBot, palette: Palette) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    theme.apply(app, palette)
    box = TickBox("Listen before anything is sent")
    qtbot.addWidget(box)
    box.setChecked(True)
    box.show()
    settle()
    picture, middle = box.grab().toImage(), box.height() // 2
    inside = [picture.pixelColor(x, middle + y).name() for x in range(4, 18) for y in range(-6, 7)]
    assert inside.count(palette.on_accent) > 5  # the stroke; its edges are blended
    assert inside.count(palette.accent) > len(inside) / 2


def test_a_keyed_check_records_no_bus(qtbot: QtBot) -> None:
    with keyed_play(bus=sample_bus()) as play:
        panel = play.window.home.vehicle
        panel.by_bus.setChecked(True)
        assert panel.record.isEnabled()
        panel.keyed.setChecked(True)
        assert not panel.record.isEnabled()


def test_a_judgement_takes_the_sentence_away_that_asked_for_it(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        play.to_the_plug()
        play._PlugOut()
        play._FlowJudged(Flow.NOTHING, None)
        page, check = play.page, play.window.check
        assert isinstance(page, LevelPage)
        assert check is not None
        play.hands.press(page.look)
        assert "is not chosen yet" in check.said.text()
        play.hands.press(page.form.findChildren(QRadioButton)[0])
        assert check.said.text() == ""
