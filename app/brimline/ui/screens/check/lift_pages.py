"""Pages of stages 5 to 7: raise, to temperature, plug out."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton

from brimline import wording
from brimline.procedure import events as ev
from brimline.procedure import facts, gates, tilting
from brimline.procedure.doing import Form
from brimline.procedure.events import Item
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.state import CheckState, Stage
from brimline.session import Snapshot
from brimline.translation import joined, marked, tr
from brimline.ui.forms import button, enter_sends, label, main_tap
from brimline.ui.screens.check.outlook_box import OutlookBox
from brimline.ui.screens.check.page import Caution, Page
from brimline.ui.screens.check.run_off_box import RunOffBox
from brimline.ui.screens.check.tilt_form import TiltForm
from brimline.ui.widgets.hazards import Hazard
from brimline.ui.widgets.marks import set_role
from brimline.units import UnitSystem, duration

FINE_K = 2.0
"""So near the band (K) a tenth of a degree counts."""


class RaisePage(Page):
    """Stage 5."""

    stage = Stage.RAISE
    cautions = (
        Caution(
            marked("DANGER"),
            marked("A vehicle that comes off its lift kills. Lock the lift before you go."),
            (Hazard.LIFT,),
        ),
        Caution(
            marked("WARNING"),
            marked("Exhaust, pan and fluid burn; fans and belts turn without warning."),
            (
                Hazard.HOT_SURFACE,
                Hazard.MOVING_PARTS,
                Hazard.EYE_PROTECTION,
                Hazard.HAND_PROTECTION,
            ),
            burns=True,
        ),
    )

    def fill(self) -> None:
        """Items, then the tilt of the vehicle on its own datum."""
        self.run_off = RunOffBox(self)
        self.add(self.run_off)
        self.add_items((Item.LIFT_LOCKED, *gates.RAISE_ITEMS))
        self.add(
            label(tr("Tilt on the vehicle's datum, each way and turned round"), "heading"),
            label(tr("Nose up and right side up are positive."), "soft"),
            label(
                tr(
                    "Turned round, an instrument with a sign shows the opposite one: reverse it, "
                    "so that both readings of a pair have the vehicle's sense."
                ),
                "soft",
            ),
        )
        self.tilt = TiltForm(self.model.units)
        self.answer = label("", "soft")
        self.add(self.answer, self.tilt)
        self._raised = False
        self.sends[Form.TILT] = self._measure
        send = self.add_next(tr("Write down the tilt"), self._measure)
        enter_sends(send, *self.tilt.fields.values())

    def _measure(self) -> None:
        if self.model.tap(ev.TiltMeasured, **self.tilt.angles()):
            self.tilt.clear()

    def show_state(self, state: CheckState) -> None:
        """What the tilt does to the fluid level, what is allowed, and which way to raise."""
        self.run_off.show_state(state)
        raised = facts.raised(state)
        if self._raised and not raised:
            self.tilt.clear()
        self._raised = raised
        against = any(reason.code in gates.TILT_CODES for reason in gates.lifted(state))
        set_role(self.answer, "bad" if against else "soft")
        if state.tilt is None:
            self.answer.setText(
                tr("Not measured yet: enter the four readings, then write them down.")
            )
            return
        error, level = tilting.tilt_error(state.sheet, state.tilt), state.sheet.level
        units = self.model.units
        found = tr(
            "Largest angle {angle:.1f}°, allowed {allowed:.1f}°. This leaves {off}; the allowed "
            "tilt costs {most} at most, the fluid level may be off by {accepted}.",
            angle=tilting.largest_tilt(state.tilt),
            allowed=level.allowed_tilt,
            off=wording.left_over(error.litres, error.spread, units),
            most=units.small_volume(error.limit),
            accepted=units.small_volume(level.acceptance),
        )
        no_tilt = tr("No tilt that the readings could tell.")
        self.answer.setText(joined((found, wording.raise_sides(error.sides) or no_tilt), " "))


class TemperaturePage(Page):
    """Stage 6."""

    stage = Stage.TEMPERATURE
    cautions = (
        Caution(
            marked("WARNING"),
            marked(
                "Do not heat the fluid by stalling the engine: it gains some 5 °C (10 °F) each "
                "second, burns people and ruins the converter."
            ),
        ),
    )

    def fill(self) -> None:
        """What is waited for; engine taps stand under the page where the vehicle does not tell."""
        self.waiting = label("", "heading")
        self.advice = label("", "soft")
        self.outlook = OutlookBox()
        self.run_off = RunOffBox(self)
        self.add(self.waiting, self.outlook, self.advice, self.run_off)
        self.provisional = main_tap(
            button(tr("End here; the vehicle comes back for a recheck"), self._end)
        )
        self.add(self.provisional)

    def _end(self) -> None:
        self.model.tap(ev.EndedProvisional, reason="Not repeated today.")

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """What is waited for, and how long that takes as far as can be told."""
        super().show_snapshot(snapshot)
        self.outlook.show_snapshot(snapshot)

    def show_state(self, state: CheckState) -> None:
        """Where the fluid is and what brings it into its band."""
        self.run_off.show_state(state)
        celsius, band, units = facts.temperature(state), state.band, self.model.units
        self.provisional.setVisible(state.provisional)
        if celsius is None:
            self.waiting.setText(tr("No fresh reading of the fluid temperature."))
            self.advice.setText(tr("The plug stays in until readings come; if none do, stop."))
        elif band.low is not None and celsius < band.low:
            gap = _gap(band.low - celsius, units)
            self.waiting.setText(tr("{gap} below the band. Let the engine idle in park.", gap=gap))
            self.advice.setText(tr("Meanwhile: catch pan under the plug, pump and fluid at hand."))
        elif celsius > (band.high if band.high is not None else band.limit):
            top = band.high if band.high is not None else band.limit
            gap = _gap(celsius - top, units)
            self.waiting.setText(
                tr("{gap} above the band. Engine off, or a fan, until it has cooled.", gap=gap)
            )
            wait = duration(state.sheet.idle.circulation_after_stop)
            self.advice.setText(
                tr("After any stop the fluid circulates for {wait} again.", wait=wait)
            )
        else:
            self.waiting.setText(tr("In the band. What is listed beside still stands against it."))
            self.advice.setText("")


def _gap(kelvin: float, units: UnitSystem) -> str:
    """Return how far it is to the band, finer only near it: a sentence that changed ten times a
    second could not be read.
    """
    return units.temperature_difference(kelvin, 1 if kelvin < FINE_K else 0)


class PlugOutPage(Page):
    """Stage 7."""

    stage = Stage.PLUG_OUT
    cautions = (
        Caution(
            marked("WARNING"),
            marked("Hot fluid follows; hot metal is overhead. Eyes and hands covered."),
            (Hazard.HOT_SURFACE, Hazard.HAND_PROTECTION, Hazard.EYE_PROTECTION),
            burns=True,
        ),
    )

    def fill(self) -> None:
        """The one button."""
        self.add(
            label(tr("Nothing stands against it: take the check plug out, then press."), "heading")
        )
        self.out: QPushButton = self.add_next(tr("Plug is out"), self._out)
        self.out.setProperty("tap", "largest")

    def _out(self) -> None:
        self.model.tap(ev.PlugOut)

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """The button is alive while the gate is open."""
        super().show_snapshot(snapshot)
        self.out.setEnabled(not reasons(Gate.PLUG_OUT, snapshot.state))
