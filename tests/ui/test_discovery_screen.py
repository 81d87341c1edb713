"""Finding the fluid temperature: proposals, reasons, what a sheet takes, asking for more."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

import pytest
from keyed_play import KeyedPlay, keyed_play
from label_fit import clipped_texts
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from brimline.errors import BusError
from brimline.specsheet.signal_map import SignalMap
from brimline.ui.poller import Poller
from brimline.ui.ports.services import DiscoveryState, IdentifierRange
from brimline.ui.samples.bus import LISTENING, PROPOSALS, LaidDiscovery, sample_bus
from brimline.ui.samples.capture import EVERY_SIZE, settle
from brimline.ui.screens import discovery
from brimline.ui.screens.discovery import DiscoveryScreen
from brimline.units import METRIC, US, UnitSystem

FIRST = DiscoveryState(False, "Listening; nothing warms yet.", 3.0)


def begin_by_hand(poller: Poller[DiscoveryState], handle: LaidDiscovery) -> None:
    """Ask once, and then only when a test does: no timer is quicker than a slow computer."""
    poller.cancel()
    poller._handle = handle
    poller.poll()


@contextmanager
def finding(
    *states: DiscoveryState, units: UnitSystem = METRIC
) -> Iterator[tuple[KeyedPlay, DiscoveryScreen, LaidDiscovery]]:
    handle = LaidDiscovery(states)
    bus = replace(sample_bus(), discover=lambda _choice: handle)
    with pytest.MonkeyPatch.context() as patch, keyed_play(bus=bus, units=units) as play:
        patch.setattr(Poller, "begin", begin_by_hand)
        play.window.show_connection()
        assert play.window.connection is not None
        play.hands.press(play.window.connection.find_button)
        assert play.window.discovery is not None
        yield play, play.window.discovery, handle


def test_proposals_come_as_they_are_found(qtbot: QtBot) -> None:
    with finding(FIRST, LISTENING) as (_, screen, _handle):
        assert screen.standing.text() == "Listening; nothing warms yet. (3 s)"
        assert screen.empty.isVisible()
        screen._poller.poll()
        assert screen.table.rowCount() == 2
        assert screen.table.item(0, 1).text() == "43.6 °C"
        assert screen.table.item(0, 2).text() == PROPOSALS[0].likeness
        assert "as a transmission's fluid lags" in screen.reasons.text()
        words = {label.text() for label in screen.findChildren(QLabel)}
        assert discovery.PROPOSES in words
        assert discovery.READS_ONLY in " ".join(words)


def test_the_latest_value_is_in_the_unit_chosen(qtbot: QtBot) -> None:
    with finding(LISTENING, units=US) as (_, screen, _handle):
        assert screen.table.item(0, 1).text() == "110.5 °F"  # 43.6 · 1.8 + 32


def test_the_entry_can_be_copied_and_is_what_a_sheet_takes(qtbot: QtBot) -> None:
    with finding(LISTENING) as (_, screen, _handle):
        screen.entry.setFocus()
        screen.entry.selectAll()
        screen._poller.poll()  # the next state must not take the selection away
        QTest.keyClick(screen.entry, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
        copied = QApplication.clipboard().text()
    mapped = SignalMap.model_validate(tomllib.loads(copied)["signals"])
    assert mapped.fluid_temperature is not None


def test_a_choice_stays_while_the_order_changes(qtbot: QtBot) -> None:
    turned = replace(LISTENING, proposals=PROPOSALS[::-1])
    with finding(LISTENING, turned) as (_, screen, _handle):
        screen.table.selectRow(1)
        assert screen.place.text() == PROPOSALS[1].place
        assert screen.entry.toPlainText() == discovery.NO_ENTRY
        screen._poller.poll()
        assert screen.table.currentRow() == 0
        assert screen.place.text() == PROPOSALS[1].place
    with finding(LISTENING, turned) as (_, screen, _handle):
        screen._poller.poll()
        assert screen.table.currentRow() == 1
        assert screen.place.text() == PROPOSALS[0].place


def test_identifiers_are_asked_for_in_hexadecimal(qtbot: QtBot) -> None:
    with finding(LISTENING) as (play, screen, handle):
        play.hands.type(screen.first, "31A0")
        play.hands.type(screen.last, "0x31AF")
        play.hands.type(screen.request, "7E1")
        play.hands.press(screen.ask)
        assert screen.said.text().startswith("Answer: a hexadecimal number")
        assert handle.asked == []
        play.hands.type(screen.response, "18DAF118")
        play.hands.press(screen.ask)
        assert not screen.said.isVisible()
        assert handle.asked == [IdentifierRange(0x31A0, 0x31AF, 0x7E1, 0x18DAF118)]


@pytest.mark.parametrize("typed", ["1_0", "-1", "10000", "zz", ""])
def test_no_identifier_is_read_out_of_nonsense(qtbot: QtBot, typed: str) -> None:
    with finding(LISTENING) as (_, screen, handle):
        screen.first.setText(typed)
        for field in (screen.last, screen.request, screen.response):
            field.setText("10")
        screen._ask()
        assert screen.said.text().startswith("From: a hexadecimal number up to FFFF")
        assert handle.asked == []


def test_a_refused_range_is_answered_in_its_sentence(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    with finding(LISTENING) as (_, screen, handle):

        def refuse(_identifiers: IdentifierRange) -> None:
            raise BusError("Ask for 1 to 512 identifiers at a time.")

        monkeypatch.setattr(handle, "ask", refuse)
        for field in (screen.first, screen.last, screen.request, screen.response):
            field.setText("10")
        screen._ask()
        assert screen.said.text() == "Ask for 1 to 512 identifiers at a time."


def test_stopping_keeps_what_was_found_and_gives_the_adapter_back(qtbot: QtBot) -> None:
    with finding(LISTENING) as (play, screen, handle):
        play.hands.press(screen.stop_button)
        assert handle.cancelled == 1
        assert screen.table.rowCount() == 2
        assert not screen.ask.isEnabled()
        play.hands.press(screen.listen)
        assert screen.stop_button.isEnabled()
        play.hands.press(screen.leave)
        assert handle.cancelled == 2
        assert play.window.connection is not None
        assert play.window.discovery is None


def test_a_lost_bus_ends_it_with_its_sentence_and_keeps_the_rows(qtbot: QtBot) -> None:
    lost = DiscoveryState(True, "The connection to the vehicle's bus is lost.")
    with finding(LISTENING, lost) as (_, screen, handle):
        screen._poller.poll()
        assert screen.standing.text() == "The connection to the vehicle's bus is lost."
        assert screen.table.rowCount() == 2
        assert handle.cancelled == 1
        assert screen.listen.isEnabled()


def test_an_adapter_that_cannot_be_opened_is_told(qtbot: QtBot) -> None:
    def refuse(_choice: object) -> LaidDiscovery:
        raise BusError("The adapter cannot be opened.")

    with keyed_play(bus=replace(sample_bus(), discover=refuse)) as play:
        play.window.show_connection()
        assert play.window.connection is not None
        play.hands.press(play.window.connection.find_button)
        assert play.window.discovery is not None
        assert play.window.discovery.standing.text() == "The adapter cannot be opened."


def test_no_text_is_cut_on_the_discovery_screen(qtbot: QtBot) -> None:
    misfits: list[str] = []
    many = tuple(
        replace(PROPOSALS[0], place=f"{PROPOSALS[0].place}, {n}", reasons=PROPOSALS[0].reasons * 3)
        for n in range(30)
    )
    with finding(FIRST, replace(LISTENING, proposals=many), units=US) as (play, screen, _):
        for where in ("nothing", "many", "sentence"):
            for each in EVERY_SIZE:
                play.window.resize(each.width, each.height)
                play.window.set_palette(each.palette)
                settle()
                assert (play.window.width(), play.window.height()) == (each.width, each.height)
                misfits.extend(f"{where} {each.name}: {m}" for m in clipped_texts(play.window))
            screen._poller.poll() if where == "nothing" else screen._ask()
    assert misfits == []
