"""What happened in a check, in the two or three words that a chart has room for."""

from __future__ import annotations

from brimline.procedure.moments import Happening, Moment
from brimline.translation import marked, tr
from brimline.units import UnitSystem

_SHORT = {
    Happening.ENGINE_STARTED: marked("Engine on"),
    Happening.ENGINE_STOPPED: marked("Engine off"),
    Happening.BAND_ENTERED: marked("Band entered"),
    Happening.BAND_LEFT: marked("Band left"),
    Happening.PLUG_OUT: marked("Plug out"),
    Happening.PLUG_IN: marked("Plug in"),
    Happening.FIRST_LOOK: marked("First look"),
    Happening.PUMP_ON: marked("Pump on"),
    Happening.PUMP_OFF: marked("Pump off, {amount} in"),
    Happening.RAN_OFF: marked("{amount} out"),
}


def happened(moment: Moment, units: UnitSystem) -> str:
    """Return what happened, with an amount in the unit shown."""
    amount = "" if moment.litres is None else units.volume(moment.litres)
    return tr(_SHORT[moment.what], amount=amount)
