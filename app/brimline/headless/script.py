"""Scripts: what a technician taps and finds, written down so that a check can be replayed.

A script is a TOML file, documented in ``resources/scripts/README.md``. Each ``[[tap]]`` says what
is done (``do``, the kind of an event), with its fields, and when: as soon as the gate allows
(``when = "gate"``, the default), once an alarm demands the plug in (``when = "alarm"``), or at a
time of the check (``at``); ``after`` waits so long behind the tap before. Quantities are text
with a unit. ``before`` names a script in the same folder whose taps are played first.
"""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    TypeAdapter,
    ValidationError,
)

from brimline.condition.model import Findings, Recommendation
from brimline.condition.rules import advise
from brimline.errors import BrimlineError, Fault, FileFaultsError
from brimline.procedure.attaching import AttachmentKept
from brimline.procedure.events import ConditionAssessed, ScriptNote, TapEvent
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.units import Dimension, parse, symbol_in
from brimline.vin import parse_vin

SCHEMA = 1

CLOSE = "check_closed"
"""The step that asks for the verdict; its event is made from the state it meets."""

KEYED = "keyed_temperature"

# Keys of a tap that hold a quantity: the event's field, and the kind of quantity.
_QUANTITIES = {
    "odometer": ("odometer_km", Dimension.DISTANCE),
    "amount": ("litres", Dimension.VOLUME),
    "within_reach": ("litres_within_reach", Dimension.VOLUME),
    "fluid_temperature": ("fluid_celsius", Dimension.TEMPERATURE),
    "ambient": ("ambient", Dimension.TEMPERATURE),
    "coolant": ("coolant", Dimension.TEMPERATURE),
    "infrared": ("infrared", Dimension.TEMPERATURE),
    "rest": ("rest_s", Dimension.TIME),
    "idle_speed": ("rpm", Dimension.ROTATION),
    "torque": ("torque", Dimension.TORQUE),
    "wrench_low": ("wrench_low", Dimension.TORQUE),
    "wrench_high": ("wrench_high", Dimension.TORQUE),
    "lengthwise": ("lengthwise", Dimension.ANGLE),
    "lengthwise_turned": ("lengthwise_turned", Dimension.ANGLE),
    "crosswise": ("crosswise", Dimension.ANGLE),
    "crosswise_turned": ("crosswise_turned", Dimension.ANGLE),
    "drip": ("drops_per_second", Dimension.DRIP),
    "gap": ("gap_s", Dimension.TIME),
}

_TAP: TypeAdapter[TapEvent] = TypeAdapter(Annotated[TapEvent, Field(discriminator="kind")])
_FINDINGS = TypeAdapter(Findings)


class _CloseFields(BaseModel):
    model_config = ConfigDict(extra="forbid")
    recheck_after_drive: bool = False


_CLOSE_FIELDS = TypeAdapter(_CloseFields)
_QUANTITY_FIELDS = {field for field, _ in _QUANTITIES.values()} - set(_QUANTITIES)


def _seconds(value: object) -> object:
    if isinstance(value, str):
        return parse(value, Dimension.TIME)
    if value == 0.0:
        return value
    raise ValueError("the unit is missing")


_Seconds = Annotated[float, BeforeValidator(_seconds), Field(ge=0)]


class Step(BaseModel):
    """One tap of a script: what, when, and the fields of its event."""

    model_config = ConfigDict(frozen=True, extra="allow")
    do: str
    when: Literal["gate", "alarm"] = "gate"
    at: _Seconds | None = None
    after: _Seconds = 0.0

    def fields(self) -> dict[str, Any]:
        """Return what the script gives of the event itself."""
        return dict(self.model_extra or {})


class _File(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")
    layout: Annotated[Literal[1], Field(alias="schema")]
    description: str
    technician: Annotated[str, Field(min_length=1)]
    sheet: str | None = None
    duty: str = "normal"
    before: str | None = None
    tap: tuple[Step, ...] = ()


@dataclass(frozen=True)
class Script:
    """A script, read and sound."""

    note: ScriptNote
    description: str
    technician: str
    sheet: str | None
    duty: str
    steps: tuple[Step, ...]


def read_script(path: Path) -> Script:
    """Read a script and try every tap of it.

    :raises FileFaultsError: with every fault, each with its place.
    """
    read, digest = _read_file(path)
    steps = read.tap
    if read.before is not None:
        first, first_digest = _read_file(path.with_name(f"{read.before}.toml"))
        if first.before is not None:
            raise _faulty(path, "before", f"{read.before} itself needs another script before it")
        steps, digest = first.tap + steps, _sha256((first_digest + digest).encode())
    note = ScriptNote(name=path.stem, sha256=digest)
    return Script(note, read.description, read.technician, read.sheet, read.duty, steps)


def _sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _read_file(path: Path) -> tuple[_File, str]:
    try:
        raw = path.read_bytes()
        data = tomllib.loads(raw.decode("utf-8"))
    except OSError as error:
        raise _faulty(path, "file", f"cannot be read: {error.strerror or error}") from error
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise _faulty(path, "file", f"is not TOML: {error}") from error
    try:
        read = _File.model_validate(data)
    except ValidationError as error:
        raise FileFaultsError("script", tuple(_listed(error, path))) from error
    faults = tuple(_step_faults(read.tap, path))
    if faults:
        raise FileFaultsError("script", faults)
    return read, _sha256(raw)


def _faulty(path: Path, key: str, reason: str) -> FileFaultsError:
    return FileFaultsError("script", (Fault(str(path), key, reason),))


def _listed(error: ValidationError, path: Path, prefix: str = "") -> Iterator[Fault]:
    for item in error.errors(include_url=False):
        key = ".".join(str(part) for part in item["loc"])
        reason = {"missing": "is missing", "extra_forbidden": "unknown key"}.get(item["type"])
        yield Fault(str(path), prefix + key, reason or item["msg"])


def _step_faults(steps: tuple[Step, ...], path: Path) -> Iterator[Fault]:
    for number, step in enumerate(steps, 1):
        where = f"tap {number} ({step.do})"
        try:
            if step.do == CLOSE:
                _CLOSE_FIELDS.validate_python(step.fields())
            else:
                make_tap(step, 0.0)
        except ValidationError as error:
            yield from _listed(error, path, where + " ")
        except BrimlineError as error:
            yield Fault(str(path), where, error.sentence)


def make_tap(step: Step, t: float) -> TapEvent | Reading:
    """Return the event of a step, tapped at ``t`` (s of the check).

    :raises ValidationError: fields that the event does not have, or lacks.
    :raises BrimlineError: a quantity without unit, or a VIN that cannot be one.
    """
    fields = _in_inside_units(step.fields())
    if step.do == KEYED:
        return _keyed(fields, t)
    if step.do == "vehicle_identified":
        vin = parse_vin(str(fields.get("vin", "")))
        fields |= {"vin": vin.text, "vin_warning": vin.warning}
    if step.do == "condition_assessed":
        return _assessed(fields, t)
    unknown = set(fields) - _field_names(step.do)
    if unknown:
        raise BrimlineError(f"has no field {', '.join(sorted(unknown))}")
    return _TAP.validate_python({"kind": step.do, "t": t, **fields})


def _field_names(kind: str) -> set[str]:
    for event in TapEvent.__args__:
        if event is AttachmentKept:  # a script holds no file
            continue
        if event.__dataclass_fields__["kind"].default == kind:
            return set(event.__dataclass_fields__) - {"t", "kind"}
    raise BrimlineError(f"“{kind}” is nothing that a person can do")


def _in_inside_units(fields: dict[str, Any]) -> dict[str, Any]:
    converted: dict[str, Any] = {}
    for key, value in fields.items():
        if key in _QUANTITY_FIELDS:
            wanted = next(k for k, (field, _) in _QUANTITIES.items() if field == key)
            raise BrimlineError(f"has no field {key}; write {wanted}, as text with its unit")
        if key not in _QUANTITIES:
            converted[key] = value
            continue
        field, dimension = _QUANTITIES[key]
        if not isinstance(value, str):
            raise BrimlineError(f"{key}: the unit is missing")
        converted[field] = parse(value, dimension)
        if key == "torque":
            converted["unit"] = symbol_in(value, dimension)
    return converted


def _keyed(fields: dict[str, Any], t: float) -> Reading:
    celsius = fields.pop("fluid_celsius", None)
    if celsius is None or fields:
        raise BrimlineError("needs fluid_temperature and nothing else")
    return Reading(
        t, SignalName.FLUID_TEMPERATURE, celsius, Quality.GOOD, Way.KEYED, "keyed by the script"
    )


def _assessed(fields: dict[str, Any], t: float) -> ConditionAssessed:
    said = fields.pop("recommendation", None)
    if said is not None and said not in set(Recommendation):
        known = ", ".join(Recommendation)
        raise BrimlineError(f"“{said}” is no recommendation; known are {known}")
    why = str(fields.pop("override_reason", ""))
    happened = fields.pop("happened", None)
    findings = _FINDINGS.validate_python(fields) if fields else None
    advice = advise(findings) if findings else None
    advised = advice.recommendation if advice else Recommendation.NO_ACTION
    return ConditionAssessed(
        t=t,
        happened=happened,
        findings=findings,
        advised=advised,
        advised_reasons=advice.reasons if advice else (),
        recommendation=Recommendation(said) if said else advised,
        override_reason=why,
    )
