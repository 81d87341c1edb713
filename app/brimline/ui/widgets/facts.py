"""The two facts that matter most: plug and engine, shown large, and asked for with large buttons.

A fact is a word, a shape and a colour, so that it is read from under the lift and by everybody.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from brimline.translation import joined, tr
from brimline.ui.forms import label
from brimline.ui.tokens import Space
from brimline.ui.widgets.answers import FactButton
from brimline.ui.widgets.marks import Mark, Shape

MARK_PX = 84
_GAP = 2

_LOOKS = {
    "OUT": ("fact-alarm", Shape.UP),
    "IN": ("fact-calm", Shape.CHECK),
    "RUNNING": ("fact-strong", Shape.DISC),
    "OFF": ("fact-calm", Shape.DASH),
    "NOT KNOWN": ("fact-strong", Shape.QUESTION),
}
"""Role in the style sheet and shape of each word."""


class FactTile(QFrame):
    """One fact, such as PLUG OUT: what it is about and how it stands.

    :param about: ``PLUG`` or ``ENGINE``, and ``word`` how it stands, in English.
    """

    def __init__(self, about: str, word: str) -> None:
        super().__init__()
        role, shape = _LOOKS[word]
        self.setProperty("role", role)
        words = QVBoxLayout()
        words.setSpacing(0)
        for text, size in ((tr(about), "fact-about"), (tr(word), "fact-word")):
            made = label(text, size)
            made.setWordWrap(False)
            words.addWidget(made)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.WIDE, Space.SMALL, Space.WIDE, Space.SMALL)
        row.setSpacing(Space.WIDE)
        row.addWidget(Mark(shape, MARK_PX))
        row.addLayout(words, 1)
        self.setAccessibleName(joined((tr(about), tr(word)), " "))


class FactsAsked(QWidget):
    """Asks how plug and engine stand now. Nothing is answered beforehand.

    :param changed: is called after every answer.
    """

    def __init__(self, changed: Callable[[], None] = lambda: None) -> None:
        super().__init__()
        self._changed = changed
        self.plug_in, self.plug_out = self._pair(tr("The plug is IN"), tr("The plug is OUT"))
        self.engine_off, self.engine_on = self._pair(tr("The engine is OFF"), tr("The engine RUNS"))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(Space.SMALL)
        grid.setColumnMinimumWidth(_GAP, Space.SMALL)  # between the two questions
        grid.setVerticalSpacing(Space.SMALL)
        self.heading = label(tr("Look at the vehicle, then say both:"), "heading")
        grid.addWidget(self.heading, 0, 0, 1, 5)
        answers = {0: self.plug_in, 1: self.plug_out, 3: self.engine_off, 4: self.engine_on}
        for column, made in answers.items():
            grid.addWidget(made, 1, column)
            grid.setColumnStretch(column, 1)

    def _pair(self, first: str, second: str) -> tuple[QPushButton, QPushButton]:
        one, other = FactButton(first), FactButton(second)
        one.clicked.connect(lambda: self._choose(one, other))
        other.clicked.connect(lambda: self._choose(other, one))
        return one, other

    def _choose(self, chosen: QPushButton, other: QPushButton) -> None:
        """An answer may be changed, and not taken back: pressed again it still stands."""
        chosen.setChecked(True)
        other.setChecked(False)
        self._changed()

    def ask_plug_again(self) -> None:
        """Forget what was said of the plug: it has gone out or in since."""
        for made in (self.plug_in, self.plug_out):
            made.setChecked(False)
        self._changed()

    @property
    def plug_is_out(self) -> bool | None:
        """Whether the plug is out; ``None`` before it was said."""
        return _said(self.plug_in, self.plug_out)

    @property
    def engine_runs(self) -> bool | None:
        """Whether the engine runs; ``None`` before it was said."""
        return _said(self.engine_off, self.engine_on)


def _said(no: QPushButton, yes: QPushButton) -> bool | None:
    return yes.isChecked() if yes.isChecked() or no.isChecked() else None
