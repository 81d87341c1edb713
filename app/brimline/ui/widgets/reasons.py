"""Why a gate is closed, as sentences."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from brimline.procedure import gates
from brimline.procedure.reasons import OVERRIDABLE, SAFETY, Code, Reason
from brimline.translation import tr
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import Mark, Shape, set_role
from brimline.units import UnitSystem
from brimline.wording import sentence

_MARK = 22  # px

Key = tuple[Code, str]


class ReasonList(QScrollArea):
    """The reasons against a step, those that nobody overrides first.

    Rows are made anew only for reasons that were not there before; numbers change in place.
    """

    override_asked = Signal(object)
    """Emits the :class:`Reason` whose “Override…” was pressed."""

    def __init__(self, units: UnitSystem, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units = units
        self._rows: dict[Key, ReasonRow] = {}
        self._open = _OpenRow(tr("The gate is open."))
        body = QWidget()
        self._column = QVBoxLayout(body)
        self._column.setContentsMargins(0, 0, Space.SMALL, 0)
        self._column.setSpacing(Space.TIGHT)
        self._column.addWidget(self._open)
        self._column.addStretch(1)
        self.setWidget(body)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumSize(320, 96)

    def set_open_text(self, text: str) -> None:
        """Say this where no reason stands."""
        self._open.say(text)

    def show_reasons(self, reasons: tuple[Reason, ...]) -> None:
        """Show these reasons."""
        ordered = sorted(reasons, key=lambda reason: not is_locked(reason))
        keys = [reason.key for reason in ordered]
        if keys != list(self._rows):
            self._rearrange(ordered)
        for reason in ordered:
            self._rows[reason.key].say(reason, self._units)
        self._open.setVisible(not ordered)

    def set_units(self, units: UnitSystem) -> None:
        """Write numbers in other units."""
        self._units = units
        for row in self._rows.values():
            row.say(row.reason, units)

    def _rearrange(self, ordered: list[Reason]) -> None:
        """Let rows go whose reason is gone, make those that are new, keep the others."""
        kept = {reason.key: self._rows.pop(reason.key, None) for reason in ordered}
        for row in self._rows.values():
            self._column.removeWidget(row)
            row.hide()
            row.deleteLater()
        self._rows = {}
        for place, reason in enumerate(ordered):
            row = kept[reason.key] or ReasonRow(reason, self._units, self.override_asked.emit)
            self._rows[reason.key] = row
            self._column.insertWidget(place, row)
            row.show()  # at once: left to the layout it is seen squashed for one frame


def is_locked(reason: Reason) -> bool:
    """Return whether no person may override the reason."""
    return reason.code in SAFETY or reason.word in gates.NEVER_OVERRIDDEN_ITEMS


class ReasonRow(QFrame):
    """One reason: what is the matter, and whether a person may override it.

    :param ask: is told of the reason as it stands when “Override…” is pressed.
    """

    def __init__(self, reason: Reason, units: UnitSystem, ask: Callable[[Reason], object]) -> None:
        super().__init__()
        self.reason = reason
        self._ask = ask
        locked = is_locked(reason)
        self._text = QLabel()
        self._text.setWordWrap(True)
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self._text)
        if locked:
            never = QLabel(tr("never overridden"))
            set_role(never, "small")
            words.addWidget(never)
        row = _row(self)
        mark = Mark(Shape.LOCK if locked else Shape.DOT, _MARK)
        set_role(mark, "bad" if locked else "soft")
        row.addWidget(mark)
        row.addLayout(words, 1)
        if not locked and reason.code in OVERRIDABLE:
            row.addWidget(self._button())
        self.say(reason, units)

    def _button(self) -> QPushButton:
        button = QPushButton(tr("Override…"))
        button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        button.ensurePolished()
        button.setMinimumWidth(button.sizeHint().width() + Space.SMALL)  # the focus frame is wider
        button.clicked.connect(self._pressed)
        return button

    def _pressed(self) -> None:
        self._ask(self.reason)

    def say(self, reason: Reason, units: UnitSystem) -> None:
        """Write the reason with its numbers as they are now."""
        self.reason = reason
        text = sentence(reason, units)
        if text != self._text.text():
            self._text.setText(text)


class _OpenRow(QFrame):
    """What stands where nothing is against the step."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self._text = QLabel(text)
        self._text.setWordWrap(True)
        set_role(self._text, "good")
        mark = Mark(Shape.CHECK, _MARK)
        set_role(mark, "good")
        row = _row(self)
        row.addWidget(mark)
        row.addWidget(self._text, 1)

    def say(self, text: str) -> None:
        self._text.setText(text)


def _row(frame: QFrame) -> QHBoxLayout:
    """Lay a row out whose height follows from its wrapped words."""
    policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    policy.setHeightForWidth(True)
    frame.setSizePolicy(policy)
    row = QHBoxLayout(frame)
    row.setContentsMargins(Space.SMALL, Space.HAIR, 0, Space.HAIR)
    row.setSpacing(Space.SMALL)
    return row
