"""What a shop chooses: its name, units, look, language, sound; kept by one button."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QPlainTextEdit, QVBoxLayout, QWidget

from brimline.config import Look, Settings, SoundSettings
from brimline.errors import BrimlineError
from brimline.translation import marked, tr
from brimline.ui.forms import Choice, TickBox, button, form, label, main_tap, panel, scrolled
from brimline.ui.hints import hint
from brimline.ui.language import LANGUAGES
from brimline.ui.legibility import LEAST_ARC, MAIN_ARC, character_height_mm
from brimline.ui.screens.check import far_plan
from brimline.ui.screens.units_form import UnitsForm
from brimline.ui.tokens import Space
from brimline.ui.touch import dots_per_inch

LOOKS: dict[Look, str] = {
    "light": marked("Light"), "dark": marked("Dark"), "system": marked("As the desktop has it"),
}  # fmt: skip
DISTANCES_M = tuple(half / 2 for half in range(2, 21))
VOLUMES = tuple(range(0, 101, 10))
ADDRESS_PX = 92


@dataclass(frozen=True)
class SettingsActs:
    """What the settings lead to.

    :param save: keeps them and leaves the screen; raises ``BrimlineError``.
    :param wear: shows a look at once, before it is kept.
    :param connection: and ``backups``: lead to the screens of those; ``None`` where there is none.
    :param sound_test: as :class:`.ui.services.Services` has it.
    """

    save: Callable[[Settings], None]
    back: Callable[[], None]
    wear: Callable[[Look], None]
    connection: Callable[[], None] | None = None
    backups: Callable[[], None] | None = None
    sound_test: Callable[[SoundSettings], str] | None = None


class SettingsScreen(QWidget):
    """Shop and ways on the left, units in the middle, look and sound on the right."""

    def __init__(self, settings: Settings, acts: SettingsActs) -> None:
        super().__init__()
        self._settings, self._acts = settings, acts
        self.shop = QLineEdit(settings.shop_name)
        hint(self.shop, tr("as it stands on the work summary"))
        self.address = QPlainTextEdit("\n".join(settings.shop_address))
        self.address.setFixedHeight(ADDRESS_PX)
        self.address.setTabChangesFocus(True)
        self.phone = QLineEdit(settings.shop_phone)
        self.units = UnitsForm(settings, singles=True)
        self.said = label("", "bad")
        self.save_button = button(tr("Save"), self._save, "next")
        self.leave = main_tap(button(tr("Back without saving"), self._leave))
        self._make_display()
        self._make_sound()
        self._lay_out()
        escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self, self._leave)
        escape.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)

    def _make_display(self) -> None:
        display = self._settings.display
        self.look, self.language, self.distance = Choice(), Choice(), Choice()
        for look, words in LOOKS.items():
            self.look.addItem(tr(words), look)
        for code, name in LANGUAGES.items():
            self.language.addItem(name, code)
        for metres in sorted({*DISTANCES_M, display.reading_distance_m}):
            self.distance.addItem(f"{metres:g} m", metres)
        self.height_words = label("", "soft")
        self.distance.currentIndexChanged.connect(lambda _at: self._show_height())
        for box, chosen in (
            (self.look, display.look),
            (self.language, display.language),
            (self.distance, display.reading_distance_m),
        ):
            box.setCurrentIndex(box.findData(chosen))
        self.look.currentIndexChanged.connect(lambda _at: self._acts.wear(self._look_chosen()))
        self._show_height()

    def _make_sound(self) -> None:
        sound = self._settings.sound
        self.volume = Choice()
        for percent in sorted({*VOLUMES, sound.volume}):
            self.volume.addItem(f"{percent} %", percent)
        self.volume.setCurrentIndex(self.volume.findData(sound.volume))
        self.muted = TickBox(tr("Mute everything"))
        self.muted.setChecked(sound.muted)
        self.voice = TickBox(tr("Speak prompts"))
        self.voice.setChecked(sound.voice)
        self.test = button(tr("Test the sound"), self._test)
        self.test.setVisible(self._acts.sound_test is not None)
        self.heard = label("", "soft")
        self.heard.hide()

    def _lay_out(self) -> None:
        columns = QWidget()
        row = QHBoxLayout(columns)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(Space.LARGE)
        for frame in (self._shop_panel(), self._units_panel(), self._right_panel()):
            row.addWidget(frame, 1)
        foot = QHBoxLayout()
        foot.setSpacing(Space.MEDIUM)
        foot.addWidget(self.leave)
        foot.addWidget(self.said, 1)
        foot.addWidget(self.save_button)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(Space.WIDE, Space.LARGE, Space.WIDE, Space.LARGE)
        whole.setSpacing(Space.MEDIUM)
        whole.addWidget(scrolled(columns), 1)
        whole.addLayout(foot)

    def _shop_panel(self) -> QFrame:
        frame = panel(
            label(tr("Shop"), "title"),
            form(
                (tr("Name"), self.shop),
                (tr("Address"), self.address),
                (tr("Telephone"), self.phone),
            ),
        )
        ways = (
            (tr("Connection to the vehicle's bus…"), self._acts.connection),
            (tr("Backups…"), self._acts.backups),
        )
        self.ways = [button(words, self._goes_to(way)) for words, way in ways if way is not None]
        column = frame.layout()
        assert isinstance(column, QVBoxLayout)
        if self.ways:
            column.addWidget(label(tr("Elsewhere"), "heading"))
        for made in self.ways:
            column.addWidget(made)
        column.addStretch(1)
        return frame

    def _units_panel(self) -> QFrame:
        frame = panel(
            label(tr("Units"), "title"),
            self.units,
            label(
                tr("Records keep one unit for each kind of quantity; they are shown in these."),
                "soft",
            ),
        )
        column = frame.layout()
        assert isinstance(column, QVBoxLayout)
        column.addStretch(1)
        return frame

    def _right_panel(self) -> QFrame:
        frame = panel(
            label(tr("Look and language"), "title"),
            form(
                (tr("Look"), self.look),
                (tr("Language"), self.language),
                (tr("Read from"), self.distance),
            ),
            self.height_words,
            label(tr("Sound"), "title"),
            form((tr("Volume"), self.volume)),
            self.muted,
            self.voice,
            self.test,
            self.heard,
        )
        column = frame.layout()
        assert isinstance(column, QVBoxLayout)
        column.addStretch(1)
        return frame

    def _look_chosen(self) -> Look:
        return next(look for look in LOOKS if look == self.look.currentData())

    def _show_height(self) -> None:
        metres, screen = float(self.distance.currentData()), self.screen()
        dpi = dots_per_inch(screen.physicalDotsPerInch(), screen.logicalDotsPerInch())
        height = screen.availableGeometry().height()
        main, all_of_it = far_plan.sizes(height, far_plan.wanted(metres, dpi)).reach_m(dpi)
        self.height_words.setText(
            tr(
                "The far view then wants its main words {main} mm high and all others {rest} mm. "
                "On this screen the main ones are read from {reach} m, all from {all} m.",
                main=f"{character_height_mm(metres, MAIN_ARC):.0f}",
                rest=f"{character_height_mm(metres, LEAST_ARC):.0f}",
                reach=f"{main:.1f}",
                all=f"{all_of_it:.1f}",
            )
        )

    def _sound_chosen(self) -> SoundSettings:
        return SoundSettings(
            volume=int(self.volume.currentData()),
            muted=self.muted.isChecked(),
            voice=self.voice.isChecked(),
        )

    def chosen(self) -> Settings:
        """Return the settings as they are chosen."""
        display = self._settings.display.model_copy(
            update={
                "look": self._look_chosen(),
                "language": self.language.currentData(),
                "reading_distance_m": float(self.distance.currentData()),
            }
        )
        lines = (line.strip() for line in self.address.toPlainText().splitlines())
        return self._settings.model_copy(
            update={
                "shop_name": self.shop.text().strip(),
                "shop_address": tuple(line for line in lines if line),
                "shop_phone": self.phone.text().strip(),
                "units": self.units.system,
                "units_of": self.units.choices,
                "display": display,
                "sound": self._sound_chosen(),
            }
        )

    def _test(self) -> None:
        if self._acts.sound_test is None:
            return
        try:
            self.heard.setText(self._acts.sound_test(self._sound_chosen()))
        except BrimlineError as error:
            self.heard.setText(error.sentence)
        self.heard.show()

    def _goes_to(self, way: Callable[[], None]) -> Callable[[], None]:
        """What was chosen is kept on the way, so that nothing is lost."""
        return lambda: way() if self._save() else None

    def _save(self) -> bool:
        self.said.setText("")
        try:
            self._acts.save(self.chosen())
        except BrimlineError as error:
            self.said.setText(error.sentence)
            return False
        return True

    def _leave(self) -> None:
        self._acts.wear(self._settings.display.look)
        self._acts.back()
