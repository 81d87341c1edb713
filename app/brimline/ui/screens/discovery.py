"""Finding the fluid temperature on a bus while the engine warms; never during a check."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLineEdit,
    QPlainTextEdit,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from brimline.errors import BrimlineError, UnitError
from brimline.translation import joined, marked, tr
from brimline.ui.forms import button, form, label, main_tap, panel, scrolled, table
from brimline.ui.hints import hint, such_as
from brimline.ui.poller import Poller
from brimline.ui.ports.services import (
    BusServices,
    ConnectionChoice,
    DiscoveryHandle,
    DiscoveryState,
    IdentifierRange,
    ProposalRow,
)
from brimline.ui.tokens import Space
from brimline.ui.widgets.caution import CautionBox
from brimline.ui.widgets.marks import set_role
from brimline.units import UnitSystem, duration

PROPOSES = marked("This proposes only: confirm the one you take against a second instrument.")
HOW = marked(
    "Begin with a cold engine, let it idle with the vehicle standing, and wait some minutes: what "
    "lags behind the coolant may be the fluid."
)
READS_ONLY = marked(
    "Asking reads and changes nothing. Even so: vehicle standing, engine idling, nobody under it."
)
NOTHING_YET = marked(
    "Nothing that could be a temperature has been heard yet: let the engine idle for some minutes, "
    "or ask a control unit for identifiers."
)
CHOOSE = marked("Choose a proposal to see why, as soon as there is one.")
NO_ENTRY = marked("A spec sheet cannot take its fluid temperature from here.")
ENTRY_PX = 132
COLUMNS = (marked("Where"), marked("Now"), marked("What it may be"))


class DiscoveryScreen(QWidget):
    """Proposals as a table; the chosen one's reasons and its entry for the sheet beside it.

    :param back: leads to the connection screen.
    :param clock: time in s, monotonic.
    """

    def __init__(
        self,
        bus: BusServices,
        connection: ConnectionChoice,
        units: UnitSystem,
        back: Callable[[], None],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        super().__init__()
        self._bus, self._connection = bus, connection
        self._system, self._back = units, back
        self._rows: tuple[ProposalRow, ...] = ()
        self._handle: DiscoveryHandle | None = None
        self._poller = Poller[DiscoveryState](clock, self._show_state, self)
        self.standing = label("", "heading")
        self.listen = button(tr("Listen"), self.begin, "next")
        self.stop_button = main_tap(button(tr("Stop listening"), self._stop))
        self.leave = main_tap(button(tr("Back"), self._leave))
        self.table = _proposals()
        self.table.itemSelectionChanged.connect(self._show_chosen)
        self.empty = label(tr(NOTHING_YET), "soft")
        self.place, self.likeness = label("", "heading"), label("", "soft")
        self.reasons = label("")
        self.entry = QPlainTextEdit()
        self.entry.setReadOnly(True)
        self.entry.setTabChangesFocus(True)
        self.entry.setAccessibleName(tr("What to enter in the sheet's signal map"))
        self.entry_words = label(tr("For the sheet's signal map; choose and copy:"), "soft")
        self.first, self.last = QLineEdit(), QLineEdit()
        self.request, self.response = QLineEdit(), QLineEdit()
        self.ask = button(tr("Ask these too"), self._ask)
        self.said = label("", "bad")
        self._lay_out()
        self._say("")
        self.begin()

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.WIDE, Space.LARGE, Space.WIDE, Space.LARGE)
        row.setSpacing(Space.WIDE)
        row.addWidget(self._left(), 1)
        right = QVBoxLayout()
        right.setSpacing(Space.MEDIUM)
        right.addWidget(self._chosen(), 1)
        right.addWidget(self._asking())
        holder = QWidget()
        holder.setLayout(right)
        right.setContentsMargins(0, 0, 0, 0)
        holder.setFixedWidth(480)
        row.addWidget(holder)

    def _left(self) -> QFrame:
        on = tr("On {connection}.", connection=self._connection.words)
        frame = panel(
            label(tr("Find the fluid temperature"), "title"),
            label(joined((on, tr(HOW)), " "), "soft"),
            label(tr(PROPOSES), "bad"),
            self.standing,
        )
        column = frame.layout()
        assert isinstance(column, QVBoxLayout)
        self.empty.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addWidget(self.empty, 1)
        column.addWidget(self.table, 1)
        buttons = QHBoxLayout()
        buttons.setSpacing(Space.SMALL)
        for made in (self.leave, self.stop_button, self.listen):
            buttons.addWidget(made, 1)
        column.addLayout(buttons)
        return frame

    def _chosen(self) -> QFrame:
        self.entry.setMinimumHeight(ENTRY_PX)
        why = scrolled(self.place, self.likeness, self.reasons)
        frame = panel(why, self.entry_words, self.entry)
        column = frame.layout()
        assert isinstance(column, QVBoxLayout)
        for shared in (why, self.entry):
            column.setStretchFactor(shared, 1)
        return frame

    def _asking(self) -> QFrame:
        for field, example in (
            (self.first, "F400"), (self.last, "F4FF"), (self.request, "7E1"),
            (self.response, "7E9"),
        ):  # fmt: skip
            hint(field, such_as(example))
        fields = QHBoxLayout()
        fields.setSpacing(Space.MEDIUM)
        fields.addWidget(form((tr("From"), self.first), (tr("To"), self.last)))
        fields.addWidget(form((tr("Request"), self.request), (tr("Answer"), self.response)))
        holder = QWidget()
        holder.setLayout(fields)
        fields.setContentsMargins(0, 0, 0, 0)
        return panel(
            label(tr("Ask a control unit for identifiers (UDS)"), "heading"),
            CautionBox("CAUTION", tr(READS_ONLY)),
            holder,
            self.said,
            self.ask,
        )

    def begin(self) -> None:
        """Listen, from nothing."""
        self._say("")
        self._show_rows(())
        try:
            self._handle = self._bus.discover(self._connection)
        except BrimlineError as error:
            self._show_state(DiscoveryState(True, error.sentence))
            return
        self._poller.begin(self._handle)
        self._show_busy()

    def _stop(self) -> None:
        self._poller.cancel()
        set_role(self.standing, "heading")
        self.standing.setText(tr("Stopped. What was found stays here until you leave."))
        self._show_busy()

    def _leave(self) -> None:
        self.stop()
        self._back()

    def stop(self) -> None:
        """End what is under way."""
        self._poller.cancel()

    def _show_state(self, state: DiscoveryState) -> None:
        since = joined(("(", duration(state.seconds), ")"), "") if state.seconds else ""
        set_role(self.standing, "bad" if state.done else "heading")
        self.standing.setText(joined(filter(None, (state.sentence, since)), " "))
        if not state.done or state.proposals:
            self._show_rows(state.proposals)
        self._show_busy()

    def _show_busy(self) -> None:
        busy = self._poller.is_busy
        self.stop_button.setEnabled(busy)
        self.listen.setEnabled(not busy)
        self.ask.setEnabled(busy)

    def _show_rows(self, rows: tuple[ProposalRow, ...]) -> None:
        chosen = self._place_chosen()
        self._rows = rows
        self.table.blockSignals(True)
        self.table.setRowCount(len(rows))
        for at, row in enumerate(rows):
            cells = row.place, self._system.temperature(row.latest, 1), row.likeness
            for column, text in enumerate(cells):
                _say_in(self.table, at, column, text)
        places = [row.place for row in rows]
        if rows:
            self.table.selectRow(places.index(chosen) if chosen in places else 0)
        self.table.blockSignals(False)
        self.table.setVisible(bool(rows))
        self.empty.setVisible(not rows)
        self._show_chosen()

    def _place_chosen(self) -> str:
        item = self.table.item(self.table.currentRow(), 0)
        return "" if item is None else item.text()

    def _show_chosen(self) -> None:
        at = self.table.currentRow()
        row = self._rows[at] if 0 <= at < len(self._rows) else None
        self.place.setText(tr(CHOOSE) if row is None else row.place)
        self.likeness.setText("" if row is None else row.likeness)
        self.reasons.setText("" if row is None else "\n".join(f"– {r}" for r in row.reasons[:6]))
        entry = "" if row is None else row.entry or tr(NO_ENTRY)
        if self.entry.toPlainText() != entry:  # what is being copied keeps its selection
            self.entry.setPlainText(entry)
        self.entry.setVisible(row is not None)
        self.entry_words.setVisible(row is not None and bool(row.entry))

    def _ask(self) -> None:
        self._say("")
        if self._handle is None:
            return
        try:
            self._handle.ask(
                IdentifierRange(
                    _hexadecimal(self.first, 0xFFFF),
                    _hexadecimal(self.last, 0xFFFF),
                    _hexadecimal(self.request, 0x1FFFFFFF),
                    _hexadecimal(self.response, 0x1FFFFFFF),
                )
            )
        except BrimlineError as error:
            self._say(error.sentence)

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))


def _hexadecimal(field: QLineEdit, highest: int) -> int:
    typed = field.text().strip().lower().removeprefix("0x")
    try:
        value = int(typed, 16)
    except ValueError:
        value = -1
    if not 0 <= value <= highest or "_" in typed:
        raise UnitError(
            tr(
                "{name}: a hexadecimal number up to {highest:X}, {example}.",
                name=field.accessibleName(),
                highest=highest,
                example=field.placeholderText(),
            )
        )
    return value


def _proposals() -> QTableWidget:
    made = table([tr(name) for name in COLUMNS], stretched=0)
    made.horizontalHeader().setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
    return made


def _say_in(where: QTableWidget, row: int, column: int, text: str) -> None:
    item = where.item(row, column)
    if item is None:
        where.setItem(row, column, QTableWidgetItem(text))
    elif item.text() != text:
        item.setText(text)
