"""Checks to be found, put straight into a database: what is looked for is what its rows say."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime

from brimline.procedure.events import Origin, Verdict
from brimline.records import keys
from brimline.records.database import Database
from brimline.records.model import Amendable
from brimline.records.schema import AmendmentRow, CheckRow

NOON = datetime(2031, 5, 6, 12, 0, tzinfo=UTC)
VIN = "ZZ9K7HARR0LANE123"


@dataclass
class Kept:
    """A check as its row is to say it, and what was amended in it since."""

    opened_at: datetime = NOON
    finished: bool = True
    origin: Origin = Origin.LIVE
    vin: str = VIN
    plate: str = "HL 12 QR"
    work_order: str = "WO-7"
    technician: str = "R. Quill"
    family: str = "K7"
    fluid: str = "TF-Clear"
    verdict: Verdict = Verdict.CORRECTED
    notes: str = ""
    amended: list[tuple[Amendable, str]] = field(default_factory=list)


def keep(database: Database, checks: Iterable[Kept], *, first: int = 1) -> None:
    """Put checks into a database, numbered from ``first``; the ids are ``check 1`` and so on."""
    with database.writing() as session:
        amendments = session.query(AmendmentRow).count()
        for number, check in enumerate(checks, first):
            session.add(_row(number, check))
            session.flush()
            for at, (what, value) in enumerate(check.amended if check.finished else (), 1):
                amendments += 1
                session.add(_amendment(number, at, what, value, amendments))


def _row(number: int, check: Kept) -> CheckRow:
    return CheckRow(
        check_id=f"check {number}", number=number, opened_at=check.opened_at,
        finished_at=check.opened_at if check.finished else None, origin=check.origin.value,
        invented=False, vin=check.vin, plate=check.plate, odometer_km=None,
        work_order=check.work_order, technician=check.technician, family=check.family,
        sheet_id="s", sheet_revision="A", duty="normal", fluid=check.fluid,
        verdict=check.verdict.value, closing_celsius=None, added_litres=0.0, run_off_litres=0.0,
        bay="1", seal="", previous_seal="", seal_number=number, seal_form=2,
        **keys.derived(check.vin, check.plate, check.work_order, ())
        | {"notes": keys.free_text(check.notes)},
    )  # fmt: skip


def _amendment(number: int, at: int, what: Amendable, value: str, place: int) -> AmendmentRow:
    keyed = {
        Amendable.VIN: value[-8:],
        Amendable.PLATE: keys.search_key(value),
        Amendable.WORK_ORDER: keys.search_key(value),
    }
    return AmendmentRow(
        check_id=f"check {number}", number=at, at=NOON, author="M. Vane", reason="mistyped",
        field=what.value, was="", value=value, value_key=keyed.get(what, keys.free_text(value)),
        bay="amended", seal="", previous_seal="", seal_number=place, seal_form=1,
    )  # fmt: skip
