"""Works the real window as a person would: by keyboard alone, or by mouse alone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QCheckBox,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QWidget,
)

from brimline import desk, paths
from brimline.bootstrap import Bay
from brimline.condition.model import Findings
from brimline.config import Settings
from brimline.demo import SimulatedBay
from brimline.headless.technician import Act, AskVerdict, Deed, DoTap, Technician
from brimline.procedure import events as ev
from brimline.procedure.events import Flow, Origin
from brimline.procedure.names import Alarm, Stage
from brimline.records.query import Query
from brimline.ui.hands.held_key import CAUTION_S
from brimline.ui.main_window import MainWindow, open_window
from brimline.ui.ports.services import DemoOrder
from brimline.ui.screens.check.findings_form import FindingsForm
from brimline.ui.tokens import LIGHT
from brimline.ui.widgets.hold_button import HoldButton
from brimline.ui.widgets.word_tiles import WordTiles
from brimline.units import METRIC

TICK_S = 2.0

UNSEEN = 10
"""So many ticks go by for one that the window shows, where a test only wants to get somewhere."""


def newest(bay: Bay) -> str:
    """Return the number of the check opened last that is finished."""
    return str(bay.find(Query(origins=tuple(Origin)), limit=1).hits[0].number)


class MadeTime:
    """A clock that stands until it is told to go."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        return self.now


class Hands:
    """How a person reaches widgets: ``keyboard`` never touches the mouse, nor the other way."""

    def __init__(self, window: MainWindow, *, keyboard: bool) -> None:
        self._window = window
        self._keyboard = keyboard

    def press(self, target: QAbstractButton) -> None:
        """Press a button."""
        assert target.isEnabled(), target.text()
        if self._keyboard:
            self._reach(target)
            QTest.keyClick(target, Qt.Key.Key_Space)
        else:
            self._click(target)
        QApplication.processEvents()

    def hold(self, target: HoldButton) -> None:
        """Hold a button down until it has done what it does, and let go."""
        clock = MadeTime()
        clock.now, target.clock = target.clock(), clock
        self._reach(target) if self._keyboard else self._scroll_to(target)
        if self._keyboard:
            QTest.keyPress(target, Qt.Key.Key_Space)
        else:
            QTest.mousePress(target, Qt.MouseButton.LeftButton)
        clock.now += CAUTION_S
        target.tick()
        if self._keyboard:
            QTest.keyRelease(QApplication.focusWidget() or self._window, Qt.Key.Key_Space)
        else:
            QTest.mouseRelease(target, Qt.MouseButton.LeftButton)
        QApplication.processEvents()

    def type(self, target: QLineEdit | QPlainTextEdit, text: str) -> None:
        """Put a text into a field."""
        self._reach(target) if self._keyboard else self._click(target)
        if target.property("text") or isinstance(target, QPlainTextEdit):
            QTest.keyClick(target, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
            QTest.keyClick(target, Qt.Key.Key_Delete)
        QTest.keyClicks(target, text)

    def choose(self, target: QComboBox, value: object) -> None:
        """Choose an entry by its data."""
        self._reach(target) if self._keyboard else self._click_closed(target)
        wanted = target.findData(value)
        for _ in range(target.count()):
            if target.currentIndex() == wanted:
                return
            down = target.currentIndex() < wanted
            QTest.keyClick(target, Qt.Key.Key_Down if down else Qt.Key.Key_Up)
        assert target.currentIndex() == wanted

    def pick(self, target: WordTiles[Any], word: object) -> None:
        """Choose a tile: by the tabulator to the question, by arrows to the answer."""
        tile = target.tiles[word]
        if tile.isChecked():
            return
        if self._keyboard:
            self._reach_one_of(list(target.tiles.values()))
            self._arrow_to(tile)
            QTest.keyClick(tile, Qt.Key.Key_Space)
        else:
            self._click(tile)
        assert target.choice == word

    def _arrow_to(self, tile: QWidget) -> None:
        for key in 20 * [Qt.Key.Key_Down] + 20 * [Qt.Key.Key_Up]:
            at = QApplication.focusWidget()
            if at is tile:
                return
            assert at is not None
            across = at.y() == tile.y()
            sideways = Qt.Key.Key_Right if at.x() < tile.x() else Qt.Key.Key_Left
            QTest.keyClick(at, sideways if across else key)
        assert QApplication.focusWidget() is tile

    def _reach_one_of(self, targets: list[Any]) -> None:
        for _ in range(120):
            if QApplication.focusWidget() in targets:
                return
            QTest.keyClick(QApplication.focusWidget() or self._window, Qt.Key.Key_Tab)
        raise AssertionError(f"none of {targets} is reached by the tabulator key")

    def tick(self, target: QCheckBox, on: bool) -> None:
        """Set a check box."""
        if target.isChecked() is on:
            return
        if self._keyboard:
            self._reach(target)
            QTest.keyClick(target, Qt.Key.Key_Space)
        else:
            self._click(target, QPoint(12, target.height() // 2))
        assert target.isChecked() is on

    def _reach(self, target: QWidget) -> None:
        self._reach_one_of([target])

    def _click(self, target: QWidget, at: QPoint | None = None) -> None:
        for _ in range(4):  # what a page shows may change while it is scrolled: look again
            self._scroll_to(target)
            place = at or target.rect().center()
            hit = self._window.childAt(target.mapTo(self._window, place))
            if hit is target:
                break
        assert hit is not None, target
        assert hit is target or target.isAncestorOf(hit), f"{target} lies under {hit}"
        QTest.mouseClick(target, Qt.MouseButton.LeftButton, pos=place)

    def _click_closed(self, target: QComboBox) -> None:
        """A list that opens is closed again; the wheel's keys then choose."""
        self._scroll_to(target)
        target.setFocus(Qt.FocusReason.MouseFocusReason)

    def _scroll_to(self, target: QWidget) -> None:
        parent = target.parentWidget()
        while parent is not None:
            if isinstance(parent, QScrollArea):
                QApplication.processEvents()
                parent.ensureWidgetVisible(target)
            parent = parent.parentWidget()
        QApplication.processEvents()


class WindowPlay:
    """A demonstration in the real window, worked by a pair of hands."""

    _ticks = 0

    def __init__(self, family: str, fault: str, *, keyboard: bool) -> None:
        self.clock = MadeTime()
        self.bay = Bay(paths.data_folder(), Settings())
        self.services = desk.services(
            self.bay, METRIC, Path(paths.data_folder()) / "out", lambda _speed: self.clock
        )
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        self.window = open_window(app, self.services, LIGHT)
        self.window.resize(1280, 800)
        self.window.show()
        self.window.activateWindow()
        self.window.begin_demo(DemoOrder(family, fault, 1.0))
        QApplication.processEvents()
        self.hands = Hands(self.window, keyboard=keyboard)
        assert self.window.model is not None
        self.model = self.window.model
        controls = self.model.session.readings
        assert isinstance(controls, SimulatedBay)
        self.controls = controls
        self.technician = Technician(controls.bench)

    @property
    def page(self) -> Any:
        """The page that is up."""
        assert self.window.check is not None
        return self.window.check.page(self.model.state.stage)

    def play(self, each: Callable[[], None] = lambda: None) -> None:
        """Work the check to its end."""
        while self.model.state.closed is None:
            assert self.clock.now < 3600, self.model.state.stage
            self.clock.now += TICK_S
            self.model.step()
            each()
            deed = self.technician.next_deed(self.model.state, self.controls.view)
            if deed is not None:
                QApplication.processEvents()
                self.do(deed)

    def pass_on(self) -> None:
        """Let a tick go by while nobody looks: the window is shown a moment in ten."""
        self.clock.now += TICK_S
        self._ticks += 1
        if self._ticks % UNSEEN == 0:
            self.model.step()
        else:
            self.model.session.step()

    def abort(self) -> None:
        """Stop the running check by its drawer, and go back to the first screen."""
        check = self.window.check
        assert check is not None
        self.hands.press(check.abort)
        self.stop_in_drawer()
        self.hands.press(self.page.finish)
        self.window._show_home()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        QApplication.processEvents()

    def stop_in_drawer(self) -> None:
        """Answer the drawer that stops a check."""
        check = self.window.check
        assert check is not None
        drawer = check._drawer
        assert drawer is not None
        self.hands.type(drawer.why, "enough")  # type: ignore[attr-defined] # the abort drawer
        stop = next(b for b in drawer.findChildren(QAbstractButton) if b.text() == "Stop the check")
        self.hands.press(stop)

    def begin(self, family: str, fault: str) -> None:
        """Begin another demonstration in the same window."""
        self.window.begin_demo(DemoOrder(family, fault, 1.0))
        assert self.window.model is not None
        self.model = self.window.model
        QApplication.processEvents()

    def do(self, deed: Deed) -> None:
        """Do one deed by the window's own widgets, at arm's length."""
        self.come_near()
        if isinstance(deed, Act):
            assert self.window.check is not None
            assert self.window.check.strip is not None
            self.hands.press(self.window.check.strip.buttons[deed.name])
        elif isinstance(deed, AskVerdict):
            self.hands.press(self.page.finish)
        else:
            self._tap(deed)

    def come_near(self) -> None:
        """Leave the far view where it is up."""
        assert self.window.check is not None
        distances = self.window.check.distances
        if not distances.is_far:
            return
        if self.hands._keyboard:
            QTest.keyClick(QApplication.focusWidget() or self.window, Qt.Key.Key_F9)
        else:
            self.hands.press(distances.far.back)
        assert not distances.is_far

    def _tap(self, deed: DoTap) -> None:
        name = deed.kind.__name__  # type: ignore[attr-defined] # an event's class
        getattr(self, "_" + name)(**deed.fields)

    def _button(self, words: str) -> QAbstractButton:
        found = [
            b for b in self.page.findChildren(QAbstractButton)
            if b.text() == words and b.isVisible()
        ]  # fmt: skip
        assert len(found) == 1, words
        return found[0]

    def _CautionAcknowledged(self, stage: Stage) -> None:  # noqa: N802
        assert self.page.stage is stage
        self.hands.hold(self.page.acknowledge)

    def _AlarmAcknowledged(self, alarm: Alarm) -> None:  # noqa: N802
        assert self.window.check is not None
        self.hands.press(self.window.check.alarms.rows[alarm].acknowledge)

    def _VehicleIdentified(self, **f: Any) -> None:  # noqa: N802 - named as the event
        page = self.page
        self.hands.type(page.vin, f["vin"])
        self.hands.type(page.work_order, f["work_order"])
        self.hands.type(page.plate, f["plate"])
        self.hands.type(page.odometer, f"{f['odometer_km']:.0f}")
        self.hands.type(page.complaint, f["complaint"])
        self.hands.press(self._button("Identify the vehicle"))

    def _FluidChosen(self, product: str, lot: str) -> None:  # noqa: N802
        line = self.page.product.lineEdit() if not self.hands._keyboard else self.page.product
        self.hands.type(line, product)
        self.hands.type(self.page.lot, lot)
        self.hands.press(self._button("Match the fluid"))

    def _FillPathChosen(self, name: str, litres_within_reach: float) -> None:  # noqa: N802
        assert self.page.path.currentText() == name
        self.hands.type(self.page.within_reach, f"{litres_within_reach} L")
        self.hands.press(self._button("Choose the fill path"))

    def _Confirmed(self, item: ev.Item) -> None:  # noqa: N802
        if item is ev.Item.NOTHING_RAN_OFF:
            self.hands.press(self.page.run_off.nothing)
        else:
            self.hands.press(next(b for b in self.page._items if b.item is item))

    def _SensorChecked(  # noqa: N802
        self,
        ambient: float,
        rested: bool,
        infrared: float | None = None,
        gun_emissivity: float | None = None,
        rest_s: float | None = None,
    ) -> None:
        self.hands.type(self.page.ambient, f"{ambient!r} °C")
        if infrared is not None:
            self.hands.type(self.page.gun, f"{infrared!r} °C")
        if gun_emissivity is not None:
            self.hands.type(self.page.gun_setting, f"{gun_emissivity!r}")
        self.hands.tick(self.page.rested, rested)
        if rest_s is not None:
            self.hands.type(self.page.rest, f"{rest_s / 3600!r}")
        self.hands.press(self._button("Compare the sensor"))

    def _TiltMeasured(self, **angles: float) -> None:  # noqa: N802
        for key, angle in angles.items():
            self.hands.type(self.page.tilt.fields[key], f"{angle!r} °")
        self.hands.press(self._button("Write down the tilt"))

    def _PlugOut(self) -> None:  # noqa: N802
        self.hands.press(self.page.out)

    def _PlugIn(self) -> None:  # noqa: N802
        self.hands.press(self.page.plug_in)

    def _FlowJudged(self, flow: Flow, drops_per_second: float | None) -> None:  # noqa: N802
        if flow is Flow.DRIPS:
            self.hands.type(self.page.drip, f"{drops_per_second!r}")
        words = {Flow.RUNS: "It runs", Flow.DRIPS: "It drips", Flow.NOTHING: "Nothing comes"}
        self.hands.press(self._button(words[flow]))

    def _FirstLook(self, findings: Findings, drawn_sample: bool) -> None:  # noqa: N802
        self._find(self.page.form, findings)
        self.hands.press(self._button("First look taken"))

    def _find(self, form: FindingsForm, findings: Findings) -> None:
        self.hands.pick(form.colour, findings.colour)
        self.hands.pick(form.clarity, findings.clarity)
        self.hands.pick(form.odour, findings.odour)
        self.hands.pick(form.particles, findings.particles)
        self.hands.pick(form.coolant, findings.coolant_signs)

    def _PumpStarted(self) -> None:  # noqa: N802
        self.hands.press(self.page.pump_on)

    def _PumpStopped(self, litres: float, fluid_celsius: float) -> None:  # noqa: N802
        self.hands.type(self.page.amount, f"{litres!r} L")
        self.hands.type(self.page.shelf, f"{fluid_celsius!r} °C")
        self.hands.press(self.page.pump_off)

    def _SealDone(self, replaced: bool) -> None:  # noqa: N802
        self.hands.press(self._button("Seal replaced" if replaced else "Seal inspected and good"))

    def _PlugTorqued(self, torque: float, wrench_low: float, wrench_high: float, unit: str) -> None:  # noqa: N802
        self.hands.type(self.page.torque, f"{torque!r} {unit}")
        self.hands.type(self.page.low, f"{wrench_low!r} {unit}")
        self.hands.type(self.page.high, f"{wrench_high!r} {unit}")
        self.hands.press(self._button("Plug torqued"))

    def _LeakLook(self, dry: bool) -> None:  # noqa: N802
        self.hands.press(self._button("Dry: no leak" if dry else "It leaks"))

    def _RunOffMeasured(self, litres: float) -> None:  # noqa: N802
        self.hands.type(self.page.run_off.amount, f"{litres!r} L")
        self.hands.press(self._button("Write down the run-off"))

    def _ConditionAssessed(self, findings: Findings, **_advice: Any) -> None:  # noqa: N802
        self._find(self.page.findings, findings)
        self.hands.press(self._button("Condition assessed"))
