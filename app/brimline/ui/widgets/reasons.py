"""Why a gate is closed, as sentences: as many as there is room for, and how many more there are."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from brimline.procedure import gates
from brimline.procedure.reasons import OVERRIDABLE, SAFETY, Code, Reason
from brimline.translation import counted, marked, tr
from brimline.ui.forms import button, label
from brimline.ui.tokens import TOUCH, Space
from brimline.ui.widgets.marks import Mark, Shape, set_role
from brimline.units import UnitSystem
from brimline.wording import sentence

_MARK = 22  # px

LEAST_PX = 48
"""Room for one reason with its button."""

BRIEF_PX = 120
"""In less room locked reasons say by their symbol alone that nobody overrides them."""

MOST_PX = 960
"""Wider, a reason and its button would stand too far apart to be seen as one."""

Key = tuple[Code, str]


class ReasonList(QWidget):
    """The reasons against a step under a heading, those that nobody overrides first.

    Rows are made anew only for reasons that were not there before; numbers change in place. A row
    is shown whole or not at all. Where some are not shown, a button says how many, and asks for
    more room; where that does not suffice it turns to the next ones.

    ``override_asked`` carries the :class:`Reason` whose “Override…” was pressed, ``widened``
    whether the list wants the room of what stands above it.

    :param none: what is said where no reason stands.
    """

    override_asked = Signal(object)
    widened = Signal(bool)

    def __init__(
        self, units: UnitSystem, heading: str, none: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._units = units
        self._rows: dict[Key, ReasonRow] = {}
        self._first = 0
        self.is_wide = False
        titled = label(heading, "heading")
        titled.setWordWrap(False)  # wrapped words would ask for more height than there must be
        titled.setMinimumHeight(TOUCH)  # buttons beside it come and go, and the rows stay
        self.more = button("", self._show_more)
        self.narrow = button(tr("Chart"), lambda: self.widen(wide=False))
        self.narrow.setToolTip(tr("Show the chart again"))
        head = QHBoxLayout()
        head.setSpacing(Space.SMALL)
        head.addWidget(titled, 1)
        for made in (self.more, self.narrow):
            made.hide()
            head.addWidget(made)
        self._body = _Body(self._arrange)
        self._open = _OpenRow(none, self._body)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.HAIR)
        column.addLayout(head)
        column.addWidget(self._body, 1)

    def show_reasons(self, reasons: tuple[Reason, ...]) -> None:
        """Show these reasons."""
        ordered = sorted(reasons, key=lambda reason: not is_locked(reason))
        keys = [reason.key for reason in ordered]
        others = keys != list(self._rows)
        if others:
            self._rearrange(ordered)
        said = [self._rows[reason.key].say(reason, self._units) for reason in ordered]
        if others or any(said):
            self._arrange()

    def set_units(self, units: UnitSystem) -> None:
        """Write numbers in other units."""
        self._units = units
        for row in self._rows.values():
            row.say(row.reason, units)
        self._arrange()

    def widen(self, *, wide: bool) -> None:
        """Ask for the room of what stands above, or give it back; the keyboard stays here."""
        if wide is self.is_wide:
            return
        held = self.more.hasFocus() or self.narrow.hasFocus()
        self.is_wide, self._first = wide, 0
        self.widened.emit(wide)
        self._arrange()
        if held:
            (self.narrow if wide else self.more).setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_more(self) -> None:
        if not self.is_wide:
            self.widen(wide=True)
            return
        last = self._first + len(self.in_sight)
        self._first = last if last < len(self._rows) else 0
        self._arrange()

    @property
    def in_sight(self) -> list[ReasonRow]:
        """The rows that are shown, from the top."""
        return [row for row in self._rows.values() if not row.isHidden()]

    def _rearrange(self, ordered: list[Reason]) -> None:
        """Let rows go whose reason is gone, make those that are new, keep the others."""
        kept = {reason.key: self._rows.pop(reason.key, None) for reason in ordered}
        for row in self._rows.values():
            row.hide()
            row.deleteLater()
        self._rows = {}
        for reason in ordered:
            row = kept[reason.key] or ReasonRow(reason, self._units, self._ask, self._body)
            self._rows[reason.key] = row
        self._first = 0

    def _ask(self, reason: Reason) -> None:
        self.override_asked.emit(reason)

    def _arrange(self) -> None:
        """Put as many rows as there is room for under each other, whole, and at least one."""
        width, room = min(self._body.width(), MOST_PX), self._body.height()
        rows = list(self._rows.values())
        for row in rows:
            row.be_brief(brief=room < BRIEF_PX)
        heights = [row.heightForWidth(width) for row in rows]
        self._body.setMinimumHeight(max([LEAST_PX, *heights]))
        self._open.setVisible(not rows)
        self._open.setGeometry(0, 0, width, max(room, self._open.heightForWidth(width)))
        y, shown = 0, 0
        for row, height in zip(rows[self._first :], heights[self._first :], strict=True):
            if shown and y + height > room:
                break
            row.setGeometry(0, y, width, height)
            y, shown = y + height, shown + 1
        last = self._first + shown
        for at, row in enumerate(rows):
            row.setVisible(self._first <= at < last)
        self._offer(after=len(rows) - last, hidden=len(rows) - shown)

    def _offer(self, *, after: int, hidden: int) -> None:
        words = counted(after, _ONE_MORE, _MORE) if after else tr("From the top")
        if self.more.text() != words:
            self.more.setText(words)
        if not hidden and self.more.hasFocus():
            self.setFocus(Qt.FocusReason.OtherFocusReason)  # and not on to another button
        self.more.setVisible(hidden > 0)
        self.narrow.setVisible(self.is_wide)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Begin with the first in another room."""
        super().resizeEvent(event)
        self._first = 0


_ONE_MORE, _MORE = marked("One more"), marked("{count} more")


class _Body(QWidget):
    """Holds the rows, and has them arranged for its size."""

    def __init__(self, arrange: Callable[[], None]) -> None:
        super().__init__()
        self._arrange = arrange

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Arrange them anew."""
        super().resizeEvent(event)
        self._arrange()


def is_locked(reason: Reason) -> bool:
    """Return whether no person may override the reason."""
    return reason.code in SAFETY or reason.word in gates.NEVER_OVERRIDDEN_ITEMS


class ReasonRow(QFrame):
    """One reason: what is the matter, and whether a person may override it.

    :param ask: is told of the reason as it stands when “Override…” is pressed.
    """

    def __init__(
        self,
        reason: Reason,
        units: UnitSystem,
        ask: Callable[[Reason], object],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.reason = reason
        self._ask = ask
        self._locked = is_locked(reason)
        self._text, self._brief = label(""), False
        self._said = ""
        row = _row(self)
        mark = Mark(Shape.LOCK if self._locked else Shape.DOT, _MARK)
        set_role(mark, "bad" if self._locked else "soft")
        row.addWidget(mark)
        row.addWidget(self._text, 1)
        if not self._locked and reason.code in OVERRIDABLE:
            row.addWidget(self._button())
        self.say(reason, units)

    def _button(self) -> QPushButton:
        made = button(tr("Override…"), self._pressed)
        made.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        made.ensurePolished()
        made.setMinimumWidth(made.sizeHint().width() + Space.SMALL)  # the focus frame is wider
        return made

    def _pressed(self) -> None:
        self._ask(self.reason)

    def say(self, reason: Reason, units: UnitSystem) -> bool:
        """Write the reason with its numbers as they are now; return whether that is new."""
        self.reason = reason
        before, self._said = self._said, sentence(reason, units)
        if self._said != before:
            self._write()
        return self._said != before

    def be_brief(self, *, brief: bool) -> None:
        """Leave out what the symbol says, or say it too."""
        if brief is not self._brief:
            self._brief = brief
            self._write()

    def _write(self) -> None:
        whole = self._said
        if self._locked:
            whole = tr("{reason} Cannot be overridden.", reason=self._said)
        self.setAccessibleName(whole)
        text = self._said if self._brief else whole
        if text != self._text.text():
            self._text.setText(text)


class _OpenRow(QFrame):
    """What stands where nothing is against the step."""

    def __init__(self, text: str, parent: QWidget) -> None:
        super().__init__(parent)
        said = label(text, "good")
        mark = Mark(Shape.CHECK, _MARK)
        set_role(mark, "good")
        row = _row(self)
        row.addWidget(mark)
        row.addWidget(said, 1)


def _row(frame: QFrame) -> QHBoxLayout:
    """Lay a row out whose height follows from its wrapped words."""
    row = QHBoxLayout(frame)
    row.setContentsMargins(0, Space.HAIR, 0, Space.HAIR)
    row.setSpacing(Space.SMALL)
    return row
