"""Everything that can happen in a level check. A record is the list of its events, in order.

Times are s since the opening of the check, monotonic. ``t`` is when the program learned of the
event; a tap may say that it ``happened`` up to :data:`MAX_LATE_S` earlier, and is then judged at
that moment. Quantities are in the program's inside units.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Literal

from brimline.condition.model import Findings, Recommendation
from brimline.procedure.acknowledging import AlarmAcknowledged, CautionAcknowledged, Undone
from brimline.procedure.attaching import AttachmentKept
from brimline.procedure.estimates import Estimate
from brimline.procedure.reasons import Code
from brimline.procedure.tap import Tap
from brimline.reading import Reading, SignalName
from brimline.specsheet.model import SpecSheet

MAX_LATE_S = 60.0
"""How far back a tap may say that something happened."""


class Origin(StrEnum):
    """What a record rests on. Only live and keyed ones are services on a vehicle."""

    LIVE = "live"
    KEYED = "keyed"
    REPLAY = "replay"
    TRAINING = "training"


class Item(StrEnum):
    """Things a person confirms by a tap."""

    INITIAL_FILL_DONE = "initial_fill_done"
    PUMP_PRIMED = "pump_primed"
    FILL_PATH_READY = "fill_path_ready"
    FLUID_WITHIN_REACH = "fluid_within_reach"
    CHECK_PLUG_IDENTIFIED = "check_plug_identified"
    NOBODY_UNDER = "nobody_under"
    WHEELS_CHOCKED = "wheels_chocked"
    EXHAUST_EXTRACTED = "exhaust_extracted"
    AUTO_STOP_DISABLED = "auto_stop_disabled"
    BRAKE_HELD = "brake_held"
    PARKING_BRAKE = "parking_brake"
    OCCUPANT_OUT = "occupant_out"
    LIFT_LOCKED = "lift_locked"
    CREW_CLEAR = "crew_clear"
    CATCH_PAN = "catch_pan"
    PROTECTION_WORN = "protection_worn"
    RUN_OFF_NOT_MEASURED = "run_off_not_measured"
    NOTHING_RAN_OFF = "nothing_ran_off"


class Flow(StrEnum):
    """What comes out of the open plug hole."""

    RUNS = "runs"
    DRIPS = "drips"
    NOTHING = "nothing"


class Verdict(StrEnum):
    """How a level check ended."""

    SET = "set"
    CORRECTED = "corrected"
    RECHECK = "recheck_needed"
    REFERRED = "referred"
    STOPPED = "stopped"


@dataclass(frozen=True, slots=True, kw_only=True)
class ScriptNote:
    """The disclosed script that tapped instead of a person."""

    name: str
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckOpened:
    """The first event: everything the check stands on, the whole spec sheet included."""

    t: float = 0.0
    check_id: str
    opened_at: datetime
    origin: Origin
    sheet: SpecSheet
    duty: str
    measured: tuple[SignalName, ...]
    source: str
    technician: str
    shop: str
    program: str
    procedure: int
    script: ScriptNote | None = None
    kind: Literal["check_opened"] = "check_opened"


@dataclass(frozen=True, slots=True, kw_only=True)
class VehicleIdentified(Tap):
    """Stage 1. The VIN has been checked before; odometer in km.

    :param drained: the box was drained or opened, so that the sheet's initial fill comes first.
    """

    vin: str
    work_order: str
    plate: str = ""
    odometer_km: float | None = None
    complaint: str = ""
    variant: str = ""
    drained: bool = False
    vin_warning: str = ""
    kind: Literal["vehicle_identified"] = "vehicle_identified"


@dataclass(frozen=True, slots=True, kw_only=True)
class FluidChosen(Tap):
    """Stage 2. Product in hand; ``condition_confirmed`` where its approval has a condition."""

    product: str
    lot: str = ""
    condition_confirmed: bool = False
    kind: Literal["fluid_chosen"] = "fluid_chosen"


@dataclass(frozen=True, slots=True, kw_only=True)
class FillPathChosen(Tap):
    """Stage 2. Which of the sheet's fill paths is used, and L of fluid within reach."""

    name: str
    litres_within_reach: float
    kind: Literal["fill_path_chosen"] = "fill_path_chosen"


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmed(Tap):
    """A person confirms one item of the checklist; with a reason where one is asked for."""

    item: Item
    reason: str = ""
    kind: Literal["confirmed"] = "confirmed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawn(Tap):
    """A person takes a confirmation back, for example when the lift is unlocked."""

    item: Item
    kind: Literal["withdrawn"] = "withdrawn"


@dataclass(frozen=True, slots=True, kw_only=True)
class SensorChecked(Tap):
    """Stage 3. What the fluid's sensor was compared with, all temperatures in °C.

    :param rested: whether the vehicle stood long enough for fluid and ambient to be equal.
    :param rest_s: how long it stood with its engine off, in s, where somebody knows.
    :param gun_emissivity: what the gun is set to, above 0 and up to 1, where somebody knows.
    """

    ambient: float
    coolant: float | None = None
    infrared: float | None = None
    rested: bool = False
    rest_s: float | None = None
    gun_emissivity: float | None = None
    kind: Literal["sensor_checked"] = "sensor_checked"


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineStarted(Tap):
    """Attested: the engine runs at idle."""

    kind: Literal["engine_started"] = "engine_started"


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineStopped(Tap):
    """Attested: the engine has stopped."""

    kind: Literal["engine_stopped"] = "engine_stopped"


@dataclass(frozen=True, slots=True, kw_only=True)
class RangeSelected(Tap):
    """Attested: the selector stands in this range of the sheet, or ``"P"``."""

    range: str
    kind: Literal["range_selected"] = "range_selected"


@dataclass(frozen=True, slots=True, kw_only=True)
class IdleSpeedNoted(Tap):
    """Attested: idle speed read from an instrument, in rpm."""

    rpm: float
    kind: Literal["idle_speed_noted"] = "idle_speed_noted"


@dataclass(frozen=True, slots=True, kw_only=True)
class SignalWithdrawn(Tap):
    """A declared signal is given up for good; from here on it is attested or keyed."""

    signal: SignalName
    reason: str
    kind: Literal["signal_withdrawn"] = "signal_withdrawn"


@dataclass(frozen=True, slots=True, kw_only=True)
class TiltMeasured(Tap):
    """Stage 5. Level read on the vehicle's own datum, each way and turned round, in degrees.

    Nose up and right side up are positive. The second reading of each pair is taken with the
    instrument turned end for end, and given in the vehicle's sense all the same: what a signed
    instrument then shows has the opposite sign.
    """

    lengthwise: float
    lengthwise_turned: float
    crosswise: float
    crosswise_turned: float
    kind: Literal["tilt_measured"] = "tilt_measured"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugOut(Tap):
    """Stage 7. The check plug comes out."""

    kind: Literal["plug_out"] = "plug_out"


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstLook(Tap):
    """Stage 8. The first run-off, or a drawn sample where nothing comes, is judged."""

    findings: Findings
    drawn_sample: bool = False
    kind: Literal["first_look"] = "first_look"


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowJudged(Tap):
    """Stage 8. What comes out of the hole now; drips per second where it drips."""

    flow: Flow
    drops_per_second: float | None = None
    kind: Literal["flow_judged"] = "flow_judged"


@dataclass(frozen=True, slots=True, kw_only=True)
class PumpStarted(Tap):
    """Stage 8. Fluid is being pumped in."""

    kind: Literal["pump_started"] = "pump_started"


@dataclass(frozen=True, slots=True, kw_only=True)
class PumpStopped(Tap):
    """Stage 8. The pump is off; L pumped in, at °C where that is known."""

    litres: float
    fluid_celsius: float | None = None
    kind: Literal["pump_stopped"] = "pump_stopped"


@dataclass(frozen=True, slots=True, kw_only=True)
class RunOffMeasured(Tap):
    """Stage 8 on. L that ran out since the last measurement, at °C where that is known."""

    litres: float
    fluid_celsius: float | None = None
    kind: Literal["run_off_measured"] = "run_off_measured"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugIn(Tap):
    """The check plug is in again, hand tight."""

    kind: Literal["plug_in"] = "plug_in"


@dataclass(frozen=True, slots=True, kw_only=True)
class EndedProvisional(Tap):
    """The band was left and the check is not repeated now; a recheck will be needed."""

    reason: str
    kind: Literal["ended_provisional"] = "ended_provisional"


@dataclass(frozen=True, slots=True, kw_only=True)
class SealDone(Tap):
    """Stage 9. The plug's seal was replaced, or inspected and found good."""

    replaced: bool
    kind: Literal["seal_done"] = "seal_done"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugTorqued(Tap):
    """Stage 9. The torque applied (N·m), the wrench's range, and its unit as the person read it."""

    torque: float
    wrench_low: float
    wrench_high: float
    unit: str
    kind: Literal["plug_torqued"] = "plug_torqued"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugStripped(Tap):
    """The plug's thread is stripped or it does not seal: do not lower, do not drive."""

    note: str = ""
    kind: Literal["plug_stripped"] = "plug_stripped"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakLook(Tap):
    """Stage 9. Whether plug and pan are dry after torquing."""

    dry: bool
    kind: Literal["leak_look"] = "leak_look"


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionAssessed(Tap):
    """Stage 10. The whole assessment, what the rules advise, and what the technician says.

    :param findings: ``None`` where the check stopped before any fluid was seen.
    :param advised: what the rules recommend, with their reasons.
    :param recommendation: what stands; other than ``advised`` only with an ``override_reason``.
    """

    findings: Findings | None
    advised: Recommendation
    advised_reasons: tuple[str, ...]
    recommendation: Recommendation
    override_reason: str = ""
    kind: Literal["condition_assessed"] = "condition_assessed"


@dataclass(frozen=True, slots=True, kw_only=True)
class GateOverridden(Tap):
    """A person opens a gate against one of its reasons, and says why.

    ``word`` names which item or range it is where the code alone does not say.
    """

    code: Code
    word: str = ""
    reason: str
    by: str
    kind: Literal["gate_overridden"] = "gate_overridden"


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedOver(Tap):
    """Another technician takes over and confirms the two facts that matter."""

    to: str
    plug_is_out: bool
    engine_runs: bool
    kind: Literal["handed_over"] = "handed_over"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resumed(Tap):
    """The program was started again during a check; what is found at the vehicle is said.

    :param gap_s: s for which nobody watched; ``None`` where the clock cannot say.
    :param engine_runs: ``None`` where nobody looked, because the check only ends.
    """

    gap_s: float | None
    plug_is_out: bool
    engine_runs: bool | None
    kind: Literal["resumed"] = "resumed"


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckAborted(Tap):
    """The check ends here. With the plug out it must be said that it stays out."""

    reason: str
    plug_left_out: bool = False
    kind: Literal["check_aborted"] = "check_aborted"


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckClosed(Tap):
    """The last event: the verdict as it was given. It is never derived again."""

    verdict: Verdict
    reasons: tuple[str, ...]
    recheck_after_drive: bool = False
    kind: Literal["check_closed"] = "check_closed"


@dataclass(frozen=True, slots=True, kw_only=True)
class DeadlineReached:
    """Time alone has changed something, such as a dwell served or a reading gone stale."""

    t: float
    name: str
    kind: Literal["deadline_reached"] = "deadline_reached"


TapEvent = (
    VehicleIdentified | FluidChosen | FillPathChosen | Confirmed | Withdrawn | SensorChecked
    | EngineStarted | EngineStopped | RangeSelected | IdleSpeedNoted | SignalWithdrawn
    | TiltMeasured | PlugOut | FirstLook | FlowJudged | PumpStarted | PumpStopped
    | RunOffMeasured | PlugIn | EndedProvisional | SealDone | PlugTorqued | PlugStripped
    | LeakLook | ConditionAssessed | GateOverridden | HandedOver | Resumed | CheckAborted
    | CheckClosed | AttachmentKept | Undone | AlarmAcknowledged | CautionAcknowledged
)  # fmt: skip
Event = CheckOpened | TapEvent | Reading | DeadlineReached | Estimate
