"""What a spec sheet holds. Frozen; every quantity in the program's inside units.

The layout of the file follows these classes one to one; ``resources/sheets/README.md`` documents
it for those who write sheets. A key that is not listed here is a fault.
"""

from __future__ import annotations

import math
from datetime import date
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator

from brimline.specsheet.quantities import (
    Celsius,
    Degrees,
    DropsPerSecond,
    KilogramsPerCubicMetre,
    Litres,
    Metres,
    NewtonMetres,
    Offset,
    PerKelvin,
    Rpm,
    Seconds,
    SquareMetres,
    SquareMillimetresPerSecond,
)
from brimline.specsheet.signal_map import ObdSignal, SignalMap
from brimline.translation import joined, marked, tr

SCHEMA = 1
"""The version of the sheet's layout that this program reads."""

IDLE_OVERFLOW = "idle_overflow"
"""The one check method that Brimline guides: overflow at idle, plug out, fluid in its band."""

Text = Annotated[str, Field(min_length=1)]

MOST_ALLOWED_TILT = 10.0
"""Largest ``allowed_tilt`` in degrees; anything larger is a slip of the keyboard (common practice,
no source)."""

NORMAL_DUTY = "normal"
"""The duty that every sheet has a band for."""


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", serialize_by_alias=True)


class SheetStatus(StrEnum):
    """Whether the shop has released the sheet."""

    DRAFT = "draft"
    APPROVED = "approved"
    WITHDRAWN = "withdrawn"


class SourceDocument(_Part):
    """The service information that the sheet's figures come from."""

    title: Text
    date: date
    revision: Text
    status: SheetStatus


class Transmission(_Part):
    """The family that the sheet is for."""

    maker: Text
    family: Text
    variants: Annotated[tuple[Text, ...], Field(min_length=1)]
    forward_ranges: Annotated[int, Field(ge=1, le=20)]


class RangeDwell(_Part):
    """One selector range to hold at idle, brake held, and for how long (s)."""

    name: Text
    dwell: Seconds


class Idle(_Part):
    """Idle-speed window (rpm), idle time before the lift goes up, circulation after a stop (s)."""

    speed_low: Rpm
    speed_high: Rpm
    time: Seconds
    circulation_after_stop: Seconds

    @field_validator("speed_high")
    @classmethod
    def _window(cls, high: float, info: ValidationInfo) -> float:
        if high <= info.data.get("speed_low", -math.inf):
            raise ValueError(tr("must be above speed_low"))
        return high


class Band(_Part):
    """Target band for one duty (°C).

    Either end may be open; then ``max_plug_out`` must stand: above it the plug stays in, always.
    """

    low: Celsius | None = None
    high: Annotated[Celsius | None, Field(validate_default=True)] = None
    max_plug_out: Annotated[Celsius | None, Field(validate_default=True)] = None

    @field_validator("high")
    @classmethod
    def _not_inverted(cls, high: float | None, info: ValidationInfo) -> float | None:
        low = info.data.get("low", -math.inf)  # a faulty low end is reported by itself
        if high is None and low is None:
            raise ValueError(tr("at least one end of the band must be given"))
        if high is not None and low is not None and high <= low:
            found = marked("the band is inverted: {high:g} °C is not above low, {low:g} °C")
            raise ValueError(tr(found, high=high, low=low))
        return high

    @field_validator("max_plug_out")
    @classmethod
    def _limit(cls, limit: float | None, info: ValidationInfo) -> float | None:
        low, high = info.data.get("low", -math.inf), info.data.get("high", -math.inf)
        if limit is None and (low is None or high is None):
            raise ValueError(tr("must be given, because one end of the band is open"))
        floor = low if high is None else high
        if limit is not None and floor is not None and limit < floor:
            raise ValueError(
                tr("must not lie below the band, which reaches {floor:g} °C", floor=floor)
            )
        return limit

    @property
    def limit(self) -> float:
        """The temperature in °C above which the plug never comes out."""
        limit = self.max_plug_out if self.max_plug_out is not None else self.high
        if limit is None:  # the validator forbids it
            raise AssertionError("a band has an upper end or a max_plug_out")
        return limit

    def contains(self, celsius: float) -> bool:
        """Return whether a temperature lies inside the band, ends included."""
        above = self.low is None or celsius >= self.low
        return above and celsius <= (self.high if self.high is not None else self.limit)


class WarmUp(_Part):
    """How long the maker says that idling takes to warm the fluid (s), from start to end (°C)."""

    start: Celsius
    end: Celsius
    time: Annotated[Seconds, Field(gt=0)]

    @field_validator("end")
    @classmethod
    def _warmer(cls, end: float, info: ValidationInfo) -> float:
        if end <= info.data.get("start", -math.inf):
            raise ValueError(tr("must be above start"))
        return end


class Approval(StrEnum):
    """Whether the maker allows a fluid in this family."""

    APPROVED = "approved"
    REFUSED = "refused"


class Fluid(_Part):
    """A fluid with the maker's word on it and its properties.

    ``condition`` states when an approval holds; the technician must confirm it. ``variants`` names
    those that it holds for, where it does not hold for all. Density at 15 °C;
    viscosity at 40 °C and 100 °C; ``expansion`` (1/K at 15 °C) where the data sheet gives one.
    """

    name: Text
    approval: Approval
    condition: str = ""
    variants: tuple[Text, ...] = ()
    density_15: Annotated[KilogramsPerCubicMetre | None, Field(validate_default=True)] = None
    viscosity_40: Annotated[SquareMillimetresPerSecond | None, Field(validate_default=True)] = None
    viscosity_100: Annotated[SquareMillimetresPerSecond | None, Field(validate_default=True)] = None
    expansion: PerKelvin | None = None

    @field_validator("density_15", "viscosity_40", "viscosity_100")
    @classmethod
    def _approved_has_properties(cls, value: float | None, info: ValidationInfo) -> float | None:
        if value is None and info.data.get("approval") is Approval.APPROVED:
            raise ValueError(tr("must be given for an approved fluid"))
        return value

    @field_validator("viscosity_100")
    @classmethod
    def _thins_with_heat(cls, value: float | None, info: ValidationInfo) -> float | None:
        cold = info.data.get("viscosity_40")
        if value is not None and cold is not None and value >= cold:
            raise ValueError(tr("must be below viscosity_40"))
        return value


class Level(_Part):
    """Geometry and limits of the level check.

    ``standpipe_forward`` and ``standpipe_right`` locate the standpipe from the pan's area
    centroid (m, may be negative). ``acceptance`` is the amount by which the level may be off;
    ``allowed_tilt`` is at most :data:`MOST_ALLOWED_TILT` degrees.
    """

    capacity: Litres
    acceptance: Litres
    pan_area: SquareMetres
    standpipe_forward: Offset
    standpipe_right: Offset
    standpipe_bore: Metres
    allowed_tilt: Degrees
    plug_hole: Metres
    drip_rate: DropsPerSecond
    settle_time: Seconds
    max_run_off: Litres
    max_run_off_time: Seconds
    max_top_up: Litres

    @field_validator("allowed_tilt")
    @classmethod
    def _no_slope(cls, value: float) -> float:
        if value > MOST_ALLOWED_TILT:
            raise ValueError(tr("must be at most {most:g}°", most=MOST_ALLOWED_TILT))
        return value

    @field_validator("acceptance", "max_run_off", "max_top_up")
    @classmethod
    def _below_capacity(cls, value: float, info: ValidationInfo) -> float:
        if value >= info.data.get("capacity", math.inf):
            raise ValueError(tr("must be less than the capacity"))
        return value


class SealRule(StrEnum):
    """What happens to the check plug's seal."""

    REPLACE = "replace"
    INSPECT = "inspect"


class CheckPlug(_Part):
    """The check plug: its torque with the tolerance either way (N·m) and its seal."""

    torque: NewtonMetres
    torque_tolerance: NewtonMetres
    seal: SealRule

    @field_validator("torque_tolerance")
    @classmethod
    def _below_torque(cls, value: float, info: ValidationInfo) -> float:
        if value >= info.data.get("torque", math.inf):
            raise ValueError(tr("must be less than the torque"))
        return value


class FillPath(_Part):
    """One way to bring fluid in."""

    name: Text
    note: str = ""


class SignalWord(StrEnum):
    """Signal words of ANSI Z535: how badly somebody can get hurt. Said through ``tr``."""

    DANGER = marked("DANGER")
    WARNING = marked("WARNING")
    CAUTION = marked("CAUTION")
    NOTICE = marked("NOTICE")


class SheetCaution(_Part):
    """A caution that this family needs, shown before the stage it names."""

    stage: Literal[
        "identify", "fluid", "sensor", "precondition", "raise", "temperature",
        "plug_out", "level", "close", "condition", "record",
    ]  # fmt: skip
    word: SignalWord
    text: Text


class SpecSheet(_Part):
    """One spec sheet, whole."""

    schema_version: Annotated[Literal[1], Field(alias="schema")]
    id: Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
    check_method: Text
    plug_out_engine: Literal["idling", "stopped"]
    invented: bool
    notice: str = ""
    source: SourceDocument
    transmission: Transmission
    ranges: Annotated[tuple[RangeDwell, ...], Field(min_length=1)]
    idle: Idle
    bands: Annotated[dict[Text, Band], Field(min_length=1)]
    fluids: Annotated[tuple[Fluid, ...], Field(min_length=1)]
    level: Level
    plug: CheckPlug
    fill_paths: Annotated[tuple[FillPath, ...], Field(min_length=1)]
    warm_up: WarmUp | None = None
    cautions: tuple[SheetCaution, ...] = ()
    signals: SignalMap = SignalMap()

    @field_validator("bands")
    @classmethod
    def _normal_duty(cls, bands: dict[str, Band]) -> dict[str, Band]:
        if NORMAL_DUTY not in bands:
            raise ValueError(tr("the band for {duty} duty is missing", duty=NORMAL_DUTY))
        return bands

    @field_validator("ranges", "fluids", "fill_paths")
    @classmethod
    def _no_name_twice(
        cls, parts: tuple[RangeDwell | Fluid | FillPath, ...]
    ) -> tuple[RangeDwell | Fluid | FillPath, ...]:
        names = [part.name.casefold() for part in parts]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise ValueError(tr("named more than once: {those}", those=joined(twice)))
        return parts

    @field_validator("fluids")
    @classmethod
    def _variants_exist(cls, fluids: tuple[Fluid, ...], info: ValidationInfo) -> tuple[Fluid, ...]:
        known = info.data.get("transmission")
        named = {variant for fluid in fluids for variant in fluid.variants}
        unknown = sorted(named - set(known.variants)) if known is not None else []
        if unknown:
            raise ValueError(tr("unknown variants: {those}", those=joined(unknown)))
        return fluids

    @field_validator("fluids")
    @classmethod
    def _one_approved(cls, fluids: tuple[Fluid, ...]) -> tuple[Fluid, ...]:
        if all(fluid.approval is Approval.REFUSED for fluid in fluids):
            raise ValueError(tr("at least one fluid must be approved"))
        return fluids

    @field_validator("signals")
    @classmethod
    def _coolant_only_where_invented(cls, signals: SignalMap, info: ValidationInfo) -> SignalMap:
        stands_in = isinstance(signals.fluid_temperature, ObdSignal)
        if stands_in and not info.data.get("invented", True):
            raise ValueError(
                tr(
                    "fluid_temperature: PID 05 is the engine coolant; generic OBD has no "
                    "transmission-fluid temperature"
                )
            )
        return signals

    def fluid(self, name: str) -> Fluid | None:
        """Return the fluid of that name (case ignored), or ``None``."""
        for fluid in self.fluids:
            if fluid.name.casefold() == name.strip().casefold():
                return fluid
        return None

    def dwell_of(self, range_name: str) -> float | None:
        """Return the dwell in s that the sheet asks of a range, or ``None``."""
        return next((r.dwell for r in self.ranges if r.name == range_name), None)
