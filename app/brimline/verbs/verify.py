"""Command-line words about the seals: ``verify``, ``anchor`` and ``amend``."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path

from brimline import cli_text
from brimline.bootstrap import Bay
from brimline.records import amendments, anchor, chain
from brimline.records.model import Amendable, short_seal
from brimline.report.amended import FIELDS, in_words
from brimline.report.phrases import local, offset
from brimline.units import UNIT_SYSTEMS, Dimension, parse

_Verbs = argparse._SubParsersAction  # argparse has no public name for it

_FIELDS = {
    "vin": Amendable.VIN,
    "plate": Amendable.PLATE,
    "work-order": Amendable.WORK_ORDER,
    "odometer": Amendable.ODOMETER,
    "technician": Amendable.TECHNICIAN,
    "note": Amendable.NOTE,
}


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the words to a command line."""
    verify = verbs.add_parser("verify", help="whether finished records are what was sealed")
    which = verify.add_mutually_exclusive_group()
    which.add_argument("record", nargs="?", help="number or id of one record; default: all")
    which.add_argument("--anchor", type=Path, metavar="FILE", help="what must be in the chains")
    verify.add_argument("--json", action="store_true", help="print data instead of text")
    verify.set_defaults(command=_verify)
    made = verbs.add_parser("anchor", help="the newest link of each chain of seals, to be kept")
    made.add_argument("--out", type=Path, metavar="FILE", help="write it as a file too")
    made.add_argument("--json", action="store_true", help="print data instead of text")
    made.set_defaults(command=_anchor)
    amend = verbs.add_parser("amend", help="correct a finished record, or add a note to it")
    amend.add_argument("record", help="number or id of the record")
    amend.add_argument("--field", required=True, choices=_FIELDS, help="what is to be corrected")
    amend.add_argument("--value", required=True, help="what it is to say")
    amend.add_argument("--author", required=True, metavar="NAME", help="who corrects it")
    amend.add_argument("--reason", required=True, help="why")
    amend.add_argument("--units", choices=sorted(UNIT_SYSTEMS), help="default: the settings'")
    amend.set_defaults(command=_amend)


def _verify(bay: Bay, chosen: argparse.Namespace) -> int:
    known = None if chosen.anchor is None else anchor.read_anchor(chosen.anchor)
    with bay.records() as database:
        if chosen.record is None:
            found = chain.verify(database, anchor=known)
        else:
            found = chain.verify_record(database, chosen.record)
    if chosen.json:
        cli_text.print_json({"intact": found.intact, **asdict(found)})
    else:
        _tell(found, whole=chosen.record is None)
    return 0 if found.intact else 1


def _tell(found: chain.ChainVerdict, *, whole: bool) -> None:
    checks = "1 check" if found.checks == 1 else f"{found.checks:,} checks"
    count = found.amendments
    amended = "1 amendment" if count == 1 else f"{count:,} amendments"
    if found.first is None:
        where = "" if whole else ", and so is its place in the chain"
        print(f"Intact: {checks} and {amended} are what was sealed{where}.")
    else:
        print(f"NOT INTACT. {found.first.sentence}")
        if found.faults > 1:
            print(f"That is the first of {found.faults:,} faults.")
        print(f"{checks.capitalize()} and {amended} were looked at.")
    for remark in found.remarks:
        print(remark)


def _anchor(bay: Bay, chosen: argparse.Namespace) -> int:
    with bay.records() as database:
        made = anchor.make_anchor(database, datetime.now(UTC))
    if chosen.out is not None:
        anchor.write_anchor(made, chosen.out)
    if chosen.json:
        cli_text.print_json(made.model_dump())
        return 0
    for link in made.links:
        when = local(datetime.fromisoformat(link.sealed_at))
        print(
            f"Bay {link.bay}: no. {link.number} of the chain, sealed {when:%Y-%m-%d %H:%M} "
            f"({offset(when)}), "
            f"seal {short_seal(link.seal)}"
        )
    if chosen.out is not None:
        print(f"Written to {chosen.out}; keep it where nobody at the bay can change it.")
    return 0


def _amend(bay: Bay, chosen: argparse.Namespace) -> int:
    field = _FIELDS[chosen.field]
    units = UNIT_SYSTEMS[chosen.units] if chosen.units else bay.settings.unit_system
    value = chosen.value
    if field is Amendable.ODOMETER:
        symbol = units.symbol(Dimension.DISTANCE)
        value = f"{parse(value, Dimension.DISTANCE, assume=symbol)} km"
    with bay.records(writer=True) as database:
        made = amendments.amend(
            database,
            chosen.record,
            field=field,
            value=value,
            author=chosen.author,
            reason=chosen.reason,
            at=datetime.now(UTC),
        )
    done = "Note added"
    if field is not Amendable.NOTE:
        was, now = (in_words(field, text, units) for text in (made.was, made.value))
        done = f"{FIELDS[field]} amended from {was} to {now}"
    print(f"{done}; no. {made.seal_number} of the chain, seal {short_seal(made.seal)}.")
    return 0
