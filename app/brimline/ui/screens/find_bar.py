"""What finished checks are looked for by: one box that takes most, and filters behind a button."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress

from PySide6.QtCore import QSignalBlocker, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from brimline.errors import VinError
from brimline.translation import tr
from brimline.ui.forms import Choice, TickBox, button
from brimline.ui.hands.scanner import Scanner
from brimline.ui.hints import hint
from brimline.ui.ports.finding import FindOrder
from brimline.ui.tokens import Space
from brimline.vin import parse_vin

TYPING_MS = 200
"""How long after the last key it is searched: nobody wants the answer to half a word."""

DAY = "2031-05-06"
"""How a day is typed, as an example."""


class FindBar(QWidget):
    """Says what is wanted whenever that changes.

    :param wanted: is called then, and ``down`` to go on to the list.
    """

    def __init__(self, wanted: Callable[[], None], down: Callable[[], None]) -> None:
        super().__init__()
        self._wanted = wanted
        self._typing = QTimer(self)
        self._typing.setSingleShot(True)
        self._typing.setInterval(TYPING_MS)
        self._typing.timeout.connect(self.search_now)
        self.text = _Box(down)
        hint(self.text, tr("VIN, last eight, plate, order or words"))
        self.text.setAccessibleName(tr("Find a finished check"))
        self.text.setClearButtonEnabled(True)
        self.scanner = Scanner(self.text, self._scanned, within=True)
        self.everything = TickBox(tr("Training and replays too"))
        self.chosen_by_hand = False
        """Whether a person has said if training and replays are wanted."""
        self.show_filters = button(tr("Filters"), self._toggle)
        self.show_filters.setCheckable(True)
        self.first, self.last, self.technician, self.fluid = (QLineEdit() for _ in range(4))
        self.family, self.verdict = Choice(), Choice()
        for choice in (self.family, self.verdict):
            choice.addItem(tr("any"), "")
        self._days = ("", "")  # as they were last searched by
        self.filters = self._filters()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        row = QHBoxLayout()
        row.setSpacing(Space.MEDIUM)
        row.addWidget(self.text, 1)
        row.addWidget(self.everything)
        row.addWidget(self.show_filters)
        column.addLayout(row)
        column.addWidget(self.filters)
        self.filters.hide()
        self._watch()

    def order(self) -> FindOrder:
        """Return what is wanted."""
        return FindOrder(
            text=self.text.text(),
            first=self.first.text(),
            last=self.last.text(),
            family=str(self.family.currentData()),
            verdict=str(self.verdict.currentData()),
            technician=self.technician.text(),
            fluid=self.fluid.text(),
            everything=self.everything.isChecked(),
        )

    def clear(self) -> None:
        """Want everything of the origins that are ticked, without asking anew."""
        for field in (self.text, self.first, self.last, self.technician, self.fluid):
            with QSignalBlocker(field):
                field.clear()
        for choice in (self.family, self.verdict):
            with QSignalBlocker(choice):
                choice.setCurrentIndex(0)
        self._typing.stop()
        self._days = ("", "")
        self._count_filters()

    def tick(self) -> None:
        """Want training and replays too, without asking anew."""
        with QSignalBlocker(self.everything):
            self.everything.setChecked(True)

    def offer(self, families: Iterable[str]) -> None:
        """Offer these families, and every verdict; what was chosen stays."""
        self._offer_verdicts()
        wanted = ["", *families]
        if wanted == [self.family.itemData(at) for at in range(self.family.count())]:
            return
        chosen = self.family.currentData()
        with QSignalBlocker(self.family):
            self.family.clear()
            for family in wanted:
                self.family.addItem(family or tr("any"), family)
            self.family.setCurrentIndex(max(0, self.family.findData(chosen)))

    def _offer_verdicts(self) -> None:
        from brimline import wording  # noqa: PLC0415 - the first screen does not wait for it

        if self.verdict.count() == 1:
            for verdict, words in wording.VERDICTS.items():
                self.verdict.addItem(tr(words), verdict.value)

    def search_now(self) -> None:
        """Do not wait for another key."""
        self._typing.stop()
        self._count_filters()
        self._wanted()

    def _scanned(self, code: str) -> None:
        """Find what was scanned instead of what was typed; the next scan replaces it."""
        with suppress(VinError):  # a work order may have a bar code too
            code = parse_vin(code, check_digit_required=False).text
        self.text.setText(code)
        self.text.selectAll()
        self.search_now()

    def _filters(self) -> QWidget:
        holder = QWidget()
        grid = QGridLayout(holder)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(Space.MEDIUM)
        grid.setVerticalSpacing(Space.SMALL)
        part = tr("or a part")
        examples = {
            self.first: DAY, self.last: DAY, self.technician: part, self.fluid: part,
        }  # fmt: skip
        for line, example in examples.items():
            hint(line, example)
        fields: tuple[tuple[str, QWidget], ...] = (
            (tr("From"), self.first),
            (tr("Family"), self.family),
            (tr("Technician"), self.technician),
            (tr("Until"), self.last),
            (tr("Verdict"), self.verdict),
            (tr("Fluid"), self.fluid),
        )
        for at, (words, field) in enumerate(fields):
            named = QLabel(words)
            named.setBuddy(field)
            field.setAccessibleName(words)
            grid.addWidget(named, at // 3, at % 3 * 2)
            grid.addWidget(field, at // 3, at % 3 * 2 + 1)
        for column in (1, 3, 5):
            grid.setColumnStretch(column, 1)
        return holder

    def _watch(self) -> None:
        for field in (self.text, self.technician, self.fluid):
            field.textChanged.connect(lambda _text: self._typing.start())
            field.returnPressed.connect(self.search_now)
        for field in (self.first, self.last):  # half a day is none
            field.editingFinished.connect(self._day_typed)
        for choice in (self.family, self.verdict):
            choice.currentIndexChanged.connect(lambda _at: self.search_now())
        self.everything.toggled.connect(lambda _on: self._ticked())

    def _day_typed(self) -> None:
        days = (self.first.text(), self.last.text())
        if days != self._days:
            self._days = days
            self.search_now()

    def _ticked(self) -> None:
        self.chosen_by_hand = True
        self.search_now()

    def _toggle(self) -> None:
        self.filters.setVisible(self.show_filters.isChecked())

    def _count_filters(self) -> None:
        """Say how many are set, because they may be hidden."""
        order = self.order()
        asked = (
            order.first, order.last, order.family, order.verdict, order.technician, order.fluid,
        )  # fmt: skip
        count = sum(bool(each.strip()) for each in asked)
        self.show_filters.setText(tr("Filters ({count})", count=count) if count else tr("Filters"))


class _Box(QLineEdit):
    """A field that Escape empties and that the arrow leads down from."""

    def __init__(self, down: Callable[[], None]) -> None:
        super().__init__()
        self._down = down

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take the two keys; all others are typed."""
        if event.key() == Qt.Key.Key_Escape and self.text():
            self.clear()
        elif event.key() == Qt.Key.Key_Down:
            self._down()
        else:
            super().keyPressEvent(event)
