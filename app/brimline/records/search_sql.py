"""The SQL of a search: a statement for the names of what is asked, their values left open.

A statement walks along one index in the order of the list, newest first: nothing is sorted and
nothing is read beyond the page. What else is asked is written so that no other index fits it.

Names are those of :data:`KEYS` (with ``vin``, ``vin_end`` for its last eight characters; with
``vin_tail``, ``vin_ending`` for a longer end, as a pattern), and
``family``, ``since``, ``before``, ``verdict``, ``fluid``, ``technician``; ``origin0``, ``origin1``,
… are the origins allowed, ``word0``, … the words that must occur; ``opened_at`` and ``number`` are
the place that the page comes after. ``most`` is how many rows are wanted.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Dialect,
    Select,
    bindparam,
    exists,
    func,
    literal_column,
    or_,
    select,
    tuple_,
)
from sqlalchemy.orm import InstrumentedAttribute

from brimline.records.model import Amendable
from brimline.records.query import Value
from brimline.records.schema import AmendmentRow, CheckRow

_AMENDED_COLUMN = exists().where(AmendmentRow.check_id == CheckRow.check_id)

COLUMNS = (
    CheckRow.opened_at, CheckRow.number, CheckRow.check_id, CheckRow.origin, CheckRow.verdict,
    CheckRow.vin, CheckRow.plate, CheckRow.work_order, CheckRow.odometer_km, CheckRow.technician,
    CheckRow.family, CheckRow.fluid, CheckRow.added_litres, CheckRow.run_off_litres,
    _AMENDED_COLUMN,
)  # fmt: skip
"""What a row of the list has; the first two are its place in it."""

KEYS: Mapping[str, tuple[InstrumentedAttribute[str], Amendable]] = {
    "vin": (CheckRow.vin, Amendable.VIN),
    "vin_tail": (CheckRow.vin_tail, Amendable.VIN),
    "plate": (CheckRow.plate_key, Amendable.PLATE),
    "work_order": (CheckRow.work_order_key, Amendable.WORK_ORDER),
}
"""What a check is looked up by, the most telling first: its column, and what amends it."""


class Statement:
    """A statement as one kind of database takes it, and the order of its values."""

    def __init__(self, statement: Select[*tuple[Any, ...]], dialect: Dialect) -> None:
        compiled = statement.compile(dialect=dialect)
        self.text = str(compiled)
        self.names: tuple[str, ...] = tuple(compiled.positiontup or ())

    def arguments(self, values: Mapping[str, Value]) -> list[Value]:
        """Return the values in their order."""
        return list(map(values.__getitem__, self.names))


def statements(asked: Collection[str], dialect: Dialect) -> tuple[Statement, ...]:
    """Return what answers a question: the checks that say so, and those amended to say so.

    The second is there where a key is asked for; it finds few, in no order, and needs no ``most``.
    """
    driver = next((name for name in KEYS if name in asked), None)
    page = (
        select(*COLUMNS)
        .order_by(CheckRow.opened_at.desc(), CheckRow.number.desc())
        .limit(bindparam("most"))
        .offset(literal_column("0"))  # or it would be one value more each time
    )
    rest = [CheckRow.finished_at.is_not(None), *_keys(asked, driver), *_others(asked)]
    if driver is None:
        return (Statement(page.where(*rest), dialect),)
    column, field = KEYS[driver]
    amended = select(*COLUMNS).where(_amended_to(driver, field), column != bindparam(driver))
    return (
        Statement(page.where(column == bindparam(driver), *rest), dialect),
        Statement(amended.where(*rest), dialect),
    )


def _keys(asked: Collection[str], driver: str | None) -> Iterator[ColumnElement[bool]]:
    """Yield the keys besides the one that leads the search."""
    for name, (column, field) in KEYS.items():
        if name in asked and name != driver:
            yield or_(_unled(column) == bindparam(name), _amended_to(name, field))
    if "family" in asked:
        family = CheckRow.family if driver is None else _unled(CheckRow.family)
        yield family == bindparam("family")


def _others(asked: Collection[str]) -> Iterator[ColumnElement[bool]]:
    """Yield what no index is for but that of the time."""
    origins: list[ColumnElement[str]] = [
        bindparam(name) for name in asked if name.startswith("origin")
    ]
    if origins:
        yield CheckRow.origin.in_(origins)
    if "since" in asked:
        yield CheckRow.opened_at >= bindparam("since")
    if "before" in asked:
        yield CheckRow.opened_at < bindparam("before")
    if "number" in asked:
        place = tuple_(CheckRow.opened_at, CheckRow.number)
        yield place < tuple_(bindparam("opened_at"), bindparam("number"))
    if "vin_ending" in asked:  # of the few that the last eight have led to
        ends = AmendmentRow.value.like(bindparam("vin_ending"))
        yield or_(CheckRow.vin.like(bindparam("vin_ending")), _amended(Amendable.VIN, ends))
    if "verdict" in asked:
        yield CheckRow.verdict == bindparam("verdict")
    if "fluid" in asked:
        yield _has(func.lower(CheckRow.fluid), "fluid")
    if "technician" in asked:
        sealed = _has(func.lower(CheckRow.technician), "technician")
        yield or_(sealed, _amended_with(Amendable.TECHNICIAN, "technician"))
    for word in (name for name in asked if name.startswith("word")):
        yield or_(_has(CheckRow.notes, word), _amended_with(Amendable.NOTE, word))


def _unled(column: InstrumentedAttribute[str]) -> ColumnElement[str]:
    """A column as no index has it: a database that knows no better may take the wrong one."""
    return column + literal_column("''")


def _has(column: ColumnElement[str] | InstrumentedAttribute[str], name: str) -> ColumnElement[bool]:
    return column.like(bindparam(name), escape="\\")


def _amended_to(name: str, field: Amendable) -> ColumnElement[bool]:
    """Checks of which a key was amended to the value asked for."""
    key = "vin_end" if name == "vin" else name  # an amended VIN is looked up by its end
    fits = [AmendmentRow.value_key == bindparam(key)]
    if name == "vin":
        fits.append(AmendmentRow.value == bindparam(name))
    return _amended(field, *fits)


def _amended_with(field: Amendable, name: str) -> ColumnElement[bool]:
    """Checks with an amendment that has the text asked for in it."""
    return _amended(field, _has(AmendmentRow.value_key, name))


def _amended(field: Amendable, *fits: ColumnElement[bool]) -> ColumnElement[bool]:
    of_field = AmendmentRow.field == literal_column(f"'{field.value}'")
    return CheckRow.check_id.in_(select(AmendmentRow.check_id).where(of_field, *fits))
