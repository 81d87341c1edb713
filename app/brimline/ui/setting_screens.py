"""Shows the settings, and asks for the first of them before anything else on a new bay."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QStackedWidget

from brimline.config import Look, Settings, SoundSettings
from brimline.errors import BrimlineError
from brimline.ui import language
from brimline.ui.ports.services import Services
from brimline.ui.ports.settings import SettingServices
from brimline.ui.screens.first_run import FirstActs, FirstRunScreen
from brimline.ui.screens.settings import SettingsActs, SettingsScreen


@dataclass(frozen=True)
class WindowActs:
    """What settings do to the window.

    :param renew: shows everything anew with these services, the first screen first.
    :param wear: shows everything in a look from now on.
    :param say: shows a sentence above the screen.
    :param connection: and ``backups``: ``None`` where there is none.
    """

    go_home: Callable[[], None]
    renew: Callable[[Services], None]
    wear: Callable[[Look], None]
    say: Callable[[str], None]
    demo: Callable[[], None]
    connection: Callable[[], None] | None
    backups: Callable[[], None] | None
    sound_test: Callable[[SoundSettings], str] | None


class SettingScreens:
    """The settings and the questions of the first start, a screen at a time."""

    def __init__(self, settings: SettingServices, stack: QStackedWidget, acts: WindowActs) -> None:
        self._services, self._stack, self._acts = settings, stack, acts
        self.screen: SettingsScreen | FirstRunScreen | None = None

    def stand_in(self) -> bool:
        """Ask the first questions where nobody has answered any; return whether they are up."""
        if not self._services.is_first():
            return False
        self.show_first(Settings())
        return True

    @property
    def is_asking(self) -> bool:
        """Whether the first questions are up."""
        return isinstance(self.screen, FirstRunScreen)

    def show(self) -> None:
        """Show the settings."""
        try:
            settings = self._services.read()
        except BrimlineError as error:
            self._acts.say(error.sentence)
            return
        acts = SettingsActs(
            self._save, self._acts.go_home, self._acts.wear, self._acts.connection,
            self._acts.backups, self._acts.sound_test,
        )  # fmt: skip
        self._show(SettingsScreen(settings, acts))

    def leave(self) -> None:
        """Take the screen away."""
        screen, self.screen = self.screen, None
        if screen is not None:
            self._stack.removeWidget(screen)
            screen.deleteLater()

    def _show(self, screen: SettingsScreen | FirstRunScreen) -> None:
        self.leave()
        self.screen = screen
        self._stack.addWidget(screen)
        self._stack.setCurrentWidget(screen)
        screen.shop.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_first(self, settings: Settings) -> None:
        """Show the questions of the first start, answered so far by these settings."""
        connect = None if self._acts.connection is None else self._save_and_connect
        acts = FirstActs(self._save, connect, self._speak_first, self._acts.demo)
        self._show(FirstRunScreen(settings, acts, self._services.demo_shop))

    def _speak_first(self, settings: Settings) -> None:
        self._acts.say(self._speak(settings))
        self.show_first(settings)

    def _save(self, settings: Settings) -> None:
        services = self._services.save(settings)
        cannot = self._speak(settings)
        self._acts.wear(settings.display.look)
        self._acts.renew(services)
        self._acts.say(cannot)

    def _save_and_connect(self, settings: Settings) -> None:
        self._save(settings)
        if self._acts.connection is not None:
            self._acts.connection()

    def _speak(self, settings: Settings) -> str:
        app = QApplication.instance()
        assert app is not None
        return language.use(app, settings.display.language, self._services.translations)
