"""Pages of stages 1 to 4: identify, fluid, sensor, on the ground."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QLabel, QLineEdit, QPlainTextEdit, QWidget

from brimline import wording
from brimline.errors import BrimlineError, UnitError, VinError
from brimline.estimate import sensor_check, sentences
from brimline.procedure import events as ev
from brimline.procedure import facts, gates
from brimline.procedure.events import Item
from brimline.procedure.state import CheckState, Stage
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.specsheet.model import Approval, RangeDwell
from brimline.ui.forms import Choice, QuantityField, TickBox, button, form, label
from brimline.ui.screens.check.outlook_box import ComeBackBox
from brimline.ui.screens.check.page import Caution, Page
from brimline.ui.widgets.hazards import Hazard
from brimline.ui.widgets.marks import set_role
from brimline.units import Dimension, UnitSystem, duration
from brimline.vin import parse_vin


class IdentifyPage(Page):
    """Stage 1."""

    stage = Stage.IDENTIFY

    def fill(self) -> None:
        """Fields for vehicle and order."""
        self.vin, self.work_order, self.plate = QLineEdit(), QLineEdit(), QLineEdit()
        self.vin.setPlaceholderText("typed or scanned")
        self.vin_words = label("", "bad")
        self.odometer = QuantityField(Dimension.DISTANCE, self.model.units, "84210")
        self.variant = Choice()
        self.variant.addItems(list(self.model.state.sheet.transmission.variants))
        self.complaint = QPlainTextEdit()
        self.complaint.setMaximumHeight(72)
        self.complaint.setTabChangesFocus(True)
        self.drained = TickBox("The transmission was drained or opened before")
        self.add(
            form(
                ("VIN", self.vin),
                ("Work order", self.work_order),
                ("Plate", self.plate),
                ("Odometer", self.odometer),
                ("Variant", self.variant),
                ("Complaint", self.complaint),
            ),
            self.vin_words,
            self.drained,
        )
        self.add_next("Identify the vehicle", self._identify)
        self.vin.textChanged.connect(self._show_vin)
        self._show_vin("")

    def _show_vin(self, typed: str) -> None:
        """Warn of a check digit before the page is left; a half-typed number is no fault yet."""
        try:
            words = parse_vin(typed).warning
        except VinError:
            words = ""
        self.vin_words.setText(words)
        self.vin_words.setVisible(bool(words))

    def _identify(self) -> None:
        vin = parse_vin(self.vin.text())
        self.model.tap(
            ev.VehicleIdentified,
            vin=vin.text,
            vin_warning=vin.warning,
            work_order=self.work_order.text().strip(),
            plate=self.plate.text().strip(),
            odometer_km=self.odometer.quantity(),
            variant=self.variant.currentText(),
            complaint=self.complaint.toPlainText().strip(),
            drained=self.drained.isChecked(),
        )


class FluidPage(Page):
    """Stage 2."""

    stage = Stage.FLUID
    cautions = (
        Caution("NOTICE", "A wrong fluid can ruin the transmission. Read the label in your hand."),
    )

    def fill(self) -> None:
        """Product and lot, fill path, items."""
        sheet = self.model.state.sheet
        self.product = Choice()
        self.product.setEditable(True)
        self.product.addItems([fluid.name for fluid in sheet.fluids])
        self.product.setCurrentText("")
        self.lot = QLineEdit()
        self.condition = TickBox("The condition of its approval is met")
        self.condition_words = label("", "soft")
        self.standing = label("No fluid chosen yet.", "soft")
        self.add(form(("Product in hand", self.product), ("Lot", self.lot)))
        self.add(self.condition_words, self.condition)
        self.add(button("Match the fluid", lambda: self.attempt(self._choose), "next"))
        self.add(self.standing)
        self.path = Choice()
        self.path.addItems([path.name for path in sheet.fill_paths])
        self.within_reach = QuantityField(Dimension.VOLUME, self.model.units, "2")
        self.add(form(("Fill path", self.path), ("In reach", self.within_reach)))
        self.add(button("Choose the fill path", lambda: self.attempt(self._choose_path)))
        self.path_words = label("", "good")
        self.add(self.path_words)
        self.add_items((Item.INITIAL_FILL_DONE, *gates.FLUID_ITEMS))
        self.product.currentTextChanged.connect(self._show_condition)
        self._show_condition("")

    def _show_condition(self, product: str) -> None:
        known = self.model.state.sheet.fluid(product)
        words = known.condition if known and known.approval is Approval.APPROVED else ""
        self.condition_words.setText(words)
        for widget in (self.condition, self.condition_words):
            widget.setVisible(bool(words))

    def _choose(self) -> None:
        self.model.tap(
            ev.FluidChosen,
            product=self.product.currentText().strip(),
            lot=self.lot.text().strip(),
            condition_confirmed=self.condition.isChecked() and self.condition.isVisible(),
        )

    def _choose_path(self) -> None:
        self.model.tap(
            ev.FillPathChosen,
            name=self.path.currentText(),
            litres_within_reach=self.within_reach.needed(),
        )

    def show_state(self, state: CheckState) -> None:
        """Whether the fluid is approved, and the initial fill only where it applies."""
        drained = state.vehicle is not None and state.vehicle.drained
        self._items[0].setVisible(drained)
        self.path_words.setVisible(state.fill_path is not None)
        if state.fill_path is not None:
            litres = self.model.units.volume(state.fill_path.litres_within_reach)
            self.path_words.setText(f"{state.fill_path.name}; {litres} in reach.")
        if state.fluid is None:
            return
        against = [wording.sentence(r, self.model.units) for r in gates.fluid_approved(state)]
        wrong = bool(against)
        text = against[0] if wrong else f"{state.fluid.product}: approved."
        if self.standing.text() != text:
            self.standing.setText(text)
            set_role(self.standing, "bad" if wrong else "good")


class SensorPage(Page):
    """Stage 3."""

    stage = Stage.SENSOR

    def fill(self) -> None:
        """What the sensor is compared with, and what that says before it is written down."""
        units = self.model.units
        self.reading = label("", "heading")
        self.ambient = QuantityField(Dimension.TEMPERATURE, units, "21")
        self.coolant = QuantityField(Dimension.TEMPERATURE, units, "21")
        self.gun = QuantityField(Dimension.TEMPERATURE, units, "20")
        self.gun_setting = QLineEdit()
        self.gun_setting.setPlaceholderText("0.95")
        self.rested = TickBox("It stood until all was equally cold")
        self.rest = HoursField(units, "9")
        self.answers = (label("", "soft"), label("", "soft"))
        self._answered: tuple[object, ...] = ()
        self.add(
            self.reading,
            form(
                ("Ambient", self.ambient),
                ("Coolant (if known)", self.coolant),
                ("Infrared gun (if used)", self.gun),
                ("Emissivity set on it", self.gun_setting),
            ),
            self.rested,
            form(("How long it stood", self.rest)),
        )
        self.add_next("Compare the sensor", self._compare)  # above what grows, so that it stays put
        self.add(
            *self.answers,
            label(
                "The sensor in the transmission decides. On a shiny pan a gun shows little more "
                "than the hall; what no surface can explain casts doubt on the sensor.",
                "soft",
            ),
        )

    def _compare(self) -> None:
        self.model.tap(ev.SensorChecked, **self._said())

    def _said(self) -> dict[str, float | bool | None]:
        return {
            "ambient": self.ambient.needed(),
            "coolant": self.coolant.quantity(),
            "infrared": self.gun.quantity(),
            "rested": self.rested.isChecked(),
            "rest_s": self.rest.quantity(),
            "gun_emissivity": _emissivity(self.gun_setting),
        }

    def show_state(self, state: CheckState) -> None:
        """What the sensor says, and what follows from what is typed so far."""
        celsius = facts.temperature(state)
        said = "no reading yet" if celsius is None else self.model.units.temperature(celsius, 1)
        self.reading.setText(f"The sensor says: {said}")
        self._show_answers(celsius)

    def _show_answers(self, celsius: float | None) -> None:
        fields = (self.ambient, self.coolant, self.gun, self.gun_setting, self.rest)
        asked = (celsius, self.rested.isChecked(), *(field.text() for field in fields))
        if asked == self._answered:
            return
        self._answered = asked
        answer = None
        if celsius is not None:
            try:
                tap = ev.SensorChecked(t=0.0, **self._said())  # type: ignore[arg-type]
                answer = sensor_check.answer_to(tap, celsius)
            except BrimlineError:
                pass  # half typed: said once the button is pressed
        show_sensor(answer, self.answers, self.model.units)


def show_sensor(
    answer: sensor_check.SensorAnswer | None, labels: tuple[QLabel, QLabel], units: UnitSystem
) -> None:
    """Show what gun and rest say, a label each, hidden where they say nothing."""
    gun, soak = labels
    for shown in labels:
        shown.setVisible(False)
    if answer is None:
        return
    for shown, text, doubtful in (
        (gun, sentences.gun_sentence(answer, units), sentences.gun_doubts(answer)),
        (soak, sentences.soak_sentence(answer, units), sentences.soak_doubts(answer)),
    ):
        shown.setText(text)
        shown.setVisible(bool(text))
        set_role(shown, "bad" if doubtful else "soft")


def _emissivity(field: QLineEdit) -> float | None:
    typed = field.text().strip().replace(",", ".")
    if not typed:
        return None
    try:
        value = float(typed)
    except ValueError:
        value = 0.0
    if not 0 < value <= 1:
        raise UnitError(f"{field.accessibleName()}: a number above 0 and at most 1, without unit.")
    return value


class HoursField(QuantityField):
    """A field for a time that people give in hours."""

    def __init__(self, units: UnitSystem, example: str) -> None:
        super().__init__(Dimension.TIME, units, example)
        self._symbol = "h"
        self.setPlaceholderText(f"{example} h")

    def quantity(self) -> float | None:
        """Return the time in s, ``None`` where nothing is typed.

        :raises UnitError: what is typed is no time, or below 0.
        """
        value = super().quantity()
        if value is not None and value < 0:
            raise UnitError(f"{self.accessibleName()}: a time is not below 0 h.")
        return value


class GroundPage(Page):
    """Stage 4."""

    stage = Stage.PRECONDITION
    cautions = (
        Caution(
            "WARNING",
            "Running engine: nobody under the vehicle. Extract the exhaust.",
            (Hazard.EXHAUST, Hazard.MOVING_PARTS),
        ),
    )

    def fill(self) -> None:
        """Items, engine, ranges, idle; by tap only what the vehicle does not tell."""
        self.compared = (label("", "soft"), label("", "soft"))
        self.add(*self.compared)
        self._compared: object = self  # nothing shown yet
        self.add_items(gates.START_ITEMS)
        self._by_tap: list[tuple[SignalName, QWidget]] = []
        self._rows: dict[str, QLabel] = {}
        for name in ("engine", "ranges", "idle"):
            self._rows[name] = label("", "heading")
        self.add(self._rows["engine"])
        engine, selector = SignalName.ENGINE_SPEED, SignalName.RANGE
        self._add_by_tap(engine, button("Engine started", lambda: self.model.tap(ev.EngineStarted)))
        self.add(self._rows["ranges"])
        for name in (*(r.name for r in self.model.state.sheet.ranges), facts.PARK):
            self._add_by_tap(selector, button(f"Selector now in {name}", self._selector(name)))
        self.add(self._rows["idle"])
        self.idle = QuantityField(Dimension.ROTATION, self.model.units, "650")
        note = button("Note the idle speed", lambda: self.attempt(self._note_idle))
        self._add_by_tap(engine, form(("Idle speed", self.idle)), note)
        self.add_items(gates.LEAVE_ITEMS)
        self.outlook = ComeBackBox(self.model.units)
        self.add(self.outlook)

    def _add_by_tap(self, signal: SignalName, *widgets: QWidget) -> None:
        """Put what stands in for a signal under what is there; a signal may be given up later."""
        self.add(*widgets)
        self._by_tap += [(signal, widget) for widget in widgets]

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """What is still to be done, and when the fluid will be in its band."""
        super().show_snapshot(snapshot)
        self.outlook.show_snapshot(snapshot)

    def _engine_words(self, state: CheckState) -> str:
        if not facts.engine_known(state):
            return "not known"
        rpm = "" if state.engine.rpm is None else f", {self.model.units.rotation(state.engine.rpm)}"
        return f"{'running' if facts.engine_runs(state) else 'not running'}{rpm}"

    def _selector(self, name: str) -> Callable[[], bool]:
        return lambda: self.model.tap(ev.RangeSelected, range=name)

    def _note_idle(self) -> None:
        self.model.tap(ev.IdleSpeedNoted, rpm=self.idle.needed())

    def show_state(self, state: CheckState) -> None:
        """Engine, ranges and idling as they stand, and what was said of the sensor."""
        for signal, widget in self._by_tap:
            widget.setVisible(not facts.is_measured(state, signal))
        if self._compared is not state.sensor:
            self._compared = state.sensor
            show_sensor(sensor_check.answer(state), self.compared, self.model.units)
        self._rows["engine"].setText(f"Engine: {self._engine_words(state)}")
        parts = [
            f"{r.name} held" if facts.range_served(state, r.name) else _to_hold(r)
            for r in state.sheet.ranges
        ]
        stands = facts.selected_range(state) or "not known"
        self._rows["ranges"].setText(f"Hold each range: {', '.join(parts)}. Now: {stands}")
        self._rows["idle"].setText(_idle_words(state))


def _to_hold(dwell: RangeDwell) -> str:
    return f"{dwell.name} for {duration(dwell.dwell)}"


def _idle_words(state: CheckState) -> str:
    idle = state.sheet.idle
    window = f"{idle.speed_low:.0f} to {idle.speed_high:.0f} rpm"
    if state.engine.idle_served_at is not None:
        return f"Idled in park for {duration(idle.time)}: done"
    due = facts.idle_due_at(state)
    left = "" if due is None else f", {duration(max(0.0, due - state.now))} left"
    return f"Then idle in park, {window}, for {duration(idle.time)}{left}"
