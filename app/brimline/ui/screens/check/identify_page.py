"""Page of stage 1: which vehicle, and what for."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit

from brimline.errors import VinError
from brimline.procedure import events as ev
from brimline.procedure.doing import Form
from brimline.procedure.state import Stage
from brimline.translation import english, joined, tr
from brimline.ui.forms import Choice, QuantityField, TextBox, TickBox, enter_sends, form, label
from brimline.ui.hands.scanner import Scanner
from brimline.ui.hints import hint
from brimline.ui.screens.check.page import Page
from brimline.ui.widgets.marks import set_role
from brimline.units import Dimension
from brimline.vin import parse_vin


class IdentifyPage(Page):
    """Stage 1. A scanned VIN goes into its field wherever the keyboard is."""

    stage = Stage.IDENTIFY

    def fill(self) -> None:
        """Fields for vehicle and order."""
        self.vin, self.work_order, self.plate = QLineEdit(), QLineEdit(), QLineEdit()
        hint(self.vin, tr("typed or scanned"))
        self.vin_words, self.scan_words = label("", "bad"), label("", "soft")
        self.odometer = QuantityField(Dimension.DISTANCE, self.model.units, 84200)
        self.variant = Choice()
        self.variant.addItems(list(self.model.state.sheet.transmission.variants))
        self.drained = TickBox(tr("The transmission was drained or opened"))
        self.complaint = TextBox()
        self.complaint.setMaximumHeight(72)
        self.add(
            form(
                (tr("VIN"), self.vin),
                (tr("Work order"), self.work_order),
                (tr("Plate"), self.plate),
                (tr("Odometer"), self.odometer),
                (tr("Variant"), self.variant),
                (tr("Complaint"), self.complaint),
            ),
            self.scan_words,
            self.vin_words,
            self.drained,
        )
        send = self.add_next(tr("Identify the vehicle"), self._send)
        self.sends[Form.VEHICLE] = self._identify
        enter_sends(send, self.vin, self.work_order, self.plate, self.odometer, self.complaint)
        self.vin.textChanged.connect(self._show_vin)
        self._show_vin("")
        self.scan_words.hide()
        self._doubted = ""
        self.scanner = Scanner(self, self._scanned)

    def _scanned(self, code: str) -> None:
        """Put a scanned VIN into its field; what is no VIN leaves it as it is."""
        try:
            vin = parse_vin(code)
        except VinError as error:
            self._say_scan(tr("The scan was not taken. {why}", why=error.sentence), "bad")
            return
        self.vin.setText(vin.text)
        self._say_scan(tr("VIN {vin} was scanned.", vin=vin.text), "good")

    def _say_scan(self, words: str, role: str) -> None:
        self.scan_words.setText(words)
        set_role(self.scan_words, role)
        self.scan_words.show()

    def _show_vin(self, typed: str) -> None:
        """Warn of a check digit before the page is left; a half-typed number is no fault yet."""
        try:
            words = parse_vin(typed).warning
        except VinError:
            words = ""
        self.vin_words.setText(words)
        self.vin_words.setVisible(bool(words))
        self.scan_words.hide()

    def _send(self) -> None:
        """Identify the vehicle; a check digit that does not match takes a second press."""
        vin = parse_vin(self.vin.text())
        if vin.warning and vin.text != self._doubted:
            self._doubted = vin.text
            again = tr("If it reads so on the vehicle, press again.")
            raise VinError(joined((vin.warning, again), " "))
        self._identify()

    def _identify(self) -> None:
        vin = parse_vin(self.vin.text())
        self.model.tap(
            ev.VehicleIdentified,
            vin=vin.text,
            vin_warning=english(vin.warning),
            work_order=self.work_order.text().strip(),
            plate=self.plate.text().strip(),
            odometer_km=self.odometer.quantity(),
            variant=self.variant.currentText(),
            complaint=self.complaint.toPlainText().strip(),
            drained=self.drained.isChecked(),
        )
