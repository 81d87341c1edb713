"""Reads a spec sheet and names every fault in it at once, each with file, key and reason."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from brimline.errors import CannotGuideError, Fault, SheetError
from brimline.specsheet.model import IDLE_OVERFLOW, SCHEMA, SheetStatus, SpecSheet
from brimline.translation import again, joined, lowered, marked, tr

_FOUND = (
    marked("Input should be a valid string"),
    marked("Input should be a valid boolean"),
    marked("Input should be a valid integer"),
    marked("Input should be a valid number"),
    marked("Input should be a valid dictionary"),
    marked("Input should be a valid tuple"),
    marked("Input should be {known}"),
    marked("String should match pattern {pattern}"),
    marked("String should have at least 1 character"),
    marked("Tuple should have at least 1 item after validation, not 0"),
    marked("Dictionary should have at least 1 item after validation, not 0"),
    marked("Unable to extract tag using discriminator {key}"),
    marked("Input tag {tag} found using {key} does not match any of the expected tags: {known}"),
    marked("{first} or {second}"),
)
"""What pydantic finds wrong with a value."""

_DISCRIMINATED = {"j1939", "obd", "uds", "csv"}  # pydantic puts the kind of signal into the place


def read_sheet(path: Path) -> SpecSheet:
    """Read the spec sheet in a TOML file.

    :raises SheetError: the file cannot be read, or it has faults; all of them are listed.
    """
    try:
        text = path.read_text("utf-8")
    except OSError as error:
        raise SheetError((Fault(str(path), tr("file"), _why(error)),)) from error
    except UnicodeDecodeError as error:
        raise SheetError((Fault(str(path), tr("file"), tr("is not text in UTF-8")),)) from error
    return parse_sheet(text, str(path))


def _why(error: OSError) -> str:
    return tr("cannot be read: {why}", why=error.strerror or error)


def parse_sheet(text: str, name: str) -> SpecSheet:
    """Read the spec sheet in a text; ``name`` is what faults call the file.

    :raises SheetError: with every fault found.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SheetError((Fault(name, tr("file"), tr("is not TOML: {why}", why=error)),)) from error
    found = data.get("schema")
    if found != SCHEMA:
        reads = tr("this program reads version {version} of the layout", version=SCHEMA)
        said = tr("it is missing") if found is None else tr("this one says {found!r}", found=found)
        reason = joined((reads, said), "; ")
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
            tr(
                "Spec sheet {id} ({family}), revision {revision}, has been withdrawn; take the "
                "one that replaces it.",
                id=sheet.id,
                family=family,
                revision=sheet.source.revision,
            )
        )
    if sheet.check_method != IDLE_OVERFLOW:
        raise CannotGuideError(
            tr(
                "Brimline cannot guide this check: spec sheet {id} ({family}) asks for the check "
                "method “{check_method}”; only “{idle_overflow}” is guided. Follow the maker's "
                "service information.",
                id=sheet.id,
                family=family,
                check_method=sheet.check_method,
                idle_overflow=IDLE_OVERFLOW,
            )
        )
    if sheet.plug_out_engine != "idling":
        raise CannotGuideError(
            tr(
                "Brimline cannot guide this check: spec sheet {id} ({family}) wants the plug out "
                "with the engine stopped. Follow the maker's service information.",
                id=sheet.id,
                family=family,
            )
        )


def _faults(error: ValidationError, name: str) -> Iterator[Fault]:
    for item in error.errors(include_url=False):
        parts = [str(part) for part in item["loc"]]
        key = ".".join(part for part in parts if part not in _DISCRIMINATED) or tr("sheet")
        yield Fault(name, key, _reason(item["type"], item["msg"], item.get("ctx", {})))


def _reason(kind: str, message: str, context: dict[str, Any]) -> str:
    """Return pydantic's finding in the words of a person who writes sheets."""
    if kind == "extra_forbidden":
        return tr("unknown key")
    if kind == "missing":
        return tr("is missing")
    if kind.startswith("date"):
        return tr("must be a date such as 2031-05-06")
    error = context.get("error")
    if kind == "value_error" and isinstance(error, ValueError) and error.args:
        said: str = error.args[0]  # as str() it would forget what it is in English
        return said
    return lowered(again(message, *_FOUND))
