"""What was amended after a check was sealed: the value that holds, marked, and how it came."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from brimline.records.model import ADDED, Amendable, Amendment, Header, Record, amended
from brimline.report import phrases
from brimline.report.summary import Grid, Section
from brimline.translation import english, joined, lowered, marked, tr
from brimline.units import UnitSystem

FIELDS = {
    Amendable.VIN: marked("VIN"),
    Amendable.PLATE: marked("Plate"),
    Amendable.WORK_ORDER: marked("Work order"),
    Amendable.ODOMETER: marked("Odometer"),
    Amendable.TECHNICIAN: marked("Technician"),
    Amendable.NOTE: marked("Note"),
    Amendable.ATTACHMENT: marked("Attachment"),
}
"""What can be amended, as people call it."""

MARK = marked("(amended)")
"""What stands behind a value that is no longer the sealed one."""


class Amended:
    """The amendments of one record, asked for by whoever shows a value of its header."""

    def __init__(self, header: Header, amendments: Sequence[Amendment], units: UnitSystem) -> None:
        self.header = amended(header, amendments)
        """What the header says with them."""
        self.fields = frozenset(each.field for each in amendments).difference(ADDED)
        self._latest = {each.field: each.value for each in amendments}
        self._units = units

    def shown(self, field: Amendable, sealed: str) -> str:
        """Return the words for a field: those of the sealed value, or the amended one, marked."""
        if field not in self.fields:
            return sealed
        return joined((in_words(field, self._latest[field], self._units), tr(MARK)), " ")


def named(fields: Collection[Amendable]) -> str:
    """Return what was amended, within a sentence: “VIN, odometer”; empty where nothing was."""
    return joined(_within(tr(words)) for field, words in FIELDS.items() if field in fields)


def in_words(field: Amendable, value: str, units: UnitSystem) -> str:
    """Write a value of an amendment for people; an odometer reading in the units chosen, a file by
    its name."""
    if not value:
        return tr("none")
    if field is Amendable.ATTACHMENT:
        return value.split(" ", 4)[-1]
    return units.distance(float(value)) if field is Amendable.ODOMETER else value


def section(record: Record, units: UnitSystem) -> Section | None:
    """Return the part that lists the amendments, ``None`` where there are none."""
    if not record.amendments:
        return None
    return Section(
        heading="Amendments",
        lead="Made after the check was sealed. What was sealed is kept beside them.",
        grid=Grid(
            columns=("Date", "By", "What", "Was", "Is", "Reason"),
            rows=tuple(_row(each, units) for each in record.amendments),
            numeric=(False,) * 6,
        ),
    )


def _within(words: str) -> str:
    return words if english(words).isupper() else lowered(words)


def _row(amendment: Amendment, units: UnitSystem) -> tuple[str, ...]:
    field = amendment.field
    return (
        phrases.day(phrases.local(amendment.at)),
        amendment.author,
        tr(FIELDS[field]),
        "" if field in ADDED else in_words(field, amendment.was, units),
        in_words(field, amendment.value, units),
        amendment.reason,
    )
