"""What a page says stands as long as it is true, and names what it is about."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot
from test_check_in_window import window_play
from test_hard_cases_in_window import play_until, screen

from brimline.procedure import events as ev
from brimline.procedure.events import Item
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import Stage
from brimline.ui.screens.check.closing_pages import ClosePage, RecordPage
from brimline.units import METRIC
from brimline.wording import sentence


def test_a_plug_only_put_in_is_warned_of_before_and_after_the_seal(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.plug_is_out)
        check = screen(play)
        play.hands.press(play.page.plug_in)
        play.hands.press(check.abort)
        play.stop_in_drawer()
        page = play.page
        assert isinstance(page, RecordPage)
        words = "put in, but not tightened to its torque. Do not drive"
        assert page.unfinished.isVisible()
        assert words in page.unfinished.text()
        assert page.unfinished.y() < page.body.y()
        play.hands.press(page.run_off.nothing)
        play.hands.press(page.finish)
        assert play.model.state.closed is not None
        assert page.unfinished.isVisible()
        assert words in page.unfinished.text()


def test_what_is_done_at_the_close_is_told_and_a_leak_is_not_called_done(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.CLOSE)
        page = play.page
        assert isinstance(page, ClosePage)
        assert page.done.text() == ""
        play._SealDone(replaced=True)
        assert page.done.text() == "Done: seal replaced."
        torque = play.model.state.sheet.plug.torque
        play._PlugTorqued(torque, torque / 2, 2 * torque, "N·m")
        play._LeakLook(dry=False)
        assert page.done.text() == "Done: seal replaced, plug torqued."
        play.hands.press(play._button("Dry: no leak"))
        assert play.model.state.closing.leak is not None


def test_a_sound_plug_is_not_warned_of(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.RECORD)
        assert play.page.unfinished.isHidden()


def test_a_second_raise_begins_with_empty_angles(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(
            play,
            lambda: (
                play.model.state.stage is Stage.RAISE
                and Item.LIFT_LOCKED in play.model.state.confirmed
            ),
        )
        page = play.page
        fields = page.tilt.fields.values()
        for field in fields:
            play.hands.type(field, "50")
        play.hands.press(play._button("Write down the tilt"))
        assert [field.text() for field in fields] == ["50"] * 4  # refused: to be corrected
        for field in fields:
            play.hands.type(field, "0.2")
        play.hands.press(play._button("Write down the tilt"))
        assert play.model.state.tilt is not None
        assert [field.text() for field in fields] == [""] * 4
        for field in fields:
            field.setText("0.3")
        assert play.model.tap(ev.Withdrawn, item=Item.LIFT_LOCKED)
        page.show_state(play.model.state)  # as it will be once the page is up again
        assert [field.text() for field in fields] == [""] * 4


def test_no_product_is_asked_for_and_not_judged(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.FLUID)
        play.hands.press(play._button("Match the fluid"))
        assert play.model.state.fluid is None
        assert screen(play).said.text() == "Type the product that is in hand."
        play.hands.type(play.page.product.lineEdit(), "T")
        assert screen(play).said.isHidden()


def test_a_product_without_a_name_is_not_the_subject_of_a_sentence() -> None:
    said = sentence(Reason(Code.FLUID_NOT_APPROVED, " "), METRIC)
    assert said == "The fluid in hand has not been matched against the spec sheet."


def test_what_was_wrong_goes_once_it_is_corrected_and_names_its_field(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        page, said = play.page, screen(play).said
        play.hands.press(play._button("Identify the vehicle"))
        assert "has 0 characters" in said.text()
        page.vin.setText("1M8GDM9AXKP042788")  # as a scanner puts it in; a valid check digit
        assert said.isHidden()
        play.hands.type(page.odometer, "9000000")
        play.hands.press(play._button("Identify the vehicle"))
        assert said.text().startswith("Odometer: that number cannot be right")
        page.complaint.setPlainText("shifts late")
        assert said.isHidden()


@pytest.mark.parametrize("change", ["tick", "tap"])
def test_a_tick_or_a_tap_that_is_taken_takes_the_words_away(qtbot: QtBot, change: str) -> None:
    with window_play("K5", "", keyboard=False) as play:
        screen(play).say("Something was wrong.")
        if change == "tick":
            play.page.drained.click()
        else:
            assert play.model.tap(ev.Confirmed, item=Item.WHEELS_CHOCKED)
        assert screen(play).said.isHidden()


def test_a_number_of_no_known_field_is_still_told() -> None:
    said = sentence(Reason(Code.BAD_NUMBER, "Nm"), METRIC)
    assert said == "That number cannot be right; check it and its unit."
