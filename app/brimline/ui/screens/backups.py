"""Where backups of the records go and when; and the copies there are."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from brimline.errors import BrimlineError
from brimline.translation import marked, tr
from brimline.ui.forms import Choice, button, form, label, panel
from brimline.ui.hints import hint
from brimline.ui.ports.keeping import BackupChoice, BackupLine, Keeping, WorkState
from brimline.ui.screens.copies_panel import CopiesPanel
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import set_role

WHERE = marked(
    "Choose a folder on another disk or a share: a copy beside the records is lost with them. Each "
    "bay needs a folder of its own."
)
WHEN = marked(
    "One is made after each check, and when the newest is older than this. Each is read back and "
    "checked. Of older ones the last of each day, week and month is kept: for 14 days, 8 weeks and "
    "24 months."
)
HOURS = (
    (1.0, marked("1 hour")),
    (4.0, marked("4 hours")),
    (24.0, marked("1 day")),
    (72.0, marked("3 days")),
    (168.0, marked("1 week")),
)
KEPT = (5, 10, 20, 50, 100)


class BackupsScreen(QWidget):
    """How backups are made on the left, the copies on the right.

    :param back: leads to the first screen.
    """

    def __init__(self, keeping: Keeping, back: Callable[[], None]) -> None:
        super().__init__()
        self._keeping, self._back = keeping, back
        self._was_busy = False
        self.folder = QLineEdit()
        hint(self.folder, tr("no folder: no backups"))
        self.choose = button(tr("Choose…"), self._choose)
        self.hours, self.keep = Choice(), Choice()
        self.said, self.line = label("", "bad"), label("")
        self.save_button = button(tr("Save"), self._save, "next")
        self.now = button(tr("Back up now"), self._now)
        self.leave = button(tr("Back"), self._leave)
        self.said.hide()
        self.copies = CopiesPanel(keeping, self._restored, self._show_busy, asks=True)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.WIDE, Space.LARGE, Space.WIDE, Space.LARGE)
        row.setSpacing(Space.WIDE)
        row.addWidget(self._left())
        row.addWidget(self.copies, 1)
        self._show_choice()

    def _left(self) -> QWidget:
        self.folder.setAccessibleName(tr("Folder"))
        frame = panel(
            label(tr("Backups"), "title"),
            label(tr(WHERE), "soft"),
            self.folder,
            self.choose,
            form((tr("At the latest after"), self.hours), (tr("Newest kept"), self.keep)),
            label(tr(WHEN), "soft"),
            self.said,
            self.line,
        )  # fmt: skip
        frame.setFixedWidth(440)
        column = frame.layout()
        assert isinstance(column, QVBoxLayout)
        column.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(Space.SMALL)
        for made in (self.leave, self.now, self.save_button):
            buttons.addWidget(made, 1)
        column.addLayout(buttons)
        return frame

    def _show_choice(self) -> None:
        try:
            choice = self._keeping.choice()
        except BrimlineError as error:
            choice = BackupChoice()
            self._say(error.sentence)
        self.folder.setText(choice.folder)
        hours = {choice.every_hours: tr("{hours:g} hours", hours=choice.every_hours)} | dict(HOURS)
        for every, words in sorted(hours.items()):
            self.hours.addItem(tr(words), every)
        for kept in sorted({choice.keep, *KEPT}):
            self.keep.addItem(str(kept), kept)
        self.hours.setCurrentIndex(self.hours.findData(choice.every_hours))
        self.keep.setCurrentIndex(self.keep.findData(choice.keep))

    def show_line(self, line: BackupLine) -> None:
        """Show how backups stand; what has been made is listed."""
        set_role(self.line, "alarm" if line.loud else "soft")
        self.line.setText(line.words)
        self.now.setEnabled(not line.busy and not self.copies.is_busy)
        if self._was_busy and not line.busy and not self.copies.is_busy:
            self.copies.look_in("")
        self._was_busy = line.busy

    def _choose(self) -> None:
        folder = QFileDialog.getExistingDirectory(
            self, tr("Folder for backups"), self.folder.text()
        )
        if folder:
            self.folder.setText(folder)

    def _save(self) -> None:
        try:
            self._keeping.save(
                BackupChoice(
                    self.folder.text().strip(),
                    float(self.hours.currentData()),
                    int(self.keep.currentData()),
                )
            )
        except BrimlineError as error:
            self._say(error.sentence)
            return
        self._say("")
        self.copies.look_in("")

    def _now(self) -> None:
        self._keeping.back_up()
        self.now.setEnabled(False)

    def _restored(self, _state: WorkState) -> None:
        self.copies.look_in("")

    def _show_busy(self, busy: bool) -> None:
        for made in (self.leave, self.now, self.save_button, self.choose):
            made.setEnabled(not busy)

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))

    def _leave(self) -> None:
        self.stop()
        self._back()

    def stop(self) -> None:
        """Give up what is under way."""
        self.copies.stop()
