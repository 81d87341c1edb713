"""Works the real window as a person would: by keyboard alone, or by mouse alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any
from unittest import mock

from PySide6.QtCore import QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication
from window_hands import Hands, MadeTime

from brimline import desk, paths
from brimline.bootstrap import Bay
from brimline.condition.model import Findings
from brimline.config import Settings
from brimline.demo import SimulatedBay
from brimline.headless.technician import Act, AskVerdict, Deed, DoTap, Technician
from brimline.procedure import events as ev
from brimline.procedure import run_off
from brimline.procedure.events import Flow, Origin
from brimline.procedure.names import Alarm, Stage
from brimline.records.query import Query
from brimline.simulator import families, vehicle
from brimline.simulator.families import Family
from brimline.specsheet.library import SheetLibrary
from brimline.specsheet.model import NORMAL_DUTY
from brimline.ui.main_window import open_window
from brimline.ui.ports.services import DemoOrder
from brimline.ui.screens.check.findings_form import FindingsForm
from brimline.ui.tokens import LIGHT
from brimline.units import METRIC

TICK_S = 2.0

UNSEEN = 10
"""So many ticks go by for one that the window shows, where a test only wants to get somewhere."""


WARM_K = 8.0
"""So far below its band a vehicle arrives here: the way there is driven by tests of its own."""


@contextmanager
def warm_arrival() -> Iterator[None]:
    """Let simulated vehicles that arrive cold come in warm."""

    def warm(name: str) -> Family:
        found = families.find_family(name)
        sheet = SheetLibrary((paths.resources() / "sheets",)).find(found.sheet_id)
        low = sheet.bands[NORMAL_DUTY].low
        assert low is not None
        return replace(found, arrival=max(found.arrival, low - WARM_K))

    with mock.patch.object(vehicle, "find_family", warm):
        yield


def newest(bay: Bay) -> str:
    """Return the number of the check opened last that is finished."""
    return str(bay.find(Query(origins=tuple(Origin)), limit=1).hits[0].number)


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
        with warm_arrival():
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
        if run_off.is_asked(self.model.state):
            item = ev.Item.RUN_OFF_NOT_MEASURED
            assert self.model.tap(ev.Confirmed, item=item, reason="nobody looked")
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
