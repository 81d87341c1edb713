"""Whatever is empty says in a sentence what to do about it, and says it where it is seen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from keyed_play import KeyedPlay, keyed_play
from label_fit import clipped_texts
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot
from records_in_window import Told

from brimline.ui.ports.keeping import CopiesState
from brimline.ui.ports.services import (
    BusServices,
    ConnectionChoice,
    DiscoveryState,
    LookState,
    SheetList,
)
from brimline.ui.samples.bus import Laid, LaidDiscovery, sample_bus
from brimline.ui.samples.capture import settle
from brimline.ui.samples.keeping import sample_keeping
from brimline.ui.screens.check.photo_strip import PhotoStrip

ACTS = (
    "begin", "type", "choose", "press", "let ", "write", "connect", "plug it in", "install", "add ",
    "finish", "enter", "tick", "say", "draw",
)  # fmt: skip
"""A sentence that says what to do has one of these verbs in it."""


def says_what_to_do(shown: QLabel) -> None:
    assert shown.isVisible()
    words = shown.text().lower()
    assert any(act in words for act in ACTS), shown.text()
    assert words.endswith((".", "!")), shown.text()


def empty_bus() -> BusServices:
    """A bus on which nothing is chosen, plugged in or heard."""
    return replace(
        sample_bus(),
        connection=ConnectionChoice,
        kinds=lambda: (),
        look=lambda: Laid([LookState(True)]),
        discover=lambda _choice: LaidDiscovery([DiscoveryState(False, "Listening.", 3.0)]),
    )


@pytest.fixture
def play(qtbot: QtBot) -> Iterator[KeyedPlay]:
    empty = replace(sample_keeping(), copies=lambda _folder: Told(CopiesState(True)))
    with keyed_play(bus=empty_bus(), keeping=empty) as made:
        yield made


def test_home_without_records(play: KeyedPlay) -> None:
    says_what_to_do(play.window.home.finished.empty)


def test_a_search_without_hits(play: KeyedPlay, qtbot: QtBot) -> None:
    finished = play.window.home.finished
    finished.bar.text.setText("ABCDEFGH")
    finished.bar.search_now()
    qtbot.waitUntil(lambda: "ABCDEFGH" in finished.empty.text())
    says_what_to_do(finished.empty)


def test_a_bay_without_a_connection(play: KeyedPlay) -> None:
    panel = play.window.home.vehicle
    panel.by_bus.setChecked(True)
    says_what_to_do(panel.missing)


def test_a_check_without_a_technician(play: KeyedPlay) -> None:
    says_what_to_do(play.window.home.vehicle.missing)


def test_a_bay_without_sheets(play: KeyedPlay) -> None:
    panel = play.window.home.vehicle
    panel._services = replace(panel._services, sheets=SheetList)
    panel.refresh()
    says_what_to_do(panel.missing)


def test_a_computer_without_a_bus(qtbot: QtBot) -> None:
    with keyed_play() as play:
        panel = play.window.home.vehicle
        panel.by_bus.setChecked(True)
        says_what_to_do(panel.missing)


def test_nothing_plugged_in_and_no_driver(play: KeyedPlay) -> None:
    play.window.show_connection()
    screen = play.window.connection
    assert screen is not None
    settle()
    says_what_to_do(screen.form.about)
    says_what_to_do(screen.result)


def test_a_bus_on_which_nothing_was_heard(play: KeyedPlay) -> None:
    assert play.window.bus is not None
    play.window.bus.show_discovery(ConnectionChoice("slcan", "COM3"))
    screen = play.window.discovery
    assert screen is not None
    screen._show_state(DiscoveryState(False, "Listening.", 3.0))
    for shown in (screen.empty, screen.place):
        says_what_to_do(shown)
    settle()
    assert clipped_texts(screen) == []


def test_no_copies(play: KeyedPlay) -> None:
    play.window.show_backups()
    assert play.window.records is not None
    copies = play.window.records.screen.copies  # type: ignore[union-attr] # the backups' screen
    copies._show_copies(CopiesState(True))
    says_what_to_do(copies.empty)


def test_no_photos(play: KeyedPlay) -> None:
    play.begin_keyed()
    model = play.model
    assert model.filing is not None
    strip = PhotoStrip(model.filing)
    strip.show()
    strip.show_state(model.state)
    says_what_to_do(strip.none)
    strip.close()
    strip.deleteLater()


def labels_of(root: QWidget, *begins: str) -> list[QLabel]:
    return [each for each in root.findChildren(QLabel) if each.text().startswith(begins)]


def test_pages_on_which_nothing_was_said_yet(play: KeyedPlay) -> None:
    play.begin_keyed()
    assert play.window.check is not None
    from brimline.procedure.state import Stage  # noqa: PLC0415 - only pages need it

    for stage, begins in ((Stage.FLUID, "No fluid chosen"), (Stage.RAISE, "Not measured yet")):
        page = play.window.check.page(stage)
        page.show_snapshot(play.model.session.snapshot())
        found = labels_of(page, begins)
        assert len(found) == 1
        assert any(act in found[0].text().lower() for act in ACTS), found[0].text()


def test_interrupted_checks_that_another_program_has_ended(play: KeyedPlay) -> None:
    window = play.window
    assert window.open is not None
    window.home.show_open(1, window.open.show)
    assert window.home.open_show.isVisible()
    window.home.open_show.click()
    assert not window.home.open_show.isVisible()
    assert window.stack.currentWidget() is window.home
