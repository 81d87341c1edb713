"""Taps in two or three words: for the answers that a press may give, and for taking one back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from brimline.procedure import events as ev
from brimline.procedure.acknowledging import AlarmAcknowledged, CautionAcknowledged, Undone
from brimline.procedure.attaching import AttachmentKept
from brimline.procedure.events import Flow, TapEvent
from brimline.translation import marked, tr
from brimline.wording.names import ITEMS

_PLAIN: dict[type, str] = {
    ev.VehicleIdentified: marked("Vehicle identified"),
    ev.FluidChosen: marked("Fluid matched"),
    ev.FillPathChosen: marked("Fill path chosen"),
    ev.SensorChecked: marked("Sensor compared"),
    ev.EngineStarted: marked("Engine started"),
    ev.EngineStopped: marked("Engine stopped"),
    ev.IdleSpeedNoted: marked("Idle speed noted"),
    ev.SignalWithdrawn: marked("Signal given up"),
    ev.TiltMeasured: marked("Tilt written down"),
    ev.PlugOut: marked("Plug out"),
    ev.FirstLook: marked("First look taken"),
    ev.PumpStarted: marked("Pump on"),
    ev.PumpStopped: marked("Pump off"),
    ev.RunOffMeasured: marked("Run-off written down"),
    ev.PlugIn: marked("Plug in"),
    ev.EndedProvisional: marked("Ended for a recheck"),
    ev.PlugTorqued: marked("Plug torqued"),
    ev.PlugStripped: marked("Thread stripped"),
    ev.ConditionAssessed: marked("Condition assessed"),
    ev.GateOverridden: marked("Override"),
    ev.HandedOver: marked("Handed over"),
    ev.Resumed: marked("Gone on with"),
    ev.CheckAborted: marked("Check stopped"),
    ev.CheckClosed: marked("Record closed"),
    AttachmentKept: marked("File kept"),
    Undone: marked("Taken back"),
    AlarmAcknowledged: marked("Alarm acknowledged"),
    CautionAcknowledged: marked("Cautions read"),
}

_FLOWS = {
    Flow.RUNS: marked("It runs"),
    Flow.DRIPS: marked("It drips"),
    Flow.NOTHING: marked("Nothing comes"),
}
_SEALS = {True: marked("Seal replaced"), False: marked("Seal inspected and good")}
_LOOKS = {True: marked("Dry: no leak"), False: marked("It leaks")}

_NAMED: dict[type, Callable[[Any], str]] = {
    ev.Confirmed: lambda tap: tr("Confirmed: {item}", item=tr(ITEMS[tap.item])),
    ev.Withdrawn: lambda tap: tr("Not so any more: {item}", item=tr(ITEMS[tap.item])),
    ev.RangeSelected: lambda tap: tr("Selector in {range}", range=tap.range),
    ev.FlowJudged: lambda tap: tr(_FLOWS[tap.flow]),
    ev.SealDone: lambda tap: tr(_SEALS[tap.replaced]),
    ev.LeakLook: lambda tap: tr(_LOOKS[tap.dry]),
}


def tapped(tap: TapEvent) -> str:
    """Return what a tap says."""
    named = _NAMED.get(type(tap))
    return tr(_PLAIN[type(tap)]) if named is None else named(tap)
