"""The part of a spec sheet that says where on the vehicle's bus each signal is found.

Generic OBD has no transmission-fluid temperature (SAE J1979); it comes from J1939 (SPN 177), from
a maker's own UDS identifier that the shop enters from service information, or from a person.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator

from brimline.reading import SignalName
from brimline.specsheet.quantities import Seconds
from brimline.translation import tr

DEFAULT_STALE_S = 5.0
"""Age in s at which a reading from the bus counts as lost: five missed ones at the usual 1 Hz."""

LONGEST_STALE_S = 30.0
"""The fluid may warm by a degree in half a minute; an older reading says too little."""

LONGEST_TESTER_PRESENT_S = 4.0
"""A unit that has heard nothing for 5 s goes back to sleep (ISO 14229-2, from memory)."""

Byte = Annotated[int, Field(ge=0, le=0xFF)]
CanId = Annotated[int, Field(ge=0, le=0x1FFFFFFF)]


class _Mapping(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")
    stale_after: Seconds = DEFAULT_STALE_S

    @field_validator("stale_after")
    @classmethod
    def _stays_fresh_for_a_while(cls, value: float) -> float:
        if not 1.0 <= value <= LONGEST_STALE_S:
            raise ValueError(tr("must be between 1 s and {most:g} s", most=LONGEST_STALE_S))
        return value


class J1939Signal(_Mapping):
    """A broadcast suspect parameter (SAE J1939-71): SPN 84, 177, 190 or 523.

    ``source_address`` keeps out other senders of the same parameter group.
    """

    kind: Literal["j1939"]
    spn: Literal[84, 177, 190, 523]
    source_address: Byte


class ObdSignal(_Mapping):
    """A service 01 parameter (SAE J1979): PID 05, 0C or 0D, in replies with ``response_id``."""

    kind: Literal["obd"]
    pid: Literal[0x05, 0x0C, 0x0D]
    response_id: CanId = 0x7E8


class UdsSignal(_Mapping):
    """A value inside the reply to a ReadDataByIdentifier request (ISO 14229-1, service 22).

    :param identifier: the two-byte data identifier, from service information.
    :param request_id: CAN id of the request; ``response_id`` that of the reply.
    :param first_byte: offset of the value behind the identifier, 0 for the first byte.
    :param length: of the value in bytes, most significant first.
    :param scale: value = raw * scale + offset, in the signal's unit.
    :param not_available: raw values that mean "no value".
    :param names: for the range signal, raw value (as text) to range name.
    """

    kind: Literal["uds"]
    identifier: Annotated[int, Field(ge=0, le=0xFFFF)]
    request_id: CanId
    response_id: CanId
    first_byte: Annotated[int, Field(ge=0, le=4000)] = 0
    length: Annotated[int, Field(ge=1, le=4)] = 1
    signed: bool = False
    scale: Annotated[float, Field(allow_inf_nan=False)] = 1.0
    offset: Annotated[float, Field(allow_inf_nan=False)] = 0.0
    not_available: tuple[int, ...] = ()
    names: dict[str, str] = {}

    @field_validator("scale")
    @classmethod
    def _scale_is_not_zero(cls, value: float) -> float:
        if value == 0:
            raise ValueError(tr("must not be 0"))
        return value


class CsvSignal(_Mapping):
    """A named column of a CSV recording; its unit stands in the file's heading."""

    kind: Literal["csv"]
    column: Annotated[str, Field(min_length=1)]


SignalSource = Annotated[
    J1939Signal | ObdSignal | UdsSignal | CsvSignal, Field(discriminator="kind")
]

# Which public parameter may stand for which signal. Coolant (PID 05) may stand in for the fluid
# on an invented sheet only; the reader holds that.
ALLOWED_SPN = {
    SignalName.FLUID_TEMPERATURE: 177,
    SignalName.ENGINE_SPEED: 190,
    SignalName.RANGE: 523,
    SignalName.VEHICLE_SPEED: 84,
}
ALLOWED_PID = {
    SignalName.FLUID_TEMPERATURE: 0x05,
    SignalName.ENGINE_SPEED: 0x0C,
    SignalName.VEHICLE_SPEED: 0x0D,
}


class SignalMap(BaseModel):
    """Where each signal comes from; one that is left out is keyed in or attested by a person."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    fluid_temperature: SignalSource | None = None
    engine_speed: SignalSource | None = None
    range: SignalSource | None = None
    vehicle_speed: SignalSource | None = None
    tester_present: Seconds | None = None
    """Every so many s the units that are asked are told that somebody listens (ISO 14229-1, service
    3E), where the service information wants that; else never."""

    @field_validator("tester_present")
    @classmethod
    def _keeps_awake(cls, value: float | None) -> float | None:
        if value is not None and not 1.0 <= value <= LONGEST_TESTER_PRESENT_S:
            raise ValueError(
                tr("must be between 1 s and {most:g} s", most=LONGEST_TESTER_PRESENT_S)
            )
        return value

    @field_validator(*(name.value for name in SignalName))
    @classmethod
    def _parameter_fits(
        cls, source: SignalSource | None, info: ValidationInfo
    ) -> SignalSource | None:
        name = SignalName(info.field_name or "")
        if isinstance(source, J1939Signal) and ALLOWED_SPN.get(name) != source.spn:
            raise ValueError(tr("SPN {spn} is not this signal", spn=source.spn))
        if isinstance(source, ObdSignal) and ALLOWED_PID.get(name) != source.pid:
            raise ValueError(tr("PID {pid:02X} is not this signal", pid=source.pid))
        if isinstance(source, UdsSignal) and bool(source.names) != (name is SignalName.RANGE):
            raise ValueError(tr("names: belong to the range signal, which needs them"))
        return source

    def items(self) -> tuple[tuple[SignalName, SignalSource], ...]:
        """Return the mapped signals with their sources, in a fixed order."""
        pairs = ((name, getattr(self, name.value)) for name in SignalName)
        return tuple((name, source) for name, source in pairs if source is not None)
