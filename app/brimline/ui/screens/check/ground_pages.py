"""Pages of stages 2 to 4: fluid, sensor, on the ground."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from brimline import wording
from brimline.errors import BrimlineError, UnitError
from brimline.estimate import sensor_check, sentences
from brimline.procedure import events as ev
from brimline.procedure import facts, gates
from brimline.procedure.doing import Form
from brimline.procedure.events import Item
from brimline.procedure.state import CheckState, Stage
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.specsheet.model import Approval, RangeDwell
from brimline.translation import joined, marked, tr
from brimline.ui.forms import (
    Choice,
    QuantityField,
    TickBox,
    button,
    enter_sends,
    form,
    label,
    main_tap,
)
from brimline.ui.hands.number_pad import PadField
from brimline.ui.hints import hint, such_as
from brimline.ui.screens.check.outlook_box import ComeBackBox
from brimline.ui.screens.check.page import Caution, Page
from brimline.ui.screens.check.run_off_box import RunOffBox
from brimline.ui.widgets.hazards import Hazard
from brimline.ui.widgets.marks import set_role
from brimline.units import Dimension, UnitSystem, duration


class FluidPage(Page):
    """Stage 2."""

    stage = Stage.FLUID
    cautions = (
        Caution(
            marked("NOTICE"),
            marked("A wrong fluid can ruin the transmission. Read the label in your hand."),
        ),
    )

    def fill(self) -> None:
        """Product and lot, fill path, items."""
        sheet = self.model.state.sheet
        self.product = Choice()
        self.product.setEditable(True)
        self.product.setCompleter(None)  # type: ignore[arg-type] # nothing is typed for anybody
        self.product.addItems([fluid.name for fluid in sheet.fluids])
        self.product.setCurrentText("")
        self.lot = QLineEdit()
        self.condition = TickBox(tr("The condition of its approval is met"))
        self.condition_words = label("", "soft")
        self.standing = label(tr("No fluid chosen yet: type or choose the one in hand."), "soft")
        self.add(form((tr("Product in hand"), self.product), (tr("Lot"), self.lot)))
        self.add(self.condition_words, self.condition, self.standing)
        self.match = self.add_next(tr("Match the fluid"), self._choose)
        self.path = Choice()
        self.path.addItems([path.name for path in sheet.fill_paths])
        self.within_reach = QuantityField(Dimension.VOLUME, self.model.units, 2)
        self.add(form((tr("Fill path"), self.path), (tr("In reach"), self.within_reach)))
        self.choose = self.add_next(tr("Choose the fill path"), self._choose_path)
        enter_sends(self.choose, self.within_reach)
        self.path_words = label("", "good")
        self.add(self.path_words)
        self.add_items((Item.INITIAL_FILL_DONE, *gates.FLUID_ITEMS))
        self.sends |= {Form.FLUID: self._choose, Form.FILL_PATH: self._choose_path}
        self.product.currentTextChanged.connect(self._show_condition)
        self._show_condition("")

    def _show_condition(self, product: str) -> None:
        known = self.model.state.sheet.fluid(product)
        words = known.condition if known and known.approval is Approval.APPROVED else ""
        self.condition_words.setText(words)
        for widget in (self.condition, self.condition_words):
            widget.setVisible(bool(words))

    def _choose(self) -> None:
        product = self.product.currentText().strip()
        if not product:
            raise BrimlineError(tr("Type the product that is in hand."))
        self.model.tap(
            ev.FluidChosen,
            product=product,
            lot=self.lot.text().strip(),
            condition_confirmed=self._condition_is_met(),
        )

    def _choose_path(self) -> None:
        self.model.tap(
            ev.FillPathChosen,
            name=self.path.currentText(),
            litres_within_reach=self.within_reach.needed(),
        )

    def _is_matched(self, state: CheckState) -> bool:
        """Whether what stands in the fields of the product, if anything, was matched last."""
        typed = self.product.currentText().strip(), self.lot.text().strip()
        if state.fluid is None or not typed[0]:
            return state.fluid is not None  # of a check that goes on, nothing is typed
        said = state.fluid.product, state.fluid.lot
        return typed == said and state.fluid.condition_confirmed is self._condition_is_met()

    def _condition_is_met(self) -> bool:
        return self.condition.isChecked() and not self.condition.isHidden()

    def show_state(self, state: CheckState) -> None:
        """One button at a time, and the initial fill only where it applies."""
        matched = self._is_matched(state)
        self.match.setHidden(matched)
        self.choose.setVisible(matched)
        drained = state.vehicle is not None and state.vehicle.drained
        self._items[0].setVisible(drained)
        self.path_words.setVisible(state.fill_path is not None)
        if state.fill_path is not None:
            litres = self.model.units.volume(state.fill_path.litres_within_reach)
            self.path_words.setText(
                tr("{path}; {amount} in reach.", path=state.fill_path.name, amount=litres)
            )
        if state.fluid is None:
            return
        against = [wording.sentence(r, self.model.units) for r in gates.fluid_approved(state)]
        wrong = bool(against)
        text = against[0] if wrong else tr("{product}: approved.", product=state.fluid.product)
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
        self.ambient = QuantityField(Dimension.TEMPERATURE, units, 21)
        self.coolant = QuantityField(Dimension.TEMPERATURE, units, 21)
        self.gun = QuantityField(Dimension.TEMPERATURE, units, 20)
        self.gun_setting = PadField()
        hint(self.gun_setting, such_as("0.95"))
        self.rested = TickBox(tr("It stood until all was equally cold"))
        self.rest = HoursField(units, such_as("9 h"))
        self.answers = (label("", "soft"), label("", "soft"))
        self.sends[Form.SENSOR] = self._compare
        self._answered: tuple[object, ...] = ()
        self.add(
            self.reading,
            form(
                (tr("Shop air"), self.ambient),
                (tr("Coolant (if known)"), self.coolant),
                (tr("Infrared gun (if used)"), self.gun),
                (tr("Emissivity set on it"), self.gun_setting),
            ),
            self.rested,
            form((tr("How long it stood"), self.rest)),
        )
        send = self.add_next(tr("Compare the sensor"), self._compare)
        enter_sends(send, self.ambient, self.coolant, self.gun, self.gun_setting, self.rest)
        self.add(
            *self.answers,
            label(
                tr(
                    "The sensor in the transmission decides. On a shiny pan a gun shows little "
                    "more than the shop air; what no surface can explain casts doubt on the sensor."
                ),
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
        if celsius is None:
            self.reading.setText(tr("The sensor says: no reading yet"))
        else:
            said = self.model.units.temperature(celsius, 1)
            self.reading.setText(tr("The sensor says: {said}", said=said))
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
        raise UnitError(
            tr("{name}: a number above 0 and at most 1, without unit.", name=field.accessibleName())
        )
    return value


class HoursField(QuantityField):
    """A field for a time that people give in hours."""

    def __init__(self, units: UnitSystem, example: str) -> None:
        super().__init__(Dimension.TIME, units, None)
        self._symbol = "h"
        hint(self, example)

    def quantity(self) -> float | None:
        """Return the time in s, ``None`` where nothing is typed.

        :raises UnitError: what is typed is no time, or below 0.
        """
        value = super().quantity()
        if value is not None and value < 0:
            raise UnitError(tr("{name}: a time is not below 0 h.", name=self.accessibleName()))
        return value


class GroundPage(Page):
    """Stage 4."""

    stage = Stage.PRECONDITION
    cautions = (
        Caution(
            marked("WARNING"),
            marked("Running engine: nobody under the vehicle. Extract the exhaust."),
            (Hazard.EXHAUST, Hazard.MOVING_PARTS),
        ),
    )

    def fill(self) -> None:
        """Items, engine, ranges, idle; by tap only what the vehicle does not tell."""
        self.run_off = RunOffBox(self)  # of a plug that was out as the engine stopped
        self.compared = (label("", "soft"), label("", "soft"))
        self.add(self.run_off, *self.compared)
        self._compared: object = self  # nothing shown yet
        self.add_items(gates.START_ITEMS)
        self._by_tap: list[tuple[SignalName, QWidget]] = []
        self._rows: dict[str, QLabel] = {}
        for name in ("engine", "ranges", "idle"):
            self._rows[name] = label("", "heading")
        self.add(self._rows["engine"])
        engine, selector = SignalName.ENGINE_SPEED, SignalName.RANGE
        started = button(tr("Engine started"), lambda: self.model.tap(ev.EngineStarted))
        self._add_by_tap(engine, main_tap(started))
        self.add(self._rows["ranges"])
        for name in (*(r.name for r in self.model.state.sheet.ranges), facts.PARK):
            made = button(tr("Selector now in {range}", range=name), self._selector(name))
            self._add_by_tap(selector, main_tap(made))
        self.add(self._rows["idle"])
        self.idle = QuantityField(Dimension.ROTATION, self.model.units, 650)
        note = button(tr("Note the idle speed"), lambda: self.attempt(self._note_idle))
        self._add_by_tap(engine, form((tr("Idle speed"), self.idle)), main_tap(note))
        enter_sends(note, self.idle)
        self.sends[Form.IDLE_SPEED] = self._note_idle
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
            return tr("Engine: not known")
        runs = facts.engine_runs(state)
        if state.engine.rpm is None:
            return tr("Engine: running") if runs else tr("Engine: not running")
        speed = self.model.units.rotation(state.engine.rpm)
        if runs:
            return tr("Engine: running, {speed}", speed=speed)
        return tr("Engine: not running, {speed}", speed=speed)

    def _selector(self, name: str) -> Callable[[], bool]:
        return lambda: self.model.tap(ev.RangeSelected, range=name)

    def _note_idle(self) -> None:
        self.model.tap(ev.IdleSpeedNoted, rpm=self.idle.needed())

    def show_state(self, state: CheckState) -> None:
        """Engine, ranges and idling as they stand, and what was said of the sensor."""
        self.run_off.show_state(state)
        for signal, widget in self._by_tap:
            widget.setVisible(not facts.is_measured(state, signal))
        if self._compared is not state.sensor:
            self._compared = state.sensor
            show_sensor(sensor_check.answer(state), self.compared, self.model.units)
        self._rows["engine"].setText(self._engine_words(state))
        parts = [
            tr("{range} held", range=r.name) if facts.range_served(state, r.name) else _to_hold(r)
            for r in state.sheet.ranges
        ]
        stands = facts.selected_range(state) or tr("not known")
        self._rows["ranges"].setText(
            tr("Hold each range: {ranges}. Now: {stands}", ranges=joined(parts), stands=stands)
        )
        self._rows["idle"].setText(_idle_words(state))


def _to_hold(dwell: RangeDwell) -> str:
    return tr("{range} for {time}", range=dwell.name, time=duration(dwell.dwell))


def _idle_words(state: CheckState) -> str:
    idle = state.sheet.idle
    time = duration(idle.time)
    if state.engine.idle_served_at is not None:
        return tr("Idled in park for {time}: done", time=time)
    low, high, due = idle.speed_low, idle.speed_high, facts.idle_due_at(state)
    if due is None:
        return tr(
            "Then idle in park, {low:.0f} to {high:.0f} rpm, for {time}",
            low=low, high=high, time=time,
        )  # fmt: skip
    return tr(
        "Then idle in park, {low:.0f} to {high:.0f} rpm, for {time}, {left} left",
        low=low, high=high, time=time, left=duration(max(0.0, due - state.now)),
    )  # fmt: skip
