"""A check that was cut off is the first thing that the next start shows, and goes on from there."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from check_play import MILKY
from interrupted_play import (
    Restarted,
    at,
    cut_off,
    put_away,
    work_until,
    worked_and_cut_off,
)  # fmt: skip
from label_fit import clipped_texts
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot
from window_play import WindowPlay

from brimline.errors import StoreError
from brimline.procedure import events as ev
from brimline.procedure import gates, reducer
from brimline.procedure.events import Item, Resumed, Verdict
from brimline.procedure.state import CheckState, Stage
from brimline.records import rescue
from brimline.ui.open_screens import OUT_FIRST
from brimline.ui.ports.services import DemoOrder
from brimline.ui.samples.capture import EVERY_SIZE, settle
from brimline.ui.widgets.chart_told import gaps_of


def looked(state: CheckState) -> bool:
    return state.first_look is not None


@contextmanager
def restarted(
    until: Callable[[CheckState], bool] = looked, *, keyboard: bool = False, away: float = 60.0
) -> Iterator[Restarted]:
    """Work a check so far, cut it off, and give the window that is opened after that."""
    again = Restarted(worked_and_cut_off(until), keyboard=keyboard, away=away)
    try:
        yield again
    finally:
        put_away(again)


def words(widget: QWidget) -> str:
    return "\n".join(label.text() for label in widget.findChildren(QLabel) if label.isVisible())


@pytest.mark.parametrize("keyboard", [True, False], ids=["keyboard", "mouse"])
def test_a_check_goes_on_from_its_card_to_its_verdict(qtbot: QtBot, keyboard: bool) -> None:
    with restarted(keyboard=keyboard) as again:
        told = words(again.card)
        assert "OUT" in told
        assert "RUNNING" in told
        assert (
            "The plug was OUT and the engine was running when the program stopped, 1 min ago."
            in told
        )
        assert "First look, then fluid level" in told
        again.hands.press(again.card.go_on)
        assert again.card.asked is not None
        again.hands.press(again.card.asked.done)  # nothing is answered beforehand
        assert "Say first whether the plug is out" in again.card.asked.said.text()
        again.hands.press(again.card.asked.back)
        again.go_on(out=True, runs=True)
        check = again.window.check
        assert check is not None
        assert again.model.state.stage is Stage.LEVEL
        assert gaps_of(again.model.state) == [
            pytest.approx((again.model.state.now - 60, again.model.state.now), abs=3)
        ]
        assert check.again.isVisible()
        assert set(check.again.items) == set(gates.still_asked(again.model.state))
        again.confirm_again()
        again.model.step()
        assert not check.again.isVisible()
        again.play()
        record = again.bay.load("1")
    assert record.header.verdict in (Verdict.SET, Verdict.CORRECTED)
    (resumed,) = [event for event in record.events if isinstance(event, Resumed)]
    assert (resumed.plug_is_out, resumed.engine_runs) == (True, True)
    assert resumed.gap_s == pytest.approx(60, abs=3)


@pytest.mark.parametrize(
    ("until", "shown"),
    [
        (Stage.FLUID, Stage.FLUID),
        (Stage.PRECONDITION, Stage.PRECONDITION),
        (Stage.RAISE, Stage.PRECONDITION),  # on its wheels the engine idles its time again
        (Stage.PLUG_OUT, Stage.TEMPERATURE),  # its gate is closed until it is confirmed again
        (Stage.CONDITION, Stage.CONDITION),
        (Stage.RECORD, Stage.RECORD),
    ],
)
def test_a_check_is_offered_at_its_step(qtbot: QtBot, until: Stage, shown: Stage) -> None:
    with restarted(at(until)) as again:
        runs = again.bay.load("1").events
        engine = reducer.replay(runs).engine.running_since is not None
        again.go_on(out=False, runs=engine)
        assert again.model.state.stage is shown


def test_an_item_confirmed_again_keeps_its_place_under_the_finger(qtbot: QtBot) -> None:
    with restarted() as again:
        again.go_on(out=True, runs=True)
        assert again.window.check is not None
        items = again.window.check.again.items
        first, *rest = items.values()
        place = first.pos()
        again.hands.press(first)
        again.model.step()
        assert (first.isVisible(), first.isChecked(), first.pos()) == (True, True, place)
        assert all(not other.isChecked() for other in rest)


def test_what_demands_the_plug_in_is_shown_before_what_is_asked_again(qtbot: QtBot) -> None:
    with restarted() as again:
        again.go_on(out=True, runs=True)
        assert again.model.tap(ev.FirstLook, findings=MILKY)
        check = again.window.check
        assert check is not None
        assert check.alarms.isVisible()
        assert not check.again.isVisible()
        assert again.model.tap(ev.PlugIn)
        assert check.again.isVisible()


def test_a_tilt_that_time_has_voided_is_measured_again_with_the_plug_out(qtbot: QtBot) -> None:
    with restarted(at(Stage.LEVEL), away=700.0) as again:  # no run-off had been seen yet
        again.go_on(out=True, runs=True)
        check = again.window.check
        assert check is not None
        assert again.model.state.tilt is None
        again.confirm_again()
        again.hands.press(check.again.measure)
        assert check.again.said.text()
        for key, field in check.again.tilt.fields.items():
            again.hands.type(field, "0.1 °" if "turned" in key else "0.0 °")
        again.hands.press(check.again.measure)
        assert again.model.state.tilt is not None
        assert not check.again.isVisible()


def test_no_other_check_begins_while_one_was_cut_off_with_its_plug_out(qtbot: QtBot) -> None:
    with restarted() as again:
        again.hands.press(again.screen.leave)
        window = again.window
        assert window.stack.currentWidget() is window.home
        assert "One check was interrupted" in window.home.open_words.text()
        window.begin_demo(DemoOrder("K5", "", 1.0))
        assert window.model is None
        assert window.said.text() == OUT_FIRST
        again.hands.press(window.home.open_show)
        again.hands.press(again.card.end)
        again.answer(out=False, runs=False)
        assert again.card.asked is not None
        again.hands.type(again.card.asked.why, "power cut")  # type: ignore[attr-defined]
        again.hands.press(again.card.asked.done)
        assert not window.home.open_words.isVisible()
        window.begin_demo(DemoOrder("K5", "", 1.0))
        assert window.model is not None


def test_one_whose_plug_was_in_may_wait(qtbot: QtBot) -> None:
    with restarted(at(Stage.FLUID)) as again:
        again.hands.press(again.screen.leave)
        again.window.begin_demo(DemoOrder("K5", "", 1.0))
        assert again.window.model is not None


@pytest.mark.parametrize("keyboard", [True, False], ids=["keyboard", "mouse"])
def test_ending_asks_for_both_facts_a_reason_and_that_the_plug_stays_out(
    qtbot: QtBot, keyboard: bool
) -> None:
    with restarted(keyboard=keyboard) as again:
        again.hands.press(again.card.end)
        asked = again.card.asked
        assert asked is not None
        again.hands.press(asked.done)
        assert "Say first" in asked.said.text()
        again.answer(out=True, runs=False)
        again.hands.press(asked.done)
        assert "Say why" in asked.said.text()
        again.hands.type(asked.why, "power cut")  # type: ignore[attr-defined] # the end panel
        again.hands.press(asked.done)
        assert "say that it stays out" in asked.said.text()
        again.hands.tick(asked.stays_out, True)  # type: ignore[attr-defined]
        again.hands.press(asked.done)
        assert again.window.stack.currentWidget() is again.window.home
        record = again.bay.load("1")
    assert record.header.verdict is Verdict.STOPPED
    assert record.header.finished_at is not None
    state = reducer.replay(record.events)
    assert state.aborted is not None
    assert state.aborted.plug_left_out


def test_no_key_that_was_meant_for_something_else_answers(qtbot: QtBot) -> None:
    with restarted() as again:
        for key in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            QTest.keyClick(QApplication.focusWidget() or again.window, key)
        assert again.window.model is None
        assert again.card.asked is None
        again.hands.press(again.card.go_on)
        for key in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            QTest.keyClick(QApplication.focusWidget() or again.window, key)
        asked = again.card.asked
        assert asked is not None
        assert (asked.facts.plug_is_out, asked.facts.engine_runs) == (None, None)


def test_a_check_that_is_only_to_be_sealed_is_sealed_by_one_press(qtbot: QtBot) -> None:
    before = WindowPlay("K5", "", keyboard=False)
    before.model.session._finished = lambda _state: _refuse()  # the computer goes off just then
    work_until(before, lambda state: state.closed is not None)
    cut_off(before)
    again = Restarted(before.clock, keyboard=False)
    try:
        assert not again.card.go_on.isVisible()
        assert again.card.end.text() == "Seal its record"
        again.hands.press(again.card.end)
        assert again.bay.load("1").header.seal
    finally:
        put_away(again)


def _refuse() -> None:
    raise StoreError("The disk is full.")


def test_several_are_shown_one_under_the_other(qtbot: QtBot) -> None:
    before = WindowPlay("K5", "", keyboard=False)
    work_until(before, at(Stage.FLUID))
    before.window.end_check()
    before.begin("K5", "")
    cut_off(before)
    again = Restarted(before.clock, keyboard=False)
    try:
        assert [card.row.number for card in again.screen.cards] == [1, 2]
        assert "2 checks were interrupted" in words(again.screen)
    finally:
        put_away(again)


def misfits(again: Restarted, where: str) -> list[str]:
    found = []
    for look in EVERY_SIZE:
        again.window.resize(look.width, look.height)
        again.window.set_palette(look.palette)
        settle()
        found += [f"{where} {look.name}: {m}" for m in clipped_texts(again.window)]
    again.window.resize(1280, 800)
    settle()
    return found


def test_no_text_is_cut_on_cards_and_panel(qtbot: QtBot) -> None:
    cut: list[str] = []
    with restarted(at(Stage.LEVEL), away=700.0) as again:
        cut += misfits(again, "card")
        again.hands.press(again.card.end)
        again.answer(out=True, runs=False)
        cut += misfits(again, "ending")
        assert again.card.asked is not None
        again.hands.press(again.card.asked.back)
        again.hands.press(again.screen.leave)
        cut += misfits(again, "first screen")
        again.hands.press(again.window.home.open_show)
        again.go_on(out=True, runs=True)
        assert again.window.check is not None
        assert again.window.check.again.tilt.isVisible()
        cut += misfits(again, "confirm again")
    assert cut == []


@pytest.fixture
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(rescue, "places", lambda: (tmp_path,))
    return tmp_path


def test_not_saved_is_told_all_across_the_check_until_it_is_saved(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    play = WindowPlay("K5", "", keyboard=False)
    try:
        check = play.window.check
        assert check is not None
        assert not check.not_saved.isVisible()
        with monkeypatch.context() as patch:
            patch.setattr(play.model.session._journal, "_write_some", _refuse)
            assert play.model.tap(ev.Confirmed, item=Item.CATCH_PAN)
            assert check.not_saved.isVisible()
            said = words(check.not_saved)
            assert "NOT SAVED since" in said
            assert "1 entry is only in this computer's memory" in said
            assert "The disk is full." in said
            assert "Do not switch this computer off." in said
            assert check.not_saved.width() > 0.95 * check.width()
            assert play.model.tap(ev.Confirmed, item=Item.CREW_CLEAR)
            assert "2 entries are" in words(check.not_saved)
            assert _cut_texts(play) == []
        assert play.model.tap(ev.Confirmed, item=Item.PROTECTION_WORN)
        assert not check.not_saved.isVisible()
        assert check.saved_again.text().startswith("Saved again at ")
        play.clock.now += 120
        play.model.step()
        assert not check.saved_again.isVisible()
    finally:
        put_away(play)


def _cut_texts(play: WindowPlay) -> list[str]:
    found = []
    for look in EVERY_SIZE:
        play.window.resize(look.width, look.height)
        play.window.set_palette(look.palette)
        settle()
        found += clipped_texts(play.window)
    return found


def test_closing_with_something_unsaved_asks_and_writes_it_elsewhere(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, elsewhere: Path
) -> None:
    play = WindowPlay("K5", "", keyboard=False)
    with monkeypatch.context() as patch:
        patch.setattr(play.model.session._journal, "_write_some", _refuse)
        assert play.model.tap(ev.Confirmed, item=Item.CATCH_PAN)
        play.window.close()
        assert play.window.isVisible()
        check = play.window.check
        assert check is not None
        drawer = check._drawer
        assert drawer is not None
        assert _cut_texts(play) == []
        assert not drawer.close_all.isVisible()  # type: ignore[attr-defined] # the rescue drawer
        play.hands.press(drawer.copy)  # type: ignore[attr-defined]
        (file,) = elsewhere.glob("unsaved-*.jsonl")
        assert str(file) in drawer.said.text()  # type: ignore[attr-defined]
        play.hands.press(drawer.close_all)  # type: ignore[attr-defined]
        assert not play.window.isVisible()
    put_away(play)
    again = Restarted(play.clock, keyboard=False)
    try:
        assert str(file) in words(again.card)
        again.go_on(out=False, runs=False)
        assert Item.CATCH_PAN in again.model.state.confirmed
    finally:
        put_away(again)


def test_where_nothing_takes_it_the_program_is_closed_only_by_saying_so(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(rescue, "places", lambda: ())
    play = WindowPlay("K5", "", keyboard=False)
    monkeypatch.setattr(play.model.session._journal, "_write_some", _refuse)
    assert play.model.tap(ev.Confirmed, item=Item.CATCH_PAN)
    play.window.close()
    assert play.window.check is not None
    drawer = play.window.check._drawer
    assert drawer is not None
    play.hands.press(drawer.copy)  # type: ignore[attr-defined]
    assert "could not be written to another place" in drawer.said.text()  # type: ignore[attr-defined]
    assert play.window.isVisible()
    play.hands.press(drawer.close_all)  # type: ignore[attr-defined]
    assert not play.window.isVisible()
    put_away(play)
