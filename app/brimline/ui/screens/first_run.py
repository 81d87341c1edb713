"""The very first start: whose bay this is, in which units, and the demonstration one press away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from brimline.config import Settings
from brimline.errors import BrimlineError
from brimline.translation import name_of, tr
from brimline.ui.forms import Choice, button, form, label, main_tap, panel, scrolled
from brimline.ui.hints import hint
from brimline.ui.language import LANGUAGES
from brimline.ui.screens.units_form import UnitsForm
from brimline.ui.tokens import Space

RIGHT_PX = 404


@dataclass(frozen=True)
class FirstActs:
    """What the first start leads to.

    :param save: keeps the settings and goes on to the first screen; raises ``BrimlineError``.
    :param connect: does so and goes on to the connection; ``None`` where there is no bus.
    :param speak: shows this screen in the language of these settings.
    :param demo: begins the demonstration; nothing is kept, and this screen comes back after it.
    """

    save: Callable[[Settings], None]
    connect: Callable[[Settings], None] | None
    speak: Callable[[Settings], None]
    demo: Callable[[], None]


class FirstRunScreen(QWidget):
    """Three questions on the left, each of which may be left as it is; the demonstration beside.

    :param demo_shop: the invented shop that demonstrations belong to.
    """

    def __init__(self, settings: Settings, acts: FirstActs, demo_shop: str) -> None:
        super().__init__()
        self._settings, self._acts = settings, acts
        self.shop = QLineEdit(settings.shop_name)
        hint(self.shop, tr("as it stands on the work summary; may wait"))
        self.language = Choice()
        for code, name in LANGUAGES.items():
            self.language.addItem(name, code)
        self.language.setCurrentIndex(self.language.findData(settings.display.language))
        self.language.currentIndexChanged.connect(lambda _at: acts.speak(self.chosen()))
        self.units = UnitsForm(settings, singles=False)
        self.said = label("", "bad")
        self.said.hide()
        self.go = button(tr("To the first screen"), self._save, "next")
        self.connect_button = main_tap(button(tr("Choose the connection now…"), self._connect))
        self.connect_button.setVisible(acts.connect is not None)
        self.demo = button(tr("Try a demonstration first"), acts.demo, "fact")
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.WIDE, Space.LARGE, Space.WIDE, Space.LARGE)
        row.setSpacing(Space.WIDE)
        row.addWidget(self._left(), 1)
        row.addWidget(self._right(demo_shop))

    def _left(self) -> QFrame:
        frame = panel(
            label(tr("This bay is new"), "title"),
            label(
                tr(
                    "Leave whatever you do not know yet: all of it is found again under "
                    "“Settings…” on the first screen."
                ),
                "soft",
            ),
        )
        column = frame.layout()
        assert isinstance(column, QVBoxLayout)
        column.addWidget(
            scrolled(
                form((tr("Shop"), self.shop), (tr("Language"), self.language)),
                label(tr("Units"), "heading"),
                self.units,
                label(tr("Connection to the vehicle's bus"), "heading"),
                label(
                    tr(
                        "Not needed where temperatures are keyed from an instrument; it may be "
                        "chosen at any time."
                    ),
                    "soft",
                ),
            ),
            1,
        )
        column.addWidget(self.said)
        foot = QHBoxLayout()
        foot.setSpacing(Space.SMALL)
        foot.addWidget(self.connect_button, 1)
        foot.addWidget(self.go, 1)
        column.addLayout(foot)
        return frame

    def _right(self, demo_shop: str) -> QFrame:
        frame = panel(
            label(tr("Demonstration"), "title"),
            label(
                tr(
                    "A whole check on a simulated vehicle, with every button working. Nothing of "
                    "it touches a vehicle. Its record is marked as training: the list of finished "
                    "checks shows it only with “Training and replays too” ticked."
                )
            ),
            label(
                tr("It belongs to a shop of its own: {shop}. Vehicles, fluids and people are "
                   "invented too.", shop=name_of(demo_shop)),
                "soft",
            ),
            self.demo,
        )  # fmt: skip
        frame.setFixedWidth(RIGHT_PX)
        column = frame.layout()
        assert isinstance(column, QVBoxLayout)
        column.addStretch(1)
        return frame

    def chosen(self) -> Settings:
        """Return the settings as they are chosen."""
        display = self._settings.display.model_copy(
            update={"language": self.language.currentData()}
        )
        return self._settings.model_copy(
            update={
                "shop_name": self.shop.text().strip(),
                "units": self.units.system,
                "display": display,
            }
        )

    def _save(self) -> None:
        self._keep(self._acts.save)

    def _connect(self) -> None:
        if self._acts.connect is not None:
            self._keep(self._acts.connect)

    def _keep(self, keep: Callable[[Settings], None]) -> None:
        try:
            keep(self.chosen())
        except BrimlineError as error:
            self.said.setText(error.sentence)
            self.said.show()
