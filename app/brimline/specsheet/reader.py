"""Reads a spec sheet and names every fault in it at once, each with file, key and reason."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from brimline.errors import CannotGuideError, Fault, SheetError
from brimline.specsheet.model import IDLE_OVERFLOW, SCHEMA, SheetStatus, SpecSheet

_DISCRIMINATED = {"j1939", "obd", "uds", "csv"}  # pydantic puts the kind of signal into the place


def read_sheet(path: Path) -> SpecSheet:
    """Read the spec sheet in a TOML file.

    :raises SheetError: the file cannot be read, or it has faults; all of them are listed.
    """
    try:
        text = path.read_text("utf-8")
    except OSError as error:
        raise SheetError((Fault(str(path), "file", _why(error)),)) from error
    except UnicodeDecodeError as error:
        raise SheetError((Fault(str(path), "file", "is not text in UTF-8"),)) from error
    return parse_sheet(text, str(path))


def _why(error: OSError) -> str:
    return f"cannot be read: {error.strerror or error}"


def parse_sheet(text: str, name: str) -> SpecSheet:
    """Read the spec sheet in a text; ``name`` is what faults call the file.

    :raises SheetError: with every fault found.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SheetError((Fault(name, "file", f"is not TOML: {error}"),)) from error
    found = data.get("schema")
    if found != SCHEMA:
        said = "it is missing" if found is None else f"this one says {found!r}"
        reason = f"this program reads version {SCHEMA} of the layout; {said}"
        raise SheetError((Fault(name, "schema", reason),))
    try:
        return SpecSheet.model_validate(data)
    except ValidationError as error:
        raise SheetError(tuple(_faults(error, name))) from error


def require_guided(sheet: SpecSheet) -> None:
    """Refuse a sheet for a kind of check that Brimline does not guide.

    :raises CannotGuideError: another check method, a plug that comes out at engine rest, or a
        sheet that has been withdrawn.
    """
    family = sheet.transmission.family
    if sheet.source.status is SheetStatus.WITHDRAWN:
        raise CannotGuideError(
            f"Spec sheet {sheet.id} ({family}), revision {sheet.source.revision}, has been "
            "withdrawn; take the one that replaces it."
        )
    if sheet.check_method != IDLE_OVERFLOW:
        raise CannotGuideError(
            f"Brimline cannot guide this check: spec sheet {sheet.id} ({family}) asks for the "
            f"check method “{sheet.check_method}”; only “{IDLE_OVERFLOW}” is guided. Follow the "
            "maker's service information."
        )
    if sheet.plug_out_engine != "idling":
        raise CannotGuideError(
            f"Brimline cannot guide this check: spec sheet {sheet.id} ({family}) wants the plug "
            "out with the engine stopped. Follow the maker's service information."
        )


def _faults(error: ValidationError, name: str) -> Iterator[Fault]:
    for item in error.errors(include_url=False):
        parts = [str(part) for part in item["loc"]]
        key = ".".join(part for part in parts if part not in _DISCRIMINATED) or "sheet"
        yield Fault(name, key, _reason(item["type"], item["msg"], item.get("ctx", {})))


def _reason(kind: str, message: str, context: dict[str, Any]) -> str:
    """Return pydantic's finding in the words of a person who writes sheets."""
    if kind == "extra_forbidden":
        return "unknown key"
    if kind == "missing":
        return "is missing"
    if kind == "value_error":
        return str(context.get("error", message))
    return message[:1].lower() + message[1:]
