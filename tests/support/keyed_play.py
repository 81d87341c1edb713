"""Works a check by keyed readings through the real window, from the first screen on."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from window_hands import Hands, MadeTime
from window_play import WindowPlay

from brimline import desk, paths
from brimline.bootstrap import Bay
from brimline.condition.model import Clarity, Colour, Findings, Odour, Particles
from brimline.config import Settings
from brimline.procedure import cautions, gates
from brimline.procedure.events import Flow, Item
from brimline.procedure.state import Stage
from brimline.ui.main_window import open_window
from brimline.ui.ports.keeping import Keeping
from brimline.ui.ports.services import BusServices
from brimline.ui.screens.check.by_hand import ByHandStrip
from brimline.ui.tokens import LIGHT
from brimline.units import METRIC, UnitSystem

GOOD = Findings(Colour.CLEAR_RED, Clarity.CLEAR, Odour.NORMAL, Particles.NONE)
VIN = "0THFC3K71RL104218"


class KeyedPlay(WindowPlay):
    """A window at its first screen; :meth:`begin_keyed` begins a check by keyed readings."""

    def __init__(
        self,
        *,
        keyboard: bool = False,
        units: UnitSystem = METRIC,
        bus: BusServices | None = None,
        keeping: Keeping | None = None,
    ) -> None:
        self.clock = MadeTime()
        self.bay = Bay(paths.data_folder(), Settings())
        out = Path(paths.data_folder()) / "out"
        self.services = desk.services(
            self.bay, units, out, lambda _speed: self.clock, bus, keeping=keeping
        )
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        self.window = open_window(app, self.services, LIGHT)
        self.window.resize(1280, 800)
        self.window.show()
        self.window.activateWindow()
        QApplication.processEvents()
        self.hands = Hands(self.window, keyboard=keyboard)

    @property
    def strip(self) -> ByHandStrip:
        """What is keyed and tapped under page and chart."""
        assert self.window.check is not None
        return self.window.check.by_hand

    def begin_keyed(self, sheet: str = "k7-demo") -> None:
        """Fill in the first screen and begin."""
        panel = self.window.home.vehicle
        self.hands.type(panel.technician, "R. Calloway")
        self.hands.choose(panel.sheet, sheet)
        panel.keyed.setChecked(True)
        self.hands.press(panel.go)
        assert self.window.model is not None, self.window.said.text()
        self.model = self.window.model
        QApplication.processEvents()

    def pass_time(self, seconds: float) -> None:
        """Let the check's time pass, a second at a step."""
        for _ in range(round(seconds)):
            self.clock.now += 1
            self.model.step()
        QApplication.processEvents()

    def key(self, text: str) -> None:
        """Type a temperature and press Enter."""
        self.hands.type(self.strip.temperature, text)
        QTest.keyClick(self.strip.temperature, "\r")
        QApplication.processEvents()

    def confirm(self, *items: Item) -> None:
        """Press items of the checklist."""
        for item in items:
            self._Confirmed(item)
            QApplication.processEvents()

    def to_the_sensor(self) -> None:
        """Stages 1 and 2."""
        self._VehicleIdentified(
            vin=VIN, work_order="W-9", plate="T 1", odometer_km=84210, complaint="slips"
        )
        self._FluidChosen("TF-Clear", "7")
        self._FillPathChosen(self.model.state.sheet.fill_paths[0].name, 2.0)
        self.confirm(*gates.FLUID_ITEMS)
        assert self.model.state.stage is Stage.SENSOR

    def to_the_ground(self) -> None:
        """Stage 3 by a keyed reading."""
        self.key("22 °C")
        self._SensorChecked(ambient=21.0, rested=True)
        assert self.model.state.stage is Stage.PRECONDITION

    def to_the_lift(self) -> None:
        """Stage 4 by tap and timer."""
        self.confirm(*gates.START_ITEMS)
        self.hands.press(self._button("Engine started"))
        for dwell in self.model.state.sheet.ranges:
            self.hands.press(self._button(f"Selector now in {dwell.name}"))
            self.pass_time(dwell.dwell + 1)
        self.hands.press(self._button("Selector now in P"))
        self.hands.type(self.page.idle, "640 rpm")
        self.hands.press(self._button("Note the idle speed"))
        self.pass_time(self.model.state.sheet.idle.time + 1)
        self.confirm(*gates.LEAVE_ITEMS)
        assert self.model.state.stage is Stage.RAISE

    def to_temperature(self) -> None:
        """Stage 5."""
        self._CautionAcknowledged(Stage.RAISE)
        self.confirm(Item.LIFT_LOCKED, *gates.RAISE_ITEMS)
        self._TiltMeasured(
            lengthwise=0.2, lengthwise_turned=0.0, crosswise=-0.1, crosswise_turned=0.1
        )
        assert self.model.state.stage is Stage.TEMPERATURE

    def warm_up(self, celsius: float = 70.0) -> None:
        """Key a temperature every half minute until the fluid is so warm."""
        now = 30.0
        while now < celsius:
            now = min(celsius, now + 8)
            self.key(f"{now:g} °C")
            if self.strip.question.isVisible():  # the first one, after a long gap
                self.hands.press(self.strip.question.keep)
            self.pass_time(30 if now < celsius else 1)

    def to_the_plug(self) -> None:
        """Stages 1 to 6, the fluid in its band."""
        self.to_the_sensor()
        self.to_the_ground()
        self.to_the_lift()
        self.to_temperature()
        self.warm_up()
        assert self.model.state.stage is Stage.PLUG_OUT

    def _PlugOut(self) -> None:  # noqa: N802
        """With the cautions before it, and those of the next page."""
        self._read(Stage.PLUG_OUT)
        super()._PlugOut()
        self._read(Stage.LEVEL)

    def _read(self, stage: Stage) -> None:
        if cautions.asked(self.model.state, stage):
            self._CautionAcknowledged(stage)

    def finish(self) -> None:
        """Stages 7 to 11: it drips as it should."""
        self._PlugOut()
        self.pass_time(5)
        self.key("71 °C")
        self._FlowJudged(Flow.DRIPS, 1.0)
        self._FirstLook(GOOD, drawn_sample=False)
        self._FlowJudged(Flow.DRIPS, 1.0) if self.model.state.level.reached_at is None else None
        self._PlugIn()
        self._SealDone(replaced=True)
        self._PlugTorqued(10.0, 2.0, 20.0, "N·m")
        self._LeakLook(dry=True)
        if gates.run_off_unknown(self.model.state):
            self.hands.type(self.page.run_off.why, "the pan was emptied")
            self.hands.press(self.page.run_off.unmeasured)
        self._ConditionAssessed(GOOD)
        self.hands.press(self.page.finish)


@contextmanager
def keyed_play(
    *,
    keyboard: bool = False,
    units: UnitSystem = METRIC,
    bus: BusServices | None = None,
    keeping: Keeping | None = None,
) -> Iterator[KeyedPlay]:
    """Give a window, and close whatever it has open."""
    play = KeyedPlay(keyboard=keyboard, units=units, bus=bus, keeping=keeping)
    try:
        yield play
    finally:
        play.window.end_check()
        play.window.close()
        play.window.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def write_real_sheet(folder: Path) -> str:
    """Put a sheet that is not invented among the shop's; return its id."""
    text = (paths.resources() / "sheets" / "k7-demo.toml").read_text("utf-8")
    text = text.replace("invented = true", "invented = false").replace('"k7-demo"', '"k7-shop"')
    sheets = folder / "sheets"
    sheets.mkdir(parents=True, exist_ok=True)
    (sheets / "k7-shop.toml").write_text(text, "utf-8")
    return "k7-shop"
