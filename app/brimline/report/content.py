"""What the work summary says, built from a finished record alone.

:func:`build` is pure: it plays the record's events through the reducer and puts what follows into
plain words and chart data. The verdict is the one that the record was closed with; it is never
derived again.
"""

from __future__ import annotations

from collections.abc import Iterator

from brimline import wording
from brimline.procedure.events import CheckOpened, Origin
from brimline.procedure.state import CheckState
from brimline.records.model import Amendable, Attachment, Header, Record, short_seal
from brimline.report import advice, amended, amounts, evidence, photos, phrases, story, trace
from brimline.report.amended import Amended
from brimline.report.playback import Playback, play
from brimline.report.summary import Fact, Section, Shop, Summary
from brimline.units import US, UnitSystem
from brimline.vin import parse_vin

__all__ = ["INVENTED", "NO_SERVICE", "NO_TRACE", "Shop", "Summary", "build", "seal_code"]

NO_SERVICE = {
    Origin.REPLAY: "REPLAY OF A RECORDING - NOT A SERVICE ON A VEHICLE",
    Origin.TRAINING: "TRAINING - NOT A SERVICE ON A VEHICLE",
}
"""What stands on every page of a record that is no service."""

INVENTED = "Invented demonstration data - must not be used on a vehicle"
"""What stands on every page of a record whose spec sheet is invented."""

NO_TRACE = "No temperature was read during this check, so there is no chart."


def no_picture(_: Attachment) -> bytes:
    """Show no photo."""
    return b""


def build(
    record: Record, *, units: UnitSystem, shop: Shop, pictures: photos.Pictures = no_picture
) -> Summary:
    """Return the work summary of a finished check, every amount in the units chosen.

    :param pictures: gives the photos that are to be shown.
    :raises ReportError: the check is not finished, or its record is incomplete.
    """
    played = play(record)
    state, closed = played.final, played.closed
    sections = (
        amounts.section(state, units),
        advice.condition(state),
        photos.section(record.attachments, pictures),
        advice.next_steps(state, closed),
        _plug(played, units),
        evidence.section(played, units),
        evidence.overrides(state),
        amended.section(record, units),
        _rests_on(state.opened, record.header),
    )
    return Summary(
        title="Work summary",
        subtitle="Fluid-level check of the automatic transmission",
        shop=shop,
        banner=_banner(state.opened),
        facts=tuple(_identity(played, record, shop, units)),
        result=story.result(played, units),
        temperature=_temperature(played, units),
        chart=trace.chart(played, units),
        sections=tuple(section for section in sections if section is not None),
        footer=_footer(record.header),
        us_letter=units.name == US.name,
    )


def _banner(opened: CheckOpened) -> tuple[str, ...]:
    lines = [NO_SERVICE[opened.origin]] if opened.origin in NO_SERVICE else []
    return (*lines, INVENTED) if opened.sheet.invented else tuple(lines)


def _identity(played: Playback, record: Record, shop: Shop, units: UnitSystem) -> Iterator[Fact]:
    state, opened = played.final, played.final.opened
    now = Amended(record.header, record.amendments, units)
    yield Fact("Date", phrases.moment(opened.opened_at))
    yield Fact("Record", f"No. {record.header.number}")
    if state.vehicle is None and not now.fields - {Amendable.TECHNICIAN}:
        yield Fact("Vehicle", "not identified")
    else:
        yield from _vehicle(state, now, units)
    box = state.sheet.transmission
    variant = state.vehicle.variant if state.vehicle else ""
    yield Fact("Transmission", f"{box.maker} {box.family}" + (f" ({variant})" if variant else ""))
    yield Fact("Technician", _technicians(played, record.header, now))
    if opened.shop.strip() and opened.shop.strip() != shop.name.strip():
        yield Fact("Checked at", opened.shop.strip())
    if state.vehicle is not None and state.vehicle.complaint.strip():
        yield Fact("Complaint", state.vehicle.complaint.strip(), wide=True)


def _vehicle(state: CheckState, now: Amended, units: UnitSystem) -> Iterator[Fact]:
    vehicle = state.vehicle
    order = vehicle.work_order.strip() if vehicle else ""
    yield Fact("Work order", now.shown(Amendable.WORK_ORDER, order) or "none")
    vin = now.shown(Amendable.VIN, vehicle.vin if vehicle else "")
    yield Fact("VIN", vin or "not known")
    if plate := now.shown(Amendable.PLATE, vehicle.plate.strip() if vehicle else ""):
        yield Fact("Plate", plate)
    km = vehicle.odometer_km if vehicle else None
    if run := now.shown(Amendable.ODOMETER, "" if km is None else units.distance(km)):
        yield Fact("Odometer", run)
    warning = vehicle.vin_warning.strip() if vehicle else ""
    if Amendable.VIN in now.fields:
        warning = parse_vin(now.header.vin).warning
    if warning:
        yield Fact("Note on the VIN", warning)


def _technicians(played: Playback, header: Header, now: Amended) -> str:
    def shown(name: str) -> str:
        return now.shown(Amendable.TECHNICIAN, name) if name == header.technician else name

    first, *others = played.technicians
    then = [f", from {phrases.at_clock(who.since)} {shown(who.name)}" for who in others]
    return shown(first.name) + "".join(then)


def _temperature(played: Playback, units: UnitSystem) -> Section:
    state = played.final
    band, duty = state.band, phrases.duty(state.opened.duty)
    found = [Fact("Target band", f"{phrases.band(band, units)} ({duty} duty)")]
    celsius = state.closing.celsius
    closed_in = bool(state.plug_spans) and state.plug_spans[-1].until is not None
    if celsius is not None:
        found.append(Fact("At closing", units.temperature(celsius, 1)))
    elif closed_in:
        found.append(Fact("At closing", "not known: no reading when the plug went in"))
    if played.samples and state.opened.source.strip():
        # Where on the bus each signal is found stays in the record; a customer need not read it.
        source = state.opened.source.partition(":")[0].strip()
        found.append(Fact("Readings from", source, wide=True))
    return Section(heading="Temperature", facts=tuple(found))


def _plug(played: Playback, units: UnitSystem) -> Section | None:
    """The check plug after the work; ``None`` where it never came out."""
    state = played.final
    if not state.plug_spans:
        return None
    closing, wanted = state.closing, state.sheet.plug
    found = [Fact("Plug", "out")] if state.plug_is_out else []
    if closing.seal is not None:
        done = "replaced" if closing.seal.replaced else "inspected and found good"
        found.append(Fact("Seal", done))
    if closing.torque is not None:
        unit = closing.torque.unit
        applied = phrases.torque(closing.torque.torque, unit, units)
        asked = phrases.torque(wanted.torque, unit, units)
        spread = phrases.torque(wanted.torque_tolerance, unit, units)
        found.append(Fact("Tightened to", applied))
        found.append(Fact("Spec sheet", f"{asked.split()[0]} ± {spread}"))
    elif not (closing.stripped or state.plug_is_out):
        found.append(Fact("Tightened to", "not tightened to its torque"))
    if closing.leak is not None:
        found.append(Fact("Looked for leaks", "dry" if closing.leak.dry else "not dry"))
    if closing.stripped:
        found.append(Fact("Thread", "stripped, or the plug does not seal", wide=True))
    if played.stripped_note:
        found.append(Fact("Note", played.stripped_note, wide=True))
    return Section(heading="Check plug", facts=tuple(found))


def seal_code(header: Header) -> str:
    """Return what the QR code of a sealed record says: ``brimline-seal:1:NUMBER:SEAL``.

    The ``1`` is the form of this text, ``NUMBER`` the record's, ``SEAL`` all 64 digits.
    """
    return f"brimline-seal:1:{header.number}:{header.seal}" if header.seal else ""


def _rests_on(opened: CheckOpened, header: Header) -> Section:
    sheet, source = opened.sheet, opened.sheet.source
    found = [
        Fact("Origin", phrases.sentence(wording.ORIGINS[opened.origin]).rstrip("."), wide=True),
        Fact(
            "Spec sheet",
            f"{sheet.id}: {source.title}, revision {source.revision}, {phrases.day(source.date)}, "
            f"{source.status.value}",
            wide=True,
        ),
    ]
    if opened.script is not None:
        found.append(Fact("Taps", f"taps played from script {opened.script.name}", wide=True))
    made_with = f"Brimline {opened.program}, procedure version {opened.procedure}"
    found.append(Fact("Made with", made_with, wide=True))
    if header.seal:
        seal = (
            f"{short_seal(header.seal)}, no. {header.seal_number} of bay {header.bay}; "
            "the code holds all of it"
        )
        found.append(Fact("Record seal", seal, wide=True))
    return Section(heading="Record and source", facts=tuple(found), code=seal_code(header))


def _footer(header: Header) -> str:
    ending = f"seal {short_seal(header.seal)}" if header.seal else "not sealed"
    return f"Record {header.number} · {header.check_id} · {ending}"
