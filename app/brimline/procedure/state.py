"""What a level check knows at one moment. Frozen; only :mod:`reducer` makes the next one.

Times are s of the check. A value and the moment it was seen are kept; whether it is still fresh,
served or inside is derived in :mod:`facts` from ``now``, so that time may pass in any portions.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from brimline.physics.infrared import GunJudgement
from brimline.procedure.attaching import AttachmentKept
from brimline.procedure.estimates import ForecastMade, LevelEstimated
from brimline.procedure.events import (
    CheckAborted,
    CheckClosed,
    CheckOpened,
    ConditionAssessed,
    FillPathChosen,
    FirstLook,
    FlowJudged,
    FluidChosen,
    GateOverridden,
    Item,
    LeakLook,
    PlugTorqued,
    Resumed,
    SealDone,
    SensorChecked,
    TapEvent,
    TiltMeasured,
    VehicleIdentified,
)
from brimline.procedure.names import Alarm, Stage
from brimline.procedure.reasons import Code
from brimline.reading import Reading, SignalName
from brimline.specsheet.model import Band, SpecSheet

__all__ = [
    "Alarm", "AlarmPhase", "BandPlace", "BandSide", "Cause", "CheckState", "Closing", "End",
    "Engine", "Evidence", "GateMoment", "Latched", "LedgerEntry", "Level", "Override", "PlugSpan",
    "Ranges", "Served", "Stage", "StandingAlarm", "Temperature", "Undoable",
]  # fmt: skip


class Evidence(StrEnum):
    """How a precondition is known."""

    MEASURED = "measured"
    ATTESTED = "attested"


class BandPlace(StrEnum):
    """Where the fluid is, judged over several readings so that jitter does not flap."""

    UNKNOWN = "unknown"
    INSIDE = "inside"
    OUTSIDE = "outside"


class BandSide(StrEnum):
    """On which side of the band the fluid is while it is not inside."""

    BELOW = "below"
    ABOVE = "above"
    TOO_HOT = "too_hot"


class Cause(StrEnum):
    """Why the plug must go in at once. Latched until it is in."""

    BAND_LEFT = "band_left"
    ENGINE_STOPPED = "engine_stopped"
    COOLANT_SIGNS = "coolant_signs"
    RUN_OFF_LIMIT = "run_off_limit"
    RUN_OFF_TIME = "run_off_time"
    TOP_UP_LIMIT = "top_up_limit"
    FOUND_OUT = "plug_found_out"
    NOT_SECURE = "vehicle_not_secure"


class End(StrEnum):
    """How the work at the plug ended; what is left is to close, assess and record."""

    LEVEL = "level"
    PROVISIONAL = "provisional"
    REFERRED = "referred"
    STOPPED = "stopped"


class AlarmPhase(StrEnum):
    """Where an alarm stands, after ANSI/ISA-18.2 and IEC 62682; one that is normal is not listed.

    The names of the phases are from memory.
    """

    UNACKNOWLEDGED = "unacknowledged"
    ACKNOWLEDGED = "acknowledged"
    RETURNED = "returned_unacknowledged"


@dataclass(frozen=True, slots=True)
class StandingAlarm:
    """An alarm that is not normal.

    :param since: when it was raised last, in s of the check.
    :param active: whether its condition stands, or ended less than the off-delay ago.
    :param gone_since: since when its condition has ended, while the off-delay runs.
    :param causes: how many causes demanded the plug in when it was raised or acknowledged.
    """

    alarm: Alarm
    since: float
    active: bool = True
    acknowledged: bool = False
    gone_since: float | None = None
    causes: int = 0

    @property
    def phase(self) -> AlarmPhase:
        """Where it stands."""
        if not self.active:
            return AlarmPhase.RETURNED
        return AlarmPhase.ACKNOWLEDGED if self.acknowledged else AlarmPhase.UNACKNOWLEDGED


@dataclass(frozen=True, slots=True)
class Latched:
    """A cause, and since when it demands the plug in."""

    cause: Cause
    at: float


@dataclass(frozen=True, slots=True)
class Override:
    """A reason that a person has overridden, with the number it had then."""

    code: Code
    word: str
    value: float | None


@dataclass(frozen=True, slots=True)
class Engine:
    """The engine: since when it runs or rests, and how its idling is served."""

    running_since: float | None = None
    stopped_at: float | None = None
    known: bool = False
    seen_at: float | None = None
    rpm: float | None = None
    low_readings: int = 0
    outside_since: float | None = None
    back_since: float | None = None  # inside the idle window again, after an excursion that counts
    idle_since: float | None = None
    idle_served_at: float | None = None


@dataclass(frozen=True, slots=True)
class Served:
    """One selector range held for its dwell."""

    name: str
    at: float
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Ranges:
    """The selector: where it stands, since when, and which ranges are served."""

    current: str | None = None
    since: float = 0.0
    seen_at: float | None = None
    served: tuple[Served, ...] = ()


@dataclass(frozen=True, slots=True)
class Temperature:
    """The fluid's temperature: the last good reading and where it places the fluid."""

    last: Reading | None = None
    bad: Reading | None = None  # the newest reading, where it is not good
    bad_readings: int = 0  # how many in a row
    inside_since: float | None = None
    outside_since: float | None = None
    place: BandPlace = BandPlace.UNKNOWN
    side: BandSide | None = None  # where it comes from, for as long as it is not inside


@dataclass(frozen=True, slots=True)
class PlugSpan:
    """One stretch with the plug out; ``until`` is ``None`` while it is out."""

    since: float
    until: float | None = None


@dataclass(frozen=True, slots=True)
class LedgerEntry:
    """Fluid that went in (positive L) or ran out (negative L), at °C where known.

    ``product`` and ``lot`` name what went in.
    """

    at: float
    litres: float
    celsius: float | None
    product: str = ""
    lot: str = ""


@dataclass(frozen=True, slots=True)
class RunOffAsked:
    """From where on the plug's openings are asked about; what was told before answers for earlier.

    :param since: only amounts noted from then on answer, in s of the check.
    :param causes: how many of the past causes had been before.
    :param unmeasured: fluid ran off earlier of which nobody will ever say how much.
    """

    since: float = 0.0
    causes: int = 0
    unmeasured: bool = False


@dataclass(frozen=True, slots=True)
class Level:
    """The work at the open plug."""

    flow: FlowJudged | None = None
    overflowed: bool = False
    run_off_since: float | None = None
    pump_since: float | None = None
    pump_off_at: float | None = None
    reached_at: float | None = None


@dataclass(frozen=True, slots=True)
class Closing:
    """Plug and seal after the work, and what the level was set by when the plug last went in.

    :param celsius: temperature of the fluid then; ``keyed`` where a person had read it.
    :param tilt: how the vehicle stood then; it may be measured again or come down afterwards.
    :param sensor: what its sensor had been compared with, the fluid at ``sensor_celsius``.
    """

    seal: SealDone | None = None
    torque: PlugTorqued | None = None
    leak: LeakLook | None = None
    stripped: bool = False
    celsius: float | None = None
    keyed: bool = False
    tilt: TiltMeasured | None = None
    sensor: SensorChecked | None = None
    sensor_celsius: float | None = None


@dataclass(frozen=True, slots=True)
class GateMoment:
    """From ``t`` on, the plug gate was closed for these reasons (none: it was open)."""

    t: float
    closed_by: tuple[tuple[Code, str], ...]


@dataclass(frozen=True, slots=True)
class Undoable:
    """The latest tap, while it may be taken back.

    :param before: the state that met the tap; it has nothing to take back itself.
    :param since: what came after the tap and would have come without it.
    """

    tap: TapEvent
    before: CheckState
    since: tuple[Reading | AttachmentKept, ...] = ()


@dataclass(frozen=True, slots=True)
class CheckState:
    """One level check at the moment ``now``.

    ``asked_again`` are items that were confirmed before nobody watched for a while. They still
    count for what stood then, and stand in the way of going on until somebody confirms them again.

    ``alarms`` are those whose condition stands; ``standing`` has all that are not normal, the most
    urgent first, and is kept from version 5 of the procedure on.
    """

    opened: CheckOpened
    now: float
    technician: str
    measured: frozenset[SignalName]
    vehicle: VehicleIdentified | None = None
    fluid: FluidChosen | None = None
    fill_path: FillPathChosen | None = None
    confirmed: frozenset[Item] = frozenset()
    asked_again: frozenset[Item] = frozenset()
    resumed: tuple[Resumed, ...] = ()
    sensor: SensorChecked | None = None
    sensor_celsius: float | None = None
    gun: GunJudgement | None = None
    engine: Engine = field(default_factory=Engine)
    ranges: Ranges = field(default_factory=Ranges)
    speed: float | None = None
    tilt: TiltMeasured | None = None
    temperature: Temperature = field(default_factory=Temperature)
    circulate_from: float = 0.0
    plug_spans: tuple[PlugSpan, ...] = ()
    first_look: FirstLook | None = None
    coolant_seen: bool = False
    ran_off: bool = False
    run_off_asked: RunOffAsked = field(default_factory=RunOffAsked)
    run_off_why: str = ""  # why nobody measured what ran off
    level: Level = field(default_factory=Level)
    ledger: tuple[LedgerEntry, ...] = ()
    latched: tuple[Latched, ...] = ()
    past_causes: tuple[Cause, ...] = ()
    provisional: bool = False
    end: End | None = None
    closing: Closing = field(default_factory=Closing)
    condition: ConditionAssessed | None = None
    overrides: tuple[GateOverridden, ...] = ()
    active_overrides: frozenset[Override] = frozenset()
    overridden_at_plug: frozenset[Code] = frozenset()
    aborted: CheckAborted | None = None
    stopped_at: Stage | None = None  # where the check stood as somebody stopped it
    attachments: tuple[AttachmentKept, ...] = ()
    level_estimate: LevelEstimated | None = None
    forecast: ForecastMade | None = None
    closed: CheckClosed | None = None
    gate_history: tuple[GateMoment, ...] = ()
    alarms: frozenset[Alarm] = frozenset()
    standing: tuple[StandingAlarm, ...] = ()
    cautions_seen: frozenset[Stage] = frozenset()
    undoable: Undoable | None = None
    stage: Stage = Stage.IDENTIFY

    @property
    def sheet(self) -> SpecSheet:
        """The spec sheet that the record embeds."""
        return self.opened.sheet

    @property
    def band(self) -> Band:
        """The target band of the chosen duty."""
        return self.sheet.bands[self.opened.duty]

    @property
    def causes(self) -> tuple[Cause, ...]:
        """Why the plug must go in at once, in the order in which it came."""
        return tuple(latched.cause for latched in self.latched)

    @property
    def plug_is_out(self) -> bool:
        """Whether the check plug is out, as far as anybody said."""
        return bool(self.plug_spans) and self.plug_spans[-1].until is None

    @property
    def added(self) -> float:
        """Fluid put in so far, in L."""
        return sum(entry.litres for entry in self.ledger if entry.litres > 0)

    @property
    def run_off(self) -> float:
        """Fluid that ran out so far, in L, as far as it was measured."""
        return sum(-entry.litres for entry in self.ledger if entry.litres < 0)
