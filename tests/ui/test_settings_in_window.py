"""Settings and the first start, through the real window with a real data folder."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from ending import let_end
from label_fit import clipped_texts
from PySide6.QtCore import QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from window_hands import Hands

from brimline import desk_front, paths, translation
from brimline.bootstrap import Bay
from brimline.config import DEMO_SHOP, FILE_NAME, SoundSettings, read_settings
from brimline.procedure import events as ev
from brimline.procedure.events import Origin
from brimline.ui.main_window import MainWindow, open_window
from brimline.ui.samples.capture import EVERY_SIZE, settle
from brimline.ui.screens.first_run import FirstRunScreen
from brimline.ui.screens.settings import SettingsScreen
from brimline.ui.tokens import DARK, LIGHT

Opens = Callable[..., MainWindow]


@pytest.fixture
def folder() -> Path:
    made = paths.data_folder()
    made.mkdir(parents=True, exist_ok=True)
    return made


@pytest.fixture
def opens(qtbot: QtBot, qapp: QApplication, folder: Path) -> Iterator[Opens]:
    """Open the window as the program does at its start."""
    made, before = [], set(threading.enumerate())

    def open_it(*, asks_first: bool = True, sound: object = None) -> MainWindow:
        settings = read_settings(folder)
        services = desk_front.window_services(
            folder, settings, settings.unit_system, asks_first=asks_first
        )
        services = replace(services, sound_test=sound)  # type: ignore[arg-type] # a test's
        window = open_window(qapp, services, LIGHT)
        window.resize(1280, 800)
        window.show()
        window.activateWindow()
        made.append((window, services))
        qtbot.waitUntil(lambda: not window.looking.is_busy, timeout=30_000)
        settle()
        return window

    yield open_it
    for window, services in made:
        window.end_check()
        window.close()
        window.deleteLater()
        if services.keeping is not None:
            services.keeping.close()
    let_end(before, 30.0)  # a driver that was asked for adapters answers in its own time
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    translation.speak(None)


def first_of(window: MainWindow) -> FirstRunScreen:
    assert window.settings is not None
    assert isinstance(window.settings.screen, FirstRunScreen)
    assert window.stack.currentWidget() is window.settings.screen
    return window.settings.screen


def settings_of(window: MainWindow) -> SettingsScreen:
    assert window.settings is not None
    assert isinstance(window.settings.screen, SettingsScreen)
    assert window.stack.currentWidget() is window.settings.screen
    return window.settings.screen


def at_home(window: MainWindow) -> bool:
    return window.stack.currentWidget() is window.home


def settled(window: MainWindow) -> SettingsScreen:
    """The settings of a bay that was asked before."""
    window.home.settings.click()
    return settings_of(window)


class TestFirstStart:
    def test_a_new_bay_is_asked_and_the_answers_are_kept(self, opens: Opens, folder: Path) -> None:
        window = opens()
        screen = first_of(window)
        hands = Hands(window, keyboard=True)
        hands.type(screen.shop, "Millford Drives")
        hands.press(screen.units.systems["us"])
        hands.press(screen.go)
        assert at_home(window)
        settings = read_settings(folder)
        assert (settings.shop_name, settings.units) == ("Millford Drives", "us")
        assert window.header.subject.text() == "Millford Drives"
        window.close()
        assert at_home(opens())

    def test_everything_may_be_left_as_it_is(self, opens: Opens, folder: Path) -> None:
        window = opens()
        Hands(window, keyboard=False).press(first_of(window).go)
        assert at_home(window)
        assert (folder / FILE_NAME).read_text("utf-8") == ""
        window.close()
        assert at_home(opens())

    def test_a_demonstration_is_one_press_away_and_keeps_nothing(
        self, opens: Opens, folder: Path
    ) -> None:
        window = opens()
        screen = first_of(window)
        assert DEMO_SHOP in " ".join(each.text() for each in screen.findChildren(type(screen.said)))
        Hands(window, keyboard=False).press(screen.demo)
        assert window.model is not None
        opened = window.model.state.opened
        assert (opened.origin, opened.shop) == (Origin.TRAINING, DEMO_SHOP)
        assert "invented" in opened.shop
        window.model.tap(ev.CheckAborted, reason="enough")
        window.model.close(recheck_after_drive=False)
        window.leave.click()
        assert not (folder / FILE_NAME).exists()
        first_of(window)

    def test_the_connection_may_be_chosen_at_once(self, opens: Opens) -> None:
        window = opens()
        first_of(window).connect_button.click()
        assert window.stack.currentWidget() is window.connection
        assert window.connection is not None
        window.connection.leave.click()
        assert at_home(window)

    def test_another_language_is_spoken_at_once_and_what_was_typed_stays(
        self, opens: Opens, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        window = opens()
        spoken: list[str] = []
        monkeypatch.setattr(
            "brimline.ui.language.use", lambda _app, code, _folder: spoken.append(code) or ""
        )
        first = first_of(window)
        first.shop.setText("Millford Drives")
        first.language.setCurrentIndex(first.language.findData("es"))
        assert spoken == ["es"]
        second = first_of(window)
        assert second is not first
        assert second.shop.text() == "Millford Drives"
        assert second.language.currentData() == "es"

    def test_nobody_is_asked_who_has_settings_or_begins_otherwise(
        self, opens: Opens, folder: Path
    ) -> None:
        assert at_home(opens(asks_first=False))
        assert not (folder / FILE_NAME).exists()
        (folder / FILE_NAME).write_text('units = "us"\n', "utf-8")
        assert at_home(opens())

    def test_a_folder_that_takes_nothing_is_said_in_a_sentence(
        self, opens: Opens, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        window = opens()
        screen = first_of(window)

        def refuse(_path: Path, _target: object) -> None:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr(Path, "replace", refuse)
        screen.go.click()
        assert "cannot be written" in screen.said.text()
        assert screen.said.isVisible()
        first_of(window)


class TestShop:
    def test_a_service_never_belongs_to_the_invented_shop(self, folder: Path) -> None:
        bay = Bay(folder, read_settings(folder))
        assert [bay.shop_name(origin) for origin in Origin] == [
            "" if origin in (Origin.LIVE, Origin.KEYED) else DEMO_SHOP for origin in Origin
        ]
        (folder / FILE_NAME).write_text('shop_name = "Millford Drives"\n', "utf-8")
        bay = Bay(folder, read_settings(folder))
        assert {bay.shop_name(origin) for origin in Origin} == {"Millford Drives"}


@pytest.mark.usefixtures("asked")
class TestSettings:
    @pytest.fixture
    def asked(self, folder: Path) -> None:
        (folder / FILE_NAME).write_text('# ours\nshop_name = "Millford Drives"\n', "utf-8")

    def test_units_chosen_are_shown_at_once_everywhere(self, opens: Opens, folder: Path) -> None:
        window = opens()
        screen = settled(window)
        form = screen.units
        assert form.shown.text() == "65 °C · 0.40 L · 84,210 km · 22.0 N·m"
        hands = Hands(window, keyboard=False)
        hands.press(form.systems["us"])
        # 65 °C = 149 °F, 0.4 L = 0.423 US qt, 84,210 km = 52,325.7 mi, 22 N·m = 194.7 in·lbf
        # (NIST SP 811, appendix B).
        assert form.shown.text() == "149 °F · 0.42 US qt · 52,326 mi · 194.7 in·lbf"
        torque = next(box for kind, box in form.singles.items() if kind.value == "torque")
        torque.setCurrentText("ft·lbf")
        assert form.shown.text().endswith("52,326 mi · 16.2 ft·lbf")
        hands.press(screen.save_button)
        assert at_home(window)
        settings = read_settings(folder)
        assert (settings.units, settings.units_of.torque) == ("us", "ft·lbf")
        assert settings.units_of.temperature == ""
        assert "# ours" in (folder / FILE_NAME).read_text("utf-8")
        window.home.vehicle.technician.setText("R. Calloway")
        window.home.vehicle.keyed.setChecked(True)
        window.home.vehicle.go.click()
        assert window.check is not None
        assert window.check.by_hand.temperature.placeholderText().endswith("°F")

    def test_by_key_and_never_during_a_check(self, opens: Opens) -> None:
        window = opens()
        QTest.keyClick(window.home, Qt.Key.Key_F2)
        QTest.keyClick(settings_of(window).shop, Qt.Key.Key_Escape)
        assert at_home(window)
        window.home.go.click()
        assert window.model is not None
        window.show_settings()
        assert window.stack.currentWidget() is window.check

    def test_shop_look_distance_and_sound_are_kept(self, opens: Opens, folder: Path) -> None:
        window = opens()
        screen = settled(window)
        screen.shop.setText("  Mill & Sons ")
        screen.address.setPlainText("12 Mill Lane\n\n  Millford\n")
        screen.phone.setText("555 0117")
        screen.look.setCurrentIndex(screen.look.findData("dark"))
        screen.distance.setCurrentIndex(screen.distance.findData(6.0))
        screen.volume.setCurrentIndex(screen.volume.findData(30))
        screen.muted.setChecked(True)
        screen.voice.setChecked(False)
        # 6.40 mm for each metre at 22 minutes of arc, 4.65 mm at 16: as tabulated for 2·D·tan(α/2)
        assert "38 mm" in screen.height_words.text()
        assert "28 mm" in screen.height_words.text()
        screen.save_button.click()
        kept = read_settings(folder)
        assert (kept.shop_name, kept.shop_phone) == ("Mill & Sons", "555 0117")
        assert kept.shop_address == ("12 Mill Lane", "Millford")
        assert (kept.display.look, kept.display.reading_distance_m) == ("dark", 6.0)
        assert kept.sound == SoundSettings(volume=30, muted=True, voice=False)
        assert window.header.subject.text() == "Mill & Sons"
        assert window._palette is DARK

    def test_a_look_is_seen_at_once_and_goes_with_what_is_not_saved(
        self, opens: Opens, folder: Path
    ) -> None:
        window = opens()
        screen = settled(window)
        screen.look.setCurrentIndex(screen.look.findData("dark"))
        assert window._palette is DARK
        screen.leave.click()
        assert at_home(window)
        assert window._palette is LIGHT
        assert read_settings(folder).display.look == "light"

    @pytest.mark.parametrize("where", ["connection", "backups"])
    def test_the_ways_keep_what_was_chosen(self, opens: Opens, folder: Path, where: str) -> None:
        window = opens()
        screen = settled(window)
        screen.phone.setText("555 0117")
        way = next(each for each in screen.ways if each.text().lower().startswith(where))
        way.click()
        assert read_settings(folder).shop_phone == "555 0117"
        assert not at_home(window)
        assert window.stack.currentWidget() in (
            window.connection, window.records.screen if window.records else None,
        )  # fmt: skip

    def test_sound_is_tried_as_it_is_chosen(self, opens: Opens) -> None:
        heard: list[SoundSettings] = []

        def sound(settings: SoundSettings) -> str:
            heard.append(settings)
            return "Three tones, then a sentence."

        window = opens(sound=sound)
        screen = settled(window)
        screen.volume.setCurrentIndex(screen.volume.findData(50))
        screen.test.click()
        assert heard == [SoundSettings(volume=50, muted=False, voice=True)]
        assert screen.heard.text() == "Three tones, then a sentence."

    def test_without_sound_there_is_no_test(self, opens: Opens) -> None:
        assert not settled(opens()).test.isVisible()

    def test_saving_again_and_again_leaves_nothing_behind(self, opens: Opens) -> None:
        window = opens()
        counts = []
        for _ in range(3):
            settled(window).save_button.click()
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
            QApplication.processEvents()
            counts.append(len(window.findChildren(object)))
        assert counts[0] == counts[1] == counts[2]


def test_no_text_is_cut_on_either_screen(opens: Opens) -> None:
    misfits: list[str] = []
    window = opens(sound=lambda _sound: "Three tones, then a sentence.")

    def look(name: str) -> None:
        for each in EVERY_SIZE:
            window.resize(each.width, each.height)
            window.set_palette(each.palette)
            settle()
            misfits.extend(f"{name} {each.name}: {fault}" for fault in clipped_texts(window))

    look("first")
    first_of(window).go.click()
    look("home")
    settled(window).test.click()
    look("settings")
    assert misfits == []
