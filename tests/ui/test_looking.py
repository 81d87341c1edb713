"""The first screen is there before the records are: what it shows, refuses and gives way to."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from interrupted_play import at, worked_and_cut_off
from label_fit import clipped_texts
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from records_in_window import Told
from window_hands import Hands

from brimline import desk, desk_front, paths
from brimline.bootstrap import Bay
from brimline.cli import main
from brimline.config import FILE_NAME, Settings, read_settings
from brimline.procedure import reducer
from brimline.procedure.events import Event
from brimline.procedure.state import CheckState, Stage
from brimline.reading import Way
from brimline.ui.looking import LOOKING
from brimline.ui.main_window import MainWindow, open_window
from brimline.ui.ports.ready import ReadyState
from brimline.ui.ports.services import CheckOrder, DemoOrder, Services
from brimline.ui.samples.bus import sample_bus
from brimline.ui.samples.capture import EVERY_SIZE, settle
from brimline.ui.samples.keeping import sample_keeping
from brimline.ui.screens.open_checks import OpenChecksScreen
from brimline.ui.screens.recovery import RecoveryScreen
from brimline.ui.tokens import LIGHT
from brimline.units import METRIC

Opens = Callable[[Services], MainWindow]
ORDER = DemoOrder("K7", "", 1.0)


@pytest.fixture
def folder() -> Path:
    """A bay that has answered the first questions."""
    made = paths.data_folder()
    made.mkdir(parents=True, exist_ok=True)
    (made / FILE_NAME).touch()
    return made


@pytest.fixture
def opens(qtbot: QtBot, qapp: QApplication) -> Iterator[Opens]:
    """Make a window, which is not painted yet."""
    made: list[tuple[MainWindow, Services]] = []

    def open_it(services: Services) -> MainWindow:
        window = open_window(qapp, services, LIGHT)
        window.resize(1280, 800)
        made.append((window, services))
        return window

    yield open_it
    for window, services in made:
        window.end_check()
        window.close()
        window.deleteLater()
        if services.keeping is not None:
            services.keeping.close()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def front(folder: Path, *, asks_first: bool = False) -> Services:
    """The services of the real program."""
    return desk_front.window_services(folder, read_settings(folder), METRIC, asks_first=asks_first)


def waiting(folder: Path) -> tuple[Services, Told[ReadyState], list[str]]:
    """Services that are ready when they are told to be, and what was asked of them."""
    handle, asked = Told(ReadyState(False)), list[str]()
    real = desk.services(
        Bay(folder, Settings()), METRIC, folder / "out", bus=sample_bus(), keeping=sample_keeping()
    )

    def noting(name: str, service: Any) -> Any:
        def call(*said: Any) -> Any:
            asked.append(name)
            return service(*said)

        return call

    def noted(parts: Any, *names: str) -> Any:
        return replace(parts, **{name: noting(name, getattr(parts, name)) for name in names})

    services = replace(
        noted(real, "begin_demo", "begin_check", "sheets"),
        finding=noted(real.finding, "find", "families"),
        bus=noted(real.bus, "connection"),
        keeping=noted(real.keeping, "trouble", "upgrade", "line"),
        interrupted=noted(real.interrupted, "rows"),
        ready=lambda: handle,
    )
    return services, handle, asked


def shown(window: MainWindow) -> None:
    window.show()
    window.activateWindow()
    settle()


def known(window: MainWindow, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not window.looking.is_busy, timeout=30_000)


def at_home(window: MainWindow) -> bool:
    return window.stack.currentWidget() is window.home


def finished_check(tmp_path: Path) -> None:
    out = str(tmp_path / "out")
    main(["replay", "family-car-curve", "--script", "abort", "--headless", "--out", out])


class TestMeanwhile:
    def test_nothing_is_asked_and_nothing_begins(self, opens: Opens, folder: Path) -> None:
        services, _, asked = waiting(folder)
        window = opens(services)
        shown(window)
        home = window.home
        assert at_home(window)
        assert home.finished.empty.text() == LOOKING
        assert home.finished.empty.isVisible()
        assert home.vehicle.missing.text() == LOOKING
        for button in (
            home.vehicle.go, home.vehicle.connect_button, home.go, home.backups,
            home.finished.print, home.finished.older,
        ):  # fmt: skip
            assert not button.isEnabled(), button.text()
        window.begin_demo(ORDER)
        window.begin_check(CheckOrder("R. Calloway", "k7-demo", "normal", Way.KEYED))
        assert window.model is None
        assert window.said.text() == LOOKING
        window.show_connection()
        window.show_backups()
        assert at_home(window)
        assert asked == []

    def test_what_needs_no_records_can_be_worked(
        self, opens: Opens, qtbot: QtBot, folder: Path
    ) -> None:
        services, handle, asked = waiting(folder)
        window = opens(services)
        shown(window)
        hands, home = Hands(window, keyboard=False), window.home
        hands.press(home.finished.bar.show_filters)
        assert home.finished.bar.filters.isVisible()
        hands.type(home.vehicle.technician, "R. Calloway")
        hands.type(home.finished.bar.text, "HL-2041")
        home.finished.bar.search_now()
        assert asked == []
        handle.state = ReadyState(True)
        window.looking._poller.poll()
        assert "find" in asked
        qtbot.waitUntil(lambda: "Nothing fits “HL-2041”" in home.finished.empty.text())
        assert home.vehicle.technician.text() == "R. Calloway"

    def test_a_demonstration_that_was_ordered_waits(self, opens: Opens, folder: Path) -> None:
        services, handle, _ = waiting(folder)
        window = opens(services)
        shown(window)
        window.when_home(lambda: window.begin_demo(ORDER))
        assert window.model is None
        handle.state = ReadyState(True)
        window.looking._poller.poll()
        assert window.model is not None

    def test_no_text_is_cut(self, opens: Opens, folder: Path) -> None:
        services, _, _ = waiting(folder)
        window = opens(services)
        shown(window)
        cut = []
        for look in EVERY_SIZE:
            window.resize(look.width, look.height)
            window.set_palette(look.palette)
            settle()
            cut += [f"{look.name}: {misfit}" for misfit in clipped_texts(window)]
        assert cut == []

    def test_closing_gives_it_up(self, opens: Opens, folder: Path) -> None:
        services, handle, asked = waiting(folder)
        window = opens(services)
        shown(window)
        window.close()
        assert handle.cancelled == 1
        assert asked == []


class TestOnceKnown:
    def test_list_sheets_and_buttons_are_there(
        self, opens: Opens, qtbot: QtBot, folder: Path, tmp_path: Path
    ) -> None:
        finished_check(tmp_path)
        window = opens(front(folder))
        assert window.looking.is_busy
        shown(window)
        known(window, qtbot)
        home = window.home
        assert home.finished.table.rowCount() == 1
        assert home.vehicle.sheet.count() > 0
        assert home.finished.bar.verdict.count() > 1
        for button in (home.vehicle.connect_button, home.go, home.backups, home.finished.print):
            assert button.isEnabled(), button.text()
        assert "technician" in home.vehicle.missing.text()

    def test_it_looks_only_once_it_is_painted(self, opens: Opens, folder: Path) -> None:
        services, _, _ = waiting(folder)
        begun: list[bool] = []
        looks = replace(services, ready=lambda: (begun.append(True), Told(ReadyState(True)))[1])
        window = opens(looks)
        assert begun == []
        shown(window)
        assert begun == [True]
        assert not window.looking.is_busy

    def test_a_window_that_nobody_sees_looks_all_the_same(
        self, opens: Opens, qtbot: QtBot, folder: Path
    ) -> None:
        services, handle, asked = waiting(folder)
        handle.state = ReadyState(True)
        window = opens(services)
        qtbot.waitUntil(lambda: not window.looking.is_busy)
        assert "rows" in asked

    def test_a_damaged_database_still_leads_to_its_backup(
        self, opens: Opens, qtbot: QtBot, folder: Path, tmp_path: Path
    ) -> None:
        finished_check(tmp_path)
        database = paths.database_file(folder)
        content = bytearray(database.read_bytes())
        content[:4096] = b"\xa5" * 4096
        database.write_bytes(content)
        window = opens(front(folder))
        shown(window)
        known(window, qtbot)
        assert window.records is not None
        assert isinstance(window.records.screen, RecoveryScreen)
        assert window.stack.currentWidget() is window.records.screen
        assert database.read_bytes() == content

    def test_settings_are_not_taken_away_and_lead_to_what_comes_first(
        self, opens: Opens, folder: Path, qtbot: QtBot
    ) -> None:
        interrupted_check()
        window = opens(front(folder))
        shown(window)
        window.show_settings()
        assert window.settings is not None
        shows = window.settings.screen
        assert shows is not None
        known(window, qtbot)
        assert window.stack.currentWidget() is shows
        window._show_home()
        assert isinstance(window.stack.currentWidget(), OpenChecksScreen)


class TestFirstStart:
    def test_the_first_questions_are_asked_at_once_and_stay(
        self, opens: Opens, qtbot: QtBot
    ) -> None:
        window = opens(front(paths.data_folder(), asks_first=True))
        assert window.settings is not None
        screen = window.settings.screen
        assert window.settings.is_asking
        shown(window)
        window.begin_demo(ORDER)
        assert window.model is None
        known(window, qtbot)
        assert window.settings.screen is screen
        assert window.stack.currentWidget() is screen

    def test_a_check_that_was_cut_off_comes_before_them(self, opens: Opens, qtbot: QtBot) -> None:
        interrupted_check()
        window = opens(front(paths.data_folder(), asks_first=True))
        shown(window)
        known(window, qtbot)
        assert isinstance(window.stack.currentWidget(), OpenChecksScreen)
        assert window.settings is not None
        assert window.settings.screen is None


def interrupted_check() -> None:
    """Leave a check behind that was cut off with its plug in."""
    worked_and_cut_off(at(Stage.FLUID))


class TestInterrupted:
    @pytest.fixture
    def replays(self, monkeypatch: pytest.MonkeyPatch) -> list[threading.Thread]:
        """In which threads records are gone through."""
        done: list[threading.Thread] = []
        real = reducer.replay

        def replay(events: Sequence[Event]) -> CheckState:
            done.append(threading.current_thread())
            return real(events)

        monkeypatch.setattr(reducer, "replay", replay)
        return done

    def test_its_record_is_gone_through_once_and_never_by_the_window(
        self, opens: Opens, qtbot: QtBot, folder: Path, replays: list[threading.Thread]
    ) -> None:
        interrupted_check()
        replays.clear()
        window = opens(front(folder))
        shown(window)
        assert window.looking.is_busy or replays
        known(window, qtbot)
        assert isinstance(window.stack.currentWidget(), OpenChecksScreen)
        assert len(replays) == 1
        assert threading.main_thread() not in replays
        window._show_home()
        assert not window.looking.is_busy
        assert len(replays) == 1

    def test_one_that_is_new_is_gone_through_aside_too(
        self, opens: Opens, qtbot: QtBot, folder: Path, replays: list[threading.Thread]
    ) -> None:
        window = opens(front(folder))
        shown(window)
        known(window, qtbot)
        assert at_home(window)
        interrupted_check()
        replays.clear()
        window._show_home()
        assert window.looking.is_busy
        assert window.home.vehicle.missing.text() == LOOKING
        known(window, qtbot)
        assert isinstance(window.stack.currentWidget(), OpenChecksScreen)
        assert threading.main_thread() not in replays
