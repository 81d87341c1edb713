"""What is shown where the records cannot be used: what is wrong, and how to go on from a copy."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from brimline.translation import marked, tr
from brimline.ui.forms import button, form, label, panel
from brimline.ui.hints import hint
from brimline.ui.ports.keeping import Keeping, Trouble, WorkState
from brimline.ui.screens.copies_panel import CopiesPanel
from brimline.ui.tokens import Space

WORD = marked("EMPTY")
STAYS = marked(
    "What is left of the file stays where it is until a copy takes its place. Then it is moved "
    "aside in the same folder, under a name that says when. Nothing is deleted, and nothing is "
    "begun anew by itself."
)
CHOOSE = marked(
    "Choose the newest copy that holds what you need. It is checked from end to end before "
    "anything changes."
)
LEAVE = marked(
    "Checks can go on meanwhile, but what is written may be lost; the newest good backup does not "
    "grow newer."
)
ANEW = marked(
    "Where there is no copy at all: type {word} to begin with no records. What is there is moved "
    "aside as well, in case somebody can mend it."
)


class RecoveryScreen(QWidget):
    """What is wrong on the left, the copies on the right.

    :param back: leads to the first screen.
    """

    def __init__(self, keeping: Keeping, trouble: Trouble, back: Callable[[], None]) -> None:
        super().__init__()
        self._keeping, self._back = keeping, back
        self.sentence = label(trouble.sentence, "alarm")
        self.word = QLineEdit()
        hint(self.word, tr(WORD))
        self.word.textChanged.connect(self._show_word)
        self.anew = button(tr("Begin with no records"), self._begin_anew, "stop")
        self.leave = button(tr("Leave it for now"), self._leave)
        self.go_on = button(tr("Go on"), self._leave, "next")
        self.copies = CopiesPanel(keeping, self._restored, self._show_busy)
        self._grave = trouble.grave
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.WIDE, Space.LARGE, Space.WIDE, Space.LARGE)
        row.setSpacing(Space.WIDE)
        row.addWidget(self._left())
        row.addWidget(self.copies, 1)
        self._show_busy(self.copies.is_busy)

    def _left(self) -> QWidget:
        holder = QWidget()
        holder.setFixedWidth(440)
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.LARGE)
        self.told = panel(
            label(tr("The records cannot be used"), "title") if self._grave
            else label(tr("The records are damaged"), "title"),
            self.sentence, label(tr(STAYS)), label(tr(CHOOSE)),
        )  # fmt: skip
        column.addWidget(self.told)
        self.leaving = panel(label(tr(LEAVE), "soft"), self.leave)
        self.leaving.setVisible(not self._grave)
        column.addWidget(self.leaving)
        self.emptying = self._emptying()
        column.addWidget(self.emptying)
        done = label(tr("Done. Go on with the records as they are now."), "heading")
        self.going_on = panel(done, self.go_on)
        self.going_on.hide()
        column.addWidget(self.going_on)
        column.addStretch(1)
        return holder

    def _emptying(self) -> QFrame:
        return panel(
            label(tr("No copy anywhere?"), "heading"),
            label(tr(ANEW, word=tr(WORD)), "soft"),
            form((tr("Type the word"), self.word)),
            self.anew,
        )

    def _says_so(self) -> bool:
        return self.word.text().strip() == tr(WORD)

    def _show_word(self) -> None:
        self.anew.setEnabled(not self.copies.is_busy and self._says_so())

    def _begin_anew(self) -> None:
        self.copies.begin(self._keeping.start_empty())

    def _show_busy(self, busy: bool) -> None:
        self.word.setEnabled(not busy)
        self.leave.setEnabled(not busy)
        self.anew.setEnabled(not busy and self._says_so())

    def _restored(self, _state: WorkState) -> None:
        """Let the person read what came of it before going on."""
        for done in (self.told, self.leaving, self.emptying):
            done.hide()
        self.copies.finish()
        self.going_on.show()
        self.go_on.setFocus()

    def _leave(self) -> None:
        self.stop()
        self._back()

    def stop(self) -> None:
        """Give up what is under way."""
        self.copies.stop()
