"""What is asked before a check on a vehicle begins, and what is still missing for it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from brimline.errors import BrimlineError
from brimline.reading import Way
from brimline.translation import marked, tr
from brimline.ui.forms import Choice, TickBox, button, form, label
from brimline.ui.hints import hint
from brimline.ui.ports.services import (
    CheckOrder,
    ConnectionChoice,
    Services,
    SheetChoice,
    SheetList,
)
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import set_role

NO_SHEET = marked(
    "There is no approved spec sheet: write one into the folder “sheets” beside the records, "
    "and approve it."
)
NO_CONNECTION = marked("No connection is chosen yet: press “Connection…” to choose and try one.")
NO_NAME = marked("Type the technician's name.")
NO_BUS = marked("This program cannot reach a vehicle's bus: choose “Keyed from an instrument”.")
TRAINING = marked(
    "An invented sheet is for training only: it must not be used on a vehicle, and its check is "
    "listed only with “Training and replays too” ticked."
)
KEYED_BESIDE = marked(
    "This sheet does not say where the fluid temperature is on the bus: it is keyed, and the rest "
    "comes from the bus."
)


class CheckPanel(QFrame):
    """Technician, sheet, duty, where temperatures come from; then “Begin the check”."""

    def __init__(
        self,
        services: Services,
        begin: Callable[[CheckOrder], None],
        give_up: Callable[[], None],
        connection: Callable[[], None],
    ) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self._services = services
        self._begin = begin
        self._sheets: tuple[SheetChoice, ...] = ()
        self._connection = ConnectionChoice()
        self._beginning = self._looking = ""
        self._is_known = self._tried = False
        self.technician = QLineEdit()
        hint(self.technician, tr("name, as it goes on the record"))
        self.sheet, self.duty = Choice(), Choice()
        self.by_bus = QRadioButton(tr("From the vehicle's bus"))
        self.keyed = QRadioButton(tr("Keyed from an instrument"))
        self.connection_words = label("", "soft")
        self.record = TickBox(tr("Record the bus beside the check's record"))
        self.connect_button = button(tr("Connection…"), connection)
        self.connect_button.setVisible(services.bus is not None)
        self.about = label("", "soft")
        self.faults = label("", "bad")
        self.missing = label("", "bad")
        self.go = button(tr("Begin the check"), self._go, "next")
        self.waiting = label("", "heading")
        self.cancel = button(tr("Do not begin"), give_up)
        self._lay_out()
        self.sheet.currentIndexChanged.connect(self._show_duties)
        self.technician.textChanged.connect(self._show_missing)
        self.by_bus.toggled.connect(self._show_missing)
        self.keyed.setChecked(True)
        self.sheet.setEnabled(False)
        self._show_duties()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        column.setSpacing(Space.SMALL)
        self.fields = form(
            (tr("Technician"), self.technician),
            (tr("Spec sheet"), self.sheet),
            (tr("Duty"), self.duty),
        )
        for made in (
            label(tr("Check on a vehicle"), "title"),
            self.fields,
            self.about,
            self.faults,
            label(tr("The temperature comes"), "heading"),
            self.by_bus,
            self._connection_row(),
            self.record,
            self.keyed,
            self.missing,
            self.go,
            self.waiting,
            self.cancel,
        ):
            column.addWidget(made)
        self.waiting.hide()
        self.cancel.hide()

    def _connection_row(self) -> QWidget:
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(Space.WIDE + Space.TIGHT, 0, 0, 0)
        row.setSpacing(Space.SMALL)
        row.addWidget(self.connection_words, 1)
        row.addWidget(self.connect_button)
        return holder

    def refresh(self) -> None:
        """Read sheets and connection anew; what was chosen stays chosen where it still can be."""
        found = self._read_sheets()
        bus = self._services.bus
        self._connection = ConnectionChoice() if bus is None else bus.connection()
        if found.sheets != self._sheets:
            chosen = self.sheet.currentData()
            self._sheets = found.sheets
            self.sheet.clear()
            for sheet in found.sheets:
                known = sheet.words
                words = tr("{sheet} (training only)", sheet=known) if sheet.training_only else known
                self.sheet.addItem(words, sheet.id)
            self.sheet.setCurrentIndex(max(0, self.sheet.findData(chosen)))
        self.sheet.setEnabled(bool(self._sheets))
        self.faults.setText("\n".join(found.faults[:2]))
        self.faults.setVisible(bool(found.faults))
        if self._connection.is_chosen and not self._is_known:
            self.by_bus.setChecked(True)
        self._is_known = True
        self._show_duties()

    def _read_sheets(self) -> SheetList:
        try:
            return self._services.sheets()
        except BrimlineError as error:
            return SheetList((), (error.sentence,))

    @property
    def _chosen(self) -> SheetChoice | None:
        at = self.sheet.currentIndex()
        return self._sheets[at] if 0 <= at < len(self._sheets) else None

    def _show_duties(self) -> None:
        sheet = self._chosen
        duties = () if sheet is None else sheet.duties
        if [duty.name for duty in duties] != [
            self.duty.itemData(at) for at in range(self.duty.count())
        ]:
            self.duty.clear()
            for duty in duties:
                self.duty.addItem(duty.words, duty.name)
        self.duty.setEnabled(len(duties) > 1)
        self._show_missing()

    def _show_missing(self) -> None:
        sheet, live = self._chosen, self.by_bus.isChecked()
        self.sheet.setToolTip(self.sheet.currentText())
        self.connection_words.setText(self._connection_text())
        self.record.setEnabled(live and self._connection.is_chosen and not self._beginning)
        notes = [tr(TRAINING)] if sheet is not None and sheet.training_only else []
        if live and sheet is not None and not sheet.tells_temperature:
            notes.append(tr(KEYED_BESIDE))
        self.about.setText("\n".join(notes))
        self.about.setVisible(bool(notes))
        missing = self._missing()
        self.missing.setText(missing)
        self.missing.setVisible(bool(missing))
        # A name that nobody has been asked for yet is no fault: pressing the button asks for it.
        asked = missing == tr(NO_NAME) and not self._tried
        set_role(self.missing, "soft" if self._looking or asked else "bad")
        self.go.setEnabled(not missing or asked)

    def show_looking(self, sentence: str) -> None:
        """Show what has to be known before a check may begin; an empty sentence: it is known."""
        self._looking = sentence
        self.connect_button.setEnabled(not sentence)
        self._show_missing()

    def show_beginning(self, sentence: str) -> None:
        """Show what the beginning waits for, and how to give it up; empty: nothing is waited for.

        What was chosen cannot be changed meanwhile.
        """
        self.waiting.setText(sentence)
        if bool(sentence) == bool(self._beginning):
            return
        self._beginning = sentence
        for made in (self.fields, self.by_bus, self.keyed, self.record, self.connect_button):
            made.setEnabled(not sentence)
        for shown in (self.waiting, self.cancel):
            shown.setVisible(bool(sentence))
        self.go.setVisible(not sentence)
        (self.cancel if sentence else self.go).setFocus()
        self._show_missing()

    def _connection_text(self) -> str:
        if self._services.bus is None:
            return tr(NO_BUS)
        if self._looking:
            return ""
        # The rate on a line of its own: a long name would break it between number and unit.
        return self._connection.words.replace(", ", "\n") or tr("no connection chosen")

    def _missing(self) -> str:
        """Return what is to be done before a check can begin, gravest first."""
        if self._looking:
            return self._looking
        if self._chosen is None:
            return tr(NO_SHEET)
        if self.by_bus.isChecked() and not self._connection.is_chosen:
            return tr(NO_BUS if self._services.bus is None else NO_CONNECTION)
        if not self.technician.text().strip():
            return tr(NO_NAME)
        return ""

    def _go(self) -> None:
        sheet, live = self._chosen, self.by_bus.isChecked()
        if sheet is None:
            return
        if self._missing():
            self._tried = True
            self._show_missing()
            self.technician.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._begin(
            CheckOrder(
                technician=self.technician.text().strip(),
                sheet=sheet.id,
                duty=str(self.duty.currentData()),
                way=Way.BUS if live else Way.KEYED,
                record=live and self.record.isChecked(),
            )
        )
