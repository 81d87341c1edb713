"""The band that nobody can miss while the disk refuses, and the question before the program ends
with something that is in memory only.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from brimline.errors import BrimlineError
from brimline.session import NotSaved, Snapshot
from brimline.translation import counted, joined, marked, tr
from brimline.ui.forms import button, label, main_tap
from brimline.ui.model import CheckModel
from brimline.ui.screens.check import far_words
from brimline.ui.screens.check.drawers import Drawer
from brimline.ui.tokens import Space
from brimline.ui.widgets.caution import draw_alert

ALERT_PX = 56

TO_DO = marked(
    "If the drive was taken away, connect it again. The check goes on; it is written by itself as "
    "soon as the disk takes it. Do not switch this computer off."
)
UNSEALED_TO_DO = marked(
    "The check is over; it is sealed by itself as soon as the disk takes it. Leave this window "
    "open, and do not switch this computer off."
)
_NOT_SAVED = (
    marked("NOT SAVED since {at}: {count} entry is only in this computer's memory"),
    marked("NOT SAVED since {at}: {count:,} entries are only in this computer's memory"),
)
_NOT_SEALED = (
    marked("NOT SEALED since {at}: {count} entry is only in this computer's memory"),
    marked("NOT SEALED since {at}: {count:,} entries are only in this computer's memory"),
)


class NotSavedBand(QFrame):
    """Across the whole check: since when nothing is saved, how much, and what to do."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "notsaved")
        self.headline = label("", "notsaved-headline")
        self.why = label("", "notsaved")
        words = QVBoxLayout()
        words.setSpacing(Space.TIGHT)
        words.addWidget(self.headline)
        words.addWidget(self.why)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        row.setSpacing(Space.LARGE)
        row.addWidget(_Alert(self))
        row.addLayout(words, 1)
        self.hide()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show what is not saved; nothing while all is well."""
        now = snapshot.not_saved
        self.setVisible(now is not None)
        if now is None:
            return
        for shown, text in ((self.headline, headline(now)), (self.why, what_to_do(now))):
            if shown.text() != text:
                shown.setText(text)
        self.setAccessibleName(joined((self.headline.text(), self.why.text()), " "))


def headline(now: NotSaved) -> str:
    """Return since when nothing is saved, and how much is in memory only."""
    if not now.entries:
        return far_words.not_saved(now)
    at = f"{now.since.astimezone():%H:%M}"
    return counted(now.entries, *(_NOT_SEALED if now.unsealed else _NOT_SAVED), at=at)


def what_to_do(now: NotSaved) -> str:
    """Return why, and what to do."""
    return joined((now.why, tr(UNSEALED_TO_DO if now.unsealed else TO_DO)), " ")


def saved_again(snapshot: Snapshot) -> str:
    """Return when everything was saved again, for a while; else empty."""
    at = snapshot.saved_again
    return "" if at is None else tr("Saved again at {at:%H:%M}.", at=at.astimezone())


class _Alert(QWidget):
    """The alert symbol in the colours of the band."""

    def __init__(self, band: QWidget) -> None:
        super().__init__()
        self._band = band
        self.setFixedSize(QSize(ALERT_PX, ALERT_PX))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw it."""
        painter = QPainter(self)
        ink = self.palette().windowText().color()
        ground = self.palette().window().color()
        draw_alert(painter, QRectF(self.rect()), ink, ground)
        painter.end()


class RescueDrawer(Drawer):
    """Asks before the program ends with something that is in memory only.

    :param rescue: writes it to another place; raises ``BrimlineError``.
    :param close: closes the program.
    """

    def __init__(
        self,
        model: CheckModel,
        done: Callable[[], None],
        rescue: Callable[[], Path] | None,
        close: Callable[[], None],
    ) -> None:
        super().__init__(tr("Not everything of this check is saved"), model, done)
        self._rescue, self._close = rescue, close
        self.column.addWidget(
            label(
                tr(
                    "Best leave the program open until the disk takes it. If it must be closed, a "
                    "copy of what is not saved can be written to another place first; it is taken "
                    "in when the check goes on."
                )
            )
        )
        self.said = label("", "heading")
        self.said.hide()
        self.copy = button(tr("Write a copy to another place"), self._write, "next")
        self.close_all = button(tr("Close the program"), close, "stop")
        self.close_all.hide()
        self.column.addWidget(self.said)
        answers = QHBoxLayout()
        answers.setSpacing(Space.WIDE)
        for made in (self.copy, self.close_all, main_tap(button(tr("Leave it open"), done))):
            answers.addWidget(made)
        answers.addStretch(1)
        self.column.addLayout(answers)
        self.copy.setVisible(rescue is not None)

    def _write(self) -> None:
        if self._rescue is None:
            return
        try:
            path = self._rescue()
        except BrimlineError as error:
            self.said.setText(error.sentence)
            self.close_all.setText(tr("Close all the same, and lose it"))
        else:
            self.said.setText(tr("Written to {path}. The next start tells of it.", path=path))
            self.close_all.setText(tr("Close the program"))
        self.said.show()
        self.close_all.show()
